"""Short ways to make design values by hand: every field has a plain default.

Lengths in metres, angles in degrees here (they become radians), masses in kilograms. All
figures are invented.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from foamwright.design.model import (
    BlockStock,
    BoomBody,
    BoxBody,
    BoxFace,
    BoxStation,
    Channel,
    Control,
    Controller,
    CreasedSection,
    CurvedSection,
    Design,
    Doubler,
    Face,
    FlatSection,
    FoldedSection,
    Former,
    GearWire,
    GlueStock,
    HingeKind,
    Item,
    ItemKind,
    Joint,
    JointKind,
    Marks,
    Mix,
    Motor,
    Mount,
    Mounting,
    Opening,
    Pack,
    Panel,
    PodBody,
    Power,
    ProfiledSection,
    Propeller,
    Pushrod,
    RodStock,
    Rotation,
    Section,
    SheetKind,
    SheetStock,
    SlabBody,
    StepLayer,
    SteppedSection,
    StiffWay,
    Stock,
    Surface,
    SurfaceRole,
    TapeStock,
    Tray,
    Vec3,
    Wheel,
)
from foamwright.figures import Figure

#: A cambered profile, invented: trailing edge, upper side, nose, lower side.
PROFILE = (
    (1.0, 0.0), (0.9, 0.022), (0.8, 0.041), (0.6, 0.069), (0.4, 0.083), (0.2, 0.074),
    (0.1, 0.054), (0.05, 0.038), (0.0125, 0.018), (0.0, 0.0), (0.0125, -0.0136),
    (0.05, -0.021), (0.1, -0.0237), (0.3, -0.017), (0.6, -0.0068), (0.8, -0.002), (1.0, 0.0),
)  # fmt: skip


def sheet(key: str, thickness: float, weight: float, **changes: Any) -> SheetStock:
    fields: dict[str, Any] = {
        "key": key,
        "kind": SheetKind.FOAM_BOARD,
        "says": f"{1e3 * thickness:g} mm sheet",
        "thickness": Figure(value=thickness),
        "weight": Figure(value=weight, scatter=0.05 * weight),
        "length": 0.762,
        "width": 0.508,
        "count": 4,
        "stiff": StiffWay.LENGTH,
        "facing": "paper",
        "facing_thickness": 0.25e-3,
    }
    return SheetStock(**{**fields, **changes})


def stock(**changes: Any) -> Stock:
    """Board of 5 mm, ply of 3 mm, tape, glue, a tube, two wires, block foam."""
    fields: dict[str, Any] = {
        "sheets": (
            sheet("board", 0.005, 0.3),
            sheet("ply", 0.003, 1.9, kind=SheetKind.PLY, facing="none", facing_thickness=0.0),
        ),
        "tapes": (
            TapeStock(key="tape", says="tape 48 mm", width=0.048, weight=Figure(value=0.05)),
        ),
        "glues": (GlueStock(key="glue", says="hot glue", line_mass=Figure(value=6.7e-3)),),
        "rods": (
            RodStock(
                key="tube", says="tube", diameter=6e-3, bore=4e-3, line_mass=Figure(value=0.024)
            ),
            RodStock(
                key="wire", says="wire", diameter=2e-3, bore=0.0, line_mass=Figure(value=0.025)
            ),
        ),
        "blocks": (BlockStock(key="white", says="block foam", density=Figure(value=20.0)),),
    }
    return Stock(**{**fields, **changes})


FLAT = FlatSection(sheet="board")
CREASED = CreasedSection(sheet="board", nodes=((0.0, 0.0), (0.35, 0.05), (1.0, 0.0)))
CURVED = CurvedSection(sheet="board", camber=0.05, camber_at=0.4)
STEPPED = SteppedSection(
    sheet="board",
    layers=(
        StepLayer(sheet="board", start=0.03, end=0.45, face=Face.UPPER),
        StepLayer(sheet="ply", start=0.1, end=0.3, face=Face.UPPER),
        StepLayer(sheet="ply", start=0.2, end=0.3, face=Face.LOWER),
    ),
)
FOLDED = FoldedSection(
    sheet="board", spar_sheet="ply", spar_at=0.3, depth=0.022, nose_height=0.011, lower_to=1.0
)
PROFILED = ProfiledSection(core="white", coordinates=PROFILE)

#: One of every kind of section.
SECTIONS: dict[str, Section] = {
    "flat": FLAT,
    "creased": CREASED,
    "curved": CURVED,
    "stepped": STEPPED,
    "folded": FOLDED,
    "profiled": PROFILED,
}


def panel(name: str = "half", **changes: Any) -> Panel:
    """Flat panel of 0.5 m by 0.2 m; ``section`` sets both ends, angles in degrees."""
    section: Section = changes.pop("section", FLAT)
    for angle in ("sweep", "dihedral", "root_twist", "tip_twist"):
        changes[angle] = math.radians(changes.get(angle, 0.0))
    root_chord = changes.setdefault("root_chord", 0.2)
    fields: dict[str, Any] = {
        "name": name,
        "length": 0.5,
        "tip_chord": root_chord,
        "root_section": section,
        "tip_section": section,
    }
    return Panel(**{**fields, **changes})


def control(key: str = "flap", **changes: Any) -> Control:
    """Control from 20 to 80 % of the panel "half", 40 mm deep."""
    fields: dict[str, Any] = {
        "key": key,
        "panel": "half",
        "start": 0.2,
        "end": 0.8,
        "start_chord": 0.04,
        "end_chord": changes.get("start_chord", 0.04),
        "hinge": HingeKind.TAPE,
        "hinge_face": Face.UPPER,
        "bevel": math.radians(45.0),
        "gap": 0.001,
        "throw_up": math.radians(20.0),
        "throw_down": math.radians(15.0),
        "mixes": (Mix(channel=Channel.PITCH, gain=1.0),),
    }
    return Control(**{**fields, **changes})


def joint(key: str = "middle", **changes: Any) -> Joint:
    fields: dict[str, Any] = {
        "key": key,
        "panel": "half",
        "kind": JointKind.GLUED,
        "rod": "tube",
        "rod_length": 0.2,
        "rod_at": 0.3,
    }
    return Joint(**{**fields, **changes})


def surface(key: str = "wing", **changes: Any) -> Surface:
    """Mirrored wing of one flat panel with its leading edge at the origin."""
    changes["incidence"] = math.radians(changes.get("incidence", 0.0))
    fields: dict[str, Any] = {
        "key": key,
        "role": SurfaceRole.WING,
        "at": (0.0, 0.0, 0.0),
        "mirrored": True,
        "panels": (panel(),),
    }
    return Surface(**{**fields, **changes})


def box(key: str = "hull", **changes: Any) -> BoxBody:
    """Straight box, 0.6 m by 0.06 m by 0.08 m, closed at both ends."""
    fields: dict[str, Any] = {
        "key": key,
        "sheet": "board",
        "y": 0.0,
        "mirrored": False,
        "stations": (
            BoxStation(x=0.0, bottom=-0.04, top=0.04, width=0.06),
            BoxStation(x=0.6, bottom=-0.04, top=0.04, width=0.06),
        ),
        "ends": (True, True),
    }
    return BoxBody(**{**fields, **changes})


def tapered_box(key: str = "hull", **changes: Any) -> BoxBody:
    """A box of four stations with formers, doublers, a hatch and a hole."""
    fields: dict[str, Any] = {
        "stations": (
            BoxStation(x=0.0, bottom=-0.014, top=0.012, width=0.038),
            BoxStation(x=0.1, bottom=-0.03, top=0.03, width=0.056),
            BoxStation(x=0.4, bottom=-0.03, top=0.036, width=0.056),
            BoxStation(x=0.9, bottom=0.0, top=0.03, width=0.03),
        ),
        "formers": (
            Former(key="bay", x=0.09, sheet="ply", opening=0.3),
            Former(key="seat", x=0.3, sheet="board", opening=0.0),
        ),
        "doublers": (
            Doubler(key="nose", face=BoxFace.SIDES, start=0.01, end=0.25, sheet="board"),
            Doubler(key="floor", face=BoxFace.BOTTOM, start=0.02, end=0.2, sheet="ply"),
            Doubler(key="seat", face=BoxFace.TOP, start=0.2, end=0.45, sheet="ply"),
        ),
        "openings": (
            Opening(
                key="hatch", face=BoxFace.TOP, start=0.07, end=0.22, low=-0.018, high=0.018,
                is_hatch=True,
            ),
            Opening(
                key="exit", face=BoxFace.SIDES, start=0.35, end=0.45, low=-0.01, high=0.012,
                is_hatch=False,
            ),
        ),
    }  # fmt: skip
    return box(key, **{**fields, **changes})


def slab(key: str = "pylon", **changes: Any) -> SlabBody:
    """Pylon of two layers with a triangular opening."""
    fields: dict[str, Any] = {
        "key": key,
        "is_pylon": True,
        "sheet": "board",
        "layers": 2,
        "y": 0.0,
        "mirrored": False,
        "outline": ((0.4, 0.03), (0.47, 0.03), (0.48, 0.13), (0.43, 0.13)),
        "openings": (((0.43, 0.05), (0.45, 0.05), (0.45, 0.08)),),
    }
    return SlabBody(**{**fields, **changes})


def pod(key: str = "dome", **changes: Any) -> PodBody:
    fields: dict[str, Any] = {
        "key": key,
        "at": (0.05, 0.0, 0.0),
        "length": 0.12,
        "width": 0.05,
        "height": 0.04,
        "mirrored": False,
        "block": "white",
        "mass": None,
    }
    return PodBody(**{**fields, **changes})


def boom(key: str = "boom", **changes: Any) -> BoomBody:
    fields: dict[str, Any] = {
        "key": key,
        "rod": "tube",
        "start": (0.3, 0.12, 0.0),
        "end": (0.8, 0.12, 0.01),
        "mirrored": True,
    }
    return BoomBody(**{**fields, **changes})


def motor(key: str = "main", **changes: Any) -> Motor:
    """Tractor at the origin, 35 mm from pivot to disc; tilts in degrees."""
    for angle in ("tilt_up", "tilt_right"):
        changes[angle] = math.radians(changes.get(angle, 0.0))
    fields: dict[str, Any] = {
        "key": key,
        "at": (0.0, 0.0, 0.0),
        "mounting": Mounting.TRACTOR,
        "reach": 0.035,
        "diameter": 0.028,
        "length": 0.026,
        "mass": Figure(value=0.045),
        "speed_constant": 1200.0 * 2.0 * math.pi / 60.0,
        "resistance": 0.1,
        "idle_current": 0.7,
        "max_current": 18.0,
        "propeller": "five",
        "controller": "esc",
        "mount": Mount(up=None, right=None, peg_diameter=None, peg_radius=None),
    }
    return Motor(**{**fields, **changes})


def propeller(key: str = "five", **changes: Any) -> Propeller:
    fields: dict[str, Any] = {
        "key": key,
        "diameter": 0.127,
        "pitch": 0.1016,
        "blades": 3,
        "style": "sport",
        "blade_width": None,
        "rotation": Rotation.NORMAL,
        "mass": Figure(value=0.006),
    }
    return Propeller(**{**fields, **changes})


def controller(key: str = "esc", **changes: Any) -> Controller:
    fields: dict[str, Any] = {
        "key": key,
        "at": (0.33, 0.0, 0.0),
        "size": (0.045, 0.025, 0.01),
        "rating": 30.0,
        "mass": Figure(value=0.025),
        "pack": "main",
    }
    return Controller(**{**fields, **changes})


def pack(key: str = "main", **changes: Any) -> Pack:
    fields: dict[str, Any] = {
        "key": key,
        "cells": 3,
        "capacity": 1.3 * 3600.0,
        "rating": 25.0,
        "mass": Figure(value=0.11),
        "size": (0.075, 0.034, 0.026),
        "position": 0.12,
        "tray": Tray(front=0.06, back=0.19, width=0.04, height=0.034, floor=-0.02, y=0.0),
    }
    return Pack(**{**fields, **changes})


def power(**changes: Any) -> Power:
    """One motor with propeller, controller and pack."""
    fields: dict[str, Any] = {
        "motors": (motor(),),
        "propellers": (propeller(),),
        "controllers": (controller(),),
        "packs": (pack(),),
    }
    return Power(**{**fields, **changes})


def item(key: str = "receiver", **changes: Any) -> Item:
    fields: dict[str, Any] = {
        "key": key,
        "kind": ItemKind.RECEIVER,
        "at": (0.25, 0.0, 0.0),
        "size": (0.04, 0.02, 0.01),
        "mass": Figure(value=0.008),
        "mirrored": False,
        "moves": None,
    }
    return Item(**{**fields, **changes})


def pushrod(key: str = "tail", **changes: Any) -> Pushrod:
    fields: dict[str, Any] = {
        "key": key,
        "rod": "wire",
        "start": (0.3, 0.02, 0.01),
        "end": (0.72, 0.02, 0.02),
        "mirrored": True,
    }
    return Pushrod(**{**fields, **changes})


def wheel(key: str = "main", **changes: Any) -> Wheel:
    fields: dict[str, Any] = {
        "key": key,
        "at": (0.23, 0.11, -0.11),
        "diameter": 0.05,
        "width": 0.015,
        "mass": Figure(value=0.008),
        "mirrored": True,
    }
    return Wheel(**{**fields, **changes})


def wire(key: str = "leg", **changes: Any) -> GearWire:
    points: Sequence[Vec3] = ((0.23, 0.01, -0.03), (0.23, 0.03, -0.03), (0.24, 0.105, -0.11))
    fields: dict[str, Any] = {
        "key": key,
        "is_skid": False,
        "rod": "wire",
        "points": tuple(points),
        "mirrored": True,
    }
    return GearWire(**{**fields, **changes})


def design(**changes: Any) -> Design:
    """A wing and nothing else."""
    fields: dict[str, Any] = {
        "name": "Sample",
        "variant": "as drawn",
        "summary": "",
        "brief": (),
        "stock": stock(),
        "surfaces": (surface(),),
        "bodies": (),
        "power": Power(),
        "items": (),
        "pushrods": (),
        "gear": (),
        "marks": Marks(
            revision="A",
            licence="CC BY 4.0",
            notes=(),
            balance_span=True,
            thrust_line=True,
            cut_lines=True,
        ),
    }
    return Design(**{**fields, **changes})


def full_design() -> Design:
    """A pylon pusher with a V-tail and one of nearly everything."""
    wing = surface(
        at=(0.21, 0.0, 0.035),
        incidence=2.0,
        panels=(
            panel("inner", length=0.38, root_chord=0.19, dihedral=3.0, section=CREASED),
            panel(
                "tip", length=0.22, root_chord=0.19, tip_chord=0.15, sweep=6.0, dihedral=12.0,
                tip_twist=-1.0, section=CREASED,
            ),
        ),
        controls=(control("aileron", panel="tip", start=0.1, end=0.95),),
        joints=(joint("plug", panel="tip", kind=JointKind.PLUGGED, rod_length=0.16, rod_at=0.35),),
    )  # fmt: skip
    tail = surface(
        "tail",
        role=SurfaceRole.V_TAIL,
        at=(0.76, 0.0, 0.04),
        panels=(panel(length=0.2, root_chord=0.12, tip_chord=0.08, sweep=15.0, dihedral=35.0),),
        controls=(control("ruddervator", start=0.0, end=1.0, start_chord=0.035),),
    )
    return design(
        surfaces=(wing, tail),
        bodies=(tapered_box(), slab(), pod(), boom()),
        power=power(
            motors=(motor(at=(0.455, 0.0, 0.135), mounting=Mounting.PUSHER, tilt_up=-3.0),)
        ),
        items=(item(), item("servo", kind=ItemKind.SERVO, at=(0.3, 0.25, 0.04), mirrored=True)),
        pushrods=(pushrod(),),
        gear=(wheel(), wire()),
    )
