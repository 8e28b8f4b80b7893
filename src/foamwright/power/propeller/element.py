"""One ring of the disc: blade-element and momentum theory in one explicit line.

At an inflow angle phi the section's lift and drag are known, and the balance of blade force and
momentum is linear in the two speeds. Written with sines it has no pole anywhere::

    up     = sin² phi      - k (cl cos phi - cd sin phi)        k = solidity / (4 F)
    across = sin phi cos phi + k (cl sin phi + cd cos phi)
    V / (omega r) = up / across,     W² / (V² + (omega r)²) = sin² phi / (up² + across²)

so that the advance angle of the ring, psi = atan2(up, across), follows from phi without any
iteration, from a blade driven backward through static, zero thrust and windmilling to one that
stands still in the wind (psi = 90°). The residual of the usual form,
omega r up - V across = 0, has the same roots.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

#: Lift and drag coefficient from incidence above zero lift [rad], Reynolds number and chord/r.
Section = Callable[[Array, Array, Array], tuple[Array, Array]]

#: Loss factors are held off zero, where a ring would carry no momentum at all.
LEAST_LOSS = 1e-6

#: Halvings of a right angle that leave less than 1e-13 rad.
HALVINGS = 44


@dataclass(frozen=True, slots=True, kw_only=True)
class Rings:
    """Rings of a propeller; arrays broadcast, stations along the last axis."""

    radius: Array  # r/R
    chord: Array  # chord/R
    angle: Array  # rad, zero-lift line to plane of rotation
    blades: Array | float
    hub: float  # r/R where the blade begins
    has_tip_loss: bool = True
    has_root_loss: bool = True

    @property
    def solidity(self) -> Array:
        """Blade chord over circumference. [-]"""
        return self.blades * self.chord / (2.0 * np.pi * self.radius)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """What a ring does at an inflow angle."""

    up: Array
    across: Array
    normal: Array  # force coefficient along the shaft
    tangential: Array  # force coefficient against rotation

    @property
    def advance(self) -> Array:
        """Advance angle of the ring, atan(V / (omega r)). [rad]"""
        return np.arctan2(self.up, self.across)


def prandtl_loss(radius: Array, *, sine: Array, blades: Array | float, edge: float = 1.0) -> Array:
    r"""Loss of circulation near a blade end with few blades.

    .. math:: F = (2/\pi) \arccos e^{-f}, \quad f = (B/2) |e - x| / (\min(x, e) \sin\phi)

    Parameters
    ----------
    radius : ndarray
        Ring, r/R. [-]
    sine : ndarray
        Of the inflow angle. [-]
    blades : ndarray or float
        Number of blades. [-]
    edge : float, optional
        Where the blade ends, r/R: 1 for the tip, the hub's radius for the root. [-]

    Returns
    -------
    ndarray
        Factor, 1 far from the end. [-]

    References
    ----------
    .. [1] L. Prandtl, appendix to A. Betz, 1919; H. Glauert in W. F. Durand (ed.), Aerodynamic
       Theory vol. IV, 1935 (from memory).
    """
    exponent = 0.5 * blades * np.abs(edge - radius) / (np.minimum(radius, edge) * sine)
    return (2.0 / np.pi) * np.arccos(np.exp(-exponent))


def ring_flow(inflow: Array, *, rings: Rings, section: Section, reynolds: Array) -> Flow:
    """Balance blade force and momentum in rings at given inflow angles.

    Parameters
    ----------
    inflow : ndarray
        Angle of the flow to the plane of rotation, 0 to pi/2. [rad]
    rings : Rings
        The blade.
    section : callable
        Lift and drag coefficient of incidence, Reynolds number and chord/r. [-]
    reynolds : ndarray
        Of rotation and local chord. [-]

    Returns
    -------
    Flow
        Terms of the balance and force coefficients. [-]
    """
    sine, cosine = np.sin(inflow), np.cos(inflow)
    lift, drag = section(rings.angle - inflow, reynolds, rings.chord / rings.radius)
    normal = lift * cosine - drag * sine
    tangential = lift * sine + drag * cosine
    load = 0.25 * rings.solidity
    if rings.has_tip_loss or rings.has_root_loss:
        loss: Array | float = 1.0
        if rings.has_tip_loss:
            loss = prandtl_loss(rings.radius, sine=sine, blades=rings.blades)
        if rings.has_root_loss:
            loss = loss * prandtl_loss(rings.radius, sine=sine, blades=rings.blades, edge=rings.hub)
        load = load / np.maximum(loss, LEAST_LOSS)
    return Flow(
        up=sine * sine - load * normal,
        across=sine * cosine + load * tangential,
        normal=normal,
        tangential=tangential,
    )


def solve_inflow(advance: Array, *, rings: Rings, section: Section, reynolds: Array) -> Array:
    """Find the inflow angle of rings at a given advance angle by bisection.

    Parameters
    ----------
    advance : ndarray
        Advance angle of the ring, atan(V / (omega r)), above -pi/2 up to pi/2. [rad]
    rings : Rings
        The blade.
    section : callable
        Lift and drag coefficient of incidence, Reynolds number and chord/r. [-]
    reynolds : ndarray
        Of rotation and local chord. [-]

    Returns
    -------
    ndarray
        Inflow angle. [rad]

    Notes
    -----
    A bracket of 0 to pi/2 always holds a change of sign: near 0 the blade force outweighs
    momentum, near pi/2 momentum outweighs the blade. Slow; the tables of `spread` stand on the
    explicit form instead and are tested against this.
    """
    sine, cosine = np.sin(advance), np.cos(advance)
    shape = np.broadcast_shapes(advance.shape, rings.angle.shape, np.shape(reynolds))
    low = np.full(shape, 1e-9)
    high = np.full(shape, 0.5 * np.pi)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        flow = ring_flow(middle, rings=rings, section=section, reynolds=reynolds)
        is_high = flow.up * cosine - flow.across * sine > 0.0
        high = np.where(is_high, middle, high)
        low = np.where(is_high, low, middle)
    return 0.5 * (low + high)


def ring_loads(
    inflow: Array, *, flow: Flow, rings: Rings, advance_ratio: Array
) -> tuple[Array, Array]:
    """Give thrust and power coefficient of each ring per r/R.

    Parameters
    ----------
    inflow : ndarray
        Angle of the flow to the plane of rotation. [rad]
    flow : Flow
        Of the rings at that angle.
    rings : Rings
        The blade.
    advance_ratio : ndarray
        V / (n D). [-]

    Returns
    -------
    tuple of ndarray
        d ct / dx and d cp / dx; x = r/R. [-]
    """
    x = rings.radius
    tangent = advance_ratio / (np.pi * x)
    speed = np.sin(inflow) ** 2 / (flow.up**2 + flow.across**2) * (1.0 + tangent * tangent)
    common = (np.pi**2 / 8.0) * rings.blades * rings.chord * x * x * speed
    return common * flow.normal, common * flow.tangential * np.pi * x
