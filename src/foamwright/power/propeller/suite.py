"""How near the propeller model comes to measured propellers, by what it is told of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from foamwright.errors import DomainError
from foamwright.power.propeller.build import propeller_model
from foamwright.power.propeller.laws import LAWS, Laws
from foamwright.power.propeller.measured import (
    MANIFEST,
    BenchReading,
    MeasuredPropeller,
    named_propeller,
    read_bench,
    read_propellers,
)
from foamwright.power.propeller.model import FOUR_IN_FIVE, PropellerModel, StaticReading

Array = NDArray[np.float64]

#: What the model is told, tier by tier.
TIERS = (
    "nominal",
    "class",
    "class, width",
    "geometry",
    "nominal, reading",
    "geometry, reading",
)

#: Rows below this thrust coefficient are not judged (measured scatter, wake of the mount).
LEAST_CT = -0.02

#: Bench: rows counted, density, and what one must know to tell shaft power from amps.
BENCH_SPEEDS = (7000.0 / 60.0, 20000.0 / 60.0)  # 1/s
BENCH_DENSITY = 1.20  # kg/m³, assumed
BENCH_SUPPLY_LIMIT = 10.7  # A, beyond it the supply sags
BENCH_STYLE = "multirotor"
BENCH_IDLE_AMPS = 0.6  # A, common practice for such motors
BENCH_FAULTY = frozenset({("M02", "T050x0400-2b-a")})


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One propeller against its measurements."""

    key: str
    make: str
    tier: str
    ct_error: float  # RMS over rows, share of the largest measured ct
    cp_error: float
    static_error: float  # of ct, share, median over the faster half of the static rows
    ct_inside: float  # share of rows within the four-in-five band
    cp_inside: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TierErrors:
    """One line of the error table."""

    tier: str
    count: int
    ct_median: float
    ct_ninety: float  # 90th percentile
    cp_median: float
    cp_ninety: float
    static_median: float
    ct_inside: float  # share inside the four-in-five band, every propeller counting alike
    cp_inside: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SuiteResult:
    """The error table, and every propeller that went into it."""

    tiers: tuple[TierErrors, ...]
    propellers: tuple[Judged, ...]
    says: str  # what was compared


LawsFor = Callable[[str], Laws]


def model_for(
    measured: MeasuredPropeller, *, tier: str, laws: Laws = LAWS
) -> PropellerModel | None:
    """Model a measured propeller from what a tier lets one know; None where that is missing.

    Parameters
    ----------
    measured : MeasuredPropeller
        With its measurements.
    tier : str
        One of `TIERS`.
    laws : Laws, optional
        Other than those in use.

    Returns
    -------
    PropellerModel or None
        The model.
    """
    told = {word.strip() for word in tier.split(",")}
    propeller, geometry, reading = measured.propeller, None, None
    if "nominal" in told:
        propeller = replace(propeller, style="")
    if "width" in told:
        if measured.width is None:
            return None
        propeller = replace(propeller, blade_width=measured.width)
    if "geometry" in told:
        if measured.geometry is None or measured.is_twist_doubtful:
            return None
        geometry = measured.geometry
    if "reading" in told:
        reading = static_reading(measured)
        if reading is None:
            return None
    return propeller_model(propeller, geometry=geometry, reading=reading, laws=laws)


def static_reading(measured: MeasuredPropeller) -> StaticReading | None:
    """Take the one static row at three quarters of the ranked speeds as a maker's reading.

    Parameters
    ----------
    measured : MeasuredPropeller
        With its measurements.

    Returns
    -------
    StaticReading or None
        None where nothing was measured standing still.
    """
    rows = np.flatnonzero(measured.is_static)
    if not rows.size:
        return None
    rows = rows[np.argsort(measured.rotation[rows])]
    row = rows[int(0.75 * (rows.size - 1))]
    rotation = float(measured.rotation[row])
    thrust = float(measured.ct[row]) * 1.225 * rotation**2 * measured.propeller.diameter**4
    return StaticReading(thrust=thrust, rotation=rotation)


def judge(measured: MeasuredPropeller, *, tier: str, model: PropellerModel) -> Judged:
    """Compare a model with the measurements.

    Parameters
    ----------
    measured : MeasuredPropeller
        With its measurements.
    tier : str
        What the model was told.
    model : PropellerModel
        To be judged.

    Returns
    -------
    Judged
        Errors, as shares of the largest measured coefficient.
    """
    got = model.coefficients(measured.advance_ratio, rotation=measured.rotation)
    rows = measured.ct > LEAST_CT
    off_ct, off_cp = got.ct - measured.ct, got.cp - measured.cp
    still = np.flatnonzero(measured.is_static)
    static_error = float("nan")
    if still.size:
        fast = still[measured.rotation[still] >= np.median(measured.rotation[still])]
        static_error = float(np.median(np.abs(off_ct[fast] / measured.ct[fast])))
    return Judged(
        key=measured.key,
        make=measured.make,
        tier=tier,
        ct_error=float(np.sqrt(np.mean(off_ct[rows] ** 2)) / measured.ct.max()),
        cp_error=float(np.sqrt(np.mean(off_cp[rows] ** 2)) / measured.cp.max()),
        static_error=static_error,
        ct_inside=float(np.mean(np.abs(off_ct[rows]) <= FOUR_IN_FIVE * got.ct_scatter[rows])),
        cp_inside=float(np.mean(np.abs(off_cp[rows]) <= FOUR_IN_FIVE * got.cp_scatter[rows])),
    )


def propeller_suite(folder: Path, *, laws_for: LawsFor | None = None) -> SuiteResult:
    """Judge the model on a folder of measured propellers.

    Parameters
    ----------
    folder : Path
        As `measured.read_propellers` takes it.
    laws_for : callable, optional
        Laws to judge a make with, by its name: such as those fitted without that make. The laws
        in use otherwise.

    Returns
    -------
    SuiteResult
        Error table by tier.
    """
    if not (folder / MANIFEST).exists():
        raise DomainError(f"{folder} holds no {MANIFEST}")
    judged: list[Judged] = []
    for measured in read_propellers(folder):
        laws = LAWS if laws_for is None else laws_for(measured.make)
        for tier in TIERS:
            model = model_for(measured, tier=tier, laws=laws)
            if model is not None:
                judged.append(judge(measured, tier=tier, model=model))
    return SuiteResult(
        tiers=tuple(_errors(tier, judged) for tier in TIERS if any(j.tier == tier for j in judged)),
        propellers=tuple(judged),
        says="RMS over all rows with CT > -0.02, share of the propeller's largest coefficient",
    )


def _errors(tier: str, judged: Iterable[Judged]) -> TierErrors:
    those = [one for one in judged if one.tier == tier]
    ct, cp = (np.array([getattr(j, n) for j in those]) for n in ("ct_error", "cp_error"))
    static = np.array([j.static_error for j in those])
    static = static[np.isfinite(static)]
    return TierErrors(
        tier=tier,
        count=len(those),
        ct_median=float(np.median(ct)),
        ct_ninety=float(np.quantile(ct, 0.9)),
        cp_median=float(np.median(cp)),
        cp_ninety=float(np.quantile(cp, 0.9)),
        static_median=float(np.median(static)) if static.size else float("nan"),
        ct_inside=float(np.mean([j.ct_inside for j in those])),
        cp_inside=float(np.mean([j.cp_inside for j in those])),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchPropeller:
    """What a bench says of a propeller standing still."""

    key: str
    diameter: float  # m
    pitch: float  # m
    blades: int
    rotation: float  # 1/s, median
    ct: float  # median over the motors' medians
    cp: float  # the same, estimated from amps


def bench_propellers(readings: Iterable[BenchReading]) -> tuple[BenchPropeller, ...]:
    """Draw coefficients from bench readings.

    Parameters
    ----------
    readings : iterable of BenchReading
        Of any motors and propellers.

    Returns
    -------
    tuple of BenchPropeller
        One for each propeller, by name.

    Notes
    -----
    No torque was measured. Every motor's line V = rpm/Kv + I R is fitted to its full-throttle rows
    within the supply's limit, and power is (I - 0.6 A) rpm/Kv in those rows alone: at part
    throttle the controller keeps a share of its own. Good to about 12 %.
    """
    good = [r for r in readings if (r.motor, r.propeller) not in BENCH_FAULTY]
    good = [r for r in good if r.amps < BENCH_SUPPLY_LIMIT]
    lines: dict[str, float] = {}
    for motor in sorted({r.motor for r in good}):
        full = [r for r in good if r.motor == motor and r.is_full_throttle]
        if len(full) >= 3:
            sides = np.array([[r.rotation, r.amps] for r in full])
            volts = np.array([r.volts for r in full])
            lines[motor] = float(np.linalg.lstsq(sides, volts, rcond=None)[0][0])
    found: list[BenchPropeller] = []
    for key in sorted({r.propeller for r in good}):
        rows = [r for r in good if r.propeller == key and r.motor in lines]
        rows = [r for r in rows if BENCH_SPEEDS[0] <= r.rotation <= BENCH_SPEEDS[1]]
        if any(r.is_full_throttle for r in rows):
            found.append(_bench_propeller(key, rows, lines))
    return tuple(found)


def _bench_propeller(key: str, rows: list[BenchReading], lines: dict[str, float]) -> BenchPropeller:
    diameter = rows[0].diameter
    cts: list[float] = []
    cps: list[float] = []
    for motor in sorted({r.motor for r in rows}):
        own = [r for r in rows if r.motor == motor]
        whirl = np.array([BENCH_DENSITY * r.rotation**2 * diameter**4 for r in own])
        cts.append(float(np.median(np.array([r.thrust for r in own]) / whirl)))
        # Volts per rev/s are 2 pi times torque per ampere, so power over n is volts times amps
        amps = np.array([r.amps - BENCH_IDLE_AMPS for r in own])
        full = np.array([r.is_full_throttle for r in own])
        if full.any():
            cps.append(float(np.median((lines[motor] * amps / diameter / whirl)[full])))
    return BenchPropeller(
        key=key,
        diameter=diameter,
        pitch=rows[0].pitch,
        blades=rows[0].blades,
        rotation=float(np.median([r.rotation for r in rows])),
        ct=float(np.median(cts)),
        cp=float(np.median(cps)),
    )


def bench_make(key: str) -> str:
    """Name the make of a bench propeller, after the last letter of its key.

    Parameters
    ----------
    key : str
        Such as "T050x0400-3b-a".

    Returns
    -------
    str
        Such as "bench a".
    """
    return f"bench {key[-1]}"


def bench_suite(file: Path, *, laws_for: LawsFor | None = None) -> SuiteResult:
    """Judge the model on static bench readings.

    Parameters
    ----------
    file : Path
        As `measured.read_bench` takes it, or a folder that holds one such file named bench*.csv.
    laws_for : callable, optional
        Laws to judge a make with, by its name. The laws in use otherwise.

    Returns
    -------
    SuiteResult
        Errors of static ct and cp as shares of the measured ones, told nothing of the class, told
        the class, and told one thrust reading besides.
    """
    if file.is_dir():
        found = sorted(file.glob("bench*.csv"))
        if len(found) != 1:
            raise DomainError(f"{file} holds {len(found)} files named bench*.csv, not one")
        file = found[0]
    tiers = ("nominal", "class", "class, reading")
    propellers = bench_propellers(read_bench(file))
    judged: list[Judged] = []
    for one in propellers:
        laws = LAWS if laws_for is None else laws_for(bench_make(one.key))
        judged.extend(_judged_bench(one, tier, laws) for tier in tiers)
    return SuiteResult(
        tiers=tuple(_errors(tier, judged) for tier in tiers),
        propellers=tuple(judged),
        says="static bench, medians over motors; power estimated from amps, good to 12 %",
    )


def _judged_bench(bench: BenchPropeller, tier: str, laws: Laws) -> Judged:
    propeller = named_propeller(
        bench.key,
        diameter=bench.diameter,
        pitch=bench.pitch,
        blades=bench.blades,
        style="" if tier == "nominal" else BENCH_STYLE,
    )
    reading = None
    if "reading" in tier:
        thrust = bench.ct * BENCH_DENSITY * bench.rotation**2 * bench.diameter**4
        reading = StaticReading(thrust=thrust, rotation=bench.rotation, density=BENCH_DENSITY)
    model = propeller_model(propeller, reading=reading, laws=laws)
    got = model.coefficients(0.0, rotation=bench.rotation, density=BENCH_DENSITY)
    ct_off, cp_off = abs(float(got.ct) - bench.ct), abs(float(got.cp) - bench.cp)
    return Judged(
        key=bench.key,
        make=bench_make(bench.key),
        tier=tier,
        ct_error=ct_off / bench.ct,
        cp_error=cp_off / bench.cp,
        static_error=ct_off / bench.ct,
        ct_inside=float(ct_off <= FOUR_IN_FIVE * float(got.ct_scatter)),
        cp_inside=float(cp_off <= FOUR_IN_FIVE * float(got.cp_scatter)),
    )
