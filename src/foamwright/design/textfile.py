"""From a path to a tree: bytes, text, TOML; everything hostile is refused here."""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import NoReturn, cast

from foamwright.design.trouble import printable
from foamwright.errors import DesignFileError, Problem

#: Largest design file that is read; a whole aeroplane takes about 10,000 bytes. [byte]
LARGEST_FILE = 256_000

_DEEPEST = 16  # levels of tables and lists; the schema needs 8, a variant's unquoted path 12
_LONGEST_DOTTED = 12  # names in one dotted key

_AT_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")
_DOTTED = re.compile(r"""[ \t]*\.[ \t]*(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')""")
_MARKS = {
    b"\xef\xbb\xbf": "UTF-8 with a byte-order mark",
    b"\xff\xfe": "UTF-16",
    b"\xfe\xff": "UTF-16",
}
_SAVE_PLAIN = 'save it as "UTF-8" (without BOM) in your editor'

_MANY_DIGITS = re.compile(r"[0-9_]{4000}")

# The reader's words for what is wrong, and ours.
_SYNTAX = (
    ("Cannot declare", "NAME-TWICE", "A table of that name stands in the file already."),
    ("Cannot overwrite", "NAME-TWICE", "That name is used already in this table."),
    ("Duplicate inline", "NAME-TWICE", "That name is used already in this inline table."),
    ("Cannot mutate", "NAME-TWICE", "That table is closed already; nothing can be added to it."),
    ("Cannot redefine", "NAME-TWICE", "That name is used already in this table."),
    ("Expected '='", "TOML-SYNTAX", "After a name there must be an equals sign and a value."),
    ("Invalid initial character", "TOML-SYNTAX", "A name begins with a letter, digit, - or _."),
    ("Invalid value", "TOML-SYNTAX", "A number, text in quotes, list or table is wanted here."),
    ("Expected newline", "TOML-SYNTAX", "Nothing more may stand in this line after the value."),
    ("Invalid statement", "TOML-SYNTAX", "A line is a name, an equals sign and a value."),
    (
        "Illegal character '\\n'",
        "TOML-SYNTAX",
        "A text is not closed in its line: its quote is missing.",
    ),
    ("Illegal character", "TOML-SYNTAX", "Here is a character that may not stand in the file."),
    ("Unterminated string", "TOML-SYNTAX", "A text is not closed: its quote is missing."),
    ('Expected "', "TOML-SYNTAX", "A text is not closed: its quote is missing."),
    ("Unclosed array", "TOML-SYNTAX", "A list is not closed: its ] is missing."),
    ("Unclosed inline", "TOML-SYNTAX", "An inline table is not closed: its } is missing."),
    ("Expected ']", "TOML-SYNTAX", "The closing bracket of a table header is missing."),
    ("Found invalid character", "TOML-SYNTAX", "This character may not stand in the file."),
    ("Unescaped", "TOML-SYNTAX", "A backslash in text needs another before it."),
    ("Invalid hex", "TOML-SYNTAX", "A backslash in text needs another before it."),
    ("Escaped character", "TOML-SYNTAX", "This escape names no character."),
)


def read_text(path: Path, file: str) -> str:
    """Return the text of a design file.

    Parameters
    ----------
    path : Path
        The file.
    file : str
        How the user named it.

    Raises
    ------
    DesignFileError
        Where there is no such file, or it is no plain UTF-8 text of sane size.
    """
    try:
        # A pipe or a device would hold us for ever, so only plain files are opened.
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            _refuse(file, "FILE-UNREADABLE", "This is a folder; a design file is wanted.")
        if not stat.S_ISREG(mode):
            _refuse(file, "FILE-UNREADABLE", "This is no plain file.")
        with path.open("rb") as opened:
            raw = opened.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        _refuse(file, "FILE-MISSING", "There is no file of that name.")
    except (OSError, ValueError) as error:
        reason = (error.strerror or "") if isinstance(error, OSError) else str(error)
        _refuse(file, "FILE-UNREADABLE", f"The file cannot be read: {reason or 'unknown reason'}.")
    return _decoded(raw, file)


def check_text(text: str, file: str) -> None:
    """Refuse text that is empty, far too large or not plain.

    Raises
    ------
    DesignFileError
        Where it is.
    """
    try:
        raw = text.encode("utf-8")
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        _refuse(file, "FILE-ENCODING", "The text holds half a character.", line=line)
    _decoded(raw, file)


def parse(text: str, file: str) -> dict[str, object]:
    """Return the tree of a design file.

    Raises
    ------
    DesignFileError
        Where the text is not TOML, or nested too deeply.
    """
    _check_dotted(text, file)
    try:
        tree = tomllib.loads(text)
    except RecursionError:
        _too_deep(file, _deepest_line(text))
    except ValueError as error:  # TOML's own errors, and numbers of thousands of digits
        _refuse_syntax(str(error), text, file)
    if _is_deep(tree):
        _too_deep(file, _deepest_line(text))
    return tree


# ---------------------------------------------------------------- steps


def _decoded(raw: bytes, file: str) -> str:
    if len(raw) > LARGEST_FILE:
        text = (
            f"The file is larger than {LARGEST_FILE // 1000} kB; a whole aeroplane takes about 10."
        )
        _refuse(file, "FILE-TOO-LARGE", text)
    for mark, name in _MARKS.items():
        if raw.startswith(mark):
            text = f"The file is saved as {name}; plain UTF-8 is wanted."
            _refuse(file, "FILE-ENCODING", text, line=1, hint=_SAVE_PLAIN)
    if b"\0" in raw:
        line = raw.count(b"\n", 0, raw.index(b"\0")) + 1
        text = "The file holds zero bytes, so it is not plain text."
        _refuse(file, "FILE-ENCODING", text, line=line, hint=_SAVE_PLAIN)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        _refuse(file, "FILE-ENCODING", "This is not UTF-8 text.", line=line, hint=_SAVE_PLAIN)
    if not text.strip():
        hint = "foamwright new starts a design file of your own"
        _refuse(file, "FILE-EMPTY", "Nothing stands in this file.", hint=hint)
    return text


def _check_dotted(text: str, file: str) -> None:
    """Refuse very long dotted names before the TOML reader takes minutes over them."""
    for number, line in enumerate(text.split("\n"), start=1):
        if line.count(".") <= _LONGEST_DOTTED:
            continue
        run, end = 0, -1
        for found in _DOTTED.finditer(line):
            run = run + 1 if found.start() == end else 1
            end = found.end()
            if run > _LONGEST_DOTTED:
                _too_deep(file, number)


def _is_deep(tree: dict[str, object]) -> bool:
    """Whether tables and lists are nested beyond sense; without recursion of its own."""
    level: list[object] = [tree]
    for _ in range(_DEEPEST):
        inner: list[object] = []
        for node in level:
            if isinstance(node, Mapping):
                inner.extend(cast("Mapping[str, object]", node).values())
            elif isinstance(node, list):
                inner.extend(cast("list[object]", node))
        level = [node for node in inner if isinstance(node, dict | list)]
        if not level:
            return False
    return True


def _deepest_line(text: str) -> int:
    """Line with the most brackets, the likely culprit."""
    counts = [line.count("[") + line.count("{") for line in text.split("\n")]
    return counts.index(max(counts)) + 1


def _too_deep(file: str, line: int | None = None) -> NoReturn:
    text = "Brackets or dotted names are nested more deeply here than any design needs."
    _refuse(file, "TOML-TOO-DEEP", text, line=line)


def _refuse_syntax(message: str, text: str, file: str) -> NoReturn:
    found = _AT_PLACE.search(message)
    line = None
    if found is not None:
        line = int(found[1]) if found[1] else text.rstrip().count("\n") + 1
    given = text.split("\n")[line - 1].strip()[:200] if line is not None else ""
    code, sentence = "TOML-SYNTAX", "This line is not TOML."
    for words, its_code, ours in _SYNTAX:
        if message.startswith(words):
            code, sentence = its_code, ours
            break
    hint = ""
    if "digits" in message:
        code, sentence = "VALUE-TOO-LARGE", "A number in the file has thousands of digits."
        digits = _MANY_DIGITS.search(text)
        line = text.count("\n", 0, digits.start()) + 1 if digits else None
    elif code == "TOML-SYNTAX":
        hint = _syntax_hint(given)
    _refuse(file, code, sentence, line=line, hint=hint, given=printable(given, 60))


def _syntax_hint(line: str) -> str:
    """Return what slip of a beginner a line looks like, or nothing."""
    if re.search(r"=\s*[\[{]?\s*[“”„‘’]", line):
        return 'text takes straight quotes: "..."'
    if line.count('"') % 2:
        return "is a quote missing?"
    if re.match(r"""[^="']*=\s*[-+0-9.]+,[0-9]""", line):
        return "decimals take a point here, not a comma"
    if re.match(r"""[^="']*=\s*[-+]?[0-9][-+0-9./ ]*[^\s0-9,\]}#]""", line):
        return 'put a number with its unit in quotes, such as "18 cm"'
    if re.match(r"""[^="']*=\s*\[[^\]"]*[0-9]\s+[-+.0-9]""", line):
        return "is a comma missing between two numbers?"
    if word := re.match(r"""[^="']*=\s*(true|false|yes|no|on|off)\b""", line, re.IGNORECASE):
        return f"write {'true' if word[1].lower() in ('true', 'yes', 'on') else 'false'}"
    if re.match(r"""[^="']*=\s*[A-Za-z]""", line):
        return "text stands in quotes"
    return ""


def _refuse(
    file: str, code: str, text: str, *, line: int | None = None, hint: str = "", given: str = ""
) -> NoReturn:
    problem = Problem(code=code, file=file, line=line, path="", given=given, text=text, hint=hint)
    raise DesignFileError((problem,)) from None
