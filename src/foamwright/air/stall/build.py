"""The sections that stand behind the strips of an airframe."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections import SectionPolar, polar_as_known
from foamwright.air.stall.polars import StripPolars, stack_cells, stall_limits
from foamwright.air.strips import LatticeStrips
from foamwright.airframe.model import Airframe, Hand, SurfaceShape
from foamwright.design.model import Control, HingeKind, Section, Stock, Surface

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Hinges that leave a gap open; tape, the sheet's own skin and fabric close it.
_OPEN = (HingeKind.FILM_TABS, HingeKind.CUT_PAPER)


@dataclass(frozen=True, slots=True, eq=False)
class _Place:
    """Where strips lie on their surface."""

    panel: Places  # (n,)
    share: Array  # (n,) of the panel's length


def strip_polars(airframe: Airframe, strips: LatticeStrips) -> StripPolars:
    """Sections of every strip of an airframe.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    strips : LatticeStrips
        The strips of its lattice. [m]

    Returns
    -------
    StripPolars
        Each strip has the polars of its panel's two ends, mixed by its place between them.
    """
    design = airframe.design
    count = len(strips.chord)
    ends, share = np.zeros((count, 2), dtype=np.intp), np.zeros(count)
    flap, gap = np.zeros(count), np.zeros(count)
    polars: list[SectionPolar] = []
    for number, key in enumerate(strips.keys):
        mine = np.flatnonzero(strips.surface == number)
        surface = next(s for s in design.surfaces if s.key == key)
        shape = next(s for s in airframe.surfaces if s.key == key)
        place = _places(shape, strips.quarter[mine, 1:] * _right(strips, mine))
        share[mine] = place.share
        ends[mine] = len(polars) + 2 * place.panel[:, None] + np.arange(2)
        polars += _panel_polars(surface, design.stock)
        for control in surface.controls:
            _lay_control(control, surface, shape, place, mine, strips.chord, flap, gap)
    return _table(tuple(polars), ends, share, flap, gap, strips)


def _table(
    polars: tuple[SectionPolar, ...],
    ends: Places,
    share: Array,
    flap: Array,
    gap: Array,
    strips: LatticeStrips,
) -> StripPolars:
    cells = stack_cells(polars)
    limits = stall_limits(cells)
    cosine = strips.width / np.linalg.norm(strips.along, axis=1)
    alpha0, moment0 = (
        np.array([float(value) for value in values])[ends]
        for values in ([p.thin.alpha0 for p in polars], [p.thin.cm_c4 for p in polars])
    )
    table = StripPolars(
        polars=polars,
        cells=cells,
        ends=ends,
        share=share,
        cosine=cosine,
        chord=strips.chord,
        alpha0=np.arctan(np.tan(alpha0[:, 0] * (1.0 - share) + alpha0[:, 1] * share) * cosine),
        moment0=(moment0[:, 0] * (1.0 - share) + moment0[:, 1] * share) * cosine**2,
        flap=flap,
        gap=gap,
        limits=limits,
    )
    for values in (cells, ends, share, cosine, table.alpha0, flap, gap, limits):
        values.flags.writeable = False
    return table


def _right(strips: LatticeStrips, mine: Places) -> Array:
    """Factors that bring strips of the left hand over to the right one, (n, 2)."""
    hands = [str(hand) for hand in strips.hands]
    left = (np.array(hands) == Hand.LEFT)[mine]
    return np.column_stack([np.where(left, -1.0, 1.0), np.ones(len(mine))])


def _places(shape: SurfaceShape, yz: Array) -> _Place:
    """Panel nearest to each strip, and its place along it."""
    roots = np.array([panel.root.leading_edge[1:] for panel in shape.panels])
    along = np.array([panel.tip.leading_edge[1:] for panel in shape.panels]) - roots
    off = yz[:, None, :] - roots
    share = np.clip((off * along).sum(axis=-1) / (along**2).sum(axis=-1), 0.0, 1.0)
    distance = np.linalg.norm(off - share[..., None] * along, axis=-1)
    panel = np.argmin(distance, axis=1)
    return _Place(panel, share[np.arange(len(yz)), panel])


def _panel_polars(surface: Surface, stock: Stock) -> list[SectionPolar]:
    return [
        _polar(section, chord, stock, f"{surface.key}.{panel.name}.{end}")
        for panel in surface.panels
        for section, chord, end in (
            (panel.root_section, panel.root_chord, "root"),
            (panel.tip_section, panel.tip_chord, "tip"),
        )
    ]


@lru_cache(maxsize=256)
def _polar(section: Section, chord: float, stock: Stock, name: str) -> SectionPolar:
    """Polars are the dearest part; variants and panels that meet share them."""
    return polar_as_known(section, chord=chord, stock=stock, name=name)


def _lay_control(
    control: Control,
    surface: Surface,
    shape: SurfaceShape,
    place: _Place,
    mine: Places,
    chord: Array,
    flap: Array,
    gap: Array,
) -> None:
    """Put a control's chord and gap on the strips it covers."""
    made = next(c for c in shape.controls if c.key == control.key)
    number = [panel.name for panel in surface.panels].index(control.panel)
    inside = (place.panel == number) & (place.share > made.start) & (place.share < made.end)
    at = (place.share[inside] - made.start) / (made.end - made.start)
    flap[mine[inside]] = 1.0 - (made.start_hinge * (1.0 - at) + made.end_hinge * at)
    if control.hinge in _OPEN:
        gap[mine[inside]] = control.gap / chord[mine[inside]]
