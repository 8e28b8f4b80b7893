"""Draw measured propellers against the model: a good one, a typical one and a poor one.

Run: ``.venv/bin/python docs/gallery/propellers.py``; writes an SVG beside itself. Each propeller is
modelled with laws fitted without its make, from diameter, pitch and blades only, and again from its
measured blade and one static thrust reading.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
from plotting import INK, Panel, figure, legend

from foamwright.power.propeller.laws import Laws, laws_from
from foamwright.power.propeller.measured import MeasuredPropeller, read_propellers
from foamwright.power.propeller.model import FOUR_IN_FIVE
from foamwright.power.propeller.suite import judge, model_for

HERE = Path(__file__).parent
DATA = HERE.parents[1] / "tests/data/props"
TOLD, BEST = "nominal", "geometry, reading"
# Places in the ranking by error of thrust and power together
CHOSEN = (("a good one", 0.1), ("a typical one", 0.5), ("a poor one", 0.95))


def ranked() -> list[tuple[float, MeasuredPropeller, Laws]]:
    """Propellers with a measured blade, best first."""
    numbers = json.loads((DATA / "left_out.json").read_text(encoding="utf-8"))
    found: list[tuple[float, MeasuredPropeller, Laws]] = []
    for one in read_propellers(DATA):
        laws = laws_from(numbers[one.make])
        model = model_for(one, tier=TOLD, laws=laws)
        if model is not None and model_for(one, tier=BEST, laws=laws) is not None:
            judged = judge(one, tier=TOLD, model=model)
            found.append((judged.ct_error + judged.cp_error, one, laws))
    return sorted(found, key=lambda item: item[0])


def panel(box: tuple[float, float, float, float], one: MeasuredPropeller, laws: Laws, kind: str,
          title: str) -> Panel:  # fmt: skip
    fast = one.rotation >= np.quantile(one.rotation, 0.5)
    rotation = float(np.median(one.rotation[fast]))
    top = max(float(one.ct.max() if kind == "ct" else one.cp.max()) * 1.45, 0.05)
    step = 0.05 if top > 0.11 else 0.02
    right = 0.2 * np.ceil(one.advance_ratio.max() * 1.15 / 0.2)
    drawn = Panel(
        box=box,
        x_range=(0.0, right),
        y_range=(-0.2 * top, top),
        x_ticks=tuple(np.round(np.arange(0.0, right + 0.01, 0.2), 1)),
        y_ticks=tuple(np.round(np.arange(0.0, top, step), 3)),
        x_label="advance ratio V / (n D)",
        y_label="thrust coefficient" if kind == "ct" else "power coefficient",
        title=title,
    )
    j = np.linspace(0.0, right, 120)
    for tier, dash in ((TOLD, 0), (BEST, 1)):
        model = model_for(one, tier=tier, laws=laws)
        assert model is not None
        got = model.coefficients(j, rotation=rotation)
        value = got.ct if kind == "ct" else got.cp
        scatter = got.ct_scatter if kind == "ct" else got.cp_scatter
        if tier == TOLD:
            half = FOUR_IN_FIVE * scatter
            drawn.band(j, value - half, value + half, colour=INK)
        drawn.curve(j, value, dash=dash)
    values = one.ct if kind == "ct" else one.cp
    for rows, shape in ((fast & ~one.is_static, 0), (fast & one.is_static, 1)):
        drawn.points(one.advance_ratio[rows], values[rows], shape=shape)
    return drawn


def main() -> None:
    order = ranked()
    parts: list[str] = []
    for column, (word, place) in enumerate(CHOSEN):
        _, one, laws = order[int(place * (len(order) - 1))]
        inches = one.propeller.diameter / 0.0254, one.propeller.pitch / 0.0254
        name = f"{word}: {inches[0]:.3g} x {inches[1]:.3g} in, {one.propeller.style}"
        left = 74 + 360 * column
        parts.append(panel((left, 84, 270, 230), one, laws, "ct", name[0].upper() + name[1:]).svg())
        parts.append(panel((left, 394, 270, 230), one, laws, "cp", "").svg())
    rows: list[tuple[str, int | None, int | None]] = [
        ("diameter, pitch, blades; band: four in five", 0, None),
        ("measured blade and one static thrust reading", 1, None),
        ("wind tunnel", None, 0),
        ("wind tunnel, standing still", None, 1),
    ]
    parts.append(legend(74, 694, rows[:2]))
    parts.append(legend(500, 694, rows[2:]))
    text = figure(
        1120,
        770,
        parts,
        title="Propellers the model had not seen",
        foot=(
            f"UIUC Propeller Database, faster half of the speeds; laws fitted without that make; "
            f"ranks 10, 50 and 95 % of {len(order)} with a measured blade"
        ),
    )
    (HERE / "propellers.svg").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
