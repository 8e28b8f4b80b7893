"""The drag table of an aeroplane at given speeds."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.drag.law import DragParts, law_areas
from foamwright.air.drag.model import DragRow, DragTable

Array = NDArray[np.float64]

#: Said with every table.
LEAVES_OUT = (
    "section drag and induced drag of wings and tails: rows to be added from sections and lattice",
    "stopped or windmilling propellers: the power room's",
    "incidence of bodies: their crosswind force stands in foamwright.air.body",
    "through-flow for cooling, control horns, screws, tape edges, hatch rims, surface roughness",
)


def drag_table(
    parts: DragParts,
    *,
    airspeed: ArrayLike,
    density: ArrayLike = 1.225,
    viscosity: ArrayLike = 1.7894e-5,
    pressure_ratio: ArrayLike | None = None,
) -> DragTable:
    """Parasite drag by parts, for one or many states.

    Parameters
    ----------
    parts : DragParts
        From :func:`foamwright.air.drag.drag_parts`.
    airspeed : array_like
        True airspeed, above 0. [m/s]
    density : array_like, optional
        Of the air. [kg/m³]
    viscosity : array_like, optional
        Dynamic viscosity of the air. [Pa s]
    pressure_ratio : array_like, optional
        Dynamic pressure where each part stands over that of flight, last axis the parts, as
        from :func:`foamwright.air.wash.part_ratios`; 1 where not given. [-]

    Returns
    -------
    DragTable
        Areas broadcast over the states' leading axes, on the dynamic pressure of flight;
        NaN at no airspeed. [m²]

    Notes
    -----
    The x axis along the wind. The defaults are the standard atmosphere at sea level.
    """
    v, rho, mu = np.broadcast_arrays(
        *(np.asarray(x, dtype=np.float64) for x in (airspeed, density, viscosity))
    )
    per_metre = np.where(v > 0.0, rho * v / mu, np.nan)[..., None]
    if pressure_ratio is None:
        areas = law_areas(parts.terms, per_metre=per_metre) @ parts.adding
    else:
        ratio = np.asarray(pressure_ratio, dtype=np.float64)[..., parts.owner]
        local = law_areas(parts.terms, per_metre=per_metre * np.sqrt(ratio))
        areas = (ratio * local) @ parts.adding
    return DragTable(rows=_rows(parts, areas), areas=areas, leaves_out=LEAVES_OUT)


def _rows(parts: DragParts, areas: Array) -> tuple[DragRow, ...]:
    return tuple(
        DragRow(
            key=part.key,
            path=part.path,
            title=part.title,
            group=part.group,
            cause=part.cause,
            area=areas[..., i],
            band=part.source.band,
            source=str(part.source),
        )
        for i, part in enumerate(parts.parts)
    )
