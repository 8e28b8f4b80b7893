"""Say of faults found after reading where they stand in the design file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from foamwright.design.lines import line_map, line_of
from foamwright.design.paths import parse_path, resolve
from foamwright.design.textfile import parse, read_text
from foamwright.design.trouble import Loc
from foamwright.errors import DesignFileError, Problem


def shape_problems(
    file: str, faults: Sequence[tuple[str, str, str]], *, drawn: str
) -> tuple[Problem, ...]:
    """Return a problem for each part that cannot be made as drawn.

    Parameters
    ----------
    file : str
        The design file, as the user named it.
    faults : sequence of (variant, path, text)
        What is wrong with which part of which variant.
    drawn : str
        Name of the variant that the file draws; a fault it has is said once, without its name.

    Returns
    -------
    tuple of Problem
        In file order; without lines where the file is no longer what was read.
    """
    tree, lines = _reread(file)
    said: dict[tuple[str, str], Problem] = {}
    for variant, path, text in faults:
        loc = resolve(tree, parse_path(path) or ()) or ()
        where = "" if variant == drawn else f' (in the variant "{variant}")'
        problem = Problem(
            code="SHAPE-IMPOSSIBLE",
            file=file,
            line=line_of(lines, loc),
            path=path,
            given="",
            text=f"{text[:1].upper()}{text[1:]}{where}.",
        )
        said.setdefault((path, text), problem)
    return tuple(sorted(said.values(), key=lambda problem: problem.line or 0))


def _reread(file: str) -> tuple[dict[str, object], dict[Loc, int]]:
    try:
        text = read_text(Path(file), file)
        return parse(text, file), dict(line_map(text))
    except DesignFileError:
        return {}, {}
