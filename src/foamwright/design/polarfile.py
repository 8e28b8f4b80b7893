"""A table of measured polars that a maker brings for a profiled section.

Plain columns: a heading line ::

    reynolds  alpha_deg  cl  cd  cm

and a row for each reading. Columns are parted by commas, semicolons, tabs or spaces; with commas
or semicolons a cell may be left empty where nothing was measured. ``cd`` and ``cm`` may be left
out altogether. A line that starts with ``#`` is a remark.
"""

from __future__ import annotations

import math
import re

from foamwright.design.model import MeasuredPolar
from foamwright.errors import DesignFileError, Problem

Row = tuple[float, float, float, float | None, float | None]

#: Readings whose Reynolds numbers differ by less than this belong to one run. [share]
ONE_RUN = 0.06
#: Fewest readings of lift in a run.
FEWEST_READINGS = 4
# What a reading may be; anything outside is a slip of the pen or of the columns.
_LIMITS = {
    "reynolds": (1.0e3, 1.0e8),
    "alpha_deg": (-180.0, 180.0),
    "cl": (-5.0, 5.0),
    "cd": (0.0, 5.0),
    "cm": (-3.0, 3.0),
}
_COLUMNS = tuple(_LIMITS)


def read_polar(text: str, *, file: str, source: str = "") -> MeasuredPolar:
    """Read a table of measured polars.

    Parameters
    ----------
    text : str
        The table, columns ``reynolds alpha_deg cl cd cm``, the last two optional.
    file : str
        What to call it in a complaint.
    source : str, optional
        Where the measurements come from; the file's name where nothing is said.

    Returns
    -------
    MeasuredPolar
        Its readings, as they stand.

    Raises
    ------
    DesignFileError
        With every problem found: ``POLAR-EMPTY``, ``POLAR-HEADING``, ``POLAR-COLUMNS``,
        ``POLAR-NUMBER``, ``POLAR-RANGE``, ``POLAR-FEW``.
    """
    lines = content_of(text)
    if not lines:
        raise DesignFileError((problem("POLAR-EMPTY", file, None, "", "there is no table in it"),))
    heading_line, heading = lines[0]
    names = [name.lower() for name in cells_of(heading)]
    _check_heading(names, heading, heading_line, file)
    problems: list[Problem] = []
    read = [_row(names, text, line, file, problems) for line, text in lines[1:]]
    rows = [row for row in read if row is not None]
    if not problems:
        problems += _few(rows, file)
    if problems:
        raise DesignFileError(tuple(problems))
    return MeasuredPolar(source=source or file, rows=tuple(rows))


def content_of(text: str) -> list[tuple[int, str]]:
    """Return the lines with something on them that is no remark, with their numbers."""
    numbered = enumerate(text.lstrip("\ufeff").splitlines(), start=1)
    return [(n, s.strip()) for n, s in numbered if s.strip() and not s.strip().startswith("#")]


def cells_of(line: str) -> list[str]:
    """Return the cells of a line, parted by commas, semicolons, tabs or spaces."""
    if "," in line or ";" in line:
        return [cell.strip() for cell in re.split(r"[,;]", line)]
    return line.split()


def _check_heading(names: list[str], heading: str, line: int, file: str) -> None:
    missing = [name for name in _COLUMNS[:3] if name not in names]
    strange = [name for name in names if name not in _COLUMNS]
    if missing or strange or len(set(names)) != len(names):
        says = (
            "the first line names the columns: reynolds, alpha_deg, cl and, where measured, cd "
            "and cm, each once"
        )
        raise DesignFileError((problem("POLAR-HEADING", file, line, heading, says),))


def _row(names: list[str], text: str, line: int, file: str, problems: list[Problem]) -> Row | None:
    cells = cells_of(text)
    if len(cells) != len(names):
        says = f"this line has {len(cells)} columns where the heading names {len(names)}"
        problems.append(problem("POLAR-COLUMNS", file, line, text, says))
        return None
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
            problems.append(problem("POLAR-NUMBER", file, line, cell, says))
        elif not low <= value <= high or (name == "cd" and value == 0.0):
            says = f"{name} must lie between {low:g} and {high:g}"
            if name == "cd":
                says = "drag must lie above 0 and not above 5"
            problems.append(problem("POLAR-RANGE", file, line, cell, says))
        else:
            row[name] = value
    if not row.keys() >= {"reynolds", "alpha_deg", "cl"}:
        return None
    alpha = math.radians(row["alpha_deg"])
    return row["reynolds"], alpha, row["cl"], row.get("cd"), row.get("cm")


def _few(rows: list[Row], file: str) -> list[Problem]:
    runs: list[list[float]] = [[]]
    for reynolds in sorted(row[0] for row in rows):
        if runs[-1] and math.log(reynolds / runs[-1][-1]) > ONE_RUN:
            runs.append([])
        runs[-1].append(reynolds)
    return [
        problem(
            "POLAR-FEW",
            file,
            None,
            f"Re {run[0]:.0f}" if run else "",
            f"a run needs at least {FEWEST_READINGS} readings of lift; there are {len(run)}",
        )
        for run in runs
        if len(run) < FEWEST_READINGS
    ]


def problem(code: str, file: str, line: int | None, given: str, text: str) -> Problem:
    """Return a problem of a file that is not the design file itself."""
    return Problem(code=code, file=file, line=line, path="", given=given[:60], text=text)
