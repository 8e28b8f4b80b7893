"""Laying the lattice over one surface: strip edges, vortex nodes, control points, slopes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.chordwise import chord_points, control_slopes
from foamwright.air.hinges import lay_controls
from foamwright.air.junctions import Skeleton
from foamwright.air.stations import strip_stations

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Extra strip edges nearer to another than this share of a mean strip are that other one.
_LEAST = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """One surface's share of the lattice, the half given, numbered from zero."""

    control_yz: Array  # (S, 2) m
    station_yz: Array  # (S + 1, 2) m
    is_end: NDArray[np.bool_]  # (S + 1,) the surface ends there
    bands: list[list[Array]]  # per station: far ends of its bands of sheet [m]
    chord: Array  # (S,) m, at the control lines
    node_station: Places  # (M,)
    node_x: Array  # (M,) m
    node_tail: Array  # (M,) m, x of the trailing edge behind the node
    left: Places  # (P,) inboard node of each panel; panels go strip by strip
    control_x: Array  # (P,) m
    slope: Array  # (P,)
    deflected: Array  # (P, C) slope by unit deflection of each control of this surface
    hinge_arm: Array  # (P, C) m²
    hinge_own: Array  # (C,) m³
    hinge_bent: Array  # (C,) m³
    rows: int


def lay(bone: Skeleton) -> Part:
    """Lay the lattice over one surface.

    Parameters
    ----------
    bone : Skeleton
        The surface seen from behind, its joints made. [m]

    Returns
    -------
    Part
    """
    source, rows = bone.source, bone.source.rows
    lengths = np.linalg.norm(np.diff(bone.yz, axis=0), axis=1)
    ends = np.concatenate([[0.0], np.cumsum(lengths)])
    extra = [float(ends[i] + at * lengths[i]) for i, at in bone.breaks]
    edge, control = strip_stations(
        _spaced(ends, extra, least=_LEAST * ends[-1] / source.strips),
        strips=source.strips,
        root_free=not bone.root_closed,
        tip_free=not bone.tip_closed,
        uniform=source.uniform,
    )
    owner: Places = np.searchsorted(ends, control) - 1  # the panel of each strip
    share = (control - ends[owner]) / lengths[owner]
    nose = _between(bone.nose[owner], share)
    chord = _between(bone.chord[owner], share)
    station_yz = np.column_stack([np.interp(edge, ends, bone.yz[:, k]) for k in (0, 1)])
    control_yz = np.column_stack([np.interp(control, ends, bone.yz[:, k]) for k in (0, 1)])
    node_station, node_x, node_tail, left = _nodes(bone, ends, edge, owner)
    flaps = lay_controls(bone, ends=ends, edge=edge, owner=owner, chord=chord)
    return Part(
        control_yz=control_yz,
        station_yz=station_yz,
        is_end=_ends(station_yz, mirrored=source.mirrored),
        bands=_bands(station_yz, control_yz, mirrored=source.mirrored),
        chord=chord,
        node_station=node_station,
        node_x=node_x,
        node_tail=node_tail,
        left=left,
        control_x=(nose[:, None] + chord[:, None] * chord_points(rows)[1]).ravel(),
        slope=_slopes(bone, owner, share, chord).ravel(),
        deflected=flaps.deflected,
        hinge_arm=flaps.hinge_arm,
        hinge_own=flaps.hinge_own,
        hinge_bent=flaps.hinge_bent,
        rows=rows,
    )


def _between(ends: Array, share: Array) -> Array:
    """Between the values at the root and at the tip, (n, 2), of a panel."""
    return ends[:, 0] * (1.0 - share) + ends[:, 1] * share


def _spaced(ends: Array, extra: list[float], *, least: float) -> Array:
    """Panel ends and those extra strip edges that stand clear of one another. [m]"""
    kept: list[float] = ends.tolist()
    for place in extra:
        if min(abs(place - other) for other in kept) > least:
            kept.append(place)
    return np.array(sorted(kept))


def _nodes(
    bone: Skeleton, ends: Array, edge: Array, owner: Places
) -> tuple[Places, Array, Array, Places]:
    """Station and x of the nodes, the trailing edge there, the inboard node of each panel.

    Neighbouring strips share the nodes between them; where panels meet there are two sets,
    for chords may step there.
    """
    rows = bone.source.rows
    vortex, _ = chord_points(rows)
    stations: list[Places] = []
    x: list[Array] = []
    tail: list[Array] = []
    left: list[Places] = []
    count = 0
    for panel in range(len(ends) - 1):
        mine = np.flatnonzero(owner == panel)
        numbers = np.arange(int(mine[0]), int(mine[-1]) + 2)
        share = (edge[numbers] - ends[panel]) / (ends[panel + 1] - ends[panel])
        nose, chord = (_between(at[panel][None, :], share) for at in (bone.nose, bone.chord))
        stations.append(np.repeat(numbers, rows))
        x.append((nose[:, None] + chord[:, None] * vortex).ravel())
        tail.append(np.repeat(nose + chord, rows))
        left.append(count + np.arange(len(mine) * rows))
        count += len(numbers) * rows
    return np.concatenate(stations), np.concatenate(x), np.concatenate(tail), np.concatenate(left)


def _slopes(bone: Skeleton, owner: Places, share: Array, chord: Array) -> Array:
    """Slope at the control points, (strips, rows): ruled between the ends of each panel."""
    source = bone.source
    slopes = np.empty((len(owner), source.rows))
    for i in range(len(bone.chord)):
        panel = source.panels[max(i - 1, 0) if bone.carried else i]
        along = bone.yz[i + 1] - bone.yz[i]
        normal = np.array([-along[1], along[0]]) / np.hypot(along[0], along[1])
        root = _rise(
            panel.root_mean_line, panel.root_leading, panel.root_trailing, normal, source.rows
        )
        # The stretch carried across a body keeps the section of the root.
        tip = (
            root
            if bone.carried and i == 0
            else _rise(
                panel.tip_mean_line, panel.tip_leading, panel.tip_trailing, normal, source.rows
            )
        )
        mine = owner == i
        at = share[mine, None]
        slopes[mine] = (root * (1.0 - at) + tip * at) / chord[mine, None]
    return slopes


def _rise(line: Array, nose: Array, tail: Array, normal: Array, rows: int) -> Array:
    """Slope times chord at the control points of one section, twist and camber. [m]"""
    drop = float((tail - nose)[1:] @ normal)  # of the trailing edge: negative is nose up
    return drop + float(tail[0] - nose[0]) * control_slopes(line, rows=rows)


def _ends(station: Array, *, mirrored: bool) -> NDArray[np.bool_]:
    """Whether the surface ends at a strip edge; a mirrored one goes on at y = 0."""
    is_end = np.zeros(len(station), dtype=np.bool_)
    for row in (0, -1):
        is_end[row] = not (mirrored and station[row, 0] == 0.0)
    return is_end


def _bands(station: Array, control: Array, *, mirrored: bool) -> list[list[Array]]:
    """Control lines on either side of each strip edge: the sheet between them trails there."""
    bands: list[list[Array]] = [[] for _ in station]
    for strip, line in enumerate(control):
        bands[strip].append(line)
        bands[strip + 1].append(line)
    for row in (0, -1):
        if mirrored and station[row, 0] == 0.0:
            bands[row].append(control[row] * (-1.0, 1.0))
    return bands
