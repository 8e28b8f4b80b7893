"""Sections of every make, on one stock."""

from __future__ import annotations

import numpy as np

from foamwright.air.sections import SectionPolar, section_polar
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Face,
    FlatSection,
    FoldedSection,
    ProfiledSection,
    Section,
    SheetKind,
    SheetStock,
    StepLayer,
    SteppedSection,
    StiffWay,
    Stock,
)
from foamwright.figures import Figure

CHORD = 0.2

BOARD = SheetStock(
    key="board",
    kind=SheetKind.FOAM_BOARD,
    says="foam board",
    thickness=Figure(value=0.005),
    weight=Figure(value=0.3),
    length=1.0,
    width=0.7,
    count=None,
    stiff=StiffWay.NONE,
    facing="paper",
    facing_thickness=0.0002,
)
STOCK = Stock(sheets=(BOARD,))


def four_digit(camber: float, thickness: float) -> ProfiledSection:
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 41))
    half = (
        5.0
        * thickness
        * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    )
    line = 4.0 * camber * x * (1.0 - x)
    upper, lower = np.stack([x, line + half], axis=1), np.stack([x, line - half], axis=1)
    points = np.concatenate([upper[::-1], lower[1:]])
    return ProfiledSection(core="foam", coordinates=tuple(map(tuple, points.tolist())))


SECTIONS: dict[str, Section] = {
    "flat": FlatSection(sheet="board"),
    "creased": CreasedSection(sheet="board", nodes=((0.0, 0.0), (0.35, 0.05), (1.0, 0.0))),
    "curved": CurvedSection(sheet="board", camber=0.05, camber_at=0.4),
    "stepped": SteppedSection(
        sheet="board",
        layers=(StepLayer(sheet="board", start=0.03, end=0.5, face=Face.UPPER),),
    ),
    "folded": FoldedSection(
        sheet="board",
        spar_sheet="board",
        spar_at=0.3,
        depth=0.022,
        nose_height=0.011,
        lower_to=0.75,
    ),
    "profiled": four_digit(0.03, 0.10),
    "symmetric": four_digit(0.0, 0.10),
}


def sample(name: str) -> SectionPolar:
    return section_polar(SECTIONS[name], chord=CHORD, stock=STOCK, name=name)
