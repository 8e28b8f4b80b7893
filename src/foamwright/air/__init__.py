"""Aerodynamics: the steady lattice, thin sections, hand formulas."""

from foamwright.air.aeroplane import lattice_surfaces, stability
from foamwright.air.chordwise import thin_aerofoil
from foamwright.air.lattice import solve_lattice
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
    "SurfaceShare",
    "lattice_surface",
    "lattice_surfaces",
    "solve_lattice",
    "stability",
    "thin_aerofoil",
]
