"""Lines of a design file: which key stands in which line.

TOML readers tell lines for syntax errors only. This scanner reads text that is TOML already
and notes the line of every key and of every list member.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Mapping

from foamwright.design.trouble import Loc

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_BASIC = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
_LONG_BASIC = re.compile(r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}', re.DOTALL)
_SCALAR = re.compile(r"[^,\]}\n#]*")
_ESCAPE = re.compile(r'\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|(["\\bfnrt]))')
_ESCAPED = {'"': '"', "\\": "\\", "b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t"}


def line_map(text: str) -> Mapping[Loc, int]:
    """Return the line of every key and list member, counted from 1.

    Parameters
    ----------
    text : str
        Text that a TOML reader has accepted.
    """
    scanner = _Scanner(text)
    scanner.scan()
    return scanner.lines


def line_of(lines: Mapping[Loc, int], loc: Loc) -> int | None:
    """Return the line of a place, or of the nearest table round it; None where there is none."""
    return next((lines[loc[:end]] for end in range(len(loc), 0, -1) if loc[:end] in lines), None)


class _Scanner:
    """Goes through the text once."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.lines: dict[Loc, int] = {}
        self._ends = [found.start() for found in re.finditer("\n", text)]
        self._members: dict[Loc, int] = {}  # list of tables: number of members so far

    def scan(self) -> None:
        """Read every header and every statement."""
        table: Loc = ()
        self._skip(_BLANK)
        while self.place < len(self.text):
            before = self.place
            if self.text[self.place] == "[":
                table = self._header()
            else:
                self._statement(table)
            self._skip(_BLANK)
            if self.place == before:  # not TOML after all: never turn in a circle
                break

    def _line(self) -> int:
        return bisect_right(self._ends, self.place - 1) + 1

    def _skip(self, pattern: re.Pattern[str]) -> None:
        found = pattern.match(self.text, self.place)
        if found is not None:
            self.place = found.end()

    def _note(self, loc: Loc) -> None:
        self.lines.setdefault(loc, self._line())

    def _header(self) -> Loc:
        is_member = self.text.startswith("[[", self.place)
        line = self._line()
        self.place += 2 if is_member else 1
        loc: Loc = ()
        keys = self._key()
        for number, key in enumerate(keys):
            loc += (key,)
            last = number == len(keys) - 1
            if loc in self._members and not (last and is_member):
                loc += (self._members[loc] - 1,)
            self.lines.setdefault(loc, line)
        if is_member:
            self._members[loc] = self._members.get(loc, 0) + 1
            loc += (self._members[loc] - 1,)
            self.lines.setdefault(loc, line)
        end = self.text.find("\n", self.place)
        self.place = len(self.text) if end < 0 else end
        return loc

    def _statement(self, table: Loc) -> None:
        """Read `key = value`, at the top of a line or inside an inline table."""
        loc = table
        line = self._line()
        for key in self._key():
            loc = (*loc, key)
            self.lines.setdefault(loc, line)
        self._skip(_SPACE)
        if self.text.startswith("=", self.place):
            self.place += 1
            self._skip(_SPACE)
            self._value(loc)

    def _key(self) -> list[str]:
        keys: list[str] = []
        while True:
            self._skip(_SPACE)
            keys.append(self._one_key())
            self._skip(_SPACE)
            if not self.text.startswith(".", self.place):
                return keys
            self.place += 1

    def _one_key(self) -> str:
        if self.text.startswith('"', self.place):
            found = _BASIC.match(self.text, self.place)
            if found is not None:
                self.place = found.end()
                return _ESCAPE.sub(_unescaped, found[1])
        if self.text.startswith("'", self.place):
            end = self.text.find("'", self.place + 1)
            if end > 0:
                key = self.text[self.place + 1 : end]
                self.place = end + 1
                return key
        found = _BARE_KEY.match(self.text, self.place)
        if found is None:
            return ""
        self.place = found.end()
        return found[0]

    def _value(self, loc: Loc) -> None:
        start = self.text[self.place : self.place + 3]
        if start == "'''":
            end = self.text.find("'''", self.place + 3)
            self.place = len(self.text) if end < 0 else end + 3
            while self.text.startswith("'", self.place):  # up to two more belong to the text
                self.place += 1
        elif start == '"""':
            self._skip(_LONG_BASIC)
        elif start[:1] == '"':
            self._skip(_BASIC)
        elif start[:1] == "'":
            end = self.text.find("'", self.place + 1)
            self.place = len(self.text) if end < 0 else end + 1
        elif start[:1] == "[":
            self._list(loc)
        elif start[:1] == "{":
            self._inline(loc)
        else:
            self._skip(_SCALAR)

    def _list(self, loc: Loc) -> None:
        self.place += 1
        member = 0
        while True:
            self._skip(_BLANK)
            if self.place >= len(self.text) or self.text[self.place] == "]":
                self.place += 1
                return
            before = self.place
            self._note((*loc, member))
            self._value((*loc, member))
            self._skip(_BLANK)
            if self.text.startswith(",", self.place):
                self.place += 1
                member += 1
            elif self.place == before:
                return

    def _inline(self, loc: Loc) -> None:
        self.place += 1
        while True:
            self._skip(_BLANK)
            if self.place >= len(self.text) or self.text[self.place] == "}":
                self.place += 1
                return
            before = self.place
            self._statement(loc)
            self._skip(_BLANK)
            if self.text.startswith(",", self.place):
                self.place += 1
            elif self.place == before:
                return


def _unescaped(found: re.Match[str]) -> str:
    short, long, letter = found.groups()
    if letter is not None:
        return _ESCAPED[letter]
    code = int(short or long, 16)
    return chr(code) if code < 0x110000 else "?"
