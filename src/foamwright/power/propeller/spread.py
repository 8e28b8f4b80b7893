"""Coefficients of a whole propeller over all advance angles and Reynolds numbers at once.

Every ring is laid out over a fan of inflow angles, which gives its advance angle and loads without
iteration; the loads are then read off where the propeller's advance angle puts each ring.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.power.propeller.element import Rings, ring_flow
from foamwright.power.propeller.laws import HUB, STATIONS, WEIGHTS, SectionLaw, lift_and_drag

Array = NDArray[np.float64]

#: Inflow angles of the fan: a degree apart where propellers work, wider beyond.
FAN: Array = np.radians(
    np.concatenate(
        [
            [0.02, 0.3, 0.6],
            np.arange(1.0, 12.0, 1.0),
            np.arange(12.0, 40.0, 1.4),
            np.arange(40.0, 89.0, 5.0),
            [89.9],
        ]
    )
)

#: Ring at which the advance angle of the whole propeller is counted, r/R.
COUNTED_AT = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Blades:
    """The blades of one propeller, at `STATIONS`."""

    chord: Array  # chord/R
    angle: Array  # rad, zero-lift line to plane of rotation
    count: float
    drag: float  # factor

    @property
    def chord_at_three_quarters(self) -> float:
        """Chord/R at 3/4 radius. [-]"""
        return float(np.interp(0.75, STATIONS, self.chord))


def spread(
    blades: Blades, *, advance: Array, tip_reynolds: Array, law: SectionLaw
) -> tuple[Array, Array]:
    """Give ct and cp over 1 + tan² psi.

    Parameters
    ----------
    blades : Blades
        Of one propeller.
    advance : ndarray
        Advance angles at 0.7 R, -pi/2 to pi/2. [rad]
    tip_reynolds : ndarray
        Of tip speed and chord at 3/4 radius. [-]
    law : SectionLaw
        Constants of the section.

    Returns
    -------
    tuple of ndarray
        Both by advance angle and Reynolds number. [-]
    """
    radius, chord = STATIONS[:, None], blades.chord[:, None]
    share = radius * chord / blades.chord_at_three_quarters
    rings = Rings(
        radius=radius, chord=chord, angle=blades.angle[:, None], blades=blades.count, hub=HUB
    )

    def section(incidence: Array, number: Array, ratio: Array) -> tuple[Array, Array]:
        lift, drag = lift_and_drag(incidence, number, ratio, law=law)
        return lift, drag * blades.drag

    reynolds = tip_reynolds[:, None, None] * share
    flow = ring_flow(FAN, rings=rings, section=section, reynolds=reynolds)
    speed = np.sin(FAN) ** 2 / (flow.up**2 + flow.across**2)
    return _added_up(flow.advance, speed * flow.normal, speed * flow.tangential, blades, advance)


def _added_up(
    ring_advance: Array, normal: Array, tangential: Array, blades: Blades, advance: Array
) -> tuple[Array, Array]:
    """Read ring loads where the propeller's advance angle puts each ring, and add them up."""
    sine, cosine = np.sin(advance), np.cos(advance)
    wanted = np.arctan2(COUNTED_AT * sine, STATIONS[:, None] * cosine)  # station, angle
    # Advance rises with inflow; held level where a deep stall would fold it back
    rising = np.maximum.accumulate(ring_advance, axis=-1)
    numbers, stations, _ = rising.shape
    read = np.empty((2, numbers, stations, advance.size))
    for k in range(numbers):
        for s in range(stations):
            read[0, k, s] = np.interp(wanted[s], rising[k, s], normal[k, s])
            read[1, k, s] = np.interp(wanted[s], rising[k, s], tangential[k, s])
    # (V² + (omega r)²) over (V² + (0.7 omega R)²), so that nothing grows without bound
    speed = cosine**2 + (COUNTED_AT / STATIONS[:, None] * sine) ** 2
    area = (np.pi**2 / 8.0) * blades.count * blades.chord * WEIGHTS * STATIONS**2
    common = area[:, None] * speed
    ct = np.einsum("sa,ksa->ak", common, read[0])
    cp = np.einsum("sa,ksa->ak", common * np.pi * STATIONS[:, None], read[1])
    return ct, cp
