"""Draw how little the neutral point hangs on the panelling, by layout and tail height.

Run: ``.venv/bin/python docs/gallery/neutral_point_convergence.py``; writes an SVG beside itself.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
from plotting import INK, Panel, figure, legend

from foamwright.air import (
    LatticeReference,
    LatticeSurface,
    derivatives,
    lattice_surface,
    solve_tensor,
)

HERE = Path(__file__).parent
REFERENCE = LatticeReference(area=6.0, chord=1.0, span=6.0, point=(0.25, 0.0, 0.0))
#: Strips of half the wing and of half the tail, rows.
COUNTS = ((6, 4, 3), (8, 6, 3), (10, 7, 4), (12, 9, 4), (16, 10, 4), (20, 12, 4), (24, 16, 4))
FINE = (40, 26, 6)
Layout = Callable[[float, int, int, int], tuple[LatticeSurface, ...]]


def level(key: str, *, nose: float, half: float, chord: float, z: float, n: int, rows: int):
    leading = [(nose, 0.0, z), (nose, half, z)]
    return lattice_surface(key, leading=leading, chord=(chord, chord), strips=n, rows=rows)


def main_wing(n: int, rows: int) -> LatticeSurface:
    return level("wing", nose=0.0, half=3.0, chord=1.0, z=0.0, n=n, rows=rows)


def plain(z: float, n: int, m: int, rows: int) -> tuple[LatticeSurface, ...]:
    tail = level("tail", nose=3.1, half=1.2, chord=0.6, z=z, n=m, rows=rows)
    return main_wing(n, rows), tail


def v_tail(z: float, n: int, m: int, rows: int) -> tuple[LatticeSurface, ...]:
    leading = [(3.0, 0.0, z), (3.1, 1.0, z + 0.8)]
    tail = lattice_surface("tail", leading=leading, chord=(0.65, 0.5), strips=m, rows=rows)
    return main_wing(n, rows), tail


def canard(z: float, n: int, m: int, rows: int) -> tuple[LatticeSurface, ...]:
    fore = level("canard", nose=-2.5, half=1.1, chord=0.5, z=z, n=m, rows=rows)
    return main_wing(n, rows), fore


def biplane(z: float, n: int, m: int, rows: int) -> tuple[LatticeSurface, ...]:
    upper = level("upper", nose=-0.3, half=2.7, chord=0.9, z=0.8, n=n, rows=rows)
    return *plain(z, n, m, rows), upper


LAYOUTS: tuple[tuple[str, Layout], ...] = (
    ("wing and tail", plain),
    ("V-tail", v_tail),
    ("canard", canard),
    ("biplane and tail", biplane),
)


@cache
def neutral_point(layout: Layout, z: float, counts: tuple[int, int, int]) -> tuple[float, int]:
    """Neutral point in chords, and panels of the whole aeroplane."""
    tensor = solve_tensor(layout(z, *counts), reference=REFERENCE)
    return derivatives(tensor).neutral_point, len(tensor.lattice.strip)


def by_count(panel: Panel) -> None:
    """Worst over four heights of the tail, in the wake plane and off it."""
    panel.band((0.0, 900.0), (-0.5, -0.5), (0.5, 0.5))
    for shape, (_, layout) in enumerate(LAYOUTS):
        panels, worst = [], []
        for counts in COUNTS:
            off = [
                100.0 * (neutral_point(layout, z, counts)[0] - neutral_point(layout, z, FINE)[0])
                for z in (0.0, 0.02, 0.1, 0.3)
            ]
            worst.append(max(off, key=abs))
            panels.append(neutral_point(layout, 0.0, counts)[1])
        panel.curve(panels, worst, dash=shape)
        panel.points(panels, worst, shape=shape)


def by_height(panel: Panel) -> None:
    heights = np.concatenate([np.linspace(-0.3, -0.02, 8), [0.0], np.linspace(0.02, 0.6, 16)])
    for shape, counts in enumerate(((8, 6, 3), (12, 9, 4), (20, 12, 4))):
        found = [neutral_point(plain, float(z), counts)[0] for z in heights]
        panel.points(heights, found, shape=shape)
    fine = [neutral_point(plain, float(z), FINE)[0] for z in heights]
    panel.curve(heights, fine, colour=INK)


def main() -> None:
    count = Panel(
        box=(66, 74, 380, 330),
        x_range=(0, 420),
        y_range=(-1.0, 1.0),
        x_ticks=range(0, 401, 100),
        y_ticks=(-1.0, -0.5, 0.0, 0.5, 1.0),
        x_label="panels of the whole aeroplane",
        y_label="neutral point against the fine lattice, % of chord",
        title="Worst over tail heights; goal shaded",
    )
    height = Panel(
        box=(530, 74, 380, 330),
        x_range=(-0.3, 0.6),
        y_range=(0.50, 0.66),
        x_ticks=(-0.3, 0.0, 0.3, 0.6),
        y_ticks=(0.50, 0.54, 0.58, 0.62, 0.66),
        x_label="height of the tail above the wake plane, chords",
        y_label="neutral point, chords behind the nose",
        title="Through the wake, by strips",
    )
    by_count(count)
    by_height(height)
    names = [(name, k, k) for k, (name, _) in enumerate(LAYOUTS)]
    strips = [("8 + 6 strips, 3 rows", None, 0), ("12 + 9, 4 rows", None, 1)]
    strips += [("20 + 12, 4 rows", None, 2), ("40 + 26, 6 rows", 0, None)]
    parts = [count.svg(), height.svg(), legend(272, 330, names), legend(720, 330, strips)]
    text = figure(
        940,
        480,
        parts,
        title="The neutral point does not hang on the panelling",
        foot="straight wing of aspect ratio 6, tail volume 0.7; wakes leave along x",
    )
    (HERE / "neutral_point_convergence.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
