"""From a design to its airframe: one pass over surfaces, bodies and placed things."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

from foamwright.airframe.bodies import body_pieces, body_shapes
from foamwright.airframe.faults import Faults
from foamwright.airframe.lines import body_lines, surface_lines
from foamwright.airframe.model import Airframe, BodyShape, LineRun, Piece, Reference, SurfaceShape
from foamwright.airframe.placed import discs, placed_pieces
from foamwright.airframe.planform import main_wing, tail_volumes
from foamwright.airframe.surfaceparts import surface_pieces
from foamwright.airframe.surfaces import surface_build, surface_shape
from foamwright.design.model import Body, Design, Stock, Surface
from foamwright.errors import DomainError


def build_airframe(design: Design) -> Airframe:
    """Shape of one variant in space.

    Parameters
    ----------
    design : Design
        One variant of a design. [m, rad]

    Returns
    -------
    Airframe
        Surfaces, bodies, pieces, tape and glue lines, propeller discs. [m, m², m³]

    Raises
    ------
    ShapeError
        Where parts cannot be made as drawn; it names each of them.
    """
    stock, faults = design.stock, Faults()
    surfaces = [
        parts
        for surface in design.surfaces
        for parts in faults.made(f"surface.{surface.key}", partial(_surface_parts, surface, stock))
    ]
    bodies = [
        parts
        for body in design.bodies
        for parts in faults.made(f"body.{body.key}", partial(_body_parts, body, stock))
    ]
    placed = faults.made("", partial(placed_pieces, design))
    faults.stop()
    shapes = tuple(part.shape for part in surfaces)
    outsides = tuple(shape for part in bodies for shape in part.shapes)
    pieces = [piece for part in (*surfaces, *bodies) for piece in part.pieces]
    pieces += [piece for some in placed for piece in some]
    faults.made("", partial(_check_keys, pieces))
    faults.stop()
    return Airframe(
        design=design,
        reference=_reference(design, shapes, outsides),
        surfaces=shapes,
        bodies=outsides,
        pieces=tuple(pieces),
        lines=tuple(line for part in (*surfaces, *bodies) for line in part.lines),
        discs=discs(design.power),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _SurfaceParts:
    shape: SurfaceShape
    pieces: tuple[Piece, ...]
    lines: tuple[LineRun, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _BodyParts:
    shapes: tuple[BodyShape, ...]
    pieces: tuple[Piece, ...]
    lines: tuple[LineRun, ...]


# What is cut depends on nothing but the part and the stock, all frozen; it is kept, so that
# sliding a pack or tilting a motor does not cut the wing anew.
_KEPT = 128


@lru_cache(maxsize=_KEPT)
def _surface_parts(surface: Surface, stock: Stock) -> _SurfaceParts:
    build = surface_build(surface, stock=stock)
    return _SurfaceParts(
        shape=surface_shape(build), pieces=surface_pieces(build), lines=surface_lines(build)
    )


@lru_cache(maxsize=_KEPT)
def _body_parts(body: Body, stock: Stock) -> _BodyParts:
    return _BodyParts(
        shapes=body_shapes(body, stock=stock),
        pieces=body_pieces(body, stock=stock),
        lines=body_lines(body, stock=stock),
    )


def forget_parts() -> None:
    """Forget the parts that are kept from design to design: for timing only."""
    _surface_parts.cache_clear()
    _body_parts.cache_clear()


def _check_keys(pieces: Sequence[Piece]) -> None:
    seen: dict[tuple[str, str], Piece] = {}
    for piece in pieces:
        other = seen.setdefault((piece.key, piece.hand.value), piece)
        if other is not piece:
            raise DomainError(
                f"{piece.path} and {other.path} would both make a part called {piece.key}; "
                "give one of them another name"
            )


def _reference(
    design: Design, surfaces: Sequence[SurfaceShape], bodies: Sequence[BodyShape]
) -> Reference:
    """Take the reference measures from the wing with the largest projected area.

    The wetted area is that of all surfaces, both faces without their edges, and of all
    bodies; what one part hides of another is not taken off.
    """
    wing = main_wing(surfaces)
    tail_volume, fin_volume = tail_volumes(design.surfaces, wing=wing, shapes=surfaces)
    measures = wing.planform
    wetted = sum(2.0 * shape.planform.area for shape in surfaces)
    wetted += sum(body.wetted_area for body in bodies)
    return Reference(
        surface=wing.key,
        area=measures.projected_area,
        span=measures.span,
        mac=measures.mac,
        mac_leading_edge=measures.mac_leading_edge,
        tail_volume=tail_volume,
        fin_volume=fin_volume,
        wetted_area=wetted,
    )
