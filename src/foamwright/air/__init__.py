"""Aerodynamics: the lattice and its tensor, thin sections; hand formulas in their own modules."""

from foamwright.air.aero import AeroModel, Validity, aero_model
from foamwright.air.aeroplane import Stability, lattice_surfaces, lift_tensor, stability
from foamwright.air.carrying import CRUISE_LIFT, Carrying, carrying
from foamwright.air.chordwise import thin_aerofoil
from foamwright.air.controls import CHANNELS, control_deflections, control_units
from foamwright.air.derivatives import Derivatives, derivatives
from foamwright.air.field import wash_at
from foamwright.air.lattice import solve_lattice
from foamwright.air.margins import balance_for_margin, static_margin
from foamwright.air.results import (
    LateralSlopes,
    LatticeReference,
    LatticeResult,
    SpanLoad,
    SurfaceShare,
)
from foamwright.air.solve import ControlUnit
from foamwright.air.spanload import StripLoads, strip_loads
from foamwright.air.stall import FirstStrip, StallPlace, StallResult
from foamwright.air.stall_findings import stall_findings
from foamwright.air.state import AeroForces, FlightState
from foamwright.air.strips import LatticeStrips
from foamwright.air.surfaces import LatticeControl, LatticePanel, LatticeSurface, lattice_surface
from foamwright.air.tensor import (
    LiftTensor,
    about,
    hinge_moments,
    induced_drag,
    loads,
    motion_state,
    solve_tensor,
    span_efficiency,
    wind_forces,
)

__all__ = [
    "CHANNELS",
    "CRUISE_LIFT",
    "AeroForces",
    "AeroModel",
    "Carrying",
    "ControlUnit",
    "Derivatives",
    "FirstStrip",
    "FlightState",
    "LateralSlopes",
    "LatticeControl",
    "LatticePanel",
    "LatticeReference",
    "LatticeResult",
    "LatticeStrips",
    "LatticeSurface",
    "LiftTensor",
    "SpanLoad",
    "Stability",
    "StallPlace",
    "StallResult",
    "StripLoads",
    "SurfaceShare",
    "Validity",
    "about",
    "aero_model",
    "balance_for_margin",
    "carrying",
    "control_deflections",
    "control_units",
    "derivatives",
    "hinge_moments",
    "induced_drag",
    "lattice_surface",
    "lattice_surfaces",
    "lift_tensor",
    "loads",
    "motion_state",
    "solve_lattice",
    "solve_tensor",
    "span_efficiency",
    "stability",
    "stall_findings",
    "static_margin",
    "strip_loads",
    "thin_aerofoil",
    "wash_at",
    "wind_forces",
]
