"""Fits the propeller's laws to a folder of measured propellers, and judges them make by make.

    python tools/fit_propeller.py FOLDER [--bench FILE] [--write]

Each make is judged with laws fitted to all the others, its bands included (those come from the
left-out errors of the other makes). With --write the laws fitted to all makes go to
src/foamwright/power/propeller/fitted.py, and those of every left-out make to
tests/data/props/left_out.json.
"""

from __future__ import annotations

import argparse
import json
import pprint
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from foamwright.design.model import Propeller
from foamwright.power.propeller.build import propeller_model
from foamwright.power.propeller.element import Rings, ring_flow, ring_loads
from foamwright.power.propeller.laws import (
    HUB,
    REFERENCE_DIAMETER,
    REFERENCE_WIDTH,
    STATIONS,
    WEIGHTS,
    Bands,
    SectionLaw,
    laws_from,
    lift_and_drag,
)
from foamwright.power.propeller.measured import (
    MeasuredPropeller,
    named_propeller,
    read_bench,
    read_propellers,
)
from foamwright.power.propeller.model import FOUR_IN_FIVE
from foamwright.power.propeller.suite import (
    BENCH_DENSITY,
    BENCH_STYLE,
    LEAST_CT,
    BenchPropeller,
    bench_make,
    bench_propellers,
    bench_suite,
    model_for,
    propeller_suite,
)

ROOT = Path(__file__).resolve().parents[1]
FITTED = ROOT / "src/foamwright/power/propeller/fitted.py"
LEFT_OUT = ROOT / "tests/data/props/left_out.json"

VISCOSITY = 1.7894e-5 / 1.225  # m²/s
POINTS = 20  # bins of rows a propeller is reduced to for fitting
NOISE = 0.04  # of the peak: what two or three free numbers leave unexplained
DEG = np.pi / 180.0

# Starting values of the section's constants, and how far the data may easily take them: broad
# priors around flat-plate and low-Reynolds common sense, to keep what is not seen from running off.
NAMES = tuple(SectionLaw.__dataclass_fields__)
START = {
    "slope": 6.2, "slope_reynolds": 0.05, "top_lift": 1.6, "top_reynolds": 0.02, "top_inboard": 0.8,
    "low_lift": 0.8, "drag": 0.02, "drag_reynolds": 0.4, "drag_lift": 0.04, "best_lift": 0.6,
    "drag_incidence": 1.2, "zero_reynolds": 0.0,
}  # fmt: skip
EASE = {
    "slope": 0.6, "slope_reynolds": 0.1, "top_lift": 0.3, "top_reynolds": 0.1, "top_inboard": 0.5,
    "low_lift": 0.3, "drag": 0.01, "drag_reynolds": 0.2, "drag_lift": 0.03, "best_lift": 0.3,
    "drag_incidence": 0.5, "zero_reynolds": 2.0 * DEG,
}  # fmt: skip

# One sigma of a propeller's own angle, ln chord and ln drag: while the section is fitted (measured
# blades), and while blades are described by the common blade (wide).
OWN = np.array([1.8 * DEG, 0.08, 0.15])
OWN_WIDE = np.array([5.0 * DEG, 0.3, 0.15])

# A class seen in k makes counts k/(k + pull); pull is the variance between makes over that between
# classes. Measured blades: about 1. Multirotor: its two makes differ from each other by a third
# of what they differ from all the others, 0.1 to 0.2
PULL_ANGLE = {"nominal": None, "class": 0.2, "width": 0.2, "geometry": 1.0}
PULL_CHORD = {"nominal": None, "class": 0.2, "width": None, "geometry": None}
# Without a measured blade, angle and chord of a tunnel class did not carry over from make to make:
# left-out errors grew with them. Those of the two bench makes agree
ONLY = {"nominal": None, "class": "multirotor", "width": "multirotor", "geometry": None}
PULL_CHORD = {"nominal": None, "class": 2.0, "width": None, "geometry": None}
SCATTER_MAKE = np.array([1.0 * DEG, 0.06, 0.05])
SCATTER_OWN = np.array([1.2 * DEG, 0.06, 0.09])
# Of what is left of angle, ln chord and ln drag once a tier has said its part
SPREAD = {
    "nominal": (1.7 * DEG, 0.12, 0.08),
    "class": (1.7 * DEG, 0.12, 0.08),
    "width": (1.9 * DEG, 0.08, 0.08),
    "geometry": (1.5 * DEG, 0.07, 0.08),
}
NO_BANDS = {"ct": (0.1, 0.1, 0.1), "cp": (0.1, 0.1, 0.1)}


def binned(one: MeasuredPropeller) -> np.ndarray:
    """Reduce the rows to about POINTS means: J, rev/s, ct, cp, number of rows."""
    still, away = np.flatnonzero(one.is_static), np.flatnonzero(~one.is_static)
    groups = list(np.array_split(still[np.argsort(one.rotation[still])], 4))
    away = away[one.ct[away] > -0.03]
    median = np.median(one.rotation[~one.is_static])
    for side in (one.rotation[away] <= median, one.rotation[away] > median):
        rows = away[side]
        groups += np.array_split(rows[np.argsort(one.advance_ratio[rows])], 8)
    columns = (one.advance_ratio, one.rotation, one.ct, one.cp)
    points = [[c[g].mean() for c in columns] + [g.size] for g in groups if g.size]
    points += [[*points[-1][:4], 0]] * (POINTS - len(points))
    return np.array(points)


@dataclass
class Pack:
    """Several propellers as arrays, with the blade they are supposed to have."""

    which: list[MeasuredPropeller]
    chord: np.ndarray
    twist: np.ndarray

    def __post_init__(self):
        points = np.array([binned(one) for one in self.which])
        self.J, self.n, self.ct, self.cp, rows = np.moveaxis(points, 2, 0)
        self.weight = np.sqrt(rows / rows.sum(1, keepdims=True))
        self.ct_peak = np.array([one.ct.max() for one in self.which])[:, None]
        self.cp_peak = np.array([one.cp.max() for one in self.which])[:, None]
        self.D = np.array([one.propeller.diameter for one in self.which])[:, None]
        self.B = np.array([float(one.propeller.blades) for one in self.which])


def coefficients(theta: np.ndarray, pack: Pack, own: np.ndarray):
    """Solve all rings by regula falsi (Illinois) with bisections between."""
    law = SectionLaw(**dict(zip(NAMES, theta, strict=True)))
    chord = pack.chord * np.exp(own[1])[:, None]
    rings = Rings(
        radius=STATIONS, chord=chord[:, None, :],
        angle=(pack.twist + own[0][:, None])[:, None, :], blades=pack.B[:, None, None], hub=HUB,
    )  # fmt: skip
    radius = 0.5 * pack.D[:, :, None]
    number = 2.0 * np.pi * pack.n[:, :, None] * STATIONS * radius**2 * chord[:, None] / VISCOSITY
    factor = np.exp(own[2])[:, None, None]

    def section(incidence, reynolds, ratio):
        lift, drag = lift_and_drag(incidence, reynolds, ratio, law=law)
        return lift, drag * factor

    psi = np.arctan(pack.J[:, :, None] / (np.pi * STATIONS))
    sine, cosine = np.sin(psi), np.cos(psi)

    def residual(phi):
        flow = ring_flow(phi, rings=rings, section=section, reynolds=number)
        return flow.up * cosine - flow.across * sine, flow

    low, high = np.full(psi.shape, 1e-6), np.full(psi.shape, 1.2)
    f_low, f_high = residual(low)[0], residual(high)[0]
    side = np.zeros(psi.shape)
    for step in range(14):
        width = f_high - f_low
        line = (low * f_high - high * f_low) / np.maximum(width, 1e-13)
        middle = np.clip(np.where(width > 1e-13, line, 0.5 * (low + high)), low, high)
        if step % 4 == 3:
            middle = 0.5 * (low + high)
        f, flow = residual(middle)
        up = f > 0.0
        f_low = np.where(up & (side == 1), 0.5 * f_low, f_low)
        f_high = np.where(~up & (side == -1), 0.5 * f_high, f_high)
        high, f_high = np.where(up, middle, high), np.where(up, f, f_high)
        low, f_low = np.where(up, low, middle), np.where(up, f_low, f)
        side = np.where(up, 1, -1)
    ct, cp = ring_loads(middle, flow=flow, rings=rings, advance_ratio=pack.J[:, :, None])
    return ct @ WEIGHTS, cp @ WEIGHTS


def misses(theta, pack, own):
    """Weighted misses of ct and cp over their peaks, over the noise."""
    ct, cp = coefficients(theta, pack, own)
    ct_miss, cp_miss = (ct - pack.ct) / pack.ct_peak, (cp - pack.cp) / pack.cp_peak
    return np.concatenate([pack.weight * ct_miss, pack.weight * cp_miss], axis=1) / NOISE


def fit(pack, theta, mean, own, *, sigma, free, steps):
    """Levenberg-Marquardt on the section's constants and every propeller's own three numbers.

    A propeller's misses count with a pseudo-Huber cost, so that odd ones pull less.
    """
    start = np.array([START[name] for name in NAMES])
    ease = np.array([EASE[name] for name in NAMES])
    count = len(pack.which)
    damping = 1e-2

    def cost(t, o):
        r = misses(t, pack, o)
        own_part = (((o - mean) / sigma[:, None]) ** 2).sum()
        robust = 4.0 * (np.sqrt(1.0 + 0.5 * (r**2).sum(1)) - 1.0).sum()
        return robust + own_part + (((t - start) / ease) ** 2).sum(), r

    best, r = cost(theta, own)
    for step in range(steps):
        by_theta = []
        for k in range(len(theta) if free else 0):
            h = 1e-3 * max(abs(theta[k]), 0.05)
            moved = theta.copy()
            moved[k] += h
            by_theta.append((misses(moved, pack, own) - r) / h)
        by_own = [(misses(theta, pack, own + 1e-3 * e[:, None]) - r) / 1e-3 for e in np.eye(3)]
        w = (1.0 + 0.5 * (r**2).sum(1)) ** -0.25
        shared = len(by_theta)
        A = np.zeros((count, r.shape[1], shared + 3 * count))
        for k, column in enumerate(by_theta):
            A[:, :, k] = column * w[:, None]
        for k, column in enumerate(by_own):
            A[np.arange(count), :, shared + 3 * np.arange(count) + k] = column * w[:, None]
        A = A.reshape(-1, shared + 3 * count)
        pull = np.concatenate([1.0 / ease[:shared] ** 2, np.tile(1.0 / sigma**2, count)])
        to = np.concatenate([(start - theta)[:shared], (mean - own).T.ravel()])
        H, g = A.T @ A + np.diag(pull), -A.T @ (r * w[:, None]).ravel() + pull * to
        for _ in range(6):
            d = np.linalg.solve(H + damping * np.diag(np.diag(H)), g)
            t = theta + d[:shared] if free else theta
            o = own + d[shared:].reshape(count, 3).T
            now, r_now = cost(t, o)
            if now < best:
                break
            damping *= 5.0
        else:
            break
        small = best - now < 1e-3 * best
        theta, own, r, best, damping = t, o, r_now, now, max(damping / 5.0, 1e-5)
        if small and step > 2:
            break
    return theta, own


def make_weighted(values: np.ndarray, makes: np.ndarray) -> np.ndarray:
    """Mean over makes of the means in each make."""
    return np.mean([values[makes == make].mean(0) for make in sorted(set(makes))], axis=0)


def regression(y, features, makes, sigma_make, sigma_own):
    """Generalised least squares: propellers of a make err together."""
    V = sigma_own**2 * np.eye(len(y)) + sigma_make**2 * (makes[:, None] == makes[None])
    # A feature that does not vary here (blades, with some makes left out) must not be singular
    ridge = 1e-6 * np.eye(features.shape[1])
    return np.linalg.solve(
        features.T @ np.linalg.solve(V, features) + ridge, features.T @ np.linalg.solve(V, y)
    )


def class_effects(y, classes, makes, pull, only=None) -> dict[str, float]:
    """Means over makes by class, drawn to zero where few makes tell."""
    if pull is None:
        return {}
    found = {}
    for name in sorted(set(classes) - {""} if only is None else set(classes) & {only}):
        means = [y[(classes == name) & (makes == m)].mean() for m in set(makes[classes == name])]
        found[str(name)] = round(float(np.sum(means) / (len(means) + pull)), 4)
    return found


def measured_blade(one: MeasuredPropeller):
    """Chord and twist at the stations."""
    g = one.geometry
    return (
        np.interp(STATIONS, g.radius_fraction, g.chord_fraction),
        np.interp(STATIONS, g.radius_fraction, g.twist),
    )


def screw(one: MeasuredPropeller):
    """Twist of a screw of the nominal pitch."""
    return np.arctan(one.propeller.pitch / (np.pi * one.propeller.diameter * STATIONS))


def section_fit(sure, theta, rounds=3, steps=5):
    """Fit the section on measured blades; propellers' own numbers scatter about class means."""
    blades = [measured_blade(one) for one in sure]
    pack = Pack(sure, np.array([b[0] for b in blades]), np.array([b[1] for b in blades]))
    makes = np.array([one.make for one in sure])
    classes = np.array([one.propeller.style for one in sure])
    mean = np.tile(np.array([[0.05], [0.0], [0.0]]), (1, len(sure)))
    own = mean.copy()
    for _ in range(rounds):
        theta, own = fit(pack, theta, mean, own, sigma=OWN, free=True, steps=steps)
        for j in range(3):
            ones = np.ones((len(sure), 1))
            middle = regression(own[j], ones, makes, SCATTER_MAKE[j], SCATTER_OWN[j])[0]
            by_class = class_effects(own[j] - middle, classes, makes, 1.0)
            mean[j] = middle + np.array([by_class.get(c, 0.0) for c in classes])
    return theta


def tier_numbers(theta, which, tier, chord, twist):
    """Describe propellers' own numbers by what a tier knows of them."""
    if tier == "geometry":
        blades = [measured_blade(one) for one in which]
    else:
        blades = [(chord, screw(one) + twist) for one in which]
    pack = Pack(which, np.array([b[0] for b in blades]), np.array([b[1] for b in blades]))
    mean = np.tile(np.array([[0.05], [0.0], [0.0]]), (1, len(which)))
    _, own = fit(pack, theta, mean, mean.copy(), sigma=OWN_WIDE, free=False, steps=10)
    return own


def features(which, *names):
    """Table what ln chord may depend on."""
    table = {
        "one": lambda _: 1.0,
        "diameter": lambda o: np.log(o.propeller.diameter / REFERENCE_DIAMETER),
        "blades": lambda o: np.log(0.5 * o.propeller.blades),
        "width": lambda o: np.log(2.0 * o.width / o.propeller.diameter / REFERENCE_WIDTH),
    }
    return np.array([[table[name](one) for name in names] for one in which])


@dataclass
class Benched:
    """A bench propeller beside those of the tunnel."""

    make: str
    propeller: Propeller
    bench: BenchPropeller


def benched(file: Path | None) -> list[Benched]:
    """Read the bench file; its makes are the last letters of the propellers' names."""
    if file is None:
        return []
    found = []
    for bench in bench_propellers(read_bench(file)):
        blade = named_propeller(
            bench.key,
            diameter=bench.diameter,
            pitch=bench.pitch,
            blades=bench.blades,
            style=BENCH_STYLE,
        )
        found.append(Benched(bench_make(bench.key), blade, bench))
    return found


def numbers_for(which, bench: list[Benched], theta: np.ndarray, **effort) -> dict:
    """Fit everything but the bands."""
    shaped = [one for one in which if one.geometry is not None]
    sure = [one for one in shaped if not one.is_twist_doubtful]
    theta = section_fit(sure, theta, **effort)
    makes = {name: np.array([o.make for o in part]) for name, part in
             (("all", which), ("shaped", shaped), ("sure", sure))}  # fmt: skip
    chords = np.array([measured_blade(o)[0] for o in shaped])
    widths = np.array([2.0 * o.width / o.propeller.diameter for o in shaped])
    form = make_weighted(chords / widths[:, None], makes["shaped"])
    chord = np.round(form * make_weighted(widths, makes["shaped"]), 4)
    bend = np.array([np.clip(measured_blade(o)[1] - screw(o), -0.6, 0.2) for o in sure])
    twist = np.round(make_weighted(bend, makes["sure"]), 4)
    own = {
        "all": tier_numbers(theta, which, "nominal", chord, twist),
        "shaped": tier_numbers(theta, shaped, "width", chord, twist),
        "sure": tier_numbers(theta, sure, "geometry", chord, twist),
    }
    section = {n: round(float(t), 5) for n, t in zip(NAMES, theta, strict=True)}
    if bench:
        tier = {
            "angle": 0.0,
            "chord": [0.0] * 4,
            "drag": 0.0,
            "class_angle": {},
            "spread": [0.0] * 3,
        }
        tier |= {"class_chord": {}, "bands": NO_BANDS, "bands_read": NO_BANDS}
        bare = {"section": section, "chord": chord, "twist": twist, "tiers": {"nominal": tier}}
        extra = np.array([bench_own(one.bench, laws_from(bare)) for one in bench]).T
        own["all"] = np.concatenate([own["all"], extra], axis=1)
        makes["all"] = np.concatenate([makes["all"], [one.make for one in bench]])
    parts = {"all": [*which, *bench], "shaped": shaped, "sure": sure}

    def law(tier, angle_of, chord_of, chord_by):
        def value(j, of, names):
            F = features(parts[of], *names)
            b = regression(own[of][j], F, makes[of], SCATTER_MAKE[j], SCATTER_OWN[j])
            return b, own[of][j] - F @ b

        classes = {of: np.array([o.propeller.style for o in parts[of]]) for of in parts}
        angle, angle_left = value(0, angle_of, ["one"])
        line, chord_left = value(1, chord_of, chord_by)
        by = dict(zip(chord_by, line, strict=True))
        drag, _ = value(2, angle_of, ["one"])
        chords = [by.get(n, 0.0) for n in ("one", "diameter", "blades", "width")]
        of_angle = (classes[angle_of], makes[angle_of], PULL_ANGLE[tier], ONLY[tier])
        of_chord = (classes[chord_of], makes[chord_of], PULL_CHORD[tier], ONLY[tier])
        return {
            "angle": round(float(angle[0]), 5),
            "chord": [round(float(c), 4) for c in chords],
            "drag": round(float(drag[0]), 4),
            "class_angle": class_effects(angle_left, *of_angle),
            "class_chord": class_effects(chord_left, *of_chord),
            "spread": [round(s, 4) for s in SPREAD[tier]],
            "bands": NO_BANDS,
            "bands_read": NO_BANDS,
        }

    plain = ["one", "diameter", "blades"]
    return {
        "section": section,
        "chord": chord.tolist(),
        "twist": twist.tolist(),
        "tiers": {
            "nominal": law("nominal", "all", "all", plain),
            "class": law("class", "all", "all", plain),
            "width": law("width", "all", "shaped", ["one", "diameter", "width"]),
            "geometry": law("geometry", "sure", "sure", ["one"]),
        },
    }


# Names of a tier in the laws, and whether a reading was taken, by the suite's names
PLACES = {
    "nominal": ("nominal", "bands"),
    "class": ("class", "bands"),
    "class, width": ("width", "bands"),
    "geometry": ("geometry", "bands"),
    "nominal, reading": ("nominal", "bands_read"),
    "class, reading": ("class", "bands_read"),
    "class, width, reading": ("width", "bands_read"),
    "geometry, reading": ("geometry", "bands_read"),
}


def left_out_ratios(measured, numbers) -> dict:
    """Misses over peaks, with their advance over that of zero thrust, tier by tier."""
    out = {}
    laws = laws_from(numbers)

    def with_bands(side):
        bands = Bands(ct=side, cp=side)
        tiers = {k: replace(t, bands=bands, bands_read=bands) for k, t in laws.tiers.items()}
        return replace(laws, tiers=tiers)

    even, rising = with_bands((1.0, 1.0, 1.0)), with_bands((0.0, 0.5, 1.0))
    for tier in PLACES:
        flat = model_for(measured, tier=tier, laws=even)
        if flat is None:
            continue
        slope = model_for(measured, tier=tier, laws=rising)
        rows = measured.ct > LEAST_CT
        ask = {"advance_ratio": measured.advance_ratio[rows], "rotation": measured.rotation[rows]}
        a, b = flat.coefficients(**ask), slope.coefficients(**ask)
        out[tier] = {
            "make": measured.make,
            "u": b.ct_scatter / a.ct_scatter,
            "ct": np.abs(a.ct - measured.ct[rows]) / a.ct_scatter,
            "cp": np.abs(a.cp - measured.cp[rows]) / a.cp_scatter,
        }
    return out


def bands_from(ratios: Iterable[dict]) -> dict:
    """Four in five of the left-out rows, every propeller counting alike."""
    ratios = list(ratios)
    found = {}
    for kind in ("ct", "cp"):
        side = []
        for low, high in ((-0.1, 0.25), (0.25, 0.75), (0.75, 1.1)):
            values, weights = [], []
            for one in ratios:
                rows = (one["u"] >= low) & (one["u"] < high)
                if rows.any():
                    values.append(one[kind][rows])
                    weights.append(np.full(rows.sum(), 1.0 / rows.sum()))
            v, w = np.concatenate(values), np.concatenate(weights)
            order = np.argsort(v)
            at = np.searchsorted(np.cumsum(w[order]), 0.8 * w.sum())
            side.append(round(float(v[order][at]) / FOUR_IN_FIVE, 4))
        found[kind] = side
    return found


def bench_own(bench, laws) -> np.ndarray:
    """Find angle and ln chord with which a bench propeller's ct and cp are met."""
    tier = replace(laws.tiers["nominal"], angle=0.05, chord=(0.0, 0.0, 0.0, 0.0), drag=0.0)
    laws = replace(laws, tiers={**laws.tiers, "nominal": tier})
    blade = named_propeller(
        bench.key, diameter=bench.diameter, pitch=bench.pitch, blades=bench.blades
    )
    step = np.zeros(2)

    def both(s):
        moved = replace(tier, angle=tier.angle + s[0], chord=(s[1], 0.0, 0.0, 0.0))
        model = propeller_model(blade, laws=replace(laws, tiers={**laws.tiers, "nominal": moved}))
        got = model.coefficients(0.0, rotation=bench.rotation, density=BENCH_DENSITY)
        return np.log([float(got.ct) / bench.ct, float(got.cp) / bench.cp])

    for _ in range(12):
        here = both(step)
        J = np.array([(both(step + h) - here) / 1e-3 for h in 1e-3 * np.eye(2)]).T
        step = step - np.clip(np.linalg.solve(J, here), -0.15, 0.15)
    return np.array([tier.angle + step[0], step[1], 0.0])


def show(result) -> None:
    """Print an error table."""
    print(result.says)
    for t in result.tiers:
        print(
            f"{t.tier:24s} {t.count:4d}  ct {t.ct_median:.3f} ({t.ct_ninety:.3f})"
            f"  cp {t.cp_median:.3f} ({t.cp_ninety:.3f})  static {t.static_median:.3f}"
            f"  inside {t.ct_inside:.2f} {t.cp_inside:.2f}"
        )


def main() -> None:
    """Fit, judge, write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--bench", type=Path)
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args()
    measured = list(read_propellers(given.folder))
    start = np.array([START[name] for name in NAMES])
    bench = benched(given.bench)
    shipped = numbers_for(measured, bench, start)
    theta = np.array([shipped["section"][name] for name in NAMES])
    makes = sorted({one.make for one in [*measured, *bench]})
    left_out = {}
    for make in makes:
        others = [one for one in measured if one.make != make]
        rest = [one for one in bench if one.make != make]
        left_out[make] = numbers_for(others, rest, theta, rounds=2, steps=4)
        print("fitted without", make, flush=True)
    ratios = [left_out_ratios(one, left_out[one.make]) for one in measured]
    for tier, (name, slot) in PLACES.items():
        all_of = [r[tier] for r in ratios if tier in r]
        shipped["tiers"][name] = {**shipped["tiers"][name], slot: bands_from(all_of)}
        for make in makes:
            rest = bands_from(r for r in all_of if r["make"] != make)
            left_out[make]["tiers"][name] = {**left_out[make]["tiers"][name], slot: rest}
    if given.write:
        LEFT_OUT.parent.mkdir(parents=True, exist_ok=True)
        LEFT_OUT.write_text(json.dumps(left_out, separators=(",", ":")) + "\n", encoding="utf-8")
        head = (
            '"""Numbers of the laws, made by tools/fit_propeller.py; not edited by hand.\n\n'
            "Data: UIUC Propeller Database, volumes 1 to 3 (129 propellers of 23 makes); see\n"
            'docs/rooms/power-propeller.md.\n"""\n\nfrom typing import Any\n\n'
        )
        body = pprint.pformat(shipped, width=90, sort_dicts=False)
        FITTED.write_text(f"{head}FITTED: dict[str, Any] = {body}\n", encoding="utf-8")
    show(propeller_suite(given.folder, laws_for=lambda make: laws_from(left_out[make])))
    print("told everything (fitted to these very propellers):")
    show(propeller_suite(given.folder, laws_for=lambda _: laws_from(shipped)))
    if given.bench:
        show(bench_suite(given.bench, laws_for=lambda make: laws_from(left_out[make])))
        show(bench_suite(given.bench, laws_for=lambda _: laws_from(shipped)))


if __name__ == "__main__":
    main()
