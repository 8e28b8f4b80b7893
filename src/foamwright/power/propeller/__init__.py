"""The propeller: coefficients from what the maker knows, each with its band."""

from foamwright.power.propeller.build import propeller_model, propeller_models
from foamwright.power.propeller.ideal import (
    figure_of_merit,
    ideal_efficiency,
    ideal_static_power,
)
from foamwright.power.propeller.model import (
    BladeGeometry,
    PropellerCoefficients,
    PropellerModel,
    StaticReading,
)
from foamwright.power.propeller.styles import STYLES, nominal_width, style_of
from foamwright.power.propeller.suite import (
    SuiteResult,
    TierErrors,
    bench_suite,
    propeller_suite,
)

__all__ = [
    "STYLES",
    "BladeGeometry",
    "PropellerCoefficients",
    "PropellerModel",
    "StaticReading",
    "SuiteResult",
    "TierErrors",
    "bench_suite",
    "figure_of_merit",
    "ideal_efficiency",
    "ideal_static_power",
    "nominal_width",
    "propeller_model",
    "propeller_models",
    "propeller_suite",
    "style_of",
]
