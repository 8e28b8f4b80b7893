"""Draw the match of Dunlin's motor, propeller and pack: thrust and current over airspeed.

Run: ``.venv/bin/python docs/gallery/match.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from plotting import ACCENT, FONT, GREY, Panel, figure, legend

from foamwright.air.state import DENSITY
from foamwright.assess import Assessment, assess
from foamwright.design import read_design_text, starter_text
from foamwright.power import match
from foamwright.power.limits import CONTROLLER_HEADROOM, FRESH, HALF

HERE = Path(__file__).parent
THROTTLES = (1.0, 0.75, 0.5)
NAMES = ("full throttle", "three quarters", "half")
SPEEDS = np.linspace(0.0, 32.0, 65)


def pull(panel: Panel, found: Assessment) -> None:
    """Thrust at three throttles, with what the aeroplane's drag asks for."""
    group = found.power.packs[0].group
    for dash, throttle in enumerate(THROTTLES):
        (point,) = match(group, throttle=throttle, airspeed=SPEEDS, charge=HALF, with_bands=True)
        assert point.bands is not None
        if dash == 0:
            wide = 2.0 * point.bands.thrust
            panel.band(SPEEDS, point.thrust - wide, point.thrust + wide)
        panel.curve(SPEEDS, point.thrust, dash=dash)
    flight, area = found.carrying, found.airframe.reference.area
    order = np.argsort(flight.airspeed)
    speed = flight.airspeed[order]
    drag = (flight.weight * flight.drag / flight.lift)[order]
    panel.curve(speed, drag, colour=ACCENT, width=2.6)
    # Faster than the air room looks: drag without lift, and the rest falling with speed squared.
    fast = SPEEDS[speed[-1] <= SPEEDS]
    clean = 0.5 * DENSITY * area * flight.zero_lift_drag
    rest = drag[-1] - clean * speed[-1] ** 2
    beyond = clean * fast**2 + rest * (speed[-1] / fast) ** 2
    panel.curve(fast, beyond, colour=ACCENT, width=2.6, dash=2)
    label(panel, 5.2, 0.2, "drag in level flight", ACCENT)
    stop = 1.02 * SPEEDS[-1]
    panel.curve([0.0, stop], [flight.weight] * 2, colour=GREY, width=1.0)
    label(panel, 31.5, flight.weight + 0.12, "weight", GREY, anchor="end")


def draw(panel: Panel, found: Assessment) -> None:
    """Current from a fresh pack, and what motor, controller and pack stand."""
    motor, group = found.power.motors[0], found.power.packs[0].group
    for dash, throttle in enumerate(THROTTLES):
        (point,) = match(group, throttle=throttle, airspeed=SPEEDS, charge=FRESH, with_bands=True)
        assert point.bands is not None
        if dash == 0:
            wide = 2.0 * point.bands.pack_amps
            panel.band(SPEEDS, point.pack_amps - wide, point.pack_amps + wide)
        panel.curve(SPEEDS, point.pack_amps, dash=dash)
    rating = motor.line.controller.rating
    limits = [
        (rating, f"controller's rating, {rating:.0f} A"),
        (rating / CONTROLLER_HEADROOM, "with the trade's headroom"),
    ]
    if motor.line.motor.max_current is not None:
        limits.append((motor.line.motor.max_current, "motor"))
    for amps, _ in limits:
        panel.curve([0.0, 33.0], [amps] * 2, colour=ACCENT, width=1.0)
    shown = {round(amps, 3): text for amps, text in limits}
    if len(shown) < len(limits):
        shown[round(limits[1][0], 3)] = "motor's limit; controller with the trade's headroom"
    for amps, text in shown.items():
        label(
            panel,
            *((31.5, amps + 0.35) if amps == rating else (0.6, amps + 0.35)),
            text,
            ACCENT,
            anchor="end" if amps == rating else "start",
        )


def label(panel: Panel, x: float, y: float, text: str, colour: str, *, anchor="start") -> None:
    a, b = panel.at(x, y)
    panel.parts.append(
        f"<text x='{a:.1f}' y='{b:.1f}' {FONT} font-size='11.5' fill='{colour}' "
        f"text-anchor='{anchor}'>{text}</text>"
    )


def main() -> None:
    found = assess(read_design_text(starter_text("dunlin")).variants[0])
    left = Panel(
        box=(74.0, 78.0, 340.0, 300.0),
        x_range=(0.0, 32.0),
        y_range=(0.0, 9.0),
        x_ticks=range(0, 33, 4),
        y_ticks=range(10),
        x_label="airspeed, m/s",
        y_label="thrust, N",
        title="What it pulls, pack half flown",
    )
    right = Panel(
        box=(496.0, 78.0, 340.0, 300.0),
        x_range=(0.0, 32.0),
        y_range=(0.0, 28.0),
        x_ticks=range(0, 33, 4),
        y_ticks=range(0, 29, 4),
        x_label="airspeed, m/s",
        y_label="current from the pack, A",
        title="What that draws, pack fresh",
    )
    pull(left, found)
    draw(right, found)
    rows = [(name, dash, None) for dash, name in enumerate(NAMES)]
    motor = found.power.motors[0].parts
    speaks = motor.motor.says.split(",")[2].strip()
    cells = f"{motor.pack.cells} cells of {motor.pack.capacity / 3600.0:.1f} Ah"
    foot = (
        f"Dunlin: motor {speaks}; {motor.propeller.says}; {cells}. "
        "Band: ± 2 sigma. Dotted drag: carried on."
    )
    parts = [left.svg(), right.svg(), legend(280.0, 96.0, rows)]
    svg = figure(870.0, 450.0, parts, title="Motor, propeller and pack together", foot=foot)
    (HERE / "match.svg").write_text(svg, encoding="utf-8")


if __name__ == "__main__":
    main()
