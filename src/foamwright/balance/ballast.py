"""Weights as a last resort, sideways balance, and the two-scale weighing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from foamwright.balance.bodies import inertia_from, outer, second_from
from foamwright.balance.model import Balance, Ballast
from foamwright.balance.pack import settle_packs, with_packs_at
from foamwright.balance.weigh import as_vector, read_only
from foamwright.design.model import Pack
from foamwright.errors import DomainError


def ballast_mass(mass: float, *, point: float, target: float, at: float) -> float:
    """Mass that, put at one place, brings the balance point to a target.

    Parameters
    ----------
    mass : float
        Mass of the aeroplane before. [kg]
    point : float
        Its balance point along x. [m]
    target : float
        Balance point aimed at. [m]
    at : float
        Place of the ballast. [m]

    Returns
    -------
    float
        Ballast; negative where mass must be taken away there. [kg]

    Notes
    -----
    Moments about the target: m (x - target) = b (target - at).
    """
    if at == target:
        raise DomainError("ballast on the target itself moves nothing")
    return mass * (point - target) / (target - at)


def ballast_for(
    balance: Balance, packs: Sequence[Pack], *, target: float, nose_x: float, tail_x: float
) -> Ballast | None:
    """Last resort: the weight that helps when the trays cannot reach the target.

    Parameters
    ----------
    balance : Balance
        As weighed.
    packs : sequence of Pack
        All that slide.
    target : float
        Balance point aimed at, along x. [m]
    nose_x, tail_x : float
        Where a weight could be put, ahead of and behind the target. [m]

    Returns
    -------
    Ballast or None
        None where the packs alone do it. ``pack_position`` is that of the heaviest pack, NaN
        where there is none; all packs stand at their best end.
    """
    places = settle_packs(balance, packs, target)
    settled = with_packs_at(balance, packs, places)
    ahead = settled.point[0] - target
    if abs(ahead) <= 1e-9:  # a nanometre: rounding of the moments, far below any pencil line
        return None
    at = nose_x if ahead > 0.0 else tail_x
    if (at - target) * ahead >= 0.0:
        raise DomainError("ballast must go ahead of the target at the nose, behind it at the tail")
    return Ballast(
        mass=ballast_mass(settled.mass, point=settled.point[0], target=target, at=at),
        x=at,
        place="nose" if ahead > 0.0 else "tail",
        pack_position=next(iter(places.values()), math.nan),
    )


def with_mass_added(balance: Balance, *, mass: float, x: float) -> Balance:
    """Return the balance with a point mass added on the level of the balance point, y kept.

    Parameters
    ----------
    balance : Balance
        As weighed.
    mass : float
        What is added, negative to take away. [kg]
    x : float
        Where along x. [m]

    Returns
    -------
    Balance
        Mass, point and inertia are exact; entries and groups are left as they were.
    """
    total = balance.mass + mass
    arm = np.array([x - balance.point[0], 0.0, 0.0])
    moved = (mass / total) * arm
    second = second_from(balance.inertia) + mass * outer(arm) - total * outer(moved)
    return replace(
        balance,
        mass=total,
        point=as_vector(np.array(balance.point) + moved),
        inertia=read_only(inertia_from(second)),
    )


def lateral_moment(balance: Balance, *, gravity: float = 9.80665) -> float:
    """Return the rolling moment of balancing off the middle plane; + right wing down.

    Parameters
    ----------
    balance : Balance
        As weighed.
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Weight times offset. [N m]
    """
    return balance.mass * gravity * balance.point[1]


def tip_mass(balance: Balance, *, tip_y: float) -> float:
    """Mass at the lighter wing tip that brings the balance point to the middle plane.

    Parameters
    ----------
    balance : Balance
        As weighed.
    tip_y : float
        Distance of the tip from the middle plane, > 0. [m]

    Returns
    -------
    float
        Mass, >= 0; at the left tip where the balance point lies to the right. [kg]
    """
    if not tip_y > 0.0:
        raise DomainError("a wing tip lies away from the middle plane")
    return balance.mass * abs(balance.point[1]) / tip_y


def two_scale_point(front: float, rear: float, *, front_x: float, rear_x: float) -> float:
    """Balance point from the readings of two scales.

    Parameters
    ----------
    front, rear : float
        Readings, tare taken off. [kg]
    front_x, rear_x : float
        Where the aeroplane rests on them. [m]

    Returns
    -------
    float
        Balance point along x. [m]

    Notes
    -----
    The scales stand level with one another and the aeroplane's x axis is level.
    """
    if not front + rear > 0.0:
        raise DomainError("two scales that carry nothing tell no balance point")
    return (front * front_x + rear * rear_x) / (front + rear)
