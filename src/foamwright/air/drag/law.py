"""How a part's drag area depends on speed: a few terms, for all parts at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.air.drag.friction import plate_friction
from foamwright.air.drag.model import Cause
from foamwright.air.drag.shapes import body_base, edge_base, rod_drag
from foamwright.air.drag.sources import Source
from foamwright.airframe.model import Group

Array = NDArray[np.float64]
Places = NDArray[np.intp]

#: Points of a part at which a propeller's wash is asked for.
SAMPLES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Law:
    """Drag area as a sum of terms; what is 0 is not there."""

    fixed: float = 0.0  # m², at any speed
    friction: float = 0.0  # m², wetted area times form factor
    length: float = 1.0  # m, of the Reynolds number of friction
    transition: float = 0.0  # its Reynolds number of transition
    base: float = 0.0  # m², back end of a body
    edge: float = 0.0  # m², edges that face aft
    ahead: float = 0.0  # m², drag area ahead of the back end besides friction
    rubbed: float = 0.0  # m², wetted area times form factor ahead of the back end
    rod: float = 0.0  # m², diameter times length
    diameter: float = 1.0  # m
    lean: float = 0.0  # sine of the angle between rod and wind


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DragPart:
    """One part and why it drags."""

    key: str
    path: str
    title: str
    group: Group
    cause: Cause
    source: Source
    count: int  # both hands of a pair are one part
    laws: tuple[Law, ...]  # of one of the pair
    points: Array  # (SAMPLES, 3) m, where it stands, over both hands


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DragParts:
    """All parts of an aeroplane that drag, ready for any state."""

    parts: tuple[DragPart, ...]
    points: Array  # (parts, SAMPLES, 3) m
    terms: dict[str, Array]  # Law's fields, (laws,)
    adding: Array  # (laws, parts): how often a law counts for a part
    owner: Places  # (laws,) part of each law


def gather(parts: tuple[DragPart, ...]) -> DragParts:
    """Lay the laws of all parts side by side.

    Parameters
    ----------
    parts : tuple of DragPart
        Parts, each at least one law. [m²]

    Returns
    -------
    DragParts
    """
    laws = [law for part in parts for law in part.laws]
    owner = np.repeat(np.arange(len(parts)), [len(part.laws) for part in parts])
    adding = np.zeros((len(laws), len(parts)))
    adding[np.arange(len(laws)), owner] = [parts[i].count for i in owner.tolist()]
    names = ("fixed", "friction", "length", "transition", "base", "edge", "ahead", "rubbed")
    names = (*names, "rod", "diameter", "lean")
    return DragParts(
        parts=parts,
        points=np.array([part.points for part in parts]).reshape(len(parts), SAMPLES, 3),
        terms={name: np.array([float(getattr(law, name)) for law in laws]) for name in names},
        adding=adding,
        owner=owner,
    )


def law_areas(terms: dict[str, Array], *, per_metre: Array) -> Array:
    """Drag area of every law.

    Parameters
    ----------
    terms : dict of ndarray
        Law's fields side by side, (laws,). [m²]
    per_metre : ndarray
        Reynolds number per metre, (..., laws) or (..., 1). [1/m]

    Returns
    -------
    ndarray, shape (..., laws)
        On the dynamic pressure where the part stands. [m²]
    """
    t = terms
    friction = plate_friction(per_metre * t["length"], transition=t["transition"])
    area: Array = t["fixed"] + t["friction"] * friction
    rubbed = t["rubbed"] * friction
    on = np.flatnonzero(t["base"])
    area[..., on] += t["base"][on] * body_base(rubbed[..., on] / t["base"][on])
    on = np.flatnonzero(t["edge"])
    ahead = (t["ahead"] + rubbed)[..., on] / t["edge"][on]
    area[..., on] += t["edge"][on] * edge_base(ahead)
    on = np.flatnonzero(t["rod"])
    reynolds = (per_metre * t["diameter"])[..., on]
    area[..., on] += t["rod"][on] * rod_drag(reynolds, lean=t["lean"][on])
    return area
