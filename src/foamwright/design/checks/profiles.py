"""Section coordinates and measured polars: read from files beside the design, and checked."""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path, PurePosixPath, PureWindowsPath

from foamwright.design.model import MeasuredPolar, Point
from foamwright.design.polarfile import read_polar
from foamwright.design.trouble import Report
from foamwright.errors import DesignFileError

_LARGEST_FILE = 50_000  # bytes; 300 points need about 6,000, 1,000 readings about 40,000
_MOST_POINTS = 300
_LEAST_POINTS = 6
_BETWEEN = re.compile(r"\s*[,;]\s*|\s+")
_EDGE = 0.02  # how near nose and trailing edge come to 0 and 1


def beside(name: str, folder: Path | None) -> Path | None:
    """Return the path of a file in the design's own folder or below; None for any other.

    A design that somebody sends must not reach into the rest of the disk.
    """
    posix, windows = PurePosixPath(name), PureWindowsPath(name)
    outside = posix.is_absolute() or windows.is_absolute() or bool(windows.drive)
    if folder is None or outside or ".." in posix.parts or ".." in windows.parts:
        return None
    return folder / name


def read_coordinates(name: str, folder: Path | None, report: Report) -> tuple[Point, ...] | None:
    """Return the points of a coordinates file; None where it cannot be used."""
    text = _text_beside(name, folder, report, "COORDINATES-FILE")
    return None if text is None else _points_of(text, report)


def read_measured(name: str, folder: Path | None, report: Report) -> MeasuredPolar | None:
    """Return the readings of a file of measured polars; None where it cannot be used."""
    text = _text_beside(name, folder, report, "POLAR-FILE")
    if text is None:
        return None
    try:
        return read_polar(text, file=name)
    except DesignFileError as error:
        first = error.problems[0]
        where = "" if first.line is None else f"Line {first.line} of the file: "
        more = len(error.problems) - 1
        rest = f" There are {more} more like it." if more else ""
        report.say("POLAR-FILE", f"{where}{first.text}.{rest}")
        return None


def _text_beside(name: str, folder: Path | None, report: Report, code: str) -> str | None:
    path = beside(name, folder)
    if path is None:
        report.say(code, "The file must lie beside the design file or in a folder below it.")
        return None
    try:
        if not path.is_file():
            report.say(code, "There is no such file beside the design file.")
            return None
        with path.open("rb") as file:
            raw = file.read(_LARGEST_FILE + 1)
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError):
        report.say(code, "The file cannot be read as plain UTF-8 text.")
        return None
    if len(raw) > _LARGEST_FILE:
        report.say(code, "The file is far too large for one section.")
        return None
    return text


def check_coordinates(points: Sequence[Point], report: Report) -> bool:
    """Return whether the points run round a section as they should; say what is odd."""
    odd = _odd(points)
    if odd:
        report.say("COORDINATES-ODD", odd)
    return not odd


def _points_of(text: str, report: Report) -> tuple[Point, ...] | None:
    points: list[Point] = []
    for number, line in enumerate(text.splitlines(), start=1):
        stripped = line.strip()
        if not stripped or stripped.startswith("#"):
            continue
        point = _point_of(stripped)
        if point is not None:
            points.append(point)
        elif points or number > 1:  # the first line may be a heading
            report.say("COORDINATES-FILE", f"Line {number} of the file is not two numbers: x, z.")
            return None
    if not _LEAST_POINTS <= len(points) <= _MOST_POINTS:
        wanted = f"{_LEAST_POINTS} to {_MOST_POINTS} points are wanted"
        report.say("COORDINATES-FILE", f"{wanted}; the file has {len(points)}.")
        return None
    return tuple(points)


def _point_of(line: str) -> Point | None:
    cells = _BETWEEN.split(line)
    if len(cells) != 2:
        return None
    try:
        x, z = float(cells[0]), float(cells[1])
    except ValueError:
        return None
    return (x, z) if math.isfinite(x) and math.isfinite(z) else None


def _odd(points: Sequence[Point]) -> str:
    nose = min(range(len(points)), key=lambda place: points[place][0])
    upper, lower = points[: nose + 1][::-1], points[nose:]
    if len(upper) < 3 or len(lower) < 3:
        return (
            "The points must run from the trailing edge over the upper side to the nose and back "
            "along the lower side."
        )
    if abs(points[nose][0]) > _EDGE or any(
        abs(side[-1][0] - 1.0) > _EDGE for side in (upper, lower)
    ):
        return "The nose must lie at x = 0 and both ends at the trailing edge, x = 1."
    if any(after[0] < before[0] for side in (upper, lower) for before, after in pairwise(side)):
        return "Along each side x must go steadily from the nose to the trailing edge."
    if max(abs(z) for _, z in points) > 0.5:
        return "The section is more than half a chord high; x and z are fractions of the chord."
    return _odd_thickness(upper, lower)


def _odd_thickness(upper: Sequence[Point], lower: Sequence[Point]) -> str:
    places = sorted({x for x, _ in (*upper, *lower) if _EDGE < x < 1.0 - _EDGE})
    above, below = [x for x, _ in upper], [x for x, _ in lower]
    depths = [_height(upper, above, x) - _height(lower, below, x) for x in places]
    if depths and max(depths) <= 0.0:
        return "The lower side comes first here; begin with the upper side."
    if not depths or min(depths) <= 0.0:
        return "Upper and lower side cross or touch between nose and trailing edge."
    return ""


def _height(side: Sequence[Point], xs: Sequence[float], x: float) -> float:
    """Height of one side at x, straight between its points. [-]"""
    place = min(max(bisect_left(xs, x), 1), len(xs) - 1)
    (x0, z0), (x1, z1) = side[place - 1], side[place]
    return z0 if x1 == x0 else z0 + (z1 - z0) * (x - x0) / (x1 - x0)
