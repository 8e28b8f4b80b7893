"""Where tape and glue run: one polyline for every run, as long as the real one.

Joints and tips run along the cut edge of the skin, of a core along its mean line; the joint
in the middle plane, which both halves share, is counted once. The spar is both edges of a
spar web; on a panel without a web it is the rods that are built in across the joints, not
those that plug.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from foamwright.airframe.boxes import BoxBuild, box_build, cross_outline, doubler_outline
from foamwright.airframe.cuts import hinge
from foamwright.airframe.hands import drawn_hand, mirror_line, mirror_points
from foamwright.airframe.meshes import frozen
from foamwright.airframe.model import Array, Group, Hand, LineRun, StationShape
from foamwright.airframe.sections import Strip
from foamwright.airframe.stations import place, starts_in_middle
from foamwright.airframe.surfaceparts import joint_number, joint_rod_line
from foamwright.airframe.surfaces import PanelBuild, SurfaceBuild
from foamwright.design.model import (
    Along,
    Body,
    BoxBody,
    BoxFace,
    Control,
    Doubler,
    JointKind,
    LineUse,
    SlabBody,
    Stock,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Run:
    """A polyline of the drawn half, or one that both halves share."""

    key: str  # "wing.inner.leading-edge"
    path: str
    points: Array  # (n, 3) m
    hand: Hand
    mirrored: bool


def surface_lines(build: SurfaceBuild) -> tuple[LineRun, ...]:
    """Every run of tape and glue on a surface, both hands.

    Parameters
    ----------
    build : SurfaceBuild
        The surface in space.

    Returns
    -------
    tuple of LineRun
        Runs in the order of the design file's uses. [m]
    """
    return tuple(
        line
        for use in build.surface.lines
        for line in _lay(use, _surface_runs(build, use.along), group=build.group)
    )


def _lay(use: LineUse, runs: Iterable[_Run], *, group: Group) -> list[LineRun]:
    """Lay a use along its runs, as many times over as it says."""
    lines: list[LineRun] = []
    for run in runs:
        points = frozen(run.points)
        for lap in range(use.runs):
            line = LineRun(
                key=f"{run.key}.{use.use}" + (f".{lap + 1}" if lap else ""),
                path=run.path,
                group=group,
                hand=run.hand,
                stock=use.use,
                points=points,
            )
            lines.append(line)
            if run.mirrored:
                lines.append(mirror_line(line))
    return lines


# ---------------------------------------------------------------- surfaces


def _surface_runs(build: SurfaceBuild, along: Along) -> list[_Run]:
    runs: list[_Run] = []
    last = len(build.panels) - 1
    for number, part in enumerate(build.panels):
        match along:
            case Along.JOINTS:
                shared = number == 0 and starts_in_middle(build.surface)
                edge = _edge(part.root, part.root_strips)
                runs.append(_run(build, part, along, edge, shared=shared))
            case Along.TIPS:
                if number == last:
                    runs.append(_run(build, part, along, _edge(part.tip, part.tip_strips)))
            case Along.HINGES:
                runs += [
                    _run(build, part, along, _hinge_line(part, control), of=control)
                    for control in part.controls
                ]
            case _:
                runs += [
                    _run(build, part, along, line, number=k)
                    for k, line in enumerate(_spanwise(part, along))
                ]
    if along is Along.SPAR:
        runs += _rod_runs(build)
    return runs


def _rod_runs(build: SurfaceBuild) -> list[_Run]:
    """Rods built in across the joints of panels that have no spar web."""
    surface = build.surface
    runs: list[_Run] = []
    for joint in surface.joints:
        number = joint_number(build, joint)
        webbed = any(strip.part == "spar" for strip in build.panels[number].root_strips)
        if joint.rod is None or joint.kind is JointKind.PLUGGED or webbed:
            continue
        shared = number == 0 and starts_in_middle(surface)
        runs.append(
            _Run(
                key=f"{surface.key}.{joint.key}.spar",
                path=f"surface.{surface.key}.joint.{joint.key}",
                points=joint_rod_line(build, joint),
                hand=Hand.CENTRE if shared else build.hand,
                mirrored=surface.mirrored and not shared,
            )
        )
    return runs


def _run(
    build: SurfaceBuild,
    part: PanelBuild,
    along: Along,
    points: Array,
    *,
    shared: bool = False,
    of: Control | None = None,
    number: int = 0,
) -> _Run:
    name = along.value.replace(" ", "-")
    if number:
        name += f"-{number + 1}"
    return _Run(
        key=".".join([part.key, *([of.key] if of else []), name]),
        path=part.path if of is None else f"surface.{build.surface.key}.control.{of.key}",
        points=points,
        hand=Hand.CENTRE if shared else build.hand,
        mirrored=build.surface.mirrored and not shared,
    )


def _edge(station: StationShape, strips: tuple[Strip, ...]) -> Array:
    """Cut edge of the skin at a station; the mean line of a core."""
    nodes = strips[0].nodes if strips else station.chord * station.mean_line
    return place(station, nodes)


def _spanwise(part: PanelBuild, along: Along) -> list[Array]:
    """Lines from root to tip that an Along names on one panel."""
    pairs = list(zip(part.root_strips, part.tip_strips, strict=True))
    match along:
        case Along.LEADING_EDGE:
            return [np.stack([_front(station, strips) for station, strips in _ends(part)])]
        case Along.TRAILING_EDGE:
            return [_ruled(part, *(_tail(station, strips) for station, strips in _ends(part)))]
        case Along.CREASES:
            return [
                _ruled(part, root.nodes[fold], tip.nodes[fold])
                for root, tip in pairs[:1]
                for fold in root.folds
            ]
        case Along.SPAR | Along.LAYERS:
            start = "spar" if along is Along.SPAR else "layer"
            return [
                _ruled(part, root.nodes[end], tip.nodes[end])
                for root, tip in pairs
                if root.part.startswith(start)
                for end in (0, -1)
            ]
        case _:
            return []


def _ruled(part: PanelBuild, inner: Array, outer: Array) -> Array:
    return np.stack([place(part.root, inner), place(part.tip, outer)])


def _ends(part: PanelBuild) -> tuple[tuple[StationShape, tuple[Strip, ...]], ...]:
    return (part.root, part.root_strips), (part.tip, part.tip_strips)


def _front(station: StationShape, strips: tuple[Strip, ...]) -> Array:
    """Foremost line of the skin: of a folded one, the middle of its nose."""
    if not strips:
        return place(station, station.chord * station.mean_line[0])
    nodes = strips[0].nodes
    ahead = nodes[:, 0] <= nodes[:, 0].min() + 1e-9
    return place(station, nodes[ahead].mean(axis=0))


def _tail(station: StationShape, strips: tuple[Strip, ...]) -> Array:
    return strips[0].nodes[-1] if strips else station.chord * station.mean_line[-1]


def _hinge_line(part: PanelBuild, control: Control) -> Array:
    """Hinge line on the skin's middle, from the control's inboard to its outboard end."""
    points: list[Array] = []
    for share, at in zip((control.start, control.end), hinge(part.panel, control), strict=True):
        one, two = (
            place(station, station.chord * _on_line(station, strips, at))
            for station, strips in _ends(part)
        )
        points.append((1.0 - share) * one + share * two)
    return np.stack(points)


def _on_line(station: StationShape, strips: tuple[Strip, ...], at: float) -> Array:
    """Point of the skin's aft part at a fraction of the chord, in fractions of chord."""
    if not strips:
        line = station.mean_line
    else:
        nodes = strips[0].nodes
        line = nodes[int(np.argmin(nodes[:, 0])) :] / max(station.chord, 1e-12)
    return np.array([at, np.interp(at, line[:, 0], line[:, 1])])


# ---------------------------------------------------------------- bodies


def body_lines(body: Body, *, stock: Stock) -> tuple[LineRun, ...]:
    """Every run of tape and glue on a body, both hands.

    Parameters
    ----------
    body : Body
        As designed. [m]
    stock : Stock
        Goods, for the thicknesses. [m]

    Returns
    -------
    tuple of LineRun
        Runs in the order of the design file's uses; pods and booms have none. [m]
    """
    match body:
        case BoxBody():
            if not body.lines:
                return ()
            build = box_build(body, stock=stock)
            return tuple(
                line
                for use in body.lines
                for line in _lay(use, _box_runs(build, use.along, stock), group=Group.BODY)
            )
        case SlabBody():
            return tuple(
                line
                for use in body.lines
                if use.along is Along.EDGES
                for line in _lay(use, [_slab_run(body)], group=Group.BODY)
            )
        case _:
            return ()


def _slab_run(body: SlabBody) -> _Run:
    ring = (*body.outline, body.outline[0])
    return _Run(
        key=f"{body.key}.edges",
        path=f"body.{body.key}",
        points=np.array([[x, body.y, z] for x, z in ring]),
        hand=drawn_hand(body.y, mirrored=body.mirrored),
        mirrored=body.mirrored,
    )


def _box_runs(build: BoxBuild, along: Along, stock: Stock) -> list[_Run]:
    body = build.body
    match along:
        case Along.EDGES:
            return _corner_runs(build)
        case Along.FORMERS:
            t = build.sheet.thickness.value
            crosses = [
                (f"end.{name}", f"body.{body.key}", float(build.x[end]) + inward, t)
                for closed, name, end, inward in zip(
                    body.ends, ("front", "back"), (0, -1), (0.5 * t, -0.5 * t), strict=True
                )
                if closed
            ]
            crosses += [
                (
                    f"former.{former.key}",
                    f"body.{body.key}.former.{former.key}",
                    former.x,
                    stock.sheet(former.sheet).thickness.value,
                )
                for former in body.formers
            ]
            return [
                _box_run(build, name, path, _ring(cross_outline(build, x=x, thickness=thick)))
                for name, path, x, thick in crosses
            ]
        case Along.DOUBLERS:
            return [
                run
                for doubler, thick in build.doublers
                for run in _doubler_runs(build, doubler, thick)
            ]
        case _:
            return []


def _ring(corners: Array) -> Array:
    return np.concatenate([corners, corners[:1]])


def _box_run(build: BoxBuild, name: str, path: str, points: Array) -> _Run:
    return _Run(
        key=f"{build.body.key}.{name}",
        path=path,
        points=points,
        hand=build.hand,
        mirrored=build.body.mirrored,
    )


def _corner_runs(build: BoxBuild) -> list[_Run]:
    """Four long corners, where the insides of the sides meet top and bottom."""
    inside = build.body.y + build.half - build.wall
    heights = {
        "top": build.top - 0.5 * build.roof,
        "bottom": build.bottom + 0.5 * build.floor,
    }
    return [
        run
        for name, height in heights.items()
        for run in _both_sides(
            build,
            f"edges.{name}",
            f"body.{build.body.key}",
            np.stack([build.x, inside, height], axis=1),
        )
    ]


def _doubler_runs(build: BoxBuild, doubler: Doubler, thickness: float) -> list[_Run]:
    outline = _ring(doubler_outline(build, doubler, thickness=thickness))
    name, path = f"doubler.{doubler.key}", f"body.{build.body.key}.doubler.{doubler.key}"
    if doubler.face is BoxFace.SIDES:
        return _both_sides(build, name, path, outline)
    return [_box_run(build, name, path, outline)]


def _both_sides(build: BoxBuild, name: str, path: str, points: Array) -> list[_Run]:
    """Return a run at greater y and its image in the body's own middle plane."""
    body = build.body
    key = f"{body.key}.{name}"
    if build.hand is Hand.CENTRE:
        return [_Run(key=key, path=path, points=points, hand=Hand.RIGHT, mirrored=True)]
    far, near = ("outer", "inner") if build.hand is Hand.RIGHT else ("inner", "outer")
    return [
        _Run(key=f"{key}.{side}", path=path, points=line, hand=build.hand, mirrored=body.mirrored)
        for side, line in ((far, points), (near, mirror_points(points, about=body.y)))
    ]
