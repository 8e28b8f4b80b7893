"""Draw what each strip has in hand before its stall, and what a cure does to it.

Run: ``.venv/bin/python docs/gallery/stall_margin.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
from plotting import ACCENT, Panel, figure, legend

from foamwright.air import StallResult, aero_model
from foamwright.airframe import build_airframe
from foamwright.design import Design, read_design_text, starter_text

HERE = Path(__file__).parent
SPEED = 7.0  # m/s


def stall_of(design: Design) -> StallResult:
    return aero_model(build_airframe(design)).stall(airspeed=SPEED)


def narrow_tips(design: Design, *, twist: float = 0.0) -> Design:
    """Dunlin's wing with tips of 65 mm, washed out by a few degrees."""
    wing = design.surfaces[0]
    panels = [replace(panel, tip_twist=0.0, root_twist=0.0) for panel in wing.panels]
    panels[-1] = replace(panels[-1], tip_chord=0.065, tip_twist=np.radians(twist), length=0.26)
    return replace(design, surfaces=(replace(wing, panels=tuple(panels)), *design.surfaces[1:]))


def strips(panel: Panel, stall: StallResult) -> None:
    """Local lift at a few lifts up to where the stall starts, under what sections can reach."""
    mine = np.array([surface == "wing" for surface in stall.surfaces])
    eta, most = stall.place[mine], stall.strip_most[mine]
    panel.curve(eta, most, colour=ACCENT, width=2.4)
    last = stall.first_wing.alpha
    for dash, share in ((4, 0.5), (2, 0.75), (0, 1.0)):
        wanted = share * stall.first_wing.lift
        up = stall.alpha <= last + 0.02
        alpha = float(np.interp(wanted, stall.lift[up], stall.alpha[up]))
        local = [float(np.interp(alpha, stall.alpha, row)) for row in stall.strip_lift[:, mine].T]
        panel.curve(eta, local, dash=dash)
    at = stall.first_wing.place
    panel.points([at], [float(np.interp(at, eta, most))], shape=1)


def span_panel(box: tuple[float, float, float, float], title: str) -> Panel:
    return Panel(
        box=box,
        x_range=(0.0, 1.0),
        y_range=(0.0, 1.4),
        x_ticks=(0.0, 0.2, 0.4, 0.6, 0.8, 1.0),
        y_ticks=(0.0, 0.4, 0.8, 1.2),
        x_label="place along the half span",
        y_label="lift coefficient of the strip",
        title=title,
    )


def main() -> None:
    dunlin = read_design_text(starter_text("dunlin")).variants[0]
    shapes = (
        ("Dunlin as drawn", dunlin),
        ("Its tips cut to 65 mm", narrow_tips(dunlin)),
        ("With 3° of washout", narrow_tips(dunlin, twist=-3.0)),
    )
    found = [stall_of(design) for _, design in shapes]
    places = ((74, 84), (500, 84), (74, 434))
    panels = [
        span_panel(
            (x, y, 350, 250), f"{title}: the stall starts at {100 * stall.first_wing.place:.0f} %"
        )
        for (x, y), (title, _), stall in zip(places, shapes, found, strict=True)
    ]
    for panel, stall in zip(panels, found, strict=True):
        strips(panel, stall)
    curves = Panel(
        box=(500, 434, 350, 250),
        x_range=(-5.0, 22.0),
        y_range=(0.0, 1.4),
        x_ticks=(-5.0, 0.0, 5.0, 10.0, 15.0, 20.0),
        y_ticks=(0.0, 0.4, 0.8, 1.2),
        x_label="incidence, degrees",
        y_label="lift coefficient of the aeroplane",
        title="Lift through the stall; marks: the largest",
    )
    names: list[tuple[str, int | None, int | None]] = []
    for number, (stall, (name, _)) in enumerate(zip(found, shapes, strict=True)):
        dash, shape = (0, 1, 3)[number], (0, 2, 3)[number]
        curves.curve(np.degrees(stall.alpha), stall.lift, dash=dash)
        curves.points([np.degrees(stall.max_alpha)], [stall.max_lift], shape=shape)
        names.append((name, dash, shape))
    rows: list[tuple[str, int | None, int | None]] = [
        ("red: what its section can reach", 0, None),
        ("when the stall starts", 0, 1),
        ("at three quarters of that lift", 2, None),
        ("at half of it", 4, None),
    ]
    parts = [*(panel.svg() for panel in (*panels, curves)), legend(96, 262, rows)]
    parts.append(legend(630, 608, names))
    text = figure(
        890,
        760,
        parts,
        title="What each strip has in hand before the stall",
        foot=f"strip method on the lattice, {SPEED:g} m/s, controls straight, power off",
    )
    (HERE / "stall_margin.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
