"""Draw what the strips of a wing carry: by planform, with ailerons, with a flap, near ground.

Run: ``.venv/bin/python docs/gallery/span_loading.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from plotting import ACCENT, GREY, Panel, figure, legend

from foamwright.air import (
    LatticeControl,
    LatticeReference,
    LatticeSurface,
    LiftTensor,
    lattice_surface,
    motion_state,
    solve_tensor,
    span_efficiency,
    strip_loads,
    wind_forces,
)

HERE = Path(__file__).parent
FLAP = LatticeControl(key="flap", start=0.1, end=0.5, start_hinge=0.75, end_hinge=0.75)
AILERON = LatticeControl(key="aileron", start=0.55, end=0.95, start_hinge=0.75, end_hinge=0.75)


def wing(*, taper: float = 1.0, sweep: float = 0.0, **more) -> LatticeSurface:
    """Aspect ratio 8, span 8; sweep of the quarter-chord line in degrees."""
    root = 2.0 / (1.0 + taper)
    chord = np.array([root, root * taper])
    nose = 0.25 * (root - chord) + np.tan(np.radians(sweep)) * np.array([0.0, 4.0])
    leading = np.column_stack([nose, [0.0, 4.0], [0.0, 0.0]])
    return lattice_surface("wing", leading=leading, chord=chord, strips=32, **more)


def solved(surface: LatticeSurface, **more) -> LiftTensor:
    reference = LatticeReference(area=8.0, chord=1.0, span=8.0, point=(0.25, 0.0, 0.0))
    return solve_tensor((surface,), reference=reference, **more)


def load(tensor: LiftTensor, state: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Place along the half span and c cl over mean chord, left tip to right tip."""
    y = tensor.strips.quarter[:, 1] / 4.0
    order = np.argsort(y)
    found = strip_loads(tensor, state)
    return y[order], (found.coefficient * tensor.strips.chord)[order]


def planforms(panel: Panel) -> list[tuple[str, int, None]]:
    """All at a lift coefficient of one."""
    rows = []
    u = np.linspace(-1.0, 1.0, 201)
    panel.curve(u, 4.0 / np.pi * np.sqrt(1.0 - u**2), colour=GREY, width=4.0)
    shapes = (("rectangular", 1.0, 0.0), ("taper 0.4", 0.4, 0.0), ("swept 35°", 1.0, 35.0))
    for dash, (name, taper, sweep) in enumerate(shapes):
        tensor = solved(wing(taper=taper, sweep=sweep))
        slope = wind_forces(tensor, motion_state(tensor, incidence=1e-3))[0] / 1e-3
        state = motion_state(tensor, incidence=1.0 / slope)
        y, carried = load(tensor, state)
        panel.curve(y, carried, dash=dash)
        rows.append((f"{name}, e {float(span_efficiency(tensor, state)):.3f}", dash, None))
    return rows


def controls(panel: Panel) -> list[tuple[str, int, None]]:
    """What ten degrees of each control add."""
    tensor = solved(wing(taper=0.6, controls=(FLAP, AILERON)))
    ten = np.radians(10.0)
    cases = (
        ("both flaps down 10°", (ten, ten, 0.0, 0.0)),
        ("ailerons: right up, left down 10°", (0.0, 0.0, -ten, ten)),
        ("right aileron alone, up 10°", (0.0, 0.0, -ten, 0.0)),
    )
    for dash, (_, angles) in enumerate(cases):
        panel.curve(*load(tensor, motion_state(tensor, deflections=angles)), dash=dash)
    for start, end in ((0.1, 0.5), (0.55, 0.95)):
        for side in (-1.0, 1.0):
            ends = (side * start, side * end)
            panel.curve(ends, (-0.57, -0.57), colour=ACCENT, width=4.0)
    return [(name, dash, None) for dash, (name, _) in enumerate(cases)]


def main() -> None:
    ticks = (-1.0, -0.5, 0.0, 0.5, 1.0)
    left = Panel(
        box=(66, 74, 380, 330),
        x_range=(-1, 1),
        y_range=(0.0, 1.6),
        x_ticks=ticks,
        y_ticks=(0.0, 0.4, 0.8, 1.2, 1.6),
        x_label="place along the span, half spans; right hand positive",
        y_label="chord times lift coefficient, over mean chord",
        title="Planforms of aspect ratio 8, lift coefficient 1",
    )
    right = Panel(
        box=(530, 74, 380, 330),
        x_range=(-1, 1),
        y_range=(-0.6, 0.9),
        x_ticks=ticks,
        y_ticks=(-0.6, -0.3, 0.0, 0.3, 0.6, 0.9),
        x_label="place along the span, half spans; right hand positive",
        y_label="chord times lift coefficient, over mean chord",
        title="Controls at no incidence; where they lie, in red",
    )
    below, above = planforms(left), controls(right)
    parts = [left.svg(), right.svg(), legend(170, 300, below), legend(560, 96, above)]
    text = figure(
        940,
        480,
        parts,
        title="What the strips carry",
        foot="inviscid lattice, 32 strips a side, 4 rows; grey: elliptic load of the same lift",
    )
    (HERE / "span_loading.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
