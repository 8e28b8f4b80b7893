"""Aerodynamics: the lattice and its tensor, thin sections; hand formulas in their own modules."""

from foamwright.air.aeroplane import Stability, lattice_surfaces, lift_tensor, stability
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
    "ControlUnit",
    "Derivatives",
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
    "StripLoads",
    "SurfaceShare",
    "about",
    "balance_for_margin",
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
    "static_margin",
    "strip_loads",
    "thin_aerofoil",
    "wash_at",
    "wind_forces",
]
