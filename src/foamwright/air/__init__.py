"""Aerodynamics: the steady lattice, thin sections; hand formulas in their own modules."""

from foamwright.air.aeroplane import Stability, lattice_surfaces, stability
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
from foamwright.air.surfaces import LatticePanel, LatticeSurface, lattice_surface

__all__ = [
    "LateralSlopes",
    "LatticePanel",
    "LatticeReference",
    "LatticeResult",
    "LatticeSurface",
    "SpanLoad",
    "Stability",
    "SurfaceShare",
    "balance_for_margin",
    "lattice_surface",
    "lattice_surfaces",
    "solve_lattice",
    "stability",
    "static_margin",
    "thin_aerofoil",
]
