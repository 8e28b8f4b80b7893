"""Putting together what surfaces, bodies, parts and wash do in states of flight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from foamwright.air.body import BodyStrips, body_forces
from foamwright.air.drag import (
    Cause,
    DragParts,
    DragRow,
    DragTable,
    add_rows,
    drag_table,
)
from foamwright.air.forces import StripForces, mix_forces, strip_forces
from foamwright.air.levels import LEAST_HEIGHT, Level, air_share
from foamwright.air.solve import MOTIONS
from foamwright.air.stall.system import StripSystem
from foamwright.air.state import AeroForces, FlatStates
from foamwright.air.wash import air_velocity, drag_points, part_ratios, wash
from foamwright.airframe.model import Airframe, Group
from foamwright.design.model import SurfaceRole

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

#: One sigma of induced drag, relative: the load's shape, not the theory. Common practice.
_INDUCED_BAND = 0.05
#: One sigma of the bodies' crossing drag, see :mod:`foamwright.air.body`.
_CROSS_BAND = 0.25
# Points along the span of each strip at which wash is felt.
_LOOKS = np.array([-0.375, -0.125, 0.125, 0.375])


def compose_forces(
    airframe: Airframe,
    levels: tuple[Level, ...],
    bodies: tuple[BodyStrips, ...],
    parts: DragParts,
    states: FlatStates,
) -> AeroForces:
    """Find forces and moments in states of flight.

    Parameters
    ----------
    airframe : Airframe
        One variant in space. [m]
    levels : tuple of Level
        Its surfaces in free air, then near the ground from high to low.
    bodies : tuple of BodyStrips
        Its bodies. [m]
    parts : DragParts
        What only drags. [m²]
    states : FlatStates
        States.

    Returns
    -------
    AeroForces
    """
    free = levels[0]
    point = free.tensor.reference.point
    wind = air_velocity(states.airspeed, alpha=states.alpha, beta=states.beta)
    system, mirror = _system(free, states)
    added, blows = _strip_wash(airframe, system, states, wind)
    strips = _at_heights(levels, states, added, mirror=mirror)
    pressure = 0.5 * states.density * states.airspeed**2
    body = body_forces(
        bodies,
        alpha=states.alpha,
        beta=states.beta,
        pitch_turn=states.rates[:, 1] / states.airspeed,
        yaw_turn=states.rates[:, 2] / states.airspeed,
        point=point,
    )
    parasite = _parasite(airframe, parts, states, wind)
    along = wind / states.airspeed[:, None]
    block, turn = _block_loads(parts, parasite, along, point)
    force = strips.loads[:, :3] + pressure[:, None] * (body.force + block)
    moment = strips.loads[:, 3:] + pressure[:, None] * (body.moment + turn)
    crossing = (body.force * along).sum(axis=-1)
    rows = _rows(airframe, system, strips, along, pressure, crossing if bodies else None)
    table = add_rows(parasite, rows)
    force[~blows], moment[~blows] = np.nan, np.nan
    within = strips.within & _high_enough(free, states) & blows
    return _result(airframe, free, system, states, strips, force, moment, table, within)


def _high_enough(free: Level, states: FlatStates) -> Flags:
    if states.height is None:
        return np.ones(states.count, dtype=np.bool_)
    return states.height >= LEAST_HEIGHT * free.tensor.reference.span


def _system(level: Level, states: FlatStates) -> tuple[StripSystem, bool]:
    """Right half where every state is its own mirror image, else both hands."""
    if level.half is None or states.thrust is not None:
        return level.whole, False
    lateral = (states.beta, states.rates[:, 0], states.rates[:, 2])
    if any(np.any(value != 0.0) for value in lateral):
        return level.whole, False
    moved = states.controls @ level.whole.onset[:, len(MOTIONS) :].T
    if not level.whole.is_even(moved):
        return level.whole, False
    return level.half, True


def _at_heights(
    levels: tuple[Level, ...], states: FlatStates, added: Array | None, *, mirror: bool
) -> StripForces:
    """Strip forces, between the two levels that each state lies between."""

    def at(level: Level, which: NDArray[np.intp] | None) -> StripForces:
        half = level.half if mirror else None
        some = states if which is None else states.take(which)
        blown = added if added is None or which is None else added[which]
        return strip_forces(level.tensor, half or level.whole, some, added=blown)

    if states.height is None:
        return at(levels[0], None)
    shares = np.array([level.share for level in levels])
    place = air_share(states.height / levels[0].tensor.reference.span)
    place = np.maximum(place, shares[-1])
    upper = np.clip(np.searchsorted(-shares, -place, side="right") - 1, 0, len(levels) - 2)
    t = (shares[upper] - place) / (shares[upper] - shares[upper + 1])
    found: list[tuple[NDArray[np.intp], Array, StripForces]] = []
    for number, level in enumerate(levels):
        weight = np.where(upper == number, 1.0 - t, np.where(upper + 1 == number, t, 0.0))
        which = np.flatnonzero(weight > 0.0)
        if len(which):
            found.append((which, weight[which], at(level, which)))
    return mix_forces(found, states.count)


def _strip_wash(
    airframe: Airframe, system: StripSystem, states: FlatStates, wind: Array
) -> tuple[Array | None, Flags]:
    """Air that propellers add, mean over each strip, (B, S, 3) [m/s]; where it can be said."""
    if states.thrust is None:
        return None, np.ones(states.count, dtype=np.bool_)
    points = (system.quarter[:, None] + _LOOKS[:, None] * system.along[:, None]).reshape(-1, 3)
    here = wash(
        points,
        discs=airframe.discs,
        wind=wind,
        thrust=states.thrust,
        torque=states.torque,
        density=states.density,
    )
    added = here.added.reshape(states.count, len(system.chord), len(_LOOKS), 3).mean(axis=2)
    blows = np.asarray(np.isfinite(added).all(axis=(1, 2)))
    # The strips need numbers: what momentum theory cannot say is solved without wash.
    return np.where(blows[:, None, None], added, 0.0), blows


def _parasite(airframe: Airframe, parts: DragParts, states: FlatStates, wind: Array) -> DragTable:
    ratio = None
    if states.thrust is not None and parts.parts:
        here = wash(
            drag_points(parts),
            discs=airframe.discs,
            wind=wind,
            thrust=states.thrust,
            torque=states.torque,
            density=states.density,
        )
        ratio = part_ratios(parts, here)
    return drag_table(
        parts,
        airspeed=states.airspeed,
        density=states.density,
        viscosity=states.viscosity,
        pressure_ratio=ratio,
    )


def _block_loads(
    parts: DragParts, table: DragTable, along: Array, point: tuple[float, float, float]
) -> tuple[Array, Array]:
    """Force and moment over dynamic pressure of what only drags, along the wind. [m²], [m³]"""
    if not parts.parts:
        return np.zeros_like(along), np.zeros_like(along)
    place = parts.points.mean(axis=1) - np.array(point)
    x, y, z = (table.areas @ place).T
    aft, right, up = along.T
    moment = np.stack([z * right - y * up, z * aft - x * up, y * aft - x * right], axis=-1)
    return table.total[:, None] * along, moment


def _rows(
    airframe: Airframe,
    system: StripSystem,
    strips: StripForces,
    along: Array,
    pressure: Array,
    crossing: Array | None,
) -> tuple[DragRow, ...]:
    """Rows of sections, lift and crossing bodies, as felt along the wind."""
    rows = [
        DragRow(
            key=f"{shape.key}.section",
            path=shape.path,
            title=f"{shape.key}, sections",
            group=Group.WING if shape.role is SurfaceRole.WING else Group.TAIL,
            cause=Cause.SECTION,
            area=(strips.section[:, number] * along).sum(axis=-1) / pressure,
            band=_section_band(system, number),
            source="sections as built, at each strip's own incidence and Reynolds number",
        )
        for number, shape in enumerate(airframe.surfaces)
    ]
    rows.append(
        DragRow(
            key="lift.induced",
            path=f"surface.{airframe.reference.surface}",
            title="lift (induced)",
            group=Group.WING,
            cause=Cause.INDUCED,
            area=(strips.induced * along).sum(axis=-1) / pressure,
            band=_INDUCED_BAND,
            source="Trefftz plane of the lattice with the strips' own lift (M. M. Munk, 1923)",
        )
    )
    if crossing is not None:
        rows.append(
            DragRow(
                key="bodies.crossing",
                path="body",
                title="bodies across the wind",
                group=Group.BODY,
                cause=Cause.BLOCK,
                area=crossing,
                band=_CROSS_BAND,
                source="H. J. Allen, E. W. Perkins, NACA TR 1048, 1951 (memory)",
            )
        )
    return tuple(rows)


def _section_band(system: StripSystem, surface: int) -> float:
    """One sigma of a surface's profile drag at Re 1e5, relative; its strips err together."""
    numbers: list[int] = np.unique(system.polars.ends[system.surface == surface]).tolist()
    bands = [float(system.polars.polars[k].bands.at(np.array(5.0))[1]) for k in numbers]
    return max(bands)


def _result(
    airframe: Airframe,
    free: Level,
    system: StripSystem,
    states: FlatStates,
    strips: StripForces,
    force: Array,
    moment: Array,
    table: DragTable,
    within: Flags,
) -> AeroForces:
    ref = free.tensor.reference
    pressure = 0.5 * states.density * states.airspeed**2 * ref.area
    ca, sa, cb, sb = (f(angle) for angle in (states.alpha, states.beta) for f in (np.cos, np.sin))
    aft, right, up = (force / pressure[:, None]).T
    ahead = ca * aft + sa * up  # along the wind seen from the side
    roll, pitch, yaw = (moment / pressure[:, None] / (ref.span, ref.chord, ref.span)).T
    wing = system.surface == system.keys.index(airframe.reference.surface)
    area = system.area[wing] * system.count[wing]
    stalled = (strips.over[:, wing] > 0.0) @ area / area.sum()
    shape = states.shape

    def back(values: Array) -> Array:
        return values.reshape((*shape, *values.shape[1:]))

    return AeroForces(
        force=back(force),
        moment=back(moment),
        lift=back(ca * up - sa * aft),
        drag=back(cb * ahead - sb * right),
        side=back(cb * right + sb * ahead),
        roll=back(ca * roll + sa * yaw),
        pitch=back(pitch),
        yaw=back(ca * yaw - sa * roll),
        table=replace(
            table,
            rows=tuple(replace(row, area=back(row.area)) for row in table.rows),
            areas=back(table.areas),
        ),
        hinge=back(strips.hinge),
        stalled=back(stalled),
        converged=strips.converged.reshape(shape),
        within=within.reshape(shape),
    )
