"""The propeller: coefficients from what the maker knows, each with its band."""

from foamwright.power.propeller.build import propeller_model
from foamwright.power.propeller.model import (
    BladeGeometry,
    PropellerCoefficients,
    PropellerModel,
    StaticReading,
)

__all__ = [
    "BladeGeometry",
    "PropellerCoefficients",
    "PropellerModel",
    "StaticReading",
    "propeller_model",
]
