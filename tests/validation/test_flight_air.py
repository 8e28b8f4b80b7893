"""The air at the field against the standard atmosphere and tables of steam."""

from __future__ import annotations

import pytest

from foamwright.flight.atmosphere import (
    density_height,
    geopotential,
    saturation_pressure,
    standard_air,
)
from tests.flight_cases import case
from tests.reference import Reference

GROUND, HIGH, TOP = case("ATM-00000"), case("ATM-03000"), case("ATM-TROPO")
VISCOSITY, HOT = case("ATM-VISC"), case("ATM-HOT")
STEAM = Reference(
    "", "saturated steam tables", None, "2.339, 4.246, 7.384 kPa at 20, 30, 40 °C", "memory"
)


@pytest.mark.validation(GROUND.reference)
@pytest.mark.parametrize("one", [GROUND, HIGH], ids=["sea", "3000 m"])
def test_standard_atmosphere(agrees, one):
    air = standard_air(geopotential(one["altitude_geometric"]))
    one.check(agrees, "T", air.temperature)
    one.check(agrees, "p", air.pressure)
    one.check(agrees, "rho", air.density)
    one.check(agrees, "a", air.sound_speed)


@pytest.mark.validation(TOP.reference)
def test_tropopause(agrees):
    air = standard_air(TOP["altitude_geopotential"])
    TOP.check(agrees, "T", air.temperature)
    TOP.check(agrees, "p", air.pressure)
    TOP.check(agrees, "rho", air.density)


@pytest.mark.validation(VISCOSITY.reference)
def test_viscosity_and_reynolds_number(agrees):
    air = standard_air(VISCOSITY["altitude"])
    VISCOSITY.check(agrees, "mu", air.viscosity)
    VISCOSITY.check(agrees, "nu", air.kinematic_viscosity)
    VISCOSITY.check(agrees, "Re", air.reynolds(VISCOSITY["V"], chord=VISCOSITY["chord"]))


@pytest.mark.validation(HOT.reference)
def test_hot_high_field(agrees):
    air = standard_air(HOT["altitude_geopotential"], warmer=HOT["dT_ISA"])
    HOT.check(agrees, "rho", air.density)
    HOT.check(agrees, "density_altitude", density_height(air.density))
    factor = (standard_air().density / air.density) ** 0.5
    HOT.check(agrees, "stall_speed_factor_vs_SL", factor)


TIP = case("TIP-RE")


@pytest.mark.validation(TIP.reference)
def test_reynolds_number_of_a_tip(agrees):
    air = standard_air()
    root, tip = (air.reynolds(TIP["V"], chord=TIP[end]) for end in ("root", "tip"))
    TIP.check(agrees, "Re_root", root)
    TIP.check(agrees, "Re_tip", tip)
    TIP.check(agrees, "ratio", tip / root)


@pytest.mark.validation(STEAM)
@pytest.mark.parametrize(("celsius", "kilopascals"), [(20, 2.339), (30, 4.246), (40, 7.384)])
def test_vapour_pressure(agrees, celsius, kilopascals):
    got = float(saturation_pressure(celsius + 273.15)) / 1e3
    agrees(f"vapour at {celsius} °C [kPa]", got=got, expected=kilopascals, rel=4e-3)
