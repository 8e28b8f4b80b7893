"""Refit the general model of smooth sections and print how well it does on sections left out.

Reads ``profiles.csv`` beside the section tables, fits lift (robust least squares) and drag
(non-negative least squares on relative residuals), prints the figures that stand in
``facts.toml`` as *fitted on UIUC 1*, and then, section by section, the error on the section that
was left out of the fit. Changes nothing. Needs scipy (a development dependency).

Run: ``.venv/bin/python tools/fit_sections.py``
"""

from __future__ import annotations

import csv
from importlib.resources import files

import numpy as np
from scipy.optimize import least_squares, nnls

#: Largest lift of each section as read off its polars, and a first guess of its zero-lift angle.
SECTIONS = {
    "A18": (1.20, -3.5),
    "BE50": (1.23, -2.83),
    "E374": (1.035, -2.05),
    "E387": (1.215, -3.3),
    "FX 63-137": (1.74, -7.1),
    "GM15": (1.35, -4.7),
    "MA409": (1.05, -2.05),
    "MH45": (1.15, -1.27),
    "NACA 6409": (1.46, -5.7),
    "NACA 64A010": (0.76, 0.0),
    "RG15": (1.03, -1.9),
}
NAMES = list(SECTIONS)
LIFT = [
    *("slope.base", "slope.reynolds", "slope.camber"),
    *("wake.share", "wake.place", "wake.reynolds", "wake.width"),
    *("limit.profile", "limit.thickness", "bend.profile", "bend.thickness"),
]
START = np.array([0.95, 0.03, -0.05, 0.34, 0.0, 6.0, 0.6, 0.85, 2.0, 5.0, 0.0])
LOW = np.array([0.8, -0.2, -0.4, 0.0, -3.0, 3.0, 0.3, 0.6, -5.0, 2.5, -50.0])
HIGH = np.array([1.1, 0.3, 0.2, 1.0, 3.0, 8.0, 1.2, 1.2, 10.0, 14.0, 250.0])
DRAG = [
    *("drag.friction", "drag.camber", "drag.load", "drag.load4", "drag.lost", "drag.under"),
    *("drag.bubble", "drag.burst", "drag.burst_camber"),
]
BAND = 0.05  # lift residuals in units of the band a good method reaches


def read():
    """Return section number, readings and thickness ratios."""
    text = files("foamwright.air.sections").joinpath("tables/profiles.csv").read_text("utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    which = np.array([NAMES.index(row["section"]) for row in rows])
    columns = ("thickness", "reynolds", "alpha_deg", "cl", "cd")
    data = np.array([[float(row[c]) for c in columns] for row in rows])
    keep = data[:, 2] > -6.6
    thickness = np.array([data[which == i, 0][0] for i in range(len(NAMES))])
    return which[keep], data[keep], thickness


def lift(q, alpha0, t, log_re, alpha):
    """Lift, straight line and load of the general model."""
    camber = -2.0 * np.pi * np.radians(alpha0)
    eta = q[0] + q[1] * np.minimum(log_re, 0.477) + q[2] * camber
    straight = 2.0 * np.pi * eta * np.radians(alpha - alpha0) - camber
    place = q[4] - q[5] * log_re
    loss = q[3] * camber / (1.0 + np.exp(-(place - alpha) / q[6]))
    limit = q[7] + q[8] * (t - 0.08)
    bend = q[9] + q[10] * t
    bent = straight / (1.0 + np.abs(straight / limit) ** bend) ** (1.0 / bend)
    return camber + bent - loss, straight - bent, bent - loss, camber


def fit_lift(which, data, thickness, use):
    """Fit with the sections of ``use``; the zero-lift angle of each section is its own."""
    keep = np.isin(which, use)
    log_re = np.log10(data[:, 1] / 1e5)
    top = np.array([SECTIONS[n][0] for n in NAMES])

    def residual(v):
        q, alpha0 = v[: len(START)], v[len(START) :]
        w = which[keep]
        here = lift(q, alpha0[w], thickness[w], log_re[keep], data[keep, 2])[0] - data[keep, 3]
        peak = lift(q, alpha0, thickness, np.full(len(NAMES), 0.2), np.full(len(NAMES), 14.0))[0]
        peak = np.where(np.isin(np.arange(len(NAMES)), use), peak - top, 0.0)
        idle = np.where(np.isin(np.arange(len(NAMES)), use), 0.0, alpha0 - guess) * 0.01
        return np.concatenate([here / BAND, 1.7 * peak / BAND, idle])

    guess = np.array([SECTIONS[n][1] for n in NAMES])
    ones = np.ones(len(NAMES))
    bounds = (np.concatenate([LOW, -9.0 * ones]), np.concatenate([HIGH, ones]))
    first = np.clip(np.concatenate([START, guess]), bounds[0] + 1e-6, bounds[1] - 1e-6)
    found = least_squares(residual, first, bounds=bounds, loss="soft_l1").x
    return found[: len(START)], found[len(START) :]


def drag_terms(q, alpha0, t, log_re, alpha):
    """Columns of the drag fit, in the order of DRAG."""
    _, lost, load, camber = lift(q, alpha0, t, log_re, alpha)
    ratio = 10.0**log_re
    friction = 2.0 * 1.328 / np.sqrt(1e5 * ratio)
    up, down = np.maximum(load, 0.0), np.maximum(-load, 0.0)
    thick = np.maximum(t - 0.075, 0.0)
    hump = 1.0 / (1.0 + ((load - 0.2) / 0.3) ** 4)
    columns = [
        friction,
        friction * camber,
        friction * up**2,
        up**4,
        np.maximum(lost, 0.0),
        down**2,
        thick * camber * hump / ratio**1.5,
        thick * hump / ratio**3,
        thick * camber / ratio**3,
    ]
    return np.stack(columns, axis=1)


def fit_drag(terms, cd):
    """Weights of the columns, none below nought."""
    weight = 1.0 / cd
    for _ in range(30):
        found, _ = nnls(terms * weight[:, None], cd * weight)
        weight = 1.0 / cd / np.sqrt(1.0 + ((terms @ found - cd) / cd / 0.12) ** 2)
    return found


def main():
    """Print the fit and the errors on what was left out."""
    which, data, thickness = read()
    log_re, everything = np.log10(data[:, 1] / 1e5), np.arange(len(NAMES))
    flies = data[:, 2] < 11.6

    def terms(q, alpha0, pick):
        w = which[pick]
        return drag_terms(q, alpha0[w], thickness[w], log_re[pick], data[pick, 2])

    q, alpha0 = fit_lift(which, data, thickness, everything)
    for name, value in zip(LIFT, q, strict=True):
        print(f"{name:20s} {value:9.4f}")
    for name, value in zip(DRAG, fit_drag(terms(q, alpha0, flies), data[flies, 4]), strict=True):
        print(f"{name:20s} {value:9.4f}")
    print("\nleft out      lift error >=1e5 <1e5   largest lift   drag error >=1e5 <1e5")
    every: list[tuple[np.ndarray, ...]] = []
    for i, name in enumerate(NAMES):
        use = everything[everything != i]
        q, alpha0 = fit_lift(which, data, thickness, use)
        mine = which == i
        t, r, a = thickness[which[mine]], log_re[mine], data[mine, 2]

        def own(v, q=q, t=t, r=r, a=a, mine=mine):
            return (lift(q, v[0], t, r, a)[0] - data[mine, 3]) / BAND

        alpha0[i] = least_squares(own, [SECTIONS[name][1]], loss="soft_l1").x[0]
        miss = np.abs(own(alpha0[i : i + 1])) * BAND
        top = lift(q, alpha0[i], thickness[i], 0.2, 14.0)[0] - SECTIONS[name][0]
        rest = np.isin(which, use) & flies
        weights = fit_drag(terms(q, alpha0, rest), data[rest, 4])
        both = mine & flies
        off = np.abs(terms(q, alpha0, both) @ weights / data[both, 4] - 1.0)
        high, far = r > -0.05, log_re[both] > -0.05
        every.append((miss[high], miss[~high], np.array([top**2]), off[far], off[~far]))
        means = [f"{v.mean():.3f}" if len(v) else "  -  " for v in (miss[high], miss[~high])]
        halves = [f"{np.median(v):.2f}" if len(v) else " -  " for v in (off[far], off[~far])]
        print(f"{name:14s}     {'   '.join(means)}        {top:+.2f}          {'   '.join(halves)}")
    lists = [np.concatenate(part) for part in zip(*every, strict=True)]
    means = [f"{part.mean():.3f}" for part in lists[:2]]
    halves = [f"{np.median(part):.2f}" for part in lists[3:]]
    top = np.sqrt(lists[2].mean())
    print(f"all                {'   '.join(means)}    rms {top:.3f}          {'   '.join(halves)}")


if __name__ == "__main__":
    main()
