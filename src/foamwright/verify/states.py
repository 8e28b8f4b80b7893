"""The states in which a measure can be asked for."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class StateKey:
    """One key of a state."""

    name: str
    what: str
    kind: str  # kind of quantity; "" for plain numbers
    low: float  # SI
    high: float  # SI


_RIGHT = 0.5 * math.pi
_KEYS = (
    StateKey(
        name="alpha",
        what="incidence of the x axis, of a section its chord line, + nose up",
        kind="angle",
        low=-_RIGHT,
        high=_RIGHT,
    ),
    StateKey(name="reynolds", what="Reynolds number of the chord", kind="", low=1e2, high=1e9),
    StateKey(name="lift", what="lift coefficient", kind="", low=-5.0, high=5.0),
    StateKey(
        name="behind",
        what="point behind the quarter point of the wing's root chord, along x",
        kind="length",
        low=-10.0,
        high=50.0,
    ),
    StateKey(
        name="above",
        what="point above the leading edge of the wing's root, along z",
        kind="length",
        low=-10.0,
        high=10.0,
    ),
    StateKey(
        name="height",
        what="height of the point of the moments above level ground",
        kind="length",
        low=1e-3,
        high=1e3,
    ),
    StateKey(name="speed", what="true airspeed", kind="speed", low=0.1, high=200.0),
    StateKey(
        name="advance_ratio",
        what="airspeed over revolutions per second and diameter of a propeller",
        kind="",
        low=-1.0,
        high=5.0,
    ),
    StateKey(
        name="rotation",
        what="revolutions per minute of a propeller",
        kind="",
        low=1.0,
        high=100000.0,
    ),
    StateKey(
        name="deflection",
        what="deflection of a section's flap, trailing edge down positive",
        kind="angle",
        low=-_RIGHT,
        high=_RIGHT,
    ),
    StateKey(
        name="flap",
        what="chord of a section's plain flap, over the chord",
        kind="fraction",
        low=0.01,
        high=0.95,
    ),
)

#: Every state by name.
STATES: Mapping[str, StateKey] = MappingProxyType({key.name: key for key in _KEYS})
