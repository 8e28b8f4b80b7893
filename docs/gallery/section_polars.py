"""Draw section polars with the measured points over them.

Run: ``.venv/bin/python docs/gallery/section_polars.py``; writes SVG files beside itself.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
from plotting import INK, Panel, figure, legend

from foamwright.air.sections import (
    SectionPolar,
    library_polar,
    profile_shape,
    read_polar_text,
    section_polar,
    shape_polar,
)
from foamwright.design import read_design_text, starter_text
from foamwright.design.model import FlatSection

HERE = Path(__file__).parent
ALPHA = np.arange(-10.0, 20.01, 0.1)
UIUC = "points: UIUC Low-Speed Airfoil Tests, vol. {} (data produced under that program)"


def panels(lift_title: str, drag_title: str, *, cd_top: float = 0.08) -> tuple[Panel, Panel]:
    """Lift over incidence, and lift over drag."""
    lift = Panel(
        box=(66, 74, 380, 330),
        x_range=(-8, 18),
        y_range=(-0.6, 1.6),
        x_ticks=range(-8, 19, 4),
        y_ticks=np.arange(-0.4, 1.61, 0.4).round(1),
        x_label="incidence, degrees",
        y_label="lift coefficient",
        title=lift_title,
    )
    drag = Panel(
        box=(520, 74, 300, 330),
        x_range=(0.0, cd_top),
        y_range=(-0.6, 1.6),
        x_ticks=np.linspace(0.0, cd_top, 5).round(3),
        y_ticks=np.arange(-0.4, 1.61, 0.4).round(1),
        x_label="drag coefficient",
        y_label="lift coefficient",
        title=drag_title,
    )
    return lift, drag


def against_measurements(name: str, title: str, runs: list[float], foot: str) -> str:
    """The general polar of a shape, which does not know the points, and the points."""
    general = shape_polar(library_polar(name).shape)
    text = files("foamwright.air.sections").joinpath(f"tables/{name}_polars.csv")
    readings = read_polar_text(text.read_text("utf-8"), file=name)
    lift, drag = panels("general polar of the shape, and wind tunnel", "")
    rows = []
    for k, reynolds in enumerate(runs):
        found = general.coefficients(np.radians(ALPHA), reynolds=reynolds)
        lift.curve(ALPHA, found.cl, dash=k)
        drag.curve(found.cd, found.cl, dash=k)
        near = np.abs(np.log(readings.reynolds / reynolds)) < 0.05
        has_drag = near & np.isfinite(readings.cd)
        lift_run = near & np.isnan(readings.cd)
        lift.points(np.degrees(readings.alpha[lift_run]), readings.cl[lift_run], shape=k)
        drag.points(readings.cd[has_drag], readings.cl[has_drag], shape=k)
        rows.append((f"Re {reynolds:,.0f}".replace(",", " "), k, k))
    parts = [lift.svg(), drag.svg(), legend(846, 92, rows)]
    return figure(1000, 480, parts, title=title, foot=foot)


def made_sections() -> str:
    """The sections of the starter designs at one Reynolds number, with their bands."""
    lift, drag = panels("lift, one standard deviation shaded", "drag", cd_top=0.16)
    rows = []
    for k, (design, label) in enumerate(
        [("dunlin", "creased"), ("curlew", "folded"), ("godwit", "stepped"), ("avocet", "profiled")]
    ):
        first = read_design_text(starter_text(design)).variants[0]
        panel = first.surfaces[0].panels[0]
        polar = section_polar(panel.root_section, chord=panel.root_chord, stock=first.stock)
        draw(lift, drag, polar, k)
        rows.append((f"{label} ({design})", k, None))
    first = read_design_text(starter_text("dunlin")).variants[0]
    sheet = first.surfaces[0].panels[0].root_section.sheet
    draw(lift, drag, section_polar(FlatSection(sheet=sheet), chord=0.2, stock=first.stock), 4)
    rows.append(("flat sheet", 4, None))
    parts = [lift.svg(), drag.svg(), legend(836, 92, rows)]
    foot = "no points: none of these sections has been measured in the open record"
    return figure(1000, 480, parts, title="Sections as built, Re 100 000", foot=foot)


def draw(lift: Panel, drag: Panel, polar: SectionPolar, dash: int) -> None:
    found = polar.coefficients(np.radians(ALPHA), reynolds=1e5)
    lift.band(ALPHA, found.cl - found.cl_band, found.cl + found.cl_band, colour=INK)
    lift.curve(ALPHA, found.cl, dash=dash)
    drag.curve(found.cd, found.cl, dash=dash)


# NACA 0012, Re 1.6e5: R. E. Sheldahl, P. C. Klimas, SAND80-2114, 1981 (read second hand).
SANDIA = np.array(
    [
        (0, 0.0, 0.0091), (4, 0.44, 0.0105), (8, 0.824, 0.0157), (11, 0.9572, 0.0211),
        (14, 0.7483, 0.0283), (17, 0.4851, 0.217), (20, 0.5247, 0.282), (25, 0.7511, 0.405),
        (30, 0.855, 0.57), (35, 0.98, 0.745), (40, 1.035, 0.92), (45, 1.05, 1.075),
        (50, 1.02, 1.215), (55, 0.955, 1.345), (60, 0.875, 1.47), (65, 0.76, 1.575),
        (70, 0.63, 1.665), (75, 0.5, 1.735), (80, 0.365, 1.78), (85, 0.23, 1.8),
        (90, 0.09, 1.8), (95, -0.05, 1.78), (100, -0.185, 1.75), (105, -0.32, 1.7),
        (110, -0.45, 1.635), (115, -0.575, 1.555), (120, -0.67, 1.465), (125, -0.76, 1.35),
        (130, -0.85, 1.225), (135, -0.93, 1.085), (140, -0.98, 0.925), (145, -0.9, 0.755),
        (150, -0.77, 0.575), (155, -0.67, 0.42), (160, -0.635, 0.32), (165, -0.68, 0.23),
        (170, -0.85, 0.14), (175, -0.66, 0.055), (180, 0.0, 0.025),
    ]
)  # fmt: skip


def symmetric(thickness: float) -> SectionPolar:
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 81))
    half = (
        5.0
        * thickness
        * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    )
    return shape_polar(profile_shape(np.stack([x, half], axis=1), np.stack([x, -half], axis=1)))


def right_round() -> str:
    """Lift and drag at every incidence."""
    alpha = np.arange(-180.0, 180.1, 0.5)
    creased = read_design_text(starter_text("dunlin")).variants[0]
    panel = creased.surfaces[0].panels[0]
    polars = [
        ("NACA 0012", symmetric(0.12), 0),
        (
            "creased sheet",
            section_polar(panel.root_section, chord=panel.root_chord, stock=creased.stock),
            1,
        ),
    ]
    boxes = []
    for k, (label, top, low) in enumerate([("lift", 1.6, -1.6), ("drag", 2.2, 0.0)]):
        boxes.append(
            Panel(
                box=(66 + 450 * k, 74, 380, 330),
                x_range=(-180, 180),
                y_range=(low, top),
                x_ticks=range(-180, 181, 60),
                y_ticks=np.arange(low, top + 0.01, 0.4).round(1) + 0.0,
                x_label="incidence, degrees",
                y_label=f"{label} coefficient",
                title=label,
            )
        )
    rows = []
    for label, polar, dash in polars:
        found = polar.coefficients(np.radians(alpha), reynolds=1.6e5)
        boxes[0].curve(alpha, found.cl, dash=dash)
        boxes[1].curve(alpha, found.cd, dash=dash)
        rows.append((label, dash, None))
    boxes[0].points(SANDIA[:, 0], SANDIA[:, 1])
    boxes[1].points(SANDIA[:, 0], SANDIA[:, 2])
    rows.append(("NACA 0012, SAND80-2114", None, 0))
    parts = [*(box.svg() for box in boxes), legend(640, 26, rows, step=17)]
    foot = "points: R. E. Sheldahl, P. C. Klimas, SAND80-2114, 1981, Re 1.6e5 (read second hand)"
    return figure(940, 480, parts, title="Right round, Re 160 000", foot=foot)


# W1011 with 30 % flap, Re 2e5, incidence and lift: UIUC vol. 6 files (thinned).
FLAPPED = {
    0: [(-8.27, -0.8), (-6.27, -0.63), (-4.24, -0.42), (-2.12, -0.19), (-0.14, 0.0), (1.91, 0.22),
        (4.08, 0.43), (5.97, 0.62), (8.02, 0.8), (10.13, 0.94), (11.13, 1.0), (11.86, 0.79)],
    10: [(-6.11, 0.02), (-4.1, 0.22), (-2.15, 0.41), (-0.1, 0.62), (2.09, 0.81), (4.12, 0.97),
         (6.11, 1.09), (8.19, 1.2), (9.19, 1.24), (9.89, 1.06)],
    20: [(-6.29, 0.27), (-4.09, 0.46), (-2.02, 0.64), (0.01, 0.87), (2.06, 0.99), (4.09, 1.13),
         (6.04, 1.28), (8.1, 1.41), (9.03, 1.17)],
}  # fmt: skip


def flapped() -> str:
    """A symmetric section with a plain flap."""
    polar = symmetric(0.10).with_flap(0.3)
    lift, _ = panels("symmetric section, 30 % plain flap, Re 200 000", "")
    rows = []
    for k, (degrees, points) in enumerate(FLAPPED.items()):
        found = polar.coefficients(np.radians(ALPHA), reynolds=2e5, deflection=np.radians(degrees))
        lift.curve(ALPHA, found.cl, dash=k)
        lift.points(*np.array(points).T, shape=k)
        rows.append((f"flap {degrees} degrees down", k, k))
    parts = [lift.svg(), legend(474, 92, rows)]
    foot = UIUC.format(6) + ": W1011; thickness not in the data, 10 % assumed"
    return figure(760, 480, parts, title="What a real flap does", foot=foot)


def main() -> None:
    pages = {
        "section_e387.svg": against_measurements(
            "e387",
            "E387, not used for the fit",
            [6e4, 1e5, 2e5, 3e5],
            UIUC.format(3) + "; Lyon and others, SoarTech 1997",
        ),
        "section_bw3.svg": against_measurements(
            "bw3",
            "BW-3, a thin cambered section: the sheet part was fitted to these points",
            [6e4, 1e5, 2e5, 3e5],
            UIUC.format(3) + "; Lyon and others, SoarTech 1997",
        ),
        "section_made.svg": made_sections(),
        "section_right_round.svg": right_round(),
        "section_flap.svg": flapped(),
    }
    for name, text in pages.items():
        (HERE / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
