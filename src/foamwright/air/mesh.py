"""The lattice: strips, strip edges, vortex nodes and control points as flat arrays."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.junctions import Skeleton
from foamwright.air.laying import Part, lay

Array = NDArray[np.float64]
Places = NDArray[np.intp]
Flags = NDArray[np.bool_]

#: Strip edges nearer than this share of the aeroplane's size are one edge: joints are made
#: to rounding by then.
_SAME_PLACE = 1e-9
_FLIP = np.array([-1.0, 1.0])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strips:
    """Strips along the span, each with one control line along the chord."""

    surface: Places  # (S,)
    yz: Array  # (S, 2) m, control line
    edges: Array  # (S, 2, 2) m, (left or right edge, y or z); left is inboard on the right half
    normal: Array  # (S, 2) (y, z) of the unit normal, which has no x
    chord: Array  # (S,) m


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stations:
    """Strip edges, where vorticity trails, and the bands of sheet each one stands for."""

    surface: Places  # (T,)
    run: Places  # (T,) unbroken row of edges: one per surface and half
    yz: Array  # (T, 2) m
    is_end: Flags  # (T,) the surface ends there
    joints: tuple[tuple[int, ...], ...]  # edges of different surfaces that lie on one line
    band_station: Places  # (B,) the edge each band belongs to
    band_to: Array  # (B, 2) m, from the edge to the control line beside it
    band_share: Array  # (B,) of the edge's wake


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lattice:
    """Everything the influence needs. A panel is one bound vortex with its two legs."""

    strips: Strips
    stations: Stations
    node_station: Places  # (M,)
    node_x: Array  # (M,) m
    node_tail: Array  # (M,) m, x of the trailing edge behind the node
    strip: Places  # (P,) the strip of each panel
    left: Places  # (P,) node at the left end of the bound vortex
    right: Places  # (P,)
    control_x: Array  # (P,) m
    slope: Array  # (P,) rise of the surface along x, square to it: camber, twist, incidence
    deflected: Array  # (P, C) slope by unit deflection of each control, trailing edge down
    hinge_arm: Array  # (P, C) m², hinge moment over density, speed and circulation
    hinge_own: Array  # (C,) m³, what the rows do not see: of its own deflection
    hinge_bent: Array  # (C,) m³ and of the camber

    @property
    def nodes(self) -> Array:
        """Ends of the bound vortices. [m]"""
        return np.column_stack([self.node_x, self.stations.yz[self.node_station]])

    @property
    def controls(self) -> Array:
        """Control points. [m]"""
        return np.column_stack([self.control_x, self.strips.yz[self.strip]])

    @property
    def first(self) -> Places:
        """First panel of each strip; a strip's panels follow each other."""
        begins = np.ones(len(self.strip), dtype=np.bool_)
        np.not_equal(self.strip[1:], self.strip[:-1], out=begins[1:])
        return np.flatnonzero(begins)

    @property
    def owner(self) -> Places:
        """Surface of each panel."""
        return self.strips.surface[self.strip]


def build_lattice(bones: tuple[Skeleton, ...]) -> Lattice:
    """Lattice of the halves given, in the order of the skeletons.

    Parameters
    ----------
    bones : tuple of Skeleton
        Surfaces with their joints made. [m]

    Returns
    -------
    Lattice
    """
    parts = [lay(bone) for bone in bones]
    return Lattice(
        strips=_strips(parts),
        stations=_stations(parts),
        node_station=_joined([p.node_station for p in parts], [len(p.station_yz) for p in parts]),
        node_x=np.concatenate([p.node_x for p in parts]),
        node_tail=np.concatenate([p.node_tail for p in parts]),
        strip=_joined(
            [np.repeat(np.arange(len(p.chord)), p.rows) for p in parts],
            [len(p.chord) for p in parts],
        ),
        left=_joined([p.left for p in parts], [len(p.node_x) for p in parts]),
        right=_joined([p.left + p.rows for p in parts], [len(p.node_x) for p in parts]),
        control_x=np.concatenate([p.control_x for p in parts]),
        slope=np.concatenate([p.slope for p in parts]),
        deflected=_beside([p.deflected for p in parts]),
        hinge_arm=_beside([p.hinge_arm for p in parts]),
        hinge_own=np.concatenate([p.hinge_own for p in parts]),
        hinge_bent=np.concatenate([p.hinge_bent for p in parts]),
    )


def _beside(blocks: list[Array]) -> Array:
    """Blocks down the diagonal: each surface's controls move that surface only."""
    whole = np.zeros((sum(len(b) for b in blocks), sum(b.shape[1] for b in blocks)))
    row = column = 0
    for block in blocks:
        whole[row : row + len(block), column : column + block.shape[1]] = block
        row += len(block)
        column += block.shape[1]
    return whole


def _joined(numbers: list[Places], counts: list[int]) -> Places:
    """Numbers into each part's arrays as numbers into the arrays put together."""
    starts = np.cumsum([0, *counts[:-1]])
    return np.concatenate([part + start for part, start in zip(numbers, starts, strict=True)])


def _owners(counts: list[int]) -> Places:
    return np.repeat(np.arange(len(counts), dtype=np.intp), counts)


def _strips(parts: list[Part]) -> Strips:
    edges = np.concatenate([np.stack([p.station_yz[:-1], p.station_yz[1:]], axis=1) for p in parts])
    along = edges[:, 1] - edges[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    return Strips(
        surface=_owners([len(p.chord) for p in parts]),
        yz=np.concatenate([p.control_yz for p in parts]),
        edges=edges,
        normal=np.column_stack([-along[:, 1], along[:, 0]]),
        chord=np.concatenate([p.chord for p in parts]),
    )


def _stations(parts: list[Part]) -> Stations:
    surface = _owners([len(p.station_yz) for p in parts])
    yz = np.concatenate([p.station_yz for p in parts])
    bands = [bands for part in parts for bands in part.bands]
    counts = [len(of_edge) for of_edge in bands]
    return Stations(
        surface=surface,
        run=surface,
        yz=yz,
        is_end=np.concatenate([p.is_end for p in parts]),
        joints=_joints(yz, surface),
        band_station=_owners(counts),
        band_to=np.array([end for of_edge in bands for end in of_edge]),
        band_share=1.0 / np.repeat(counts, counts),
    )


def _joints(yz: Array, surface: Places) -> tuple[tuple[int, ...], ...]:
    """Group the strip edges that lie on one line, where they are of two surfaces or more."""
    size = float(np.abs(yz).max())
    y, z = yz[:, 0], yz[:, 1]
    near = _SAME_PLACE * size
    same = (np.abs(y[:, None] - y) < near) & (np.abs(z[:, None] - z) < near)
    strangers = (same & (surface[:, None] != surface)).any(axis=1)
    groups = {tuple(np.flatnonzero(same[t]).tolist()) for t in np.flatnonzero(strangers)}
    return tuple(sorted(groups))


def both_halves(lattice: Lattice, *, mirrored: Flags) -> Lattice:
    """Lattice with the left halves added behind the right ones.

    Parameters
    ----------
    lattice : Lattice
        Right halves and single surfaces.
    mirrored : ndarray of bool, shape (K,)
        Which surfaces have a left half.

    Returns
    -------
    Lattice
        The left half of a strip has the edge nearer the tip as its `left` one, so that
        positive circulation lifts on both sides.
    """
    strips, stations = lattice.strips, lattice.stations
    more = np.flatnonzero(mirrored[strips.surface])
    nodes = np.flatnonzero(mirrored[stations.surface[lattice.node_station]])
    panels = np.flatnonzero(mirrored[lattice.owner])
    new_strip = _renumbered(more, len(strips.surface))
    new_station = _renumbered(np.flatnonzero(mirrored[stations.surface]), len(stations.surface))
    new_node = _renumbered(nodes, len(lattice.node_x))
    return replace(
        lattice,
        strips=Strips(
            surface=np.concatenate([strips.surface, strips.surface[more]]),
            yz=np.concatenate([strips.yz, strips.yz[more] * _FLIP]),
            edges=np.concatenate([strips.edges, strips.edges[more][:, ::-1] * _FLIP]),
            normal=np.concatenate([strips.normal, strips.normal[more] * _FLIP]),
            chord=np.concatenate([strips.chord, strips.chord[more]]),
        ),
        stations=_both_edges(stations, mirrored, new_station),
        node_station=np.concatenate(
            [lattice.node_station, new_station[lattice.node_station[nodes]]]
        ),
        node_x=np.concatenate([lattice.node_x, lattice.node_x[nodes]]),
        node_tail=np.concatenate([lattice.node_tail, lattice.node_tail[nodes]]),
        strip=np.concatenate([lattice.strip, new_strip[lattice.strip[panels]]]),
        left=np.concatenate([lattice.left, new_node[lattice.right[panels]]]),
        right=np.concatenate([lattice.right, new_node[lattice.left[panels]]]),
        control_x=np.concatenate([lattice.control_x, lattice.control_x[panels]]),
        slope=np.concatenate([lattice.slope, lattice.slope[panels]]),
        deflected=np.concatenate([lattice.deflected, lattice.deflected[panels]]),
        hinge_arm=np.concatenate([lattice.hinge_arm, lattice.hinge_arm[panels]]),
    )


def _both_edges(stations: Stations, mirrored: Flags, new: Places) -> Stations:
    more = np.flatnonzero(mirrored[stations.surface])
    bands = np.flatnonzero(mirrored[stations.surface[stations.band_station]])
    surface = np.concatenate([stations.surface, stations.surface[more]])
    yz = np.concatenate([stations.yz, stations.yz[more] * _FLIP])
    return Stations(
        surface=surface,
        run=np.concatenate([stations.run, stations.run[more] + 1 + stations.run.max()]),
        yz=yz,
        is_end=np.concatenate([stations.is_end, stations.is_end[more]]),
        joints=_joints(yz, surface),
        band_station=np.concatenate([stations.band_station, new[stations.band_station[bands]]]),
        band_to=np.concatenate([stations.band_to, stations.band_to[bands] * _FLIP]),
        band_share=np.concatenate([stations.band_share, stations.band_share[bands]]),
    )


def _renumbered(chosen: Places, start: int) -> Places:
    """Give each chosen number a new one, from `start` on."""
    numbers = np.full(start, -1, dtype=np.intp)
    numbers[chosen] = start + np.arange(len(chosen))
    return numbers
