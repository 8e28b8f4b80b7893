"""Troubles: what is wrong, at a place in the design's tree; the reader finds the line later."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches

from foamwright.units import to_unit

#: A place in the tree: keys, and list places counted from 0.
Loc = tuple[str | int, ...]

_LONGEST_GUESSED = 60  # difflib takes seconds on very long words
_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Guess:
    """A hint that is worked out only when it is shown; a hostile file asks for thousands."""

    word: object
    known: tuple[str, ...]

    def __str__(self) -> str:
        """Return a question that offers the nearest known word, or nothing."""
        near = nearest(self.word, self.known)
        return f'did you mean "{near}"?' if near else ""


class Absent:
    """Stands for a value that is not there."""


ABSENT = Absent()


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One thing wrong at one place."""

    code: str
    loc: Loc
    text: str
    hint: str | Guess = ""
    given: object = ABSENT  # where it is not what stands at `loc`


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A name that stands for something elsewhere in the file."""

    kind: (
        str  # "sheet", "tape or glue", "rod", "block", "propeller", "controller", "pack", "control"
    )
    name: str
    loc: Loc


@dataclass(frozen=True, slots=True)
class Report:
    """Collects the troubles of one table, and the names it uses."""

    loc: Loc = ()
    troubles: list[Trouble] = field(default_factory=list[Trouble])
    uses: list[Use] = field(default_factory=list[Use])
    length_unit: str = "mm"  # in which lengths are spoken of

    def at(self, *sub: str | int) -> Report:
        """Return a report for a table inside this one; it fills the same lists."""
        return Report((*self.loc, *sub), self.troubles, self.uses, self.length_unit)

    def say(self, code: str, text: str, *sub: str | int, hint: str | Guess = "") -> None:
        """Note a trouble at a key of this table."""
        self.troubles.append(Trouble(code=code, loc=(*self.loc, *sub), text=text, hint=hint))

    def use(self, kind: str, name: str | None, *sub: str | int) -> None:
        """Note that a key of this table names something elsewhere."""
        if name is not None:
            self.uses.append(Use(kind=kind, name=name, loc=(*self.loc, *sub)))

    def length(self, value: float) -> str:
        """Return a length in the file's own unit, for a sentence."""
        return f"{to_unit(value, self.length_unit):.4g} {self.length_unit}"


def meant(word: object, known: Iterable[str]) -> Guess:
    """Return a question that offers the nearest known word, or nothing where none is near."""
    return Guess(word, tuple(known))


def nearest(word: object, known: Iterable[str]) -> str:
    """Return the nearest known word, or nothing where none is near."""
    if not isinstance(word, str) or not word or len(word) > _LONGEST_GUESSED:
        return ""
    words = list(known)
    for candidate in words:
        if candidate.casefold() == word.casefold():
            return candidate
    near = get_close_matches(word, words, n=1, cutoff=0.6)
    return near[0] if near else ""


def listed(words: Iterable[str]) -> str:
    """Return words for a sentence: at most a dozen, quoted."""
    all_words = list(words)
    few = ", ".join(f'"{printable(word)}"' for word in all_words[:12])
    return few + (" and others" if len(all_words) > 12 else "")


def shown(value: object) -> str:
    """Return a value as the file would write it, on one line, shortened."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return printable(f'"{value[: _LONGEST_SHOWN + 1]}"', _LONGEST_SHOWN)
    if isinstance(value, int) and value.bit_length() > 200:
        return "a number of very many digits"
    if isinstance(value, dict):
        return "{...}" if value else "{}"
    if isinstance(value, list | tuple):
        return _shown_list(value)  # pyright: ignore[reportUnknownArgumentType]
    return printable(str(value), _LONGEST_SHOWN)


def printable(text: str, longest: int = 200) -> str:
    """Return text on one line, without what a terminal would obey, shortened."""
    clean = "".join(letter if letter.isprintable() else "?" for letter in text[: longest + 1])
    return clean if len(clean) <= longest else clean[: longest - 3] + "..."


def _shown_list(values: list[object] | tuple[object, ...]) -> str:
    text = "["
    for value in values:
        bit = "[...]" if isinstance(value, list) else shown(value)
        if len(text) + len(bit) > _LONGEST_SHOWN - 6:
            return text + "...]"
        text += bit + ", "
    return text.removesuffix(", ") + "]"
