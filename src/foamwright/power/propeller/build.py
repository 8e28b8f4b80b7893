"""Builds the model of a propeller from what is known of it."""

from __future__ import annotations

from foamwright.design.model import Propeller
from foamwright.power.propeller.model import BladeGeometry, PropellerModel, StaticReading


def propeller_model(
    propeller: Propeller,
    *,
    geometry: BladeGeometry | None = None,
    reading: StaticReading | None = None,
) -> PropellerModel:
    """Model a propeller from diameter, pitch, blades and whatever else is known."""
    raise NotImplementedError
