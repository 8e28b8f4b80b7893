"""Sections that a maker brings: a coordinate file and a table of measured polars.

Both are plain columns. A coordinate file has two, ``x z``, from the trailing edge over the nose
and back, in any unit of length; a polar table has a heading line ::

    reynolds  alpha_deg  cl  cd  cm

and a row for each reading. Columns are parted by commas, semicolons, tabs or spaces; with commas
or semicolons a cell may be left empty where nothing was measured. ``cd`` and ``cm`` may be left
out altogether. A line that starts with ``#`` is a remark.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import bands
from foamwright.air.sections.general import general_nodes, section_polar
from foamwright.air.sections.grid import ALPHA, LOG_REYNOLDS, PolarGrid, polar_grid, read_grid
from foamwright.air.sections.made import section_shape
from foamwright.air.sections.polar import SectionPolar
from foamwright.air.sections.shape import SectionShape, profile_shape, smooth
from foamwright.air.sections.thin import thin_aerofoil
from foamwright.design.model import MeasuredPolar, ProfiledSection, Section, Stock
from foamwright.design.polarfile import (
    FEWEST_READINGS,
    ONE_RUN,
    cells_of,
    content_of,
    problem,
    read_polar,
)
from foamwright.errors import DesignFileError, DomainError, Problem

Array = NDArray[np.float64]

# Fewest points of an outline.
_FEWEST_POINTS = 10
# Beyond the last reading the table goes over to the general polar within this. [deg]
_HAND_OVER = 8.0
# Readings nearer than this in incidence are one reading. [deg]
_ONE_READING = 0.05
_NOTE = (
    "measured section; beyond its last readings, and for what was not measured, the general polar "
    "of its shape"
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Readings:
    """A table of measured polars; NaN where nothing was measured."""

    reynolds: Array
    alpha: Array  # rad
    cl: Array
    cd: Array
    cm: Array


def read_polar_text(text: str, *, file: str) -> Readings:
    """Read a table of measured polars; see :func:`foamwright.design.polarfile.read_polar`."""
    return readings_of(read_polar(text, file=file))


def readings_of(measured: MeasuredPolar) -> Readings:
    """Return the readings of a section as arrays, NaN where nothing was measured.

    Parameters
    ----------
    measured : MeasuredPolar
        As the design file brings them. [rad]
    """
    rows = [[math.nan if cell is None else cell for cell in row] for row in measured.rows]
    reynolds, alpha, cl, cd, cm = np.array(rows).T
    return Readings(reynolds=reynolds, alpha=alpha, cl=cl, cd=cd, cm=cm)


def read_coordinates_text(text: str, *, file: str) -> SectionShape:
    """Read a coordinate file of a section.

    Parameters
    ----------
    text : str
        Two columns ``x z`` from the trailing edge over the nose and back, either way round, in
        any unit. A first line without numbers is the section's name.
    file : str
        What to call it in a complaint.

    Returns
    -------
    SectionShape
        A profiled section with its nose at x = 0 and its tail at x = 1. [-]

    Raises
    ------
    DesignFileError
        ``COORDINATES-NUMBER``, ``COORDINATES-FEW``, ``COORDINATES-ORDER``,
        ``COORDINATES-CROSSED``.
    """
    lines = content_of(text)
    if lines and not _numbers(lines[0][1]):
        lines = lines[1:]
    points: list[tuple[float, float]] = []
    problems: list[Problem] = []
    for line, content in lines:
        values = _numbers(content)
        if values is None or len(values) != 2:
            says = "each line holds two numbers, x and z"
            problems.append(problem("COORDINATES-NUMBER", file, line, content, says))
        else:
            points.append((values[0], values[1]))
    if problems:
        raise DesignFileError(tuple(problems))
    if len(points) < _FEWEST_POINTS:
        says = f"an outline needs at least {_FEWEST_POINTS} points; there are {len(points)}"
        raise DesignFileError((problem("COORDINATES-FEW", file, None, "", says),))
    return _outline_shape(np.array(points), file)


def polar_as_known(section: Section, *, chord: float, stock: Stock, name: str = "") -> SectionPolar:
    """Polar of a section: from its own measurements where the maker brings some, else worked out.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord, which sets the thickness ratio of sheet. [m]
    stock : Stock
        Goods, for the thicknesses. [m]
    name : str, optional
        What to call it.
    """
    if not isinstance(section, ProfiledSection) or section.measured is None:
        return section_polar(section, chord=chord, stock=stock, name=name)
    shape = section_shape(section, chord=chord, stock=stock)
    readings, source = readings_of(section.measured), section.measured.source
    return measured_polar(readings, shape=shape, name=name, source=f"measured: {source}")


def measured_polar(
    readings: Readings, *, shape: SectionShape, name: str, source: str
) -> SectionPolar:
    """Polar of a section from its own measurements.

    Parameters
    ----------
    readings : Readings
        The measurements.
    shape : SectionShape
        The section, for what was not measured: beyond the last readings the table goes over to
        the general polar of this shape within 8 degrees. [-]
    name : str
        What to call it.
    source : str
        Where the measurements come from.

    Returns
    -------
    SectionPolar
        Holds over the Reynolds numbers measured; beyond them the nearest run is held.

    Notes
    -----
    Along a run a monotone cubic, across runs straight in log Re.
    """
    runs = _runs(readings)
    nodes = general_nodes(shape)
    general = polar_grid(*nodes)
    where = np.array([log_re for log_re, _ in runs])
    values = np.stack([_fill(run, general, log_re) for log_re, run in runs])
    row = np.interp(LOG_REYNOLDS, where, np.arange(len(where)))
    low = np.minimum(row.astype(np.intp), max(len(where) - 2, 0))
    high = np.minimum(low + 1, len(where) - 1)
    part = (row - low)[:, None, None]
    table = (1.0 - part) * values[low] + part * values[high]
    grid = polar_grid(table[..., 0], np.exp(table[..., 1]), table[..., 2], table[..., 3])
    return SectionPolar(
        name=name,
        shape=shape,
        thin=thin_aerofoil(shape.mean_line),
        grid=grid,
        bands=bands("measured"),
        sources=(source,),
        notes=(_NOTE,),
        reynolds_range=(float(readings.reynolds.min()), float(readings.reynolds.max())),
    )


#: Sections whose measurements come with the program, and where those come from.
_UIUC = "This data was produced under the UIUC Low-Speed Airfoil Tests program. "
LIBRARY = {
    "e387": _UIUC + "Lyon, Broeren, Giguere, Gopalarathnam, Selig, Summary of Low-Speed Airfoil "
    "Data, vol. 3, SoarTech 1997: E387 (C), clean",
    "bw3": _UIUC + "Lyon, Broeren, Giguere, Gopalarathnam, Selig, Summary of Low-Speed Airfoil "
    "Data, vol. 3, SoarTech 1997: BW-3, clean",
}


@lru_cache(maxsize=8)
def library_polar(name: str) -> SectionPolar:
    """Return one of the measured sections that come with the program: "e387" or "bw3"."""
    if name not in LIBRARY:
        raise DomainError(f"no measured section {name!r}; there are {', '.join(LIBRARY)}")
    folder = files("foamwright.air.sections").joinpath("tables")
    outline, table = f"{name}_outline.csv", f"{name}_polars.csv"
    shape = read_coordinates_text(folder.joinpath(outline).read_text("utf-8"), file=outline)
    readings = read_polar_text(folder.joinpath(table).read_text("utf-8"), file=table)
    return measured_polar(readings, shape=shape, name=name, source=LIBRARY[name])


# ---------------------------------------------------------------- making the table


def _runs(readings: Readings) -> list[tuple[float, Readings]]:
    """Group readings into runs by Reynolds number, lowest first."""
    order = np.argsort(readings.reynolds, kind="stable")
    re_sorted = readings.reynolds[order]
    starts = [0, *(np.flatnonzero(np.diff(np.log(re_sorted)) > ONE_RUN) + 1), len(order)]
    runs: list[tuple[float, Readings]] = []
    for a, b in pairwise(starts):
        pick = order[a:b]
        run = Readings(
            reynolds=readings.reynolds[pick],
            alpha=readings.alpha[pick],
            cl=readings.cl[pick],
            cd=readings.cd[pick],
            cm=readings.cm[pick],
        )
        runs.append((float(np.log10(run.reynolds).mean()), run))
    return runs


def _fill(run: Readings, general: PolarGrid, log_re: float) -> Array:
    """One run over all incidences: cl, ln cd, cm, share, (721, 4)."""
    cells = read_grid(general, alpha=ALPHA, log_reynolds=np.full(len(ALPHA), log_re))
    filled = cells.copy()
    with np.errstate(divide="ignore"):
        log_cd = np.log(run.cd)
    for k, column in enumerate((run.cl, log_cd, run.cm)):
        keep = np.isfinite(column)
        if keep.sum() >= FEWEST_READINGS:
            filled[:, k] = _joined(run.alpha[keep], column[keep], cells[:, k])
    # Attached between the lowest and the highest lift measured, whatever the general polar says.
    low, high = run.alpha[int(np.argmin(run.cl))], run.alpha[int(np.argmax(run.cl))]
    width = math.radians(_HAND_OVER) / 2.0
    inside = (1.0 - smooth((ALPHA - high) / width)) * (1.0 - smooth((low - ALPHA) / width))
    is_past_high, is_past_low = run.alpha.max() > high, run.alpha.min() < low
    past = (is_past_high & (high < ALPHA)) | (is_past_low & (low > ALPHA))
    filled[:, 3] = np.where(past, inside, np.maximum(inside, cells[:, 3]))
    return filled


def _joined(alpha: Array, values: Array, general: Array) -> Array:
    """Measured values inside their range, handed over to the general ones outside it."""
    alpha, values = _distinct(alpha, values)
    inside = _monotone(np.clip(ALPHA, alpha[0], alpha[-1]), alpha, values)
    width = math.radians(_HAND_OVER)
    out = np.maximum(ALPHA - alpha[-1], alpha[0] - ALPHA)
    weight = smooth(out / width)
    edge = np.where(alpha[-1] < ALPHA, alpha[-1], np.where(alpha[0] > ALPHA, alpha[0], ALPHA))
    offset = inside - np.interp(edge, ALPHA, general)
    return np.where(out > 0.0, general + (1.0 - weight) * offset, inside)


def _distinct(alpha: Array, values: Array) -> tuple[Array, Array]:
    """Sort by incidence; readings at one incidence become their mean."""
    order = np.argsort(alpha, kind="stable")
    alpha, values = alpha[order], values[order]
    group = np.concatenate([[0], np.cumsum(np.diff(alpha) > math.radians(_ONE_READING))])
    count = np.bincount(group)
    return np.bincount(group, alpha) / count, np.bincount(group, values) / count


def _monotone(x: Array, knots: Array, values: Array) -> Array:
    """Monotone cubic through the knots (F. N. Fritsch, J. Butland, 1984)."""
    h, rise = np.diff(knots), np.diff(values)
    secant = rise / h
    slope = np.empty_like(values)
    slope[0], slope[-1] = secant[0], secant[-1]
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    a, b = secant[:-1], secant[1:]
    turning = a * b <= 0.0
    mean = (w1 + w2) / (w1 / np.where(turning, 1.0, a) + w2 / np.where(turning, 1.0, b))
    slope[1:-1] = np.where(turning, 0.0, mean)
    i = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, len(h) - 1)
    t = (x - knots[i]) / h[i]
    a, b = h[i] * slope[i], h[i] * slope[i + 1]
    return values[i] + t * (a + t * (3.0 * rise[i] - 2.0 * a - b + t * (a + b - 2.0 * rise[i])))


# ---------------------------------------------------------------- reading


def _numbers(line: str) -> list[float] | None:
    try:
        values = [float(cell) for cell in cells_of(line)]
    except ValueError:
        return None
    return values if all(map(math.isfinite, values)) else None


def _outline_shape(points: Array, file: str) -> SectionShape:
    x, z = points[:, 0], points[:, 1]
    nose = int(np.argmin(x))
    tail_x = 0.5 * (x[0] + x[-1])
    length = float(tail_x - x[nose])
    if length <= 0.0 or nose in (0, len(points) - 1):
        says = "the outline runs from the trailing edge over the nose and back"
        raise DesignFileError((problem("COORDINATES-ORDER", file, None, "", says),))
    tail_z = 0.5 * (z[0] + z[-1])
    scaled = np.stack([(x - x[nose]) / length, (z - tail_z) / length], axis=1)
    first, second = scaled[: nose + 1][::-1], scaled[nose:]
    if np.any(np.diff(first[:, 0]) < -_SLACK) or np.any(np.diff(second[:, 0]) < -_SLACK):
        says = "each side of the outline must run aft without turning back"
        raise DesignFileError((problem("COORDINATES-ORDER", file, None, "", says),))
    places = np.linspace(0.0, 1.0, 101)
    over = np.interp(places, first[:, 0], first[:, 1])
    under = np.interp(places, second[:, 0], second[:, 1])
    gap: Array = over - under
    upper, lower = (first, second) if gap.sum() >= 0.0 else (second, first)
    if np.any(np.sign(gap.sum()) * gap < -_SLACK):
        says = "the lower side crosses the upper side"
        raise DesignFileError((problem("COORDINATES-CROSSED", file, None, "", says),))
    return profile_shape(upper, lower)


# How far a side may run back or the sides cross: what rounding in the third decimal can do.
_SLACK = 1.5e-3
