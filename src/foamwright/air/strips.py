"""The strips of a solved lattice: where they lie, what they carry, how they feel each other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.chordwise import chord_points
from foamwright.air.mesh import Lattice
from foamwright.air.solve import Solution, plane_weights, strip_sums
from foamwright.airframe.model import Hand

Array = NDArray[np.float64]
Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LatticeStrips:
    r"""Strips of both hands: geometry, unit circulations and the reduced system.

    With the state x of :class:`LiftTensor`, strip circulations are
    ``circulation @ x + response @ added``, where `added` is a normal velocity put over the
    whole of each strip, from below [m/s]. Attached flow has none. A strip that lifts less
    than it should is one with a negative `added`: a stall model looks for those for which
    the lift that the strip has, 2 circulation/(chord speed), is the one its section gives at
    its effective incidence ``effective / speed``.
    """

    keys: tuple[str, ...]  # of the surfaces
    surface: Places  # (S,) number of its surface
    hands: tuple[Hand, ...]
    quarter: Array  # (S, 3) m, quarter point on the control line
    three_quarter: Array  # (S, 3) m
    along: Array  # (S, 3) m, quarter-chord line from the left to the right edge
    normal: Array  # (S, 3) unit vector from the lower to the upper face
    chord: Array  # (S,) m
    width: Array  # (S,) m, along the surface
    circulation: Array  # (S, N) by unit state
    geometric: Array  # (S, N) normal velocity of the air as it comes, from zero lift
    far: Array  # (S, N) velocity along the normal in the Trefftz plane
    response: Array  # (S, S) m, circulation by normal velocity added over one strip

    @property
    def area(self) -> Array:
        """Area of each strip. [m²]"""
        return self.chord * self.width

    @property
    def effective(self) -> Array:
        """Normal velocity that would give each strip its circulation in plane flow, (S, N)."""
        return self.circulation / (np.pi * self.chord)[:, None]

    @property
    def induced(self) -> Array:
        """Normal velocity from all vortices but the strip's own plane flow, (S, N)."""
        return self.effective - self.geometric

    @property
    def mutual(self) -> Array:
        r"""Normal velocity at each strip from the circulations of all strips, (S, S). [1/m]

        Without the plane flow of the strip itself, so that for changes from the attached
        state: circulation = pi chord (added + mutual @ circulation). The reduced system of a
        nonlinear strip method; its inverse is `response`.
        """
        own = np.diag(1.0 / (np.pi * self.chord))
        return own - np.linalg.inv(self.response)


def strip_table(solution: Solution, keys: tuple[str, ...]) -> LatticeStrips:
    """Draw the table of strips of a solved lattice.

    Parameters
    ----------
    solution : Solution
        The lattice with its circulations.
    keys : tuple of str
        Keys of the surfaces.

    Returns
    -------
    LatticeStrips
    """
    lattice, strips = solution.lattice, solution.lattice.strips
    left, right, nose = _edges(lattice)
    chord = strips.chord
    quarter, three_quarter = (
        np.column_stack([nose + at * chord, strips.yz]) for at in (0.25, 0.75)
    )
    circulation = strip_sums(lattice, solution.circulation)
    geometric = strip_sums(lattice, plane_weights(lattice)[:, None] * solution.onset)
    return LatticeStrips(
        keys=keys,
        surface=strips.surface,
        hands=solution.hands,
        quarter=_kept(quarter),
        three_quarter=_kept(three_quarter),
        along=_kept(right - left),
        normal=_kept(np.column_stack([np.zeros_like(chord), strips.normal])),
        chord=chord,
        width=_kept(np.linalg.norm((right - left)[:, 1:], axis=1)),
        circulation=_kept(circulation),
        geometric=_kept(geometric),
        far=_kept(solution.far),
        response=_kept(solution.response),
    )


def _edges(lattice: Lattice) -> tuple[Array, Array, Array]:
    """Quarter points at the left and right edge of each strip, and x of its nose. [m]"""
    first = lattice.first
    rows = np.diff(np.append(first, len(lattice.strip)))
    vortex, control = np.array([[at[0] for at in chord_points(n)] for n in rows.tolist()]).T
    nose = lattice.control_x[first] - control * lattice.strips.chord
    ends: list[Array] = []
    for node in (lattice.left[first], lattice.right[first]):
        tail = lattice.node_tail[node]
        chord = (tail - lattice.node_x[node]) / (1.0 - vortex)
        yz = lattice.stations.yz[lattice.node_station[node]]
        ends.append(np.column_stack([tail - 0.75 * chord, yz]))
    return ends[0], ends[1], nose


def _kept(values: Array) -> Array:
    values.flags.writeable = False
    return values
