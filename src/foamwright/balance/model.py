"""Masses, balance point and inertia of one variant, as frozen values in SI."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Group, Hand
from foamwright.design.model import Vec3

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class MassEntry:
    """One line of the weight statement."""

    key: str
    path: str
    title: str
    group: Group
    hand: Hand
    stock: str | None
    mass: float  # kg
    scatter: float  # kg, one sigma
    centre: Vec3  # m
    amount: str  # "0.0412 m² of board5", for people
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupMass:
    """A group of the weight statement."""

    group: Group
    mass: float  # kg
    centre: Vec3  # m


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Balance:
    """What it weighs and where it balances."""

    entries: tuple[MassEntry, ...]
    groups: tuple[GroupMass, ...]
    mass: float  # kg, ready to fly
    mass_scatter: float  # kg, one sigma
    point: Vec3  # m, balance point
    point_scatter: Vec3  # m, one sigma
    inertia: Array  # (3, 3) kg m² about the balance point, x aft y right z up


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceSpan:
    """The allowed range of the balance point, along x."""

    forward: float  # m, foremost
    aft: float  # m, aftmost
    why: str  # rule and source

    @property
    def is_empty(self) -> bool:
        """Whether no place is allowed at all."""
        return self.forward > self.aft


@dataclass(frozen=True, slots=True, kw_only=True)
class PackReach:
    """What sliding one pack in its tray does."""

    pack: str  # key
    position: float  # m, x of its middle as designed
    travel: tuple[float, float]  # m, foremost and aftmost middle
    balance: tuple[float, float]  # m, balance point with the pack at either end
    wanted: float  # m, pack middle that puts the balance point on the target; may lie outside
    target: float  # m, balance point aimed at

    @property
    def reaches(self) -> bool:
        """Whether the tray reaches the wanted place."""
        return self.travel[0] <= self.wanted <= self.travel[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ballast:
    """Last resort: a weight at a place, with the pack at its best end."""

    mass: float  # kg, >= 0
    x: float  # m
    place: str  # "nose" or "tail"
    pack_position: float  # m
