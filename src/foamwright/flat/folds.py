"""Creases: where they lie in the plane, how far they are folded and which way."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import RuledSheet
from foamwright.flat.model import FoldLine
from foamwright.flat.unfold import Unfolded, cross

Array = NDArray[np.float64]

#: A sheet follows a bend this slight without a crease. Common practice, no source. [rad]
NO_FOLD = math.radians(0.5)


def fold_lines(sheet: RuledSheet, flat: Unfolded, *, is_turned: bool) -> tuple[FoldLine, ...]:
    """Fold lines of a creased sheet, on the part as seen before it is laid on the page.

    Parameters
    ----------
    sheet : RuledSheet
        The sheet in space, with the numbers of its creased nodes. [m]
    flat : Unfolded
        The same sheet in the plane. [m]
    is_turned : bool
        Whether the part is seen from the other side than :class:`Unfolded` shows it.

    Returns
    -------
    tuple of FoldLine
        One for every crease folded by half a degree or more. [m, rad]

    Notes
    -----
    The angle is the change of direction square to the crease, at mid length. Facets are taken
    there along their middle, so a twisted sheet gives its mean angle.
    """
    lines: list[FoldLine] = []
    for node in sheet.folds:
        angle = fold_angle(sheet, node)
        if abs(angle) < NO_FOLD:
            continue
        lines.append(
            FoldLine(
                start=flat.first[node],
                end=flat.second[node],
                angle=abs(angle),
                away=(angle < 0.0) != is_turned,
            )
        )
    return tuple(lines)


def fold_angle(sheet: RuledSheet, node: int) -> float:
    """Change of direction at a node, + towards the side (node to node) x (ruling). [rad]"""
    middle = 0.5 * (sheet.first + sheet.second)
    crease = sheet.second[node] - sheet.first[node]
    axis = crease / np.linalg.norm(crease)
    before, after = middle[node] - middle[node - 1], middle[node + 1] - middle[node]
    before = before - (before @ axis) * axis
    after = after - (after @ axis) * axis
    # Turning about the ruling carries "along the nodes" away from the upper side, hence minus.
    return -math.atan2(float(cross(before, after) @ axis), float(before @ after))
