"""Six degrees of freedom against closed forms, and against the linear phugoid."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.flight.modes import Mode
from foamwright.flight.rigidbody import (
    RigidBody,
    fly,
    integrate,
    motion,
    turn_rates,
)
from tests.flight_aeroplanes import trainer, trainer_loads
from tests.flight_cases import case

DROP, TOP, DRAG = case("SIM-DROP"), case("SIM-TOP"), case("SIM-DRAG")
TURN, ORDER, PHUGOID = case("SIM-TURNRATES"), case("SIM-RK4"), case("SIM-PHUGOID")


def none(_, here):
    return np.zeros_like(here.velocity), np.zeros_like(here.rates)


@pytest.mark.validation(DROP.reference)
def test_thrown_and_spinning_without_air(agrees):
    body = RigidBody(mass=1.0, inertia=np.diag([0.02, 0.03, 0.05]))
    angle = np.radians(DROP["angle"])
    start = motion(angles=(0.0, angle, 0.0), velocity=(DROP["V0"], 0.0, 0.0), rates=DROP["spin"])
    _, path = fly(body, start, loads=none, step=0.005, count=300)
    t, want = DROP["t"], DROP.expected
    ahead, up = (DROP["V0"] * f(angle) * t for f in (np.cos, np.sin))
    agrees("x", got=path.place[-1, 0], expected=ahead, tol_abs=1e-6)
    agrees("h", got=path.height[-1], expected=up - 0.5 * 9.80665 * t**2, tol_abs=1e-6)
    # The figures as printed have seven digits, half of whose last is more than 1e-6.
    agrees("x, printed", got=path.place[-1, 0], expected=want["x"], tol_abs=5e-6)
    agrees("h, printed", got=path.height[-1], expected=want["h"], tol_abs=5e-6)


@pytest.mark.validation(TOP.reference)
def test_top_without_torque(agrees):
    body = RigidBody(mass=1.0, inertia=np.diag([TOP["Ix"], TOP["Iy"], TOP["Iz"]]))
    _, path = fly(body, motion(rates=TOP["w0"]), loads=none, step=0.004, count=500)
    rate = (TOP["Iz"] - TOP["Ix"]) / TOP["Ix"] * TOP["w0"][2]
    TOP.check(agrees, "rate", rate)
    TOP.check(agrees, "p_at_t", path.rates[-1, 0])
    # The sign: q follows p a quarter turn behind as (Iz - Ix)/Ix wz p.
    TOP.check(agrees, "q_at_t", path.rates[-1, 1])


@pytest.mark.validation(DRAG.reference)
def test_coasting_against_drag(agrees):
    def drag(_, here):
        speed = np.linalg.norm(here.velocity, axis=-1, keepdims=True)
        return -DRAG["k"] * speed * here.velocity, np.zeros_like(here.rates)

    body = RigidBody(mass=1.0, inertia=np.eye(3))
    start = motion(velocity=(DRAG["V0"], 0.0, 0.0))
    _, path = fly(body, start, loads=drag, step=0.02, count=150, gravity=0.0)
    DRAG.check(agrees, "V", path.velocity[-1, 0])
    DRAG.check(agrees, "x", path.place[-1, 0])


@pytest.mark.validation(TURN.reference)
def test_rates_in_a_steady_turn(agrees):
    got = turn_rates(
        TURN["turn_rate"], bank=np.radians(TURN["bank"]), pitch=np.radians(TURN["theta"])
    )
    for key, value in zip("pqr", got, strict=True):
        TURN.check(agrees, key, value)


@pytest.mark.validation(ORDER.reference)
def test_order_of_the_integrator(agrees):
    errors = []
    for steps in ORDER["steps"]:
        _, states = integrate(lambda _, y: -y, np.array([1.0]), step=1.0 / steps, count=steps)
        errors.append(abs(float(states[-1, 0]) - np.exp(-1.0)))
    ORDER.check(agrees, "error_20", errors[0])
    ORDER.check(agrees, "error_40", errors[1])
    ORDER.check(agrees, "ratio", errors[0] / errors[1])


@pytest.mark.validation(PHUGOID.reference)
def test_flown_phugoid_beside_the_linear_one(agrees):
    plane = trainer()
    alpha = float(plane.incidence)
    PHUGOID.check(agrees, "linear_period", plane.longitudinal.period(Mode.PHUGOID))
    speed = 12.0 + PHUGOID["dV"]
    start = motion(
        angles=(0.0, alpha, 0.0), velocity=(speed * np.cos(alpha), 0.0, speed * np.sin(alpha))
    )
    body = RigidBody(mass=1.0, inertia=plane.inertia)
    times, path = fly(body, start, loads=trainer_loads(plane), step=0.01, count=2000)
    fast = np.linalg.norm(path.velocity, axis=-1)
    PHUGOID.check(agrees, "period", np.diff(peaks(times, fast)[-2:])[0])
    # Exactly nought: nothing of it couples into roll, yaw and sideslip.
    assert np.all(path.velocity[:, 1] == 0.0)
    assert np.all(path.rates[:, (0, 2)] == 0.0)


def peaks(times, values):
    """Times of the highest points after the first second, by a parabola through three."""
    k = 1 + np.flatnonzero((values[1:-1] > values[:-2]) & (values[1:-1] >= values[2:]))
    k = k[times[k] > 1.0]
    before, here, after = values[k - 1], values[k], values[k + 1]
    shift = 0.5 * (before - after) / (before - 2.0 * here + after)
    return times[k] + shift * (times[1] - times[0])
