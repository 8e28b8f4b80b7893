"""Builds the model of a propeller from what is known of it."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from foamwright.design.model import Propeller
from foamwright.errors import DomainError
from foamwright.power.propeller.laws import (
    LAWS,
    REFERENCE_DIAMETER,
    REFERENCE_WIDTH,
    STATIONS,
    Bands,
    Laws,
    TierLaw,
)
from foamwright.power.propeller.model import (
    SEA_LEVEL_VISCOSITY,
    BladeGeometry,
    PropellerModel,
    StaticReading,
)
from foamwright.power.propeller.spread import Blades, spread
from foamwright.power.propeller.styles import NO_STYLE, style_of
from foamwright.power.propeller.table import BLADE_TANGENT, make_table

Array = NDArray[np.float64]

#: Nodes of the table: every 3° of advance angle at 0.7 R, four Reynolds numbers.
ANGLE_START, ANGLE_STEP, ANGLES = -24.0 * np.pi / 180.0, 3.0 * np.pi / 180.0, 39
LOG_START, LOG_STEP, NUMBERS = float(np.log(1.2e4)), 1.25, 4

_ADVANCE: Array = np.asarray(ANGLE_START + ANGLE_STEP * np.arange(ANGLES), dtype=np.float64)
_NUMBERS: Array = np.exp(np.asarray(LOG_START + LOG_STEP * np.arange(NUMBERS)))
_STATIC = 8  # node of psi = 0

#: What the laws were fitted on; beyond it the model says so.
DIAMETERS = (0.095, 0.36)  # m
PITCH_RATIOS = (0.25, 1.3)

#: One sigma of ln ct between a propeller's static thrust and its whole curve: the laws, fitted to
#: all rows of one propeller, miss its static rows by 4.4 (measured blade) to 5.5 % (common blade).
READING_SCATTER = 0.05

#: One sigma of a motor's speed constant under load against its label, from 13 bench motors.
SPEED_CONSTANT_SCATTER = 0.05

TIER_WORDS = {
    "nominal": "diameter, pitch, blades",
    "class": "diameter, pitch, blades, class",
    "width": "diameter, pitch, blades, class, width",
    "geometry": "measured chord and twist",
}


def propeller_model(
    propeller: Propeller,
    *,
    geometry: BladeGeometry | None = None,
    reading: StaticReading | None = None,
    laws: Laws = LAWS,
) -> PropellerModel:
    """Model a propeller from diameter, pitch, blades and whatever else is known.

    Parameters
    ----------
    propeller : Propeller
        Its style and width count where given; any other word for a style counts as unknown.
    geometry : BladeGeometry, optional
        Measured chord and twist; then the width is not used.
    reading : StaticReading, optional
        One thrust reading standing still, which recalibrates the blade.
    laws : Laws, optional
        Other than those in use; for fitting and its tests.

    Returns
    -------
    PropellerModel
        Ready to be asked.

    Notes
    -----
    Fitted from 3.8 to 11 in (tables) with 5 in bench readings beside; used to 14 in. Two to
    four blades. Axial flow only.
    """
    _check(propeller)
    style = style_of(propeller.style)
    tier = _tier(propeller, style, geometry)
    law = laws.tiers[tier]
    blades = _blades(propeller, style, law, geometry, laws)
    if reading is not None:
        blades = _calibrated(blades, propeller, law, reading, laws)
    ct, cp = spread(blades, advance=_ADVANCE, tip_reynolds=_NUMBERS, law=laws.section)
    bands = law.bands if reading is None else law.bands_read
    return PropellerModel(
        diameter=propeller.diameter,
        pitch=propeller.pitch,
        blades=propeller.blades,
        style=style,
        basis=TIER_WORDS[tier] + (", static reading" if reading is not None else ""),
        reference_chord=blades.chord_at_three_quarters * 0.5 * propeller.diameter,
        table=make_table(
            np.stack([ct, cp, *_scatters(ct, cp, bands)], axis=-1),
            angle_start=ANGLE_START,
            angle_step=ANGLE_STEP,
            log_start=LOG_START,
            log_step=LOG_STEP,
        ),
        notes=_notes(propeller, style, reading),
    )


def propeller_models(
    propellers: Iterable[Propeller], *, laws: Laws = LAWS
) -> tuple[PropellerModel, ...]:
    """Model many propellers, each from what the design file says of it.

    Parameters
    ----------
    propellers : iterable of Propeller
        Any number.
    laws : Laws, optional
        Other than those in use.

    Returns
    -------
    tuple of PropellerModel
        In the same order.

    Notes
    -----
    One after the other: their arrays stay in the processor's cache, and a hundred together were
    measured to take four times as long.
    """
    return tuple(propeller_model(propeller, laws=laws) for propeller in propellers)


def _check(propeller: Propeller) -> None:
    if not (propeller.diameter > 0.0 and propeller.pitch > 0.0):
        raise DomainError("a propeller takes a diameter and a pitch above zero")
    if propeller.blades < 1:
        raise DomainError("a propeller takes one blade or more")


def _tier(propeller: Propeller, style: str, geometry: BladeGeometry | None) -> str:
    if geometry is not None:
        return "geometry"
    if propeller.blade_width is not None:
        return "width"
    return "nominal" if style == NO_STYLE else "class"


def _blades(
    propeller: Propeller, style: str, law: TierLaw, geometry: BladeGeometry | None, laws: Laws
) -> Blades:
    """Lay out the blade that the laws expect."""
    if geometry is None:
        chord = laws.chord
        screw = np.arctan(propeller.pitch / (np.pi * propeller.diameter * STATIONS))
        twist = screw + laws.twist
    else:
        chord = np.interp(STATIONS, geometry.radius_fraction, geometry.chord_fraction)
        twist = np.interp(STATIONS, geometry.radius_fraction, geometry.twist)
    constant, by_diameter, by_blades, by_width = law.chord
    width = propeller.blade_width
    relative = 0.0
    if width is not None:
        relative = float(np.log(2.0 * width / propeller.diameter / REFERENCE_WIDTH))
    log_chord = (
        constant
        + by_diameter * np.log(propeller.diameter / REFERENCE_DIAMETER)
        + by_blades * np.log(0.5 * propeller.blades)
        + by_width * relative
        + law.class_chord.get(style, 0.0)
    )
    angle = law.angle + law.class_angle.get(style, 0.0)
    return Blades(
        chord=chord * np.exp(log_chord),
        angle=twist + angle,
        count=float(propeller.blades),
        drag=float(np.exp(law.drag)),
    )


def _shifted(blades: Blades, step: Array) -> Blades:
    """Turn the angle, ln chord and ln drag of blades by a step."""
    return Blades(
        chord=blades.chord * np.exp(step[1]),
        angle=blades.angle + step[0],
        count=blades.count,
        drag=blades.drag * float(np.exp(step[2])),
    )


def _calibrated(
    blades: Blades, propeller: Propeller, law: TierLaw, reading: StaticReading, laws: Laws
) -> Blades:
    """Find the likeliest blade that explains a static thrust reading.

    The unknowns are the effective angle, chord and drag with the spreads seen between propellers;
    the reading weighs against them by its own scatter. Gauss-Newton; four steps change the thrust
    by less than 0.1 %.
    """
    rotation = reading.speed
    if not (reading.thrust > 0.0 and rotation > 0.0):
        raise DomainError("a static reading takes a thrust and a speed above zero")
    measured = reading.thrust / (reading.density * rotation**2 * propeller.diameter**4)
    tip = np.pi * propeller.diameter * rotation * 0.5 * propeller.diameter
    kinematic = SEA_LEVEL_VISCOSITY / reading.density

    def log_ct(step: Array) -> float:
        moved = _shifted(blades, step)
        number = np.array([tip * moved.chord_at_three_quarters / kinematic])
        ct, _ = spread(moved, advance=np.zeros(1), tip_reynolds=number, law=laws.section)
        return float(np.log(max(float(ct[0, 0]), 1e-4)))

    scatter = READING_SCATTER
    if not reading.is_speed_measured:
        scatter = float(np.hypot(scatter, 2.0 * SPEED_CONSTANT_SCATTER))
    sigma = np.asarray(law.spread)
    step = np.zeros(3)
    for _ in range(4):
        here = log_ct(step)
        slope = np.array([(log_ct(step + h) - here) / 1e-3 for h in 1e-3 * np.eye(3)])
        gain = sigma**2 * slope
        gain /= float(slope @ gain) + scatter**2
        step = gain * (np.log(measured) - here + float(slope @ step))
    return _shifted(blades, step)


def _scatters(ct: Array, cp: Array, bands: Bands) -> tuple[Array, Array]:
    """Lay the bands over the table, by advance over that of zero thrust."""
    middle = ct[:, NUMBERS // 2]
    tangent = np.tan(np.minimum(_ADVANCE, np.radians(89.0)))
    falling = np.flatnonzero((middle[_STATIC:-1] > 0.0) & (middle[_STATIC + 1 :] <= 0.0))
    if falling.size:
        i = _STATIC + int(falling[0])
        share = middle[i] / (middle[i] - middle[i + 1])
        zero = tangent[i] + share * (tangent[i + 1] - tangent[i])
    else:
        zero = BLADE_TANGENT
    u = np.clip(tangent / zero, -1.0, 4.0)
    # Beyond what was measured, backward and deep in windmilling, the band opens
    opening = 1.0 + np.maximum(-u, 0.0) + np.maximum(u - 1.2, 0.0)
    size = 1.0 + np.tan(np.minimum(_ADVANCE, np.radians(75.0))) ** 2
    size = (opening / size)[:, None]
    work = slice(_STATIC, _STATIC + 12)
    lift = 1.0 + np.tan(_ADVANCE[work]) ** 2
    peak_ct = (ct[work] * lift[:, None]).max(axis=0)
    peak_cp = (cp[work] * lift[:, None]).max(axis=0)
    inside = np.clip(u, 0.0, 1.0)
    sides = (np.interp(inside, [0.0, 0.5, 1.0], band) for band in (bands.ct, bands.cp))
    of_ct, of_cp = (side[:, None] * size for side in sides)
    return of_ct * peak_ct, of_cp * peak_cp


def _notes(propeller: Propeller, style: str, reading: StaticReading | None) -> tuple[str, ...]:
    notes: list[str] = []
    if propeller.style and style == NO_STYLE:
        notes.append(f'"{propeller.style}" is no blade style with a law of its own')
    if not DIAMETERS[0] <= propeller.diameter <= DIAMETERS[1]:
        notes.append("the diameter lies outside 4 to 14 in")
    if not PITCH_RATIOS[0] <= propeller.pitch / propeller.diameter <= PITCH_RATIOS[1]:
        notes.append("pitch over diameter lies outside 0.25 to 1.3")
    if propeller.blades not in (2, 3, 4):
        notes.append("no propeller with that many blades was compared")
    if reading is not None and not reading.is_speed_measured:
        notes.append("the speed of the static reading comes from volts and amps")
    return tuple(notes)
