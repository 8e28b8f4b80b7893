"""Draw span loading and stall margin of every example aeroplane, as drawn in its file.

Run: ``.venv/bin/python docs/gallery/stall_of_examples.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from plotting import Panel, figure, legend
from stall_margin import span_panel, strips

from foamwright.air import StallResult
from foamwright.airframe import Airframe
from foamwright.assess import assess
from foamwright.design import STARTERS, read_design_text, starter_text

HERE = Path(__file__).parent
CRUISE = 0.5  # lift coefficient
LEFT, RIGHT, TOP, STEP = 74, 500, 84, 300


def chords(airframe: Airframe, eta: np.ndarray) -> np.ndarray:
    """Chord of the wing over its mean chord, at places along the half span."""
    wing = next(s for s in airframe.surfaces if s.key == airframe.reference.surface)
    ends = [wing.panels[0].root, *(panel.tip for panel in wing.panels)]
    along = np.array([end.leading_edge[1] for end in ends])
    along = (along - along[0]) / (along[-1] - along[0])
    return np.interp(eta, along, [end.chord for end in ends]) / airframe.reference.mac


def load_panel(box: tuple[float, float, float, float], title: str) -> Panel:
    return Panel(
        box=box,
        x_range=(0.0, 1.0),
        y_range=(0.0, 0.8),
        x_ticks=(0.0, 0.2, 0.4, 0.6, 0.8, 1.0),
        y_ticks=(0.0, 0.2, 0.4, 0.6, 0.8),
        x_label="place along the half span",
        y_label="lift times chord over mean",
        title=title,
    )


def load(panel: Panel, airframe: Airframe, stall: StallResult) -> None:
    """Load at cruise, and an elliptic load of the same lift beside it."""
    mine = np.array([surface == airframe.reference.surface for surface in stall.surfaces])
    eta = stall.place[mine]
    order = np.argsort(eta)
    up = stall.alpha <= stall.max_alpha
    alpha = float(np.interp(CRUISE, stall.lift[up], stall.alpha[up]))
    local = np.array([np.interp(alpha, stall.alpha, row) for row in stall.strip_lift[:, mine].T])
    carried = (local * chords(airframe, eta))[order]
    panel.curve(eta[order], carried)
    places = np.linspace(0.0, 1.0, 101)
    whole = float(np.trapezoid(carried, eta[order]))
    panel.curve(places, whole * 4.0 / np.pi * np.sqrt(1.0 - places**2), dash=2, width=1.2)


def main() -> None:
    parts: list[str] = []
    for row, name in enumerate(STARTERS):
        found = assess(read_design_text(starter_text(name)).variants[0])
        y, place = TOP + STEP * row, 100.0 * found.stall.first_wing.place
        title = f"{found.design.name}, {found.design.variant}"
        carried = load_panel((LEFT, y, 350, 200), f"{title}: load at CL 0.5")
        margin = span_panel((RIGHT, y, 350, 200), f"the stall starts at {place:.0f} %")
        load(carried, found.airframe, found.stall)
        strips(margin, found.stall)
        parts += [carried.svg(), margin.svg()]
    rows: list[tuple[str, int | None, int | None]] = [
        ("red: what its section can reach", 0, None),
        ("when the stall starts", 0, 1),
        ("at three quarters of that lift; left: elliptic load", 2, None),
        ("at half of it", 4, None),
    ]
    parts.append(legend(LEFT, TOP + STEP * len(STARTERS), rows))
    text = figure(
        890,
        TOP + STEP * len(STARTERS) + 110,
        parts,
        title="What the examples' wings carry, and what their strips have in hand",
        foot="strip method on the lattice, stalling speed of each, controls straight, power off",
    )
    (HERE / "stall_of_examples.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
