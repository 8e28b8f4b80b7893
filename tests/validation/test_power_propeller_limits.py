"""The ring solver against exact limits of momentum and blade-element theory."""

from __future__ import annotations

import numpy as np
import pytest

from foamwright.power import ideal_disc
from foamwright.power.propeller import propeller_model
from foamwright.power.propeller.element import (
    Rings,
    prandtl_loss,
    ring_flow,
    ring_loads,
    solve_inflow,
)
from foamwright.power.propeller.ideal import figure_of_merit, ideal_efficiency, ideal_static_power
from foamwright.power.propeller.measured import named_propeller
from tests.reference import Reference

GLAUERT = Reference(
    "H. Glauert", "in W. F. Durand (ed.), Aerodynamic Theory vol. IV", 1935, "", "memory"
)
PRANDTL = Reference("L. Prandtl", "appendix to A. Betz, Schraubenpropeller", 1919, "", "memory")
LEISHMAN = Reference(
    "J. G. Leishman", "Principles of Helicopter Aerodynamics", None, "ch. 3, ideal twist", "memory"
)
TWO_SOLVERS = Reference("", "two independent solvers, 400 stations", None, "10x6", "computed")
HELIX = Reference("", "every section meets the helix angle", None, "", "derived")
CARADONNA = Reference(
    "F. X. Caradonna, C. Tung", "NASA TM-81232", 1981, "8° collective, 1250 rpm; CT", "memory"
)

COUNT = 600
NUMBER = np.array(1e5)


def stations(hub: float) -> tuple[np.ndarray, float]:
    return hub + (1.0 - hub) * (np.arange(COUNT) + 0.5) / COUNT, (1.0 - hub) / COUNT


def thin(drag: float):
    return lambda incidence, _number, _ratio: (2.0 * np.pi * incidence, drag + 0.0 * incidence)


def whole(rings: Rings, step: float, *, advance_ratio: float, section) -> tuple[float, float]:
    psi = np.arctan(advance_ratio / (np.pi * rings.radius))
    phi = solve_inflow(psi, rings=rings, section=section, reynolds=NUMBER)
    flow = ring_flow(phi, rings=rings, section=section, reynolds=NUMBER)
    ct, cp = ring_loads(phi, flow=flow, rings=rings, advance_ratio=np.array(advance_ratio))
    return float(ct.sum() * step), float(cp.sum() * step)


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize(
    ("thrust", "diameter", "airspeed", "expected"),
    [
        pytest.param(5.0, 0.127, 0.0, (12.693, 63.463, 0.0, 25.385), id="static-5in"),
        pytest.param(2.0, 0.2032, 12.0, (1.8213, 27.643, 0.86823, 15.643), id="cruise-8in"),
    ],
)
def test_actuator_disc(agrees, thrust, diameter, airspeed, expected):
    disc = ideal_disc(thrust, diameter=diameter, airspeed=airspeed, density=1.225)
    got = (disc.induced, disc.power, disc.efficiency, disc.wake)
    names = ("induced speed", "power", "efficiency", "far wake")
    for name, mine, theirs in zip(names, got, expected, strict=True):
        agrees(name, got=float(mine), expected=theirs, rel=1e-4, tol_abs=1e-9)


@pytest.mark.validation(GLAUERT)
def test_figure_of_merit_and_froude_efficiency(agrees):
    agrees("ideal cp", got=float(ideal_static_power(0.1299)), expected=0.037355, rel=1e-4)
    agrees("figure of merit", got=float(figure_of_merit(0.1299, cp=0.0531)), expected=0.70349,
           rel=1e-4)  # fmt: skip
    eta = ideal_efficiency(0.06, advance_ratio=0.5)
    agrees("Froude efficiency", got=float(eta), expected=0.88132, rel=1e-4)


@pytest.mark.validation(PRANDTL)
@pytest.mark.parametrize(
    ("blades", "radius", "degrees", "expected"),
    [
        pytest.param(2, 0.9, 10.0, 0.64636, id="two"),
        pytest.param(3, 0.95, 15.0, 0.47239, id="three"),
    ],
)
def test_tip_loss(agrees, blades, radius, degrees, expected):
    got = prandtl_loss(np.array(radius), sine=np.sin(np.radians(degrees)), blades=float(blades))
    agrees("F", got=float(got), expected=expected, rel=1e-4)


@pytest.mark.validation(LEISHMAN)
def test_hover_with_ideal_twist(agrees):
    """Small angles are part of the closed form: met as solidity and twist shrink together.

    Inflow then shrinks alike and ct as its square. At the angles themselves the solver lies 2.8 %
    below, for leaning lift and swirl.
    """
    small = 0.1
    x, step = stations(0.001)
    rings = Rings(
        radius=x,
        chord=np.full(COUNT, small * 0.1 * np.pi / 2.0),
        angle=small * 0.1 / x,
        blades=2.0,
        hub=0.001,
        has_tip_loss=False,
        has_root_loss=False,
    )
    ct, _ = whole(rings, step, advance_ratio=0.0, section=thin(0.0))
    agrees("ct", got=ct / small**2, expected=0.051549, rel=5e-3)


@pytest.mark.validation(TWO_SOLVERS)
@pytest.mark.parametrize(
    ("airspeed", "ct", "cp"),
    [
        pytest.param(0.0, 0.10949, 0.039393, id="static"),
        pytest.param(8.0, 0.074301, 0.036375, id="8mps"),
        pytest.param(12.0, 0.052552, 0.031016, id="12mps"),
        pytest.param(16.0, 0.028174, 0.021905, id="16mps"),
    ],
)
def test_reference_blade_element(agrees, airspeed, ct, cp):
    x, step = stations(0.15)
    rings = Rings(
        radius=x,
        chord=np.full(COUNT, 0.022 / 0.127),
        angle=np.arctan(0.1524 / (2.0 * np.pi * x * 0.127)),
        blades=2.0,
        hub=0.15,
        has_root_loss=False,
    )
    advance = airspeed / (8000.0 / 60.0 * 0.254)
    got = whole(rings, step, advance_ratio=advance, section=thin(0.02))
    agrees("ct", got=got[0], expected=ct, tol_abs=5e-3 * 0.10949)
    agrees("cp", got=got[1], expected=cp, tol_abs=5e-3 * 0.039393)


@pytest.mark.validation(HELIX)
def test_thrust_vanishes_at_the_pitch(agrees):
    x, step = stations(0.15)
    rings = Rings(
        radius=x,
        chord=np.full(COUNT, 0.15),
        angle=np.arctan(0.6 / (np.pi * x)),
        blades=2.0,
        hub=0.15,
    )
    ct, cp = whole(rings, step, advance_ratio=0.6, section=thin(0.0))
    agrees("ct at J = P/D", got=ct, expected=0.0, tol_abs=1e-9)
    agrees("cp at J = P/D", got=cp, expected=0.0, tol_abs=1e-9)
    below, _ = whole(rings, step, advance_ratio=0.6 - 1e-4, section=thin(0.0))
    above, mill = whole(rings, step, advance_ratio=0.6 + 1e-4, section=thin(0.0))
    assert below > 0.0 > above
    assert mill < 0.0


@pytest.mark.validation(GLAUERT)
@pytest.mark.parametrize(
    ("ratio", "expected", "rel"),
    [
        pytest.param(1.0, 0.4155, 1e-3, id="tip-speed-1"),
        pytest.param(5.0, 0.5704, 1e-3, id="tip-speed-5"),
        # Betz: the swirl left at this tip speed costs 0.03 %
        pytest.param(200.0, 16.0 / 27.0, 1e-3, id="betz"),
    ],
)
def test_best_windmill(agrees, ratio, expected, rel):
    """The optimum blade, run through the ring solver, gives the optimum power."""
    edge = 1e-3
    x, step = stations(edge)
    phi = (2.0 / 3.0) * np.arctan(1.0 / (ratio * x))
    lift = -1.0
    chord = 4.0 * (1.0 - np.cos(phi)) / -lift * 2.0 * np.pi * x / 3.0
    rings = Rings(
        radius=x,
        chord=chord,
        angle=phi + lift / (2.0 * np.pi),
        blades=3.0,
        hub=edge,
        has_tip_loss=False,
        has_root_loss=False,
    )
    flow = ring_flow(phi, rings=rings, section=thin(0.0), reynolds=NUMBER)
    assert np.allclose(np.tan(flow.advance), 1.0 / (ratio * x), rtol=1e-9)
    advance = np.pi / ratio
    _, cp = ring_loads(phi, flow=flow, rings=rings, advance_ratio=np.array(advance))
    got = -float(cp.sum() * step) * 8.0 / (np.pi * advance**3)
    agrees("power over that of the wind", got=got, expected=expected, rel=rel)


@pytest.mark.validation(GLAUERT)
def test_no_propeller_beats_momentum(agrees):
    beaten = 0
    for inches in (4.0, 7.0, 10.0, 14.0):
        for share in (0.3, 0.5, 0.7, 0.9, 1.2):
            for blades in (2, 3, 4):
                diameter = 0.0254 * inches
                blade = named_propeller("x", diameter=diameter, pitch=share * diameter,
                                        blades=blades)  # fmt: skip
                j = np.linspace(0.01, 1.5, 60)[:, None]
                got = propeller_model(blade).coefficients(j, rotation=[20.0, 80.0, 250.0])
                works = got.ct > 1e-4
                eta = (j * got.ct / got.cp)[works]
                best = ideal_efficiency(np.maximum(got.ct, 0.0), advance_ratio=j)[works]
                beaten += int(np.count_nonzero(eta >= best))
    agrees("points above the ideal", got=beaten, expected=0.0)


@pytest.mark.validation(CARADONNA)
def test_wide_hovering_blades_are_overrated(agrees):
    """Blades of aspect ratio 6; plain blade elements give a quarter more. Information, no gate."""
    x, step = stations(0.18)
    rings = Rings(
        radius=x, chord=np.full(COUNT, 0.1905 / 1.143), angle=np.full(COUNT, np.radians(8.0)),
        blades=2.0, hub=0.18, has_root_loss=False,
    )  # fmt: skip
    ct, _ = whole(rings, step, advance_ratio=0.0, section=thin(0.01))
    agrees("ct", got=ct * 4.0 / np.pi**3, expected=0.00459, rel=0.3)
