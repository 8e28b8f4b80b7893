"""What the vortex lattice is given: lifting surfaces as plain arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_FLAT = np.array([[0.0, 0.0], [1.0, 0.0]])
_FLAT.flags.writeable = False

#: Strips per half of a wing and of any other surface, and rows along the chord, where the
#: caller does not say: see the table of measured errors in docs/rooms/air.md.
WING_STRIPS = 16
TAIL_STRIPS = 10
ROWS = 4
#: A control that ends nearer than this share of the panel's length to the panel's end gets no
#: strip edge of its own: a sliver of a strip would say no more.
_SLIVER = 0.03


def flat_line() -> Array:
    """Mean line of a flat section. [-]"""
    return _FLAT


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LatticePanel:
    """One straight-edged panel of a lifting surface, right half where it is mirrored.

    The panel is the ruled surface between its leading and its trailing edge; its twist is
    what the trailing edge says. Heights of the mean lines are square to the panel.
    """

    root_leading: Array  # (3,) m
    root_trailing: Array  # (3,) m
    tip_leading: Array  # (3,) m
    tip_trailing: Array  # (3,) m
    root_mean_line: Array = field(default_factory=flat_line)  # (k, 2) fractions of root chord
    tip_mean_line: Array = field(default_factory=flat_line)  # (k, 2) fractions of tip chord
    stations: tuple[float, ...] = ()  # fractions of its length where a strip edge must fall


@dataclass(frozen=True, slots=True, kw_only=True)
class LatticeControl:
    """A hinged part at the trailing edge of one panel.

    The hinge is straight; positive deflection moves the trailing edge towards the lower
    face, downwards on a level surface.
    """

    key: str
    panel: int = 0  # number of its panel, counted from the root
    start: float = 0.0  # fraction of the panel's length
    end: float = 1.0
    start_hinge: float  # hinge line, fraction of the local chord at start
    end_hinge: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LatticeSurface:
    """A lifting surface: panels that follow each other from root to tip."""

    key: str
    panels: tuple[LatticePanel, ...]
    mirrored: bool  # the right half is given; the left is its mirror image in y = 0
    strips: int = WING_STRIPS  # along the span, of the half given where it is mirrored
    rows: int = ROWS  # along the chord
    uniform: bool = False  # equal strips, for comparison with hand-made lattices
    controls: tuple[LatticeControl, ...] = ()  # of both halves where it is mirrored


def control_stations(controls: Sequence[LatticeControl], panel: int) -> tuple[float, ...]:
    """Find the ends of controls inside a panel, where strip edges must fall.

    Parameters
    ----------
    controls : sequence of LatticeControl
        All controls of a surface.
    panel : int
        Number of the panel.

    Returns
    -------
    tuple of float
        Fractions of the panel's length, increasing. [-]
    """
    ends = {at for c in controls if c.panel == panel for at in (c.start, c.end)}
    return tuple(sorted(at for at in ends if _SLIVER < at < 1.0 - _SLIVER))


def lattice_surface(
    key: str,
    *,
    leading: Sequence[Sequence[float]] | Array,
    chord: Sequence[float] | Array,
    twist: Sequence[float] | Array | None = None,
    mean_line: Array | None = None,
    mirrored: bool = True,
    strips: int = WING_STRIPS,
    rows: int = ROWS,
    uniform: bool = False,
    controls: tuple[LatticeControl, ...] = (),
) -> LatticeSurface:
    """Lifting surface from its leading-edge points and chords, root to tip.

    Parameters
    ----------
    key : str
        Name, as results will call it.
    leading : array_like, shape (n, 3)
        Leading edge at each station. [m]
    chord : array_like, shape (n,)
        Chords, drawn along x. [m]
    twist : array_like, shape (n,), optional
        Angle of the chord to the x axis about the leading edge, nose up positive; on an
        upright surface it stands for nothing and must be left out. [rad]
    mean_line : ndarray, shape (k, 2), optional
        Mean line of all stations, fractions of chord; flat where not given. [-]
    mirrored : bool, optional
        Whether a mirror image on the left belongs to it.
    strips, rows : int, optional
        Strips along the span and vortices along the chord. [-]
    uniform : bool, optional
        Equal strips.
    controls : tuple of LatticeControl, optional
        Hinged parts; where a control ends inside its panel, a strip edge is made.

    Returns
    -------
    LatticeSurface
    """
    front = np.asarray(leading, dtype=np.float64)
    chords = np.asarray(chord, dtype=np.float64)
    angles = np.zeros_like(chords) if twist is None else np.asarray(twist, dtype=np.float64)
    along = np.stack([np.cos(angles), np.zeros_like(angles), -np.sin(angles)], axis=-1)
    back = front + chords[:, None] * along
    line = flat_line() if mean_line is None else mean_line
    panels = tuple(
        LatticePanel(
            root_leading=front[i],
            root_trailing=back[i],
            tip_leading=front[i + 1],
            tip_trailing=back[i + 1],
            root_mean_line=line,
            tip_mean_line=line,
            stations=control_stations(controls, i),
        )
        for i in range(len(chords) - 1)
    )
    return LatticeSurface(
        key=key,
        panels=panels,
        mirrored=mirrored,
        strips=strips,
        rows=rows,
        uniform=uniform,
        controls=controls,
    )
