"""The trade's quick rules beside what the program computes."""

from __future__ import annotations

import pytest

from foamwright.flight.performance import stall_speed
from foamwright.units import from_unit, to_unit
from tests.reference import Reference

CLUB_PAGE = Reference(
    "a model flying club's page",
    "stall speed in mph is four times the root of the wing loading in oz/sq ft",
    None,
    "worked there: 25.4 gives 20; it implies CL 1.53, high for foam plates",
)


@pytest.mark.validation(CLUB_PAGE)
def test_quick_rule_of_the_stall(agrees):
    loading = from_unit(25.4, "oz/ft2")
    speed = stall_speed(loading, area=1.0, largest_lift=1.53)
    agrees(
        "stall at 25.4 oz/sq ft and CL 1.53, mph",
        got=to_unit(float(speed), "mph"),
        expected=4.0 * 25.4**0.5,
        rel=2e-3,
    )
