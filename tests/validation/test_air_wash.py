"""Propeller wash against momentum theory: exact limits, conservation, a published case."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.air.wash import air_velocity, induced_velocity, stream_growth, tube_radius, wash
from foamwright.airframe import Disc
from tests.reference import Reference

MCCORMICK = Reference(
    "B. W. McCormick", "Aerodynamics, Aeronautics, and Flight Mechanics", None,
    "slipstream; numbers computed", "memory",
)  # fmt: skip
GLAUERT = Reference(
    "H. Glauert", "The Elements of Aerofoil and Airscrew Theory", 1926, "ch. XV", "derived"
)
SWIRL = Reference(
    "handbook rule", "mean swirl is Q/(rho A (V + v) r), r about 0.7 R", None, "", "memory"
)
HAND = Reference(
    "S. F. Hoerner, H. V. Borst", "Fluid-Dynamic Lift", 1985, "handedness of a slipstream", "memory"
)

RHO = 1.225
DIAMETER = 0.2032
AREA = 0.25 * np.pi * DIAMETER**2


def _disc(**changes: object) -> Disc:
    fields: dict[str, object] = {
        "motor": "main",
        "path": "power.motor.main",
        "centre": np.zeros(3),
        "thrust": np.array([-1.0, 0.0, 0.0]),
        "diameter": DIAMETER,
    }
    return Disc(**{**fields, **changes})  # type: ignore[arg-type]


@pytest.mark.validation(MCCORMICK)
def test_slipstream_behind_a_disc(agrees):
    """4 N, 8 inches, 10 m/s, 0.2 m behind."""
    v = float(induced_velocity(4.0, airspeed=10.0, area=AREA, density=RHO))
    speed = 10.0 + v * float(stream_growth(0.2, radius=0.5 * DIAMETER))
    agrees("velocity", got=speed, expected=16.961, rel=1e-3)
    radius = tube_radius(0.2, radius=0.5 * DIAMETER, airspeed=10.0, induced=v)
    agrees("radius", got=float(radius), expected=0.091245, rel=1e-3)
    found = wash(np.array([[0.2, 0.0, 0.0]]), discs=[_disc()], wind=air_velocity(10.0), thrust=4.0)
    agrees("at a point", got=float(found.velocity[0, 0]), expected=16.961, rel=1e-3)


@pytest.mark.validation(GLAUERT)
def test_limits_of_the_disc(agrees):
    v = float(induced_velocity(4.0, airspeed=10.0, area=AREA, density=RHO))
    agrees("far behind", got=v * float(stream_growth(1e4, radius=0.1)), expected=2 * v, rel=1e-9)
    agrees("far ahead", got=v * float(stream_growth(-1e4, radius=0.1)), expected=0.0, tol_abs=1e-8)
    thrust = RHO * AREA * (10.0 + v) * 2.0 * v
    agrees("momentum far behind", got=thrust, expected=4.0, rel=1e-12)
    still = float(induced_velocity(4.0, airspeed=0.0, area=AREA, density=RHO))
    agrees("standing", got=still, expected=np.sqrt(4.0 / (2.0 * RHO * AREA)), rel=1e-12)
    agrees("no thrust", got=induced_velocity(0.0, airspeed=10.0, area=AREA), expected=0.0)
    squeeze = float(tube_radius(1e5, radius=0.1, airspeed=0.0, induced=still))
    agrees("standing jet narrows to 0.707", got=squeeze, expected=0.1 / np.sqrt(2.0), rel=1e-6)


def _rings(x: float, reach: float) -> tuple[np.ndarray, np.ndarray]:
    """Points of a plane square to x, and the areas they stand for."""
    edges = np.linspace(0.0, reach, 401)
    radius = np.sqrt(0.5 * (edges[1:] ** 2 + edges[:-1] ** 2))
    points = np.stack([np.full_like(radius, x), radius, np.zeros_like(radius)], axis=1)
    return points, np.pi * np.diff(edges**2)


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize("x", [-0.15, -0.03, 0.0, 0.05, 0.2, 0.8])
def test_the_tube_keeps_its_air(agrees, x):
    """Free wind through the tube's cross-section and what is added to it, blended edge and
    all, make the same flow at any place along it."""
    v = float(induced_velocity(4.0, airspeed=10.0, area=AREA, density=RHO))
    points, areas = _rings(x, 0.3)
    found = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=4.0)
    flow = float((found.inside * 10.0 + found.added[:, 0]) @ areas)
    agrees(f"flow at {x}", got=flow, expected=AREA * (10.0 + v), rel=2e-3)


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize("x", [0.05, 0.2, 0.8])
def test_swirl_carries_the_torque(agrees, x):
    """Moment of momentum, behind the onset, carried by the speed of the tube's middle."""
    torque = 0.08
    points, areas = _rings(x, 0.3)
    found = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=4.0, torque=torque)
    swirl = -found.added[:, 2]  # right of the axis a right-hand screw along -x goes down
    got = RHO * found.velocity[0, 0] * float((swirl * points[:, 1]) @ areas)
    agrees(f"torque at {x}", got=got, expected=torque, rel=0.02)


@pytest.mark.validation(GLAUERT)
def test_radial_inflow_closes_the_balance(agrees):
    """Divergence of the velocity inside the tube is nothing, by differences."""
    centre, step = np.array([0.03, 0.02, -0.03]), 1e-4
    shifts = step * np.concatenate([np.eye(3), -np.eye(3)])
    found = wash(centre + shifts, discs=[_disc()], wind=air_velocity(10.0), thrust=4.0)
    v = found.added
    divergence = sum((v[i, i] - v[i + 3, i]) / (2.0 * step) for i in range(3))
    stretch = (v[0, 0] - v[3, 0]) / (2.0 * step)
    agrees("divergence over du/ds", got=float(divergence / stretch), expected=0.0, tol_abs=1e-5)


@pytest.mark.validation(SWIRL)
def test_mean_swirl(agrees):
    v = float(induced_velocity(4.0, airspeed=10.0, area=AREA, density=RHO))
    points, areas = _rings(0.011, 0.5 * DIAMETER * 0.88)
    found = wash(points, discs=[_disc()], wind=air_velocity(10.0), thrust=4.0, torque=0.08)
    got = float(-found.added[:, 2] @ areas) / float(areas.sum())
    rule = 0.08 / (RHO * AREA * (10.0 + v) * 0.7 * 0.5 * DIAMETER)
    agrees("mean swirl just behind the disc", got=got, expected=rule, rel=0.05)


@pytest.mark.validation(HAND)
def test_slipstream_of_a_clockwise_tractor(agrees):
    """Seen from behind it turns clockwise: above the axis the air goes right, so it pushes a
    fin there to the right and the nose to the left."""
    above = np.array([[0.5, 0.0, 0.04]])
    found = wash(above, discs=[_disc()], wind=air_velocity(10.0), thrust=4.0, torque=0.08)
    agrees("to the right", got=float(np.sign(found.added[0, 1])), expected=1.0)
    agrees("angle too", got=float(np.sign(found.sideflow_change[0])), expected=1.0)
