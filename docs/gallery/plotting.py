"""A few lines of SVG: axes, curves told apart by pattern, points told apart by shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape

INK, GREY, PAPER, ACCENT = "#1d2a33", "#8a949b", "#fbfaf6", "#b4442a"
DASHES = ("", "9 4", "2 3", "12 3 2 3", "5 2 2 2 2 2")
FONT = "font-family='DejaVu Sans, Arial, sans-serif'"


@dataclass
class Panel:
    """One set of axes, in its own box of the figure."""

    box: tuple[float, float, float, float]  # x, y, width, height of the plotting area
    x_range: tuple[float, float]
    y_range: tuple[float, float]
    x_ticks: Sequence[float]
    y_ticks: Sequence[float]
    x_label: str
    y_label: str
    title: str
    parts: list[str] = field(default_factory=list)

    def at(self, x: float, y: float) -> tuple[float, float]:
        left, top, width, height = self.box
        u = (x - self.x_range[0]) / (self.x_range[1] - self.x_range[0])
        v = (y - self.y_range[0]) / (self.y_range[1] - self.y_range[0])
        return left + u * width, top + (1.0 - v) * height

    def curve(self, x, y, *, dash: int = 0, colour: str = INK, width: float = 1.8) -> None:
        points = " ".join("{:.2f},{:.2f}".format(*self.at(a, b)) for a, b in zip(x, y, strict=True))
        pattern = f" stroke-dasharray='{DASHES[dash]}'" if DASHES[dash] else ""
        self.parts.append(
            f"<polyline points='{points}' fill='none' stroke='{colour}' "
            f"stroke-width='{width}'{pattern} clip-path='url(#{self.key})'/>"
        )

    def band(self, x, low, high, *, colour: str = ACCENT) -> None:
        there = [self.at(a, b) for a, b in zip(x, high, strict=True)]
        back = [self.at(a, b) for a, b in zip(x, low, strict=True)][::-1]
        points = " ".join(f"{a:.2f},{b:.2f}" for a, b in there + back)
        self.parts.append(
            f"<polygon points='{points}' fill='{colour}' fill-opacity='0.13' "
            f"clip-path='url(#{self.key})'/>"
        )

    def points(self, x, y, *, shape: int = 0, colour: str = ACCENT) -> None:
        for a, b in zip(x, y, strict=True):
            if self._inside(a, b):
                self.parts.append(marker(*self.at(a, b), shape, colour))

    def _inside(self, x: float, y: float) -> bool:
        (x0, x1), (y0, y1) = self.x_range, self.y_range
        return x0 <= x <= x1 and y0 <= y <= y1

    @property
    def key(self) -> str:
        return f"clip{self.box[0]:.0f}-{self.box[1]:.0f}"

    def svg(self) -> str:
        left, top, width, height = self.box
        lines = [
            (
                f"<clipPath id='{self.key}'><rect x='{left}' y='{top}' width='{width}' "
                f"height='{height}'/></clipPath>"
            ),
            (
                f"<text x='{left}' y='{top - 12}' {FONT} font-size='14' font-weight='bold' "
                f"fill='{INK}'>{escape(self.title)}</text>"
            ),
        ]
        for tick in self.x_ticks:
            x, _ = self.at(tick, self.y_range[0])
            lines.append(_line(x, top, x, top + height, GREY, 0.4))
            lines.append(_text(x, top + height + 17, f"{tick + 0.0:g}", "middle"))
        for tick in self.y_ticks:
            _, y = self.at(self.x_range[0], tick)
            lines.append(_line(left, y, left + width, y, GREY, 0.4))
            lines.append(_text(left - 7, y + 4, f"{tick + 0.0:g}", "end"))
        for axis, span in ((0, self.x_range), (1, self.y_range)):
            if span[0] < 0.0 < span[1]:
                a = self.at(0.0, self.y_range[0]) if axis == 0 else self.at(self.x_range[0], 0.0)
                b = self.at(0.0, self.y_range[1]) if axis == 0 else self.at(self.x_range[1], 0.0)
                lines.append(_line(*a, *b, INK, 0.8))
        lines += self.parts
        lines.append(
            f"<rect x='{left}' y='{top}' width='{width}' height='{height}' fill='none' "
            f"stroke='{INK}' stroke-width='1.1'/>"
        )
        lines.append(_text(left + width / 2, top + height + 36, self.x_label, "middle"))
        lines.append(
            f"<text transform='translate({left - 42},{top + height / 2}) rotate(-90)' {FONT} "
            f"font-size='12' fill='{INK}' text-anchor='middle'>{escape(self.y_label)}</text>"
        )
        return "\n".join(lines)


def marker(x: float, y: float, shape: int, colour: str) -> str:
    style = f"fill='{PAPER}' stroke='{colour}' stroke-width='1.4'"
    r = 3.4
    if shape == 0:
        return f"<circle cx='{x:.2f}' cy='{y:.2f}' r='{r}' {style}/>"
    if shape == 1:
        return f"<rect x='{x - r:.2f}' y='{y - r:.2f}' width='{2 * r}' height='{2 * r}' {style}/>"
    corners = {
        2: [(0, -1.25), (1.1, 0.8), (-1.1, 0.8)],
        3: [(0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)],
        4: [(0, 1.25), (1.1, -0.8), (-1.1, -0.8)],
    }[shape]
    points = " ".join(f"{x + r * a:.2f},{y + r * b:.2f}" for a, b in corners)
    return f"<polygon points='{points}' {style}/>"


def legend(x: float, y: float, rows: Sequence[tuple[str, int | None, int | None]], *, step=19):
    """Rows of (text, dash of the curve, shape of the points); None where there is none."""
    lines = []
    for k, (text, dash, shape) in enumerate(rows):
        here = y + k * step
        if dash is not None:
            pattern = f" stroke-dasharray='{DASHES[dash]}'" if DASHES[dash] else ""
            lines.append(
                f"<line x1='{x}' y1='{here}' x2='{x + 34}' y2='{here}' stroke='{INK}' "
                f"stroke-width='1.8'{pattern}/>"
            )
        if shape is not None:
            lines.append(marker(x + 17, here, shape, ACCENT))
        lines.append(_text(x + 42, here + 4, text, "start"))
    return "\n".join(lines)


def figure(width: float, height: float, parts: Sequence[str], *, title: str, foot: str) -> str:
    return "\n".join(
        [
            (
                f"<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}' "
                f"viewBox='0 0 {width} {height}' role='img'>"
            ),
            f"<title>{escape(title)}</title>",
            f"<rect width='{width}' height='{height}' fill='{PAPER}'/>",
            (
                f"<text x='24' y='30' {FONT} font-size='17' font-weight='bold' fill='{INK}'>"
                f"{escape(title)}</text>"
            ),
            *parts,
            (
                f"<text x='24' y='{height - 12}' {FONT} font-size='11' fill='{GREY}'>"
                f"{escape(foot)}</text>"
            ),
            "</svg>",
            "",
        ]
    )


def _line(x1, y1, x2, y2, colour, width) -> str:
    return (
        f"<line x1='{x1:.2f}' y1='{y1:.2f}' x2='{x2:.2f}' y2='{y2:.2f}' stroke='{colour}' "
        f"stroke-width='{width}'/>"
    )


def _text(x, y, text, anchor) -> str:
    return (
        f"<text x='{x:.2f}' y='{y:.2f}' {FONT} font-size='12' fill='{INK}' "
        f"text-anchor='{anchor}'>{escape(text)}</text>"
    )
