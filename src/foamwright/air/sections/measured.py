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
import re
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import bands
from foamwright.air.sections.general import general_nodes
from foamwright.air.sections.grid import ALPHA, LOG_REYNOLDS, PolarGrid, polar_grid, read_grid
from foamwright.air.sections.polar import SectionPolar
from foamwright.air.sections.shape import SectionShape, profile_shape, smooth
from foamwright.air.sections.thin import thin_aerofoil
from foamwright.errors import DesignFileError, DomainError, Problem

Array = NDArray[np.float64]

# Readings whose Reynolds numbers differ by less than this belong to one run. [share]
_ONE_RUN = 0.06
# Fewest readings of lift in a run, fewest points of an outline.
_FEWEST, _FEWEST_POINTS = 4, 10
# Beyond the last reading the table goes over to the general polar within this. [deg]
_HAND_OVER = 8.0
# Readings nearer than this in incidence are one reading. [deg]
_ONE_READING = 0.05
# What a reading may be; anything outside is a slip of the pen or of the columns.
_LIMITS = {
    "reynolds": (1.0e3, 1.0e8),
    "alpha_deg": (-180.0, 180.0),
    "cl": (-5.0, 5.0),
    "cd": (0.0, 5.0),
    "cm": (-3.0, 3.0),
}
_COLUMNS = tuple(_LIMITS)
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
    """Read a table of measured polars.

    Parameters
    ----------
    text : str
        The table, columns ``reynolds alpha_deg cl cd cm``, the last two optional.
    file : str
        What to call it in a complaint.

    Returns
    -------
    Readings
        Reynolds number [-], incidence [rad], coefficients [-].

    Raises
    ------
    DesignFileError
        With every problem found: ``POLAR-EMPTY``, ``POLAR-HEADING``, ``POLAR-COLUMNS``,
        ``POLAR-NUMBER``, ``POLAR-RANGE``, ``POLAR-FEW``.
    """
    lines = _content(text)
    if not lines:
        raise DesignFileError((_problem("POLAR-EMPTY", file, None, "", "there is no table in it"),))
    heading_line, heading = lines[0]
    names = [name.lower() for name in _cells(heading)]
    _check_heading(names, heading, heading_line, file)
    problems: list[Problem] = []
    rows = [_row(names, text, line, file, problems) for line, text in lines[1:]]
    if not problems:
        problems += _few(rows, file)
    if problems:
        raise DesignFileError(tuple(problems))
    table = np.array([[row.get(name, math.nan) for name in _COLUMNS] for row in rows])
    return Readings(
        reynolds=table[:, 0],
        alpha=np.radians(table[:, 1]),
        cl=table[:, 2],
        cd=table[:, 3],
        cm=table[:, 4],
    )


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
    lines = _content(text)
    if lines and not _numbers(lines[0][1]):
        lines = lines[1:]
    points: list[tuple[float, float]] = []
    problems: list[Problem] = []
    for line, content in lines:
        values = _numbers(content)
        if values is None or len(values) != 2:
            says = "each line holds two numbers, x and z"
            problems.append(_problem("COORDINATES-NUMBER", file, line, content, says))
        else:
            points.append((values[0], values[1]))
    if problems:
        raise DesignFileError(tuple(problems))
    if len(points) < _FEWEST_POINTS:
        says = f"an outline needs at least {_FEWEST_POINTS} points; there are {len(points)}"
        raise DesignFileError((_problem("COORDINATES-FEW", file, None, "", says),))
    return _outline_shape(np.array(points), file)


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
    starts = [0, *(np.flatnonzero(np.diff(np.log(re_sorted)) > _ONE_RUN) + 1), len(order)]
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
        if keep.sum() >= _FEWEST:
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


def _content(text: str) -> list[tuple[int, str]]:
    """Lines with something on them that is no remark, with their numbers."""
    numbered = enumerate(text.lstrip("\ufeff").splitlines(), start=1)
    return [(n, s.strip()) for n, s in numbered if s.strip() and not s.strip().startswith("#")]


def _cells(line: str) -> list[str]:
    if "," in line or ";" in line:
        return [cell.strip() for cell in re.split(r"[,;]", line)]
    return line.split()


def _numbers(line: str) -> list[float] | None:
    try:
        values = [float(cell) for cell in _cells(line)]
    except ValueError:
        return None
    return values if all(map(math.isfinite, values)) else None


def _check_heading(names: list[str], heading: str, line: int, file: str) -> None:
    missing = [name for name in _COLUMNS[:3] if name not in names]
    strange = [name for name in names if name not in _COLUMNS]
    if missing or strange or len(set(names)) != len(names):
        says = (
            "the first line names the columns: reynolds, alpha_deg, cl and, where measured, cd "
            "and cm, each once"
        )
        raise DesignFileError((_problem("POLAR-HEADING", file, line, heading, says),))


def _row(
    names: list[str], text: str, line: int, file: str, problems: list[Problem]
) -> dict[str, float]:
    cells = _cells(text)
    if len(cells) != len(names):
        says = f"this line has {len(cells)} columns where the heading names {len(names)}"
        problems.append(_problem("POLAR-COLUMNS", file, line, text, says))
        return {}
    row: dict[str, float] = {}
    for name, cell in zip(names, cells, strict=True):
        if cell == "" and name in ("cd", "cm"):
            continue
        try:
            value = float(cell)
        except ValueError:
            value = math.nan
        low, high = _LIMITS[name]
        if not math.isfinite(value):
            says = f"{name} must be a plain number"
            problems.append(_problem("POLAR-NUMBER", file, line, cell, says))
        elif not low <= value <= high or (name == "cd" and value == 0.0):
            says = f"{name} must lie between {low:g} and {high:g}"
            if name == "cd":
                says = "drag must lie above 0 and not above 5"
            problems.append(_problem("POLAR-RANGE", file, line, cell, says))
        else:
            row[name] = value
    return row


def _few(rows: list[dict[str, float]], file: str) -> list[Problem]:
    logs = np.sort(np.log([row["reynolds"] for row in rows])) if rows else np.zeros(0)
    groups = np.split(logs, np.flatnonzero(np.diff(logs) > _ONE_RUN) + 1)
    return [
        _problem(
            "POLAR-FEW",
            file,
            None,
            f"Re {math.exp(group[0]):.0f}" if len(group) else "",
            f"a run needs at least {_FEWEST} readings of lift; there are {len(group)}",
        )
        for group in groups
        if len(group) < _FEWEST
    ]


def _outline_shape(points: Array, file: str) -> SectionShape:
    x, z = points[:, 0], points[:, 1]
    nose = int(np.argmin(x))
    tail_x = 0.5 * (x[0] + x[-1])
    length = float(tail_x - x[nose])
    if length <= 0.0 or nose in (0, len(points) - 1):
        says = "the outline runs from the trailing edge over the nose and back"
        raise DesignFileError((_problem("COORDINATES-ORDER", file, None, "", says),))
    tail_z = 0.5 * (z[0] + z[-1])
    scaled = np.stack([(x - x[nose]) / length, (z - tail_z) / length], axis=1)
    first, second = scaled[: nose + 1][::-1], scaled[nose:]
    if np.any(np.diff(first[:, 0]) < -_SLACK) or np.any(np.diff(second[:, 0]) < -_SLACK):
        says = "each side of the outline must run aft without turning back"
        raise DesignFileError((_problem("COORDINATES-ORDER", file, None, "", says),))
    places = np.linspace(0.0, 1.0, 101)
    over = np.interp(places, first[:, 0], first[:, 1])
    under = np.interp(places, second[:, 0], second[:, 1])
    gap: Array = over - under
    upper, lower = (first, second) if gap.sum() >= 0.0 else (second, first)
    if np.any(np.sign(gap.sum()) * gap < -_SLACK):
        says = "the lower side crosses the upper side"
        raise DesignFileError((_problem("COORDINATES-CROSSED", file, None, "", says),))
    return profile_shape(upper, lower)


# How far a side may run back or the sides cross: what rounding in the third decimal can do.
_SLACK = 1.5e-3


def _problem(code: str, file: str, line: int | None, given: str, text: str) -> Problem:
    return Problem(code=code, file=file, line=line, path="", given=given[:60], text=text)
