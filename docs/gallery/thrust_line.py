"""Draw the thrust-line map of the lead example: the line, what power asks, hole by hole.

Run: ``.venv/bin/python docs/gallery/thrust_line.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from plotting import ACCENT, FONT, INK, Panel, figure, legend

import foamwright.design
from foamwright.assess import assess
from foamwright.design import read_design
from foamwright.flight import FlightAssessment, ThrustMap, thrust_line_of, with_tilts
from foamwright.flight.tilting import FULL, OFF

HERE = Path(__file__).parent
EXAMPLE = Path(foamwright.design.__file__).parent / "examples" / "dunlin.toml"


def side_view(flight: FlightAssessment, found: ThrustMap, x0: float, y0: float) -> list[str]:
    """The aeroplane seen from the side, nose left, with the thrust lines of three holes."""
    plane = flight.plane
    scale = 640.0  # units of the picture per metre
    cg = plane.point

    def at(x: float, z: float) -> tuple[float, float]:
        return x0 + scale * x, y0 - scale * z

    parts: list[str] = []
    for body in plane.airframe.bodies:
        corners = body.outside.vertices[:, [0, 2]]
        shape = outline(corners) if body.kind == "pylon" else silhouette(corners)
        parts.append(polygon([at(x, z) for x, z in shape]))
    for surface in plane.airframe.surfaces:
        for panel in surface.panels:
            ends = [
                (s.leading_edge[0], s.leading_edge[2], s.trailing_edge[0], s.trailing_edge[2])
                for s in (panel.root, panel.tip)
            ]
            corners = outline(np.array([[e[0], e[1]] for e in ends] + [[e[2], e[3]] for e in ends]))
            parts.append(polygon([at(x, z) for x, z in corners]))
    tilts = (found.up[0], found.up[found.hole], found.up[-1])
    holes = with_tilts(plane, tuple((float(t), found.drawn[1]) for t in tilts)).holes
    for (disc, *_), tilt, dash in zip(holes, tilts, ("9 4", "", "2 3"), strict=True):
        front = disc.centre + 0.5 * disc.thrust
        a, b = at(disc.centre[0], disc.centre[2]), at(front[0], front[2])
        drawn = tilt == found.up[found.hole]
        parts.append(line(a, b, colour=ACCENT, width=2.2 if drawn else 1.3, dash=dash))
        parts.append(text(b[0] - 6, b[1] + 4, f"{np.degrees(tilt):+.0f}°", anchor="end"))
        if drawn:
            arm = float(thrust_line_of(disc.centre, thrust=disc.thrust, point=cg).arm)
            foot = np.array(cg) + arm * np.array([-disc.thrust[2] * -1.0, 0.0, -disc.thrust[0]])
            a, b = at(cg[0], cg[2]), at(foot[0], foot[2])
            parts.append(line(a, b, colour=INK, width=1.2))
            words = f"the line as drawn passes {1e3 * arm:.0f} mm above the balance point"
            parts.append(text(a[0] - 100, a[1] + 60, words))
            half = 0.5 * disc.diameter * np.array([disc.thrust[2], 0.0, -disc.thrust[0]])
            ends = [disc.centre + half, disc.centre - half]
            parts.append(line(*(at(p[0], p[2]) for p in ends), colour=INK, width=3.0))
    parts.append(balance_mark(*at(cg[0], cg[2])))
    parts.append(nose_arrow(*at(-0.03, 0.02)))
    return parts


def balance_mark(x: float, y: float) -> str:
    """The balance point: a disc with two black quarters."""
    return (
        f"<circle cx='{x:.1f}' cy='{y:.1f}' r='6' fill='white' stroke='{INK}'/>"
        f"<path d='M{x:.1f},{y - 6:.1f} a6,6 0 0 1 6,6 h-6 Z M{x:.1f},{y + 6:.1f} "
        f"a6,6 0 0 1 -6,-6 h6 Z' fill='{INK}'/>"
    )


def nose_arrow(x: float, y: float) -> str:
    """The way the nose goes as power comes on: down."""
    return (
        f"<path d='M{x - 34:.1f},{y - 26:.1f} q-14,24 -4,50' fill='none' stroke='{ACCENT}' "
        f"stroke-width='2'/><path d='M{x - 38 - 5:.1f},{y + 15:.1f} l5.5,10 l6,-9' fill='none' "
        f"stroke='{ACCENT}' stroke-width='2'/>" + text(x - 62, y + 44, "power: nose down")
    )


def outline(points: np.ndarray) -> np.ndarray:
    """Convex outline of points in a plane."""
    rows = sorted(set(map(tuple, points.tolist())))

    def half(some):
        kept = []
        for p in some:
            while len(kept) > 1 and cross(kept[-2], kept[-1], p) <= 0:
                kept.pop()
            kept.append(p)
        return kept

    return np.array(half(rows)[:-1] + half(rows[::-1])[:-1])


def silhouette(points: np.ndarray) -> np.ndarray:
    """Top and bottom of a body at every place along it that has corners."""
    along = np.round(points[:, 0], 3)
    places = np.unique(along)
    top = [(x, points[along == x, 1].max()) for x in places]
    low = [(x, points[along == x, 1].min()) for x in places]
    return np.array([*top, *low[::-1]])


def cross(a, b, c) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def polygon(points) -> str:
    joined = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f"<polygon points='{joined}' fill='#eef0ee' stroke='{INK}' stroke-width='1'/>"


def line(a, b, *, colour: str, width: float, dash: str = "") -> str:
    pattern = f" stroke-dasharray='{dash}'" if dash else ""
    return (
        f"<line x1='{a[0]:.1f}' y1='{a[1]:.1f}' x2='{b[0]:.1f}' y2='{b[1]:.1f}' stroke='{colour}' "
        f"stroke-width='{width}'{pattern}/>"
    )


def text(x: float, y: float, words: str, *, anchor: str = "start") -> str:
    return (
        f"<text x='{x:.1f}' y='{y:.1f}' {FONT} font-size='12' fill='{INK}' "
        f"text-anchor='{anchor}'>{words}</text>"
    )


def asked(found: ThrustMap, panel: Panel) -> list[tuple[str, int, None]]:
    """Elevator that full throttle asks for beyond the glide, by tilt, at each airspeed."""
    rows = []
    change = np.degrees(found.elevator[..., FULL] - found.elevator[..., OFF])
    for dash, speed in enumerate(found.airspeed):
        kept = np.isfinite(change[:, dash])
        if kept.any():
            panel.curve(np.degrees(found.up[kept]), change[kept, dash], dash=dash)
            rows.append((f"{speed:.1f} m/s", dash, None))
    return rows


def main() -> None:
    flight = assess(read_design(EXAMPLE).variants[0]).flight
    found = flight.thrust_map
    assert found is not None
    left = Panel(
        box=(70, 356, 370, 250),
        x_range=(-9, 5),
        y_range=(-30, 5),
        x_ticks=(-8, -6, -4, -2, 0, 2, 4),
        y_ticks=(-30, -20, -10, 0),
        x_label="thrust tilt, front of the line up +, degrees",
        y_label="degrees, trailing edge down +",
        title="Elevator that full throttle asks for beyond the glide",
    )
    flat = np.degrees(flight.flat * abs(flight.plane.stick_back).max())
    left.band((-9, 5), (-flat, -flat), (flat, flat))
    rows = asked(found, left)
    here = np.degrees(found.up[found.hole])
    left.curve((here, here), (-30, 5), colour=ACCENT, width=1.2)
    right = Panel(
        box=(540, 356, 370, 250),
        x_range=(-9, 5),
        y_range=(0, 6),
        x_ticks=(-8, -6, -4, -2, 0, 2, 4),
        y_ticks=(0, 1, 2, 3, 4, 5, 6),
        x_label="thrust tilt, front of the line up +, degrees",
        y_label="thrust, N",
        title=f"Thrown at {found.throw_speed:.0f} m/s: thrust that full elevator holds",
    )
    right.curve(np.degrees(found.up), found.held)
    full = (found.throw_thrust, found.throw_thrust)
    right.curve((-9, 5), full, dash=1)
    right.curve((here, here), (0, 6), colour=ACCENT, width=1.2)
    notes = legend(680, 560, [("held", 0, None), ("full throttle, pack half flown", 1, None)])
    shades = text(86, 374, f"shaded: called flat, ± {flat:.0f}°")
    parts = [
        *side_view(flight, found, 220, 245),
        text(24, 58, "Side view, nose left: thrust line as drawn and at both ends of the mount"),
        left.svg(),
        right.svg(),
        legend(300, 556, rows),
        notes,
        shades,
    ]
    drawing = figure(
        940,
        690,
        parts,
        title="Dunlin's thrust line: above the balance point, so power pushes the nose down",
        foot="whole aeroplane trimmed, wash on the tail included; red upright: tilt as drawn",
    )
    (HERE / "thrust_line.svg").write_text(drawing, encoding="utf-8")


if __name__ == "__main__":
    main()
