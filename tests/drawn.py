"""A small design drawn by hand that has one of every kind of flat part."""

from __future__ import annotations

import math
from typing import Any

from foamwright.design.model import (
    BoxBody,
    BoxFace,
    BoxStation,
    Channel,
    Control,
    CreasedSection,
    CurvedSection,
    CutLine,
    Design,
    Doubler,
    Face,
    FlatSection,
    FoldedSection,
    Former,
    HingeKind,
    Joint,
    JointKind,
    Mix,
    Opening,
    Panel,
    ProfiledSection,
    Section,
    SlabBody,
    StepLayer,
    SteppedSection,
    Surface,
    SurfaceRole,
)
from tests.handmade import design

FLAT = FlatSection(sheet="board5")
CREASED = CreasedSection(sheet="board5", nodes=((0.0, 0.0), (0.35, 0.05), (1.0, 0.0)))
FOLDED = FoldedSection(
    sheet="board5",
    spar_sheet="board5",
    spar_at=0.3,
    depth=0.024,
    nose_height=0.012,
    lower_to=0.6,
)
CURVED = CurvedSection(sheet="board5", camber=0.05, camber_at=0.4)
STEPPED = SteppedSection(
    sheet="board5",
    layers=(StepLayer(sheet="board5", start=0.0, end=0.4, face=Face.UPPER),),
)
PROFILED = ProfiledSection(
    core="blue",
    coordinates=((1.0, 0.0), (0.5, 0.06), (0.1, 0.05), (0.0, 0.0), (0.1, -0.03), (0.5, -0.02)),
)


def panel(name: str = "inner", section: Section = FLAT, **changes: Any) -> Panel:
    """A panel of 360 x 190, flat and level unless said otherwise."""
    fields: dict[str, Any] = {
        "name": name,
        "length": 0.36,
        "root_chord": 0.19,
        "tip_chord": 0.19,
        "sweep": 0.0,
        "dihedral": 0.0,
        "root_twist": 0.0,
        "tip_twist": 0.0,
        "root_section": section,
        "tip_section": section,
    }
    return Panel(**{**fields, **changes})


def control(key: str = "aileron", **changes: Any) -> Control:
    """An aileron of 36 mm on the inner panel."""
    fields: dict[str, Any] = {
        "key": key,
        "panel": "inner",
        "start": 0.42,
        "end": 0.98,
        "start_chord": 0.036,
        "end_chord": 0.036,
        "hinge": HingeKind.TAPE,
        "hinge_face": Face.UPPER,
        "bevel": math.radians(45.0),
        "gap": 0.8e-3,
        "throw_up": math.radians(20.0),
        "throw_down": math.radians(12.0),
        "mixes": (Mix(channel=Channel.ROLL, gain=1.0),),
    }
    return Control(**{**fields, **changes})


def wing(*panels: Panel, **changes: Any) -> Surface:
    """A mirrored wing."""
    fields: dict[str, Any] = {
        "key": "wing",
        "role": SurfaceRole.WING,
        "at": (0.21, 0.0, 0.04),
        "incidence": math.radians(2.5),
        "mirrored": True,
        "panels": panels or (panel(),),
    }
    return Surface(**{**fields, **changes})


def fin(**changes: Any) -> Surface:
    """An upright fin in the middle."""
    upright = panel(
        "all",
        length=0.15,
        root_chord=0.12,
        tip_chord=0.08,
        sweep=math.radians(20.0),
        dihedral=math.radians(90.0),
    )
    fields: dict[str, Any] = {
        "key": "fin",
        "role": SurfaceRole.FIN,
        "at": (0.65, 0.0, 0.03),
        "incidence": 0.0,
        "mirrored": False,
        "panels": (upright,),
    }
    return Surface(**{**fields, **changes})


def hull(**changes: Any) -> BoxBody:
    """A box body with everything in it."""
    stations = (
        (0.0, -0.014, 0.012, 0.038),
        (0.07, -0.026, 0.026, 0.052),
        (0.405, -0.022, 0.0245, 0.050),
        (0.740, 0.004, 0.0245, 0.026),
    )
    fields: dict[str, Any] = {
        "key": "hull",
        "sheet": "board5",
        "y": 0.0,
        "mirrored": False,
        "stations": tuple(
            BoxStation(x=x, bottom=bottom, top=top, width=width)
            for x, bottom, top, width in stations
        ),
        "ends": (True, True),
        "formers": (
            Former(key="bay", x=0.064, sheet="card", opening=0.25),
            Former(key="seat", x=0.207, sheet="board5", opening=0.0),
        ),
        "doublers": (
            Doubler(key="nose", face=BoxFace.SIDES, start=0.006, end=0.2, sheet="board5"),
        ),
        "openings": (
            Opening(
                key="hatch",
                face=BoxFace.TOP,
                start=0.08,
                end=0.19,
                low=-0.018,
                high=0.018,
                is_hatch=True,
            ),
        ),
    }
    return BoxBody(**{**fields, **changes})


def pylon(**changes: Any) -> SlabBody:
    """A pylon of two layers."""
    fields: dict[str, Any] = {
        "key": "pylon",
        "is_pylon": True,
        "sheet": "board5",
        "layers": 2,
        "y": 0.0,
        "mirrored": False,
        "outline": ((0.412, -0.016), (0.484, -0.01), (0.484, 0.026), (0.474, 0.12), (0.43, 0.12)),
    }
    return SlabBody(**{**fields, **changes})


def aeroplane(**changes: Any) -> Design:
    """A wing with aileron, tips and cut line, a fin, a hull and a pylon."""
    tip = panel(
        "tip",
        CREASED,
        length=0.19,
        tip_chord=0.13,
        sweep=math.radians(9.0),
        dihedral=math.radians(4.0),
        tip_twist=math.radians(-1.5),
    )
    drawn = wing(
        panel("inner", CREASED, dihedral=math.radians(4.0)),
        tip,
        controls=(control(),),
        joints=(
            Joint(
                key="middle",
                panel="inner",
                kind=JointKind.GLUED,
                rod="carbon3",
                rod_length=0.69,
                rod_at=0.33,
            ),
            Joint(
                key="plug",
                panel="tip",
                kind=JointKind.PLUGGED,
                rod="carbon3",
                rod_length=0.12,
                rod_at=0.33,
            ),
        ),
        cut_lines=(CutLine(key="windy", panel="tip", at=0.55, says="Cut here for a breeze."),),
    )
    fields: dict[str, Any] = {"surfaces": (drawn, fin()), "bodies": (hull(), pylon())}
    return design(**{**fields, **changes})
