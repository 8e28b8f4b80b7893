"""Where controls are cut from a panel: rows along the span, hinges along the chord."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from foamwright.airframe.meshes import Mask
from foamwright.airframe.model import Array
from foamwright.design.model import Control, Panel, Surface
from foamwright.errors import DomainError

# Two places along a panel nearer than this fraction of its length are the same.
_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cuts:
    """Rows across a panel at which its outline changes, and how far forward it is cut there.

    A row is a section between root (0) and tip (1). Between two rows lies a zone, which is
    either whole or cut. Where two controls meet, their rows lie at the same place and the
    zone between them has no width: its wall is the step from one hinge line to the other.
    """

    rows: Array  # (s,) fraction of panel length
    edge: Array  # (s,) fraction of the local chord at which a cut zone ends
    cut: Mask  # (s - 1,) which zones are cut


def local_chord(panel: Panel, place: Array | float) -> Array:
    """Chord at fractions of the panel's length. [m]"""
    return np.asarray(panel.root_chord + (panel.tip_chord - panel.root_chord) * place)


def hinge(panel: Panel, control: Control, *, gap: float = 0.0) -> tuple[float, float]:
    """Hinge line at the control's two ends, less a gap, as fractions of the local chord. [-]"""
    start, end = (
        1.0 - (own + gap) / float(local_chord(panel, at))
        for own, at in ((control.start_chord, control.start), (control.end_chord, control.end))
    )
    return start, end


def span_of(control: Control) -> tuple[float, float]:
    """Inboard and outboard end of a control; next to nothing from root or tip is on it. [-]"""
    start = 0.0 if control.start <= _SAME else control.start
    return start, 1.0 if control.end >= 1.0 - _SAME else control.end


def controls_of(surface: Surface, panel: Panel) -> tuple[Control, ...]:
    """Return the controls cut from a panel, from root to tip."""
    mine = (control for control in surface.controls if control.panel == panel.name)
    return tuple(sorted(mine, key=lambda control: control.start))


def panel_cuts(surface: Surface, panel: Panel) -> Cuts | None:
    """Rows and cut zones of a panel; None where nothing is cut from it.

    Raises
    ------
    DomainError
        Where a control leaves its panel, overlaps another or leaves no sheet ahead of it.
    """
    controls = controls_of(surface, panel)
    if not controls:
        return None
    rows: list[float] = []
    edge: list[float] = []
    cut: list[bool] = []
    for control in controls:
        where = f"surface.{surface.key}.control.{control.key}"
        last = rows[-1] if rows else 0.0
        if not last - _SAME <= control.start < control.end <= 1.0 + _SAME:
            raise DomainError(
                f"{where}: runs from {control.start:.3g} to {control.end:.3g} of its panel; it "
                f"must run outward between {last:.3g} (the panel's root or the control before "
                "it) and 1"
            )
        start, end = span_of(control)
        if start - last <= _SAME:
            start = last
        hinges = hinge(panel, control, gap=control.gap)
        if not all(0.0 < at < 1.0 for at in hinges):
            raise DomainError(
                f"{where}: its chord and gap must be more than nothing and less than the "
                "panel's own chord at both of its ends"
            )
        if rows:
            cut.append(start == last)
        elif start > 0.0:
            rows.append(0.0)
            edge.append(hinges[0])
            cut.append(False)
        rows += [start, end]
        edge += hinges
        cut.append(True)
    if rows[-1] < 1.0:
        rows.append(1.0)
        edge.append(edge[-1])
        cut.append(False)
    return Cuts(rows=np.array(rows), edge=np.array(edge), cut=np.array(cut))
