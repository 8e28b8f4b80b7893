"""Aerodynamics: the lattice and its tensor, thin sections; hand formulas in their own modules."""

from foamwright.air.aeroplane import Stability, lattice_surfaces, lift_tensor, stability
from foamwright.air.chordwise import thin_aerofoil
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
    "ControlUnit",
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
    "SurfaceShare",
    "about",
    "balance_for_margin",
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
    "thin_aerofoil",
    "wind_forces",
]
