"""The strips as one system: how each meets the air and feels the others."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.influence import far_wash, leg_factors
from foamwright.air.sections.thin import flap_effect
from foamwright.air.solve import MOTIONS
from foamwright.air.stall.build import strip_polars
from foamwright.air.stall.polars import StripPolars
from foamwright.air.strips import LatticeStrips
from foamwright.air.tensor import LiftTensor
from foamwright.airframe.model import Airframe, Hand

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Lift lost by a stalled strip is spread along the span over about this length, in chords. It
#: leaves attached flow alone, makes the solution one and the same for every number of strips,
#: and stands for the width of a stall cell (about a chord; common observation, no source).
MIXING = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripSystem:
    r"""Strips with their sections, coupled by the lattice's own solution.

    With :math:`g = \Gamma/V` the effective incidence of a strip's chord is

    .. math:: \alpha = \operatorname{atan2}(w - D g,\ u) + \chi

    w and u the air's speed square to the strip and along x over V, both as the lattice feels
    them, :math:`\chi` twist, camber and deflections. For thin sections in attached flow the
    solution is that of the lattice.
    """

    polars: StripPolars
    surface: Places  # (S,)
    quarter: Array  # (S, 3) m
    normal: Array  # (S, 3)
    along: Array  # (S, 3) m, quarter-chord line from left to right
    chord: Array  # (S,) m
    width: Array  # (S,) m
    hands: tuple[Hand, ...]
    keys: tuple[str, ...]
    inverse: Array  # (S, S) 1/m, normal speed that gives strips their circulations
    onset: Array  # (S, N) normal speed as the lattice feels it, by unit state
    mutual: Array  # (S, S) 1/m, D
    spread: Array  # (S, S), how lost lift is spread
    far: Array  # (S, S) 1/m, wash in the Trefftz plane by circulation
    circulation: Array  # (S, N) of the lattice, by unit state
    unit: Array  # (S, U) 1 where a moving part is the strip's own flap
    count: Array  # (S,) 2 for a strip that stands for its mirror image too

    @property
    def area(self) -> Array:
        """Area of each strip. [m²]"""
        return self.chord * self.width

    @property
    def built_in(self) -> Array:
        """Incidence of each strip's chord at no incidence, χ. [rad]"""
        return self.onset[:, 0] + self.polars.alpha0

    @property
    def by_control(self) -> Array:
        """Incidence of each strip's chord by unit deflections, (S, U). [-]"""
        fraction = np.where(self.polars.flap > 0.0, self.polars.flap, 0.5)
        own = flap_effect(fraction).tau[:, None] * self.unit
        return self.onset[:, len(MOTIONS) :] - own

    def is_even(self, values: Array) -> bool:
        """Whether values by strip, (..., S), are alike on both hands and nothing in the middle."""
        hands = np.array([str(hand) for hand in self.hands])
        right, left = values[..., hands == Hand.RIGHT], values[..., hands == Hand.LEFT]
        middle = values[..., hands == Hand.CENTRE]
        return (
            right.shape == left.shape
            and bool(np.allclose(right, left, rtol=0.0, atol=_EVEN))
            and bool(np.allclose(middle, 0.0, rtol=0.0, atol=_EVEN))
        )


#: Incidences nearer than this are the same. [rad]
_EVEN = 1e-12


def strip_system(airframe: Airframe, tensor: LiftTensor) -> StripSystem:
    """Couple the strips of a solved lattice.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    tensor : LiftTensor
        Its lattice, solved.

    Returns
    -------
    StripSystem
        Both hands.
    """
    strips = tensor.strips
    polars = strip_polars(airframe, strips)
    inverse: Array = np.asarray(np.linalg.inv(strips.response), dtype=np.float64)
    own = 1.0 / (np.pi * strips.chord * polars.cosine)
    return StripSystem(
        polars=polars,
        surface=strips.surface,
        quarter=strips.quarter,
        normal=strips.normal,
        along=strips.along,
        chord=strips.chord,
        width=strips.width,
        hands=strips.hands,
        keys=strips.keys,
        inverse=inverse,
        onset=inverse @ strips.circulation,
        mutual=inverse - np.diag(own),
        spread=_spread(strips),
        far=far_wash(tensor.lattice, factor=leg_factors(tensor.lattice)),
        circulation=strips.circulation,
        unit=_own_units(tensor, polars),
        count=np.ones(len(strips.chord)),
    )


def right_half(system: StripSystem) -> StripSystem:
    """System of the right half in states that are their own mirror image.

    Parameters
    ----------
    system : StripSystem
        Both hands of an aeroplane that is its own mirror image.

    Returns
    -------
    StripSystem
        Deflections are those of both hands together. Surfaces in the middle stay, for their
        drag; they lift nothing.
    """
    hands = np.array([str(hand) for hand in system.hands])
    keep = np.flatnonzero(hands != Hand.LEFT)
    left = np.flatnonzero(hands == Hand.LEFT)
    twin = hands[keep] == Hand.RIGHT

    def folded(matrix: Array) -> Array:
        both = matrix[np.ix_(keep, keep)]
        both[:, twin] += matrix[np.ix_(keep, left)]
        return both

    return replace(
        _some(system, keep),
        mutual=folded(system.mutual),
        spread=folded(system.spread),
        far=folded(system.far),
        count=np.where(twin, 2.0, 1.0),
    )


def without_middle(system: StripSystem) -> StripSystem:
    """Leave out surfaces in the middle, which lift nothing in states that are symmetric.

    Parameters
    ----------
    system : StripSystem
        The right half.

    Returns
    -------
    StripSystem
    """
    keep = np.flatnonzero([hand is not Hand.CENTRE for hand in system.hands])
    if len(keep) == len(system.hands):
        return system
    return replace(
        _some(system, keep),
        mutual=system.mutual[np.ix_(keep, keep)],
        spread=system.spread[np.ix_(keep, keep)],
        far=system.far[np.ix_(keep, keep)],
        count=system.count[keep],
    )


def _some(system: StripSystem, keep: Places) -> StripSystem:
    """Only some strips; what couples them is left as it was."""
    polars = system.polars
    return replace(
        system,
        polars=replace(
            polars,
            ends=polars.ends[keep],
            share=polars.share[keep],
            cosine=polars.cosine[keep],
            chord=polars.chord[keep],
            alpha0=polars.alpha0[keep],
            moment0=polars.moment0[keep],
            flap=polars.flap[keep],
            gap=polars.gap[keep],
        ),
        surface=system.surface[keep],
        quarter=system.quarter[keep],
        normal=system.normal[keep],
        along=system.along[keep],
        chord=system.chord[keep],
        width=system.width[keep],
        hands=tuple(system.hands[int(i)] for i in keep),
        onset=system.onset[keep],
        circulation=system.circulation[keep],
        unit=system.unit[keep],
    )


def _own_units(tensor: LiftTensor, polars: StripPolars) -> Array:
    """Which moving part is the flap of which strip, (S, U)."""
    strips = tensor.strips
    own = np.zeros((len(strips.chord), len(tensor.units)))
    slopes = np.abs(tensor.strips.geometric[:, len(MOTIONS) :])
    has = polars.flap > 0.0
    for column, unit in enumerate(tensor.units):
        number = strips.keys.index(unit.surface)
        hand = np.array([h == unit.hand for h in strips.hands])
        own[:, column] = has & hand & (strips.surface == number) & (slopes[:, column] > 0.0)
    return own


def _spread(strips: LatticeStrips) -> Array:
    """Weights by which each strip's lost lift is felt by its neighbours; rows add up to 1."""
    count = len(strips.chord)
    spread = np.zeros((count, count))
    for number in range(len(strips.keys)):
        mine = np.flatnonzero(strips.surface == number)
        place = _along_span(strips, mine)
        distance = (place[:, None] - place) / (MIXING * strips.chord[mine])[:, None]
        weight = np.exp(-0.5 * distance * distance) * strips.width[mine]
        spread[np.ix_(mine, mine)] = weight / weight.sum(axis=1)[:, None]
    return spread


def _along_span(strips: LatticeStrips, mine: Places) -> Array:
    """Distance of strips along the surface from its middle; the left hand is negative. [m]"""
    place = np.zeros(len(mine))
    left = np.array([strips.hands[i] is Hand.LEFT for i in mine.tolist()])
    for hand in (left, ~left):
        if not hand.any():
            continue
        width = strips.width[mine[hand]]
        inner = mine[hand][0]
        start = abs(float(strips.quarter[inner, 1])) - 0.5 * width[0]
        if not left.any():
            start = 0.0
        place[hand] = start + np.cumsum(width) - 0.5 * width
    return np.where(left, -place, place)
