"""Paper: sizes, margins and the window that is left for the drawing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from foamwright.errors import DomainError


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A paper size, upright."""

    name: str
    width: float  # mm
    height: float  # mm, >= width

    def size(self, *, landscape: bool) -> tuple[float, float]:
        """Return width and height as it lies. [mm]"""
        return (self.height, self.width) if landscape else (self.width, self.height)


def _named(*papers: Paper) -> Mapping[str, Paper]:
    return MappingProxyType({paper.name: paper for paper in papers})


#: ISO 216 series A; North American sizes after ASME Y14.1 (values from memory).
PAPERS = _named(
    Paper(name="A4", width=210.0, height=297.0),
    Paper(name="A3", width=297.0, height=420.0),
    Paper(name="A2", width=420.0, height=594.0),
    Paper(name="A1", width=594.0, height=841.0),
    Paper(name="A0", width=841.0, height=1189.0),
    Paper(name="Letter", width=215.9, height=279.4),
    Paper(name="Legal", width=215.9, height=355.6),
    Paper(name="Tabloid", width=279.4, height=431.8),
    Paper(name="Arch D", width=609.6, height=914.4),
)


def paper_named(name: str) -> Paper:
    """Return a paper by its name, in any case; DomainError where it is unknown."""
    for paper in PAPERS.values():
        if paper.name.casefold() == name.casefold():
            return paper
    raise DomainError(f'no paper is called "{name}"; known are {", ".join(PAPERS)}')


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A page as it lies, with its margins; the strips left and below carry the check bars."""

    paper: Paper
    landscape: bool
    margin: float = 10.0  # mm, right and above; printers reach to 6.35 mm (common practice)
    strip: float = 8.0  # mm, added left and below

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the page. [mm]"""
        return self.paper.size(landscape=self.landscape)

    @property
    def corner(self) -> tuple[float, float]:
        """Lower left of the window on the page. [mm]"""
        return (self.margin + self.strip, self.margin + self.strip)

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of the window for the drawing. [mm]"""
        lost = 2.0 * self.margin + self.strip
        width, height = self.size
        return (width - lost, height - lost)
