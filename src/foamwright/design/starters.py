"""The example designs, as text to start from."""

from __future__ import annotations

import difflib
import re
from importlib import resources

from foamwright.errors import FoamwrightError

#: The example aeroplanes, lead example first.
STARTERS = ("dunlin", "knot", "curlew", "avocet", "godwit")

_NAME_LINE = re.compile(r"^name\s*=.*$", re.MULTILINE)


def starter_text(like: str, *, name: str | None = None) -> str:
    """Return the text of an example's design file, renamed where `name` is given.

    Parameters
    ----------
    like : str
        One of :data:`STARTERS`.
    name : str, optional
        Name for the new aeroplane.

    Returns
    -------
    str
        A complete design file with its comments.

    Raises
    ------
    FoamwrightError
        When there is no such example.
    """
    if like not in STARTERS:
        near = difflib.get_close_matches(like, STARTERS, 1)
        hint = f' did you mean "{near[0]}"?' if near else ""
        raise FoamwrightError(f'no example "{like}"; there are {", ".join(STARTERS)}.{hint}')
    folder = resources.files("foamwright.design") / "examples"
    text = (folder / f"{like}.toml").read_text(encoding="utf-8")
    if name is None:
        return text
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    return _NAME_LINE.sub(lambda _: f'name = "{quoted}"', text, count=1)
