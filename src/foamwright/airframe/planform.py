"""Planform measures in closed form, and tail volumes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foamwright.airframe.model import Planform, SurfaceShape
from foamwright.design.model import Panel, Surface, SurfaceRole, Vec3
from foamwright.errors import DomainError

# A surface whose shadow is a smaller part of it than this stands on edge (cos 87° = 0.05): span,
# area and mean chord of its shadow would measure nothing. Common practice, no source.
_EDGE_ON = 0.05


@dataclass(slots=True)
class _Sums:
    """Integrals over the panels of one half."""

    area: float = 0.0  # of the panels themselves
    shadow: float = 0.0  # projected area
    square: float = 0.0  # integral of c² over projected length
    edge_x: float = 0.0  # integrals of the leading edge's place, weighted by c
    edge_y: float = 0.0
    edge_z: float = 0.0
    height: float = 0.0  # projected length from root to tip


def planform(surface: Surface) -> Planform:
    r"""Areas, span and mean aerodynamic chord of a surface, both halves.

    .. math:: \bar c = \frac{\int c^2 ds}{\int c\, ds}, \qquad
       x_{\bar c} = \frac{\int x_{LE}\, c\, ds}{\int c\, ds}

    Parameters
    ----------
    surface : Surface
        As designed; any number of straight-tapered panels. [m, rad]

    Returns
    -------
    Planform
        Exact for straight-tapered panels. Lengths are projected on the horizontal plane, of
        fins on the upright middle plane. The span of a mirrored surface runs from tip to tip,
        of fins and unmirrored surfaces from root to tip; the aspect ratio of a mirrored pair
        of fins is that of one fin. Twist does not shorten the chord. [m², m, -]

    Raises
    ------
    DomainError
        Where the surface has no projected area.

    References
    ----------
    .. [1] Definition of the mean aerodynamic chord as in any textbook of flight mechanics,
       such as B. Etkin, L. D. Reid, Dynamics of Flight, 3rd ed., 1996, app. C.
    """
    upright = surface.role is SurfaceRole.FIN
    x, y, z = surface.at
    sums, reach = _Sums(), abs(y)
    for panel in surface.panels:
        x, y, z = _add_panel(sums, panel, edge=(x, y, z), upright=upright)
        reach = max(reach, y)
    if sums.shadow <= _EDGE_ON * sums.area:
        way = ("lies flat", "the side") if upright else ("stands on edge", "above")
        raise DomainError(
            f"surface.{surface.key}: {way[0]}; it has next to no area seen from {way[1]}"
        )
    halves = 2.0 if surface.mirrored else 1.0
    in_pairs = surface.mirrored and not upright
    span = 2.0 * reach if in_pairs else sums.height
    own_area = halves * sums.shadow if in_pairs else sums.shadow
    return Planform(
        area=halves * sums.area,
        projected_area=halves * sums.shadow,
        span=span,
        aspect_ratio=span**2 / own_area,
        mac=sums.square / sums.shadow,
        mac_leading_edge=(
            sums.edge_x / sums.shadow,
            sums.edge_y / sums.shadow,
            sums.edge_z / sums.shadow,
        ),
    )


def _add_panel(sums: _Sums, panel: Panel, *, edge: Vec3, upright: bool) -> Vec3:
    """Add one panel's integrals; return the leading edge of its tip."""
    c, d, length = panel.root_chord, panel.tip_chord, panel.length
    way = (math.tan(panel.sweep), math.cos(panel.dihedral), math.sin(panel.dihedral))
    tip = (edge[0] + length * way[0], edge[1] + length * way[1], edge[2] + length * way[2])
    seen = length * abs(way[2] if upright else way[1])
    sums.area += 0.5 * (c + d) * length
    sums.shadow += 0.5 * (c + d) * seen
    sums.square += (c * c + c * d + d * d) / 3.0 * seen
    # Integral of the product of two linear functions, e0 to e1 and c to d.
    weights = seen / 6.0 * (2.0 * c + d), seen / 6.0 * (c + 2.0 * d)
    sums.edge_x += weights[0] * edge[0] + weights[1] * tip[0]
    sums.edge_y += weights[0] * edge[1] + weights[1] * tip[1]
    sums.edge_z += weights[0] * edge[2] + weights[1] * tip[2]
    sums.height += seen
    return tip


def main_wing(shapes: Sequence[SurfaceShape]) -> SurfaceShape:
    """Return the wing with the largest projected area.

    Raises
    ------
    DomainError
        Where no surface has the role of a wing.
    """
    wings = [shape for shape in shapes if shape.role is SurfaceRole.WING]
    if not wings:
        raise DomainError('an aeroplane needs a surface with role = "wing"')
    return max(wings, key=lambda shape: shape.planform.projected_area)


def quarter_point(measures: Planform) -> float:
    """Place of the quarter point of the mean aerodynamic chord along x. [m]"""
    return measures.mac_leading_edge[0] + 0.25 * measures.mac


def tail_areas(surface: Surface) -> tuple[float, float]:
    """Area that a tail surface has for pitch and for yaw, both halves.

    Parameters
    ----------
    surface : Surface
        A tailplane, fin or V-tail. [m, rad]

    Returns
    -------
    tuple of float
        Horizontal and vertical area. Of a tailplane, its area seen from above; of a fin, its
        area seen from the side; of a V-tail, S cos² G and S sin² G panel by panel, with S the
        area of the panels themselves. Zero for wings and canards. [m²]

    References
    ----------
    .. [1] P. E. Purser, J. P. Campbell, NACA Report 823, 1945: simplified theory of the vee
       tail (value from memory).
    """
    halves = 2.0 if surface.mirrored else 1.0
    across = up = 0.0
    for panel in surface.panels:
        area = halves * 0.5 * (panel.root_chord + panel.tip_chord) * panel.length
        c, s = abs(math.cos(panel.dihedral)), abs(math.sin(panel.dihedral))
        match surface.role:
            case SurfaceRole.TAILPLANE:
                across += area * c
            case SurfaceRole.FIN:
                up += area * s
            case SurfaceRole.V_TAIL:
                across += area * c * c
                up += area * s * s
            case SurfaceRole.WING | SurfaceRole.CANARD:
                pass
    return across, up


def tail_volumes(
    surfaces: Sequence[Surface], *, wing: SurfaceShape, shapes: Sequence[SurfaceShape]
) -> tuple[float | None, float | None]:
    """Horizontal and vertical tail volume; None where there is no such tail.

    Parameters
    ----------
    surfaces : sequence of Surface
        All surfaces as designed. [m, rad]
    wing : SurfaceShape
        The main wing. [m]
    shapes : sequence of SurfaceShape
        Shapes of the surfaces, in the same order. [m]

    Returns
    -------
    tuple of float or None
        Sum of S_t l / (S c) and of S_f l / (S b), l from the wing's quarter point to the
        tail's along x, S seen from above. A canard is not counted. [-]
    """
    base = wing.planform
    at = quarter_point(base)
    across = up = 0.0
    for surface, shape in zip(surfaces, shapes, strict=True):
        arm = quarter_point(shape.planform) - at
        flat, upright = tail_areas(surface)
        across += flat * arm
        up += upright * arm
    tails = {surface.role for surface in surfaces}
    has_tail = bool(tails & {SurfaceRole.TAILPLANE, SurfaceRole.V_TAIL})
    has_fin = bool(tails & {SurfaceRole.FIN, SurfaceRole.V_TAIL})
    return (
        across / (base.projected_area * base.mac) if has_tail else None,
        up / (base.projected_area * base.span) if has_fin else None,
    )
