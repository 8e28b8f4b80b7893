"""Hold modules and functions to the ceilings of the house: ``python tools/sizes.py``."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).resolve().parent.parent / "src"
MODULE_LINES = 600
BODY_LINES = 50


def complaints() -> Iterator[str]:
    """Yield a complaint for each module and function over its ceiling."""
    for path in sorted(SOURCE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        name = path.relative_to(SOURCE)
        if (lines := text.count("\n")) > MODULE_LINES:
            yield f"{name}: {lines} lines, ceiling {MODULE_LINES}"
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef) and (body := body_lines(node)) > BODY_LINES:
                yield f"{name}:{node.lineno}: {node.name} has {body} lines, ceiling {BODY_LINES}"


def body_lines(function: ast.FunctionDef) -> int:
    """Return the lines of a function's body, its docstring left out."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def main() -> int:
    """Print the complaints; 1 when there are any."""
    found = list(complaints())
    for line in found:
        print(line)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
