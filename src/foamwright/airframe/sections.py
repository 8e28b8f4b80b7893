"""Sections as the sheets they are made of.

A section is drawn in its own plane: x aft along the chord from the leading edge, z up,
metres. Sheet sections are strips: a polyline through the middle of the sheet and a
thickness; the sheet's faces are the polyline's offsets by half a thickness to either side.

- *flat*: one strip from 0 to the chord.
- *creased*: one strip through the creases.
- *curved*: one strip bent to a mean line of two parabolas that meet level at the largest
  camber (the four-digit mean line of NACA Report 460, 1933; value from memory).
- *stepped*: a flat base; each layer lies on the base, or on the highest earlier layer of its
  face that it overlaps.
- *folded*: one skin from the end of the lower side forward to the nose, up it, over the spar
  and down to the trailing edge, where its inner face meets the lower skin's upper face; the
  middle of the lower skin is the chord line. Nose height and depth are outside measures.
  The spar web stands between the skins.
- *profiled*: a solid core between its upper and lower line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from foamwright.airframe.meshes import frozen
from foamwright.airframe.model import Array
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Face,
    FlatSection,
    FoldedSection,
    ProfiledSection,
    Section,
    SheetStock,
    StepLayer,
    SteppedSection,
    Stock,
)
from foamwright.errors import DomainError

#: Nodes of a bent sheet: 23 facets, together shorter than the arc by less than 1e-4 up to 8 %
#: of camber.
CURVE_NODES = 24
# The air asks more of a bend than the eye: 24 nodes lose 1 % of the camber's effect, 96 lose 0.1 %.
MEAN_NODES = 96
# Nearer than this two places along a chord are the same: a hundredth of the finest cut. [m]
_SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strip:
    """One sheet of a section."""

    part: str  # "skin", "spar", "layer-1"
    sheet: SheetStock
    nodes: Array  # (k, 2) m, mid-sheet
    folds: tuple[int, ...] = ()  # inner nodes at which the sheet is creased
    bend: CurvedSection | None = None  # a smooth bend, which may be given other nodes

    @property
    def thickness(self) -> float:
        """Thickness of the sheet. [m]"""
        return self.sheet.thickness.value


def strips(section: Section, *, chord: float, stock: Stock) -> tuple[Strip, ...]:
    """Sheets of a section at a chord: the skin first, then spar or layers.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    tuple of Strip
        Empty for a profiled section, which is a core and no sheet. [m]
    """
    match section:
        case FlatSection():
            return (_flat_strip(section.sheet, chord, stock),)
        case CreasedSection():
            nodes = frozen(chord * np.array(section.nodes))
            folds = tuple(range(1, len(nodes) - 1))
            return (Strip(part="skin", sheet=stock.sheet(section.sheet), nodes=nodes, folds=folds),)
        case CurvedSection():
            nodes = frozen(chord * bent_nodes(section, np.linspace(0.0, 1.0, CURVE_NODES)))
            sheet = stock.sheet(section.sheet)
            return (Strip(part="skin", sheet=sheet, nodes=nodes, bend=section),)
        case SteppedSection():
            base = _flat_strip(section.sheet, chord, stock)
            return (base, *_layer_strips(section, chord=chord, stock=stock))
        case FoldedSection():
            return _folded_strips(section, chord=chord, stock=stock)
        case ProfiledSection():
            return ()


def _flat_strip(key: str, chord: float, stock: Stock) -> Strip:
    nodes = frozen(np.array([[0.0, 0.0], [chord, 0.0]]))
    return Strip(part="skin", sheet=stock.sheet(key), nodes=nodes)


def bent_nodes(section: CurvedSection, places: Array) -> Array:
    """Points of the mean line at places along the chord, in fractions of chord.

    Parameters
    ----------
    section : CurvedSection
        Largest camber and its place. [-]
    places : ndarray, (...)
        Places, 0 to 1. [-]

    Returns
    -------
    ndarray, (..., 2)
        Points. [-]

    References
    ----------
    .. [1] E. N. Jacobs, K. E. Ward, R. M. Pinkerton, NACA Report 460, 1933, mean line of the
       four-digit family (value from memory).
    """
    m, p = section.camber, section.camber_at
    if not 0.0 < p < 1.0:
        raise DomainError(f"the largest camber lies inside the chord; camber_at is {p:g}")
    ahead = m / p**2 * (2.0 * p - places) * places
    behind = m / (1.0 - p) ** 2 * (1.0 - places) * (1.0 + places - 2.0 * p)
    return np.stack([places, np.where(places < p, ahead, behind)], axis=-1)


# ---------------------------------------------------------------- stepped


def _layer_heights(section: SteppedSection, stock: Stock) -> list[tuple[float, float]]:
    """Height of the inner and of the outer face of each layer, from the base's middle. [m]"""
    base = 0.5 * stock.sheet(section.sheet).thickness.value
    heights: list[tuple[float, float]] = []
    for k, layer in enumerate(section.layers):
        under = [
            heights[j][1]
            for j, other in enumerate(section.layers[:k])
            if other.face is layer.face and other.start < layer.end and layer.start < other.end
        ]
        low = max([base, *under])
        heights.append((low, low + stock.sheet(layer.sheet).thickness.value))
    return heights


def _layer_strips(section: SteppedSection, *, chord: float, stock: Stock) -> list[Strip]:
    layers: list[Strip] = []
    for k, (layer, (low, high)) in enumerate(
        zip(section.layers, _layer_heights(section, stock), strict=True)
    ):
        z = 0.5 * (low + high) * _side(layer)
        nodes = frozen(np.array([[layer.start * chord, z], [layer.end * chord, z]]))
        layers.append(Strip(part=f"layer-{k + 1}", sheet=stock.sheet(layer.sheet), nodes=nodes))
    return layers


def _side(layer: StepLayer) -> float:
    return 1.0 if layer.face is Face.UPPER else -1.0


# ---------------------------------------------------------------- folded


def folded_outline(section: FoldedSection, *, chord: float, stock: Stock) -> Array:
    """Outside corners of the folded skin, (5, 2).

    From the lower end forward: lower end, lower nose corner, upper nose corner, crown over
    the spar, trailing edge of the upper skin. [m]

    Notes
    -----
    The upper skin's straight run from the crown is a line at one thickness below the crown
    that passes through (chord, t/2): B cos d - A sin d = t with A = chord - spar, B = depth - t.
    """
    t = stock.sheet(section.sheet).thickness.value
    spar = section.spar_at * chord
    fall = math.hypot(chord - spar, section.depth - t)
    if section.nose_height < 2.0 * t or section.depth < section.nose_height:
        raise DomainError(
            f"a folded section needs a nose at least two sheets high ({2e3 * t:.1f} mm) and a "
            f"depth no less than its nose; nose height is {1e3 * section.nose_height:.1f} mm, "
            f"depth {1e3 * section.depth:.1f} mm"
        )
    slope = math.acos(t / fall) - math.atan2(chord - spar, section.depth - t)
    return np.array(
        [
            [section.lower_to * chord, -0.5 * t],
            [0.0, -0.5 * t],
            [0.0, section.nose_height - 0.5 * t],
            [spar, section.depth - 0.5 * t],
            [chord + t * math.sin(slope), 0.5 * t + t * math.cos(slope)],
        ]
    )


def _folded_strips(section: FoldedSection, *, chord: float, stock: Stock) -> tuple[Strip, ...]:
    sheet, spar_sheet = stock.sheet(section.sheet), stock.sheet(section.spar_sheet)
    t = sheet.thickness.value
    outline = folded_outline(section, chord=chord, stock=stock)
    # The outside lies to the left of the way round, so the middle lies to its right.
    nodes = frozen(offset(outline, -0.5 * t))
    skin = Strip(part="skin", sheet=sheet, nodes=nodes, folds=(1, 2, 3))
    spar = section.spar_at * chord
    # h = z_u - z_l - t/cos - t/cos: the skins' vertical thickness at the steeper slope.
    rise = np.diff(outline[2:], axis=0)
    steepest = float(np.max(np.hypot(rise[:, 0], rise[:, 1]) / rise[:, 0]))
    height = section.depth - t - t * steepest
    if height <= 0.0:
        raise DomainError(
            f"a folded section {1e3 * section.depth:.1f} mm deep leaves no height for its spar "
            f"between two skins of {1e3 * t:.1f} mm"
        )
    web = frozen(np.array([[spar, 0.5 * t], [spar, 0.5 * t + height]]))
    return skin, Strip(part="spar", sheet=spar_sheet, nodes=web)


# ---------------------------------------------------------------- offsets


def offset(nodes: Array, distance: float) -> Array:
    """Polylines moved sideways, mitred at their nodes and square at their ends.

    Parameters
    ----------
    nodes : ndarray, (..., k, 2)
        Polylines. [m]
    distance : float
        To the left of the way along; negative to the right. [m]

    Returns
    -------
    ndarray, (..., k, 2)
        The moved polylines. [m]

    Raises
    ------
    DomainError
        Where a facet turns round: the sheet is too thick for so short a facet or so sharp a
        fold.
    """
    return nodes + offset_move(nodes, distance)


def offset_move(nodes: Array, distance: float) -> Array:
    """How far :func:`offset` moves each node; to the other side it is the same, negated. [m]"""
    step = nodes[..., 1:, :] - nodes[..., :-1, :]
    long = np.sqrt(step[..., 0] ** 2 + step[..., 1] ** 2)
    # A facet without length (a chord of zero) runs aft.
    bare = long == 0.0
    way = np.where(bare[..., None], _AFT, step / np.where(bare, 1.0, long)[..., None])
    before = np.empty_like(nodes)  # left normal of the facet before each node
    before[..., 1:, 0], before[..., 1:, 1] = -way[..., 1], way[..., 0]
    before[..., 0, :] = before[..., 1, :]
    after = np.empty_like(nodes)
    after[..., :-1, :], after[..., -1, :] = before[..., 1:, :], before[..., -1, :]
    # The mitre of unit normals a and b is (a + b)/(1 + a.b).
    share = 1.0 + (before * after).sum(axis=-1, keepdims=True)
    move = distance * (before + after) / np.maximum(share, 1e-9)
    # One face grows by what the other loses; neither may turn round.
    grown = ((move[..., 1:, :] - move[..., :-1, :]) * way).sum(axis=-1)
    if np.any(np.abs(grown) > long + _SAME):
        raise DomainError(
            f"a sheet {2e3 * abs(distance):.1f} mm thick is too thick for a facet this short "
            "between two creases; move the creases apart or make the folds gentler"
        )
    return move


_AFT: Array = frozen(np.array([1.0, 0.0]))


# ---------------------------------------------------------------- profiled


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoreLines:
    """Upper and lower line of a core in fractions of chord, both from nose to tail."""

    upper: Array  # (k, 2)
    lower: Array  # (m, 2)

    def at(self, places: Array) -> tuple[Array, Array]:
        """Heights of the upper and lower line at places along the chord. [-]"""
        return (
            np.interp(places, self.upper[:, 0], self.upper[:, 1]),
            np.interp(places, self.lower[:, 0], self.lower[:, 1]),
        )


def core_lines(section: ProfiledSection) -> CoreLines:
    """Split a core's coordinates at its nose.

    Raises
    ------
    DomainError
        Where a line runs back on itself or the lower line crosses the upper.
    """
    points = np.array(section.coordinates)
    nose = int(np.argmin(points[:, 0]))
    upper, lower = points[: nose + 1][::-1], points[nose:]
    if len(upper) < 2 or len(lower) < 2:
        raise DomainError("a profile runs from the trailing edge over the nose and back")
    if np.any(np.diff(upper[:, 0]) < 0.0) or np.any(np.diff(lower[:, 0]) < 0.0):
        raise DomainError("a profile's upper and lower line must each run aft without turning back")
    lines = CoreLines(upper=upper, lower=lower)
    top, bottom = lines.at(np.union1d(upper[:, 0], lower[:, 0]))
    if np.any(top < bottom - 1e-9):
        raise DomainError("a profile's lower line crosses its upper line")
    return lines


# ---------------------------------------------------------------- measures


def mean_line(section: Section, *, chord: float, stock: Stock) -> Array:
    """Line midway between the outer faces, in fractions of chord.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    ndarray, (k, 2)
        Points from x = 0 to x = 1, x rising. Steps of layered sections and the end of a
        folded lower skin are drawn as ramps one sheet long. [-]
    """
    if chord <= 0.0:
        return _LEVEL  # a pointed tip
    match section:
        case FlatSection():
            return _LEVEL
        case CreasedSection():
            return frozen(np.array(section.nodes, dtype=float))
        case CurvedSection():
            return frozen(bent_nodes(section, np.linspace(0.0, 1.0, MEAN_NODES)))
        case SteppedSection():
            return frozen(_stepped_mean(section, chord=chord, stock=stock))
        case FoldedSection():
            return frozen(_folded_mean(section, chord=chord, stock=stock))
        case ProfiledSection():
            lines = core_lines(section)
            corners = np.concatenate([lines.upper[:, 0], lines.lower[:, 0], [0.0, 1.0]])
            places = np.unique(np.clip(corners, 0.0, 1.0))
            return frozen(np.stack([places, 0.5 * np.add(*lines.at(places))], axis=1))


_LEVEL: Array = frozen(np.array([[0.0, 0.0], [1.0, 0.0]]))


def _stepped_faces(
    section: SteppedSection, *, chord: float, stock: Stock
) -> tuple[Array, Array, Array]:
    """Places along the chord [-] and the heights of both outer faces there [m]."""
    t = stock.sheet(section.sheet).thickness.value
    heights = _layer_heights(section, stock)
    # A strip narrower than two ramps is all ramp.
    ramps = [
        min(stock.sheet(layer.sheet).thickness.value / chord, 0.5 * (layer.end - layer.start))
        for layer in section.layers
    ]
    marks = [0.0, 1.0]
    for layer, ramp in zip(section.layers, ramps, strict=True):
        marks += [layer.start, layer.start + ramp, layer.end - ramp, layer.end]
    places = np.unique(np.clip(np.array(marks), 0.0, 1.0))
    upper, lower = np.full(len(places), 0.5 * t), np.full(len(places), -0.5 * t)
    for layer, (low, high), ramp in zip(section.layers, heights, ramps, strict=True):
        front = [0.0, high] if layer.start > 0.0 else [high, high]
        back = [high, 0.0] if layer.end < 1.0 else [high, high]
        at = [layer.start, layer.start + ramp, layer.end - ramp, layer.end]
        rise = np.interp(places, at, [*front, *back], left=0.0, right=0.0)
        # A ramp starts from whatever it stands on, which is at least the base.
        reach = np.maximum(rise, 0.5 * t) if low <= 0.5 * t else rise
        if layer.face is Face.UPPER:
            upper = np.maximum(upper, reach)
        else:
            lower = np.minimum(lower, -reach)
    return places, upper, lower


def _stepped_mean(section: SteppedSection, *, chord: float, stock: Stock) -> Array:
    places, upper, lower = _stepped_faces(section, chord=chord, stock=stock)
    return np.stack([places, 0.5 * (upper + lower) / chord], axis=1)


def _folded_mean(section: FoldedSection, *, chord: float, stock: Stock) -> Array:
    t = stock.sheet(section.sheet).thickness.value
    outline = folded_outline(section, chord=chord, stock=stock) / chord
    inner = offset(outline, -t / chord)
    marks = [0.0, section.spar_at, 1.0]
    if section.lower_to < 1.0:
        marks += [section.lower_to, min(1.0, section.lower_to + t / chord)]
    places = np.unique(np.array(marks))
    upper = np.interp(places, outline[2:, 0], outline[2:, 1])
    under = np.interp(places, inner[2:, 0], inner[2:, 1])
    lower = np.where(places <= section.lower_to, -0.5 * t / chord, under)
    return np.stack([places, 0.5 * (upper + lower)], axis=1)


def depth(section: Section, *, chord: float, stock: Stock) -> float:
    """Largest depth between the outer faces, square to the chord.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    float
        Depth of the sheets themselves: a crease or bend does not count. [m]
    """
    match section:
        case FlatSection() | CreasedSection() | CurvedSection():
            return stock.sheet(section.sheet).thickness.value
        case SteppedSection():
            # Heights do not depend on the chord; a pointed tip has none.
            _, upper, lower = _stepped_faces(section, chord=chord or 1.0, stock=stock)
            return float(np.max(upper - lower))
        case FoldedSection():
            return section.depth
        case ProfiledSection():
            lines = core_lines(section)
            upper, lower = lines.at(np.union1d(lines.upper[:, 0], lines.lower[:, 0]))
            return chord * float(np.max(upper - lower))
