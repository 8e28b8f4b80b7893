"""Heights of a creased sheet, from rises or from fold angles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise

from foamwright.design.model import Point

# A height of 1e-13 chords is far below anything that can be cut.
_CLOSE_ENOUGH = 1e-13
_MOST_HALVINGS = 80


def nodes_by_rise(places: Sequence[float], *, rises: Sequence[float]) -> tuple[Point, ...]:
    """Return the nodes of a creased sheet from the height of each crease.

    Parameters
    ----------
    places : sequence of float
        Places of the creases, from nose to trailing edge, over the chord. [-]
    rises : sequence of float
        Heights above the chord line, over the chord. [-]

    Returns
    -------
    tuple of (float, float)
        Nodes from (0, 0) to (1, 0). [-]
    """
    return ((0.0, 0.0), *zip(places, rises, strict=True), (1.0, 0.0))


def nodes_by_angle(places: Sequence[float], *, angles: Sequence[float]) -> tuple[Point, ...] | None:
    """Return the nodes of a creased sheet from the fold at each crease.

    Parameters
    ----------
    places : sequence of float
        Places of the creases, from nose to trailing edge, over the chord. [-]
    angles : sequence of float
        Change of direction at each crease, + for a hump on top. [rad]

    Returns
    -------
    tuple of (float, float) or None
        Nodes from (0, 0) to (1, 0), over the chord; None where the folds turn the sheet by
        half a turn or more, so that no direction of the nose brings it back. [-]

    Notes
    -----
    The direction of the first facet is the one unknown. The height of the trailing edge
    grows with it, from minus to plus infinity, so there is exactly one answer; it is found
    by halving.
    """
    turned = list(accumulate(angles, initial=0.0))
    low, high = max(turned) - 0.5 * math.pi, min(turned) + 0.5 * math.pi
    if low >= high:
        return None
    steps = [after - before for before, after in pairwise((0.0, *places, 1.0))]

    def heights(nose: float) -> list[float]:
        slopes = (math.tan(nose - turn) for turn in turned)
        return list(accumulate(slope * step for slope, step in zip(slopes, steps, strict=True)))

    for _ in range(_MOST_HALVINGS):
        middle = 0.5 * (low + high)
        error = heights(middle)[-1]
        if abs(error) < _CLOSE_ENOUGH:
            break
        low, high = (low, middle) if error > 0.0 else (middle, high)
    inner = heights(0.5 * (low + high))[:-1]
    return nodes_by_rise(places, rises=inner)
