"""Handmade flat parts for the drawing tests: invented, plausible, every kind once."""

from __future__ import annotations

import numpy as np

from foamwright.airframe import Hand
from foamwright.flat.model import FlatPart, FlatSet, FoldLine, MarkLine, NotDrawn

BOTH = (Hand.RIGHT, Hand.LEFT)
ONE = (Hand.CENTRE,)


def ring(*points: tuple[float, float]) -> np.ndarray:
    """Millimetres to metres."""
    return np.array(points, dtype=float) / 1000.0


def part(
    code: str,
    title: str,
    outline: np.ndarray,
    *,
    hands: tuple[Hand, ...] = ONE,
    holes: tuple[np.ndarray, ...] = (),
    folds: tuple[FoldLine, ...] = (),
    marks: tuple[MarkLine, ...] = (),
    stiff: tuple[float, float] | None = (1.0, 0.0),
) -> FlatPart:
    """One part of 5 mm board at 300 g/m²."""
    area = _area(outline) - sum(abs(_area(hole)) for hole in holes)
    return FlatPart(
        code=code,
        title=title,
        path="surface.wing",
        hands=hands,
        stock="board5",
        thickness=0.005,
        face_up="upper face up",
        outline=outline,
        holes=holes,
        folds=folds,
        marks=marks,
        stiff=None if stiff is None else np.array(stiff),
        area=area,
        mass=0.3 * area,
    )


def _area(points: np.ndarray) -> float:
    x, y = points.T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def sample_set() -> FlatSet:
    """A small aeroplane: a folded wing, tips, a body with slots, formers, strips."""
    wing = part(
        "WING-INNER-SKIN",
        "wing, inner panel, skin",
        ring((0, 0), (420, 12), (420, 330), (0, 360)),
        hands=BOTH,
        folds=(
            FoldLine(start=ring((0, 178))[0], end=ring((420, 170))[0], angle=1.5, away=True),
            FoldLine(start=ring((0, 187))[0], end=ring((420, 179))[0], angle=1.6, away=True),
        ),
        marks=(
            MarkLine(points=ring((0, 240), (420, 236)), text="balance, foremost"),
            MarkLine(points=ring((0, 228), (420, 225)), text="balance, aftmost"),
        ),
    )
    side = part(
        "BODY-SIDE",
        "fuselage, side",
        ring((0, 0), (300, -12), (620, 18), (620, 40), (330, 70), (180, 78), (0, 52)),
        hands=BOTH,
        holes=(
            ring((150, 40), (150, 46), (250, 46), (250, 40)),
            ring((182, 10), (182, 15), (230, 15), (230, 10)),
            ring((40, 20), (40, 28), (52, 28), (52, 20)),
        ),
    )
    small = [
        part(
            f"BODY-FORMER-{k}",
            f"fuselage, former {k}",
            ring((0, 0), (w, 0), (w, h), (0, h)),
            stiff=(0.0, 1.0),
        )
        for k, (w, h) in enumerate(((52, 48), (56, 60), (50, 64), (30, 22)), start=1)
    ]
    return FlatSet(
        design="Sample",
        variant="as drawn",
        revision="A",
        parts=(
            wing,
            part(
                "WING-TIP",
                "wing, plug-on tip",
                ring((0, 0), (190, 30), (190, 150), (0, 170)),
                hands=BOTH,
            ),
            part("WING-SPAR", "wing, spar", ring((0, 0), (640, 0), (640, 9), (0, 14)), hands=BOTH),
            side,
            part("BODY-BOTTOM", "fuselage, bottom", ring((0, 0), (610, 0), (610, 40), (0, 56))),
            part(
                "TAIL-HALF",
                "v-tail, one half",
                ring((0, 0), (205, 60), (205, 150), (0, 130)),
                hands=BOTH,
                stiff=(0.9578, 0.2873),
            ),
            part("PYLON", "motor pylon", ring((0, 0), (120, 0), (90, 88), (40, 88)), stiff=None),
            *small,
        ),
        not_drawn=(
            NotDrawn(
                code="WING-NOSE-CAP",
                title="wing, nose cap",
                path="surface.wing",
                reason="it is bent in two ways and has no flat shape",
                area=0.004,
                mass=0.0012,
            ),
        ),
    )
