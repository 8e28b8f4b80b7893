"""Where the coefficients of drag come from, how sure they are, and their bands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A source of a coefficient, with its one-sigma band."""

    text: str
    sure: str  # "read", "memory", "derived", "practice"
    band: float  # one sigma, relative

    def __str__(self) -> str:
        """Source and how sure."""
        return f"{self.text} ({self.sure})"


MATTHEWS = "C. Matthews, Aeronautical Engineer's Data Book, 2002, fig. 5.13(b)"
HOERNER = "S. F. Hoerner, Fluid-Dynamic Drag, 1965"
RAYMER = "D. P. Raymer, Aircraft Design: A Conceptual Approach"

FRICTION = Source(
    text=f"Prandtl-Schlichting plate; form factor {HOERNER}, ch. 6",
    sure="memory",
    band=0.15,
)
BOX_FRICTION = Source(
    text=f"Prandtl-Schlichting plate, turbulent; form factor {HOERNER}, ch. 6; "
    f"1.4 for square corners, {RAYMER}",
    sure="memory",
    band=0.25,
)
NOSE = Source(
    text=f"flat-ended cylinders in {MATTHEWS}, less friction and base drag; slope rule of ours",
    sure="derived",
    band=0.35,
)
BASE = Source(text=f"{HOERNER}, ch. 3, bodies", sure="memory", band=0.4)
EDGE = Source(
    text=f"front as flat-ended bodies in {MATTHEWS}; back {HOERNER}, ch. 3, sections",
    sure="derived",
    band=0.35,
)
BLOCK = Source(text=f"plates and end-on cylinders, {MATTHEWS}", sure="read", band=0.25)
ELLIPSOID = Source(
    text="F. M. White, Fluid Mechanics, table of bodies, laminar ellipsoids",
    sure="memory",
    band=0.2,
)
WIRE = Source(
    text=f"cylinder after F. M. White, Viscous Fluid Flow; lean {HOERNER}, ch. 3",
    sure="memory",
    band=0.15,
)
WHEEL = Source(text=f"open wheel rotating, {MATTHEWS}", sure="read", band=0.2)
CAVITY = Source(
    text="shear of a mixing layer, H. W. Liepmann, J. Laufer, NACA TN 1257, 1947",
    sure="memory",
    band=0.5,
)
JUNCTION = Source(text=f"{HOERNER}, ch. 8, strut on a wall", sure="memory", band=0.5)
