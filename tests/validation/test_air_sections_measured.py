"""Section polars against wind-tunnel measurements at low Reynolds numbers.

Each case is put to two polars: the *measured* one, which holds the very readings, and the
*general* one, which knows only the shape. The general model was fitted to other sections (UIUC
vol. 1); E387 (C) and W1011-30 are a check of it, BW-3 is not, for its sheet part was fitted to
BW-3. A quantity that the general polar misses by more than a good method would is marked as
missed, so that the list stays true both ways.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest

from foamwright.air.sections import (
    SectionPolar,
    flap_effect,
    library_polar,
    profile_shape,
    shape_polar,
)
from tests.reference import Agrees, Reference
from tests.validation import air_sections_quantities as quantity

UIUC_3 = Reference(
    "Lyon, Broeren, Giguere, Gopalarathnam, Selig",
    "Summary of Low-Speed Airfoil Data, vol. 3",
    1997,
    "tabulated data",
)
UIUC_6 = Reference(
    "Williamson and others", "Low-Speed Airfoil Data, vol. 6 files", 2012, "W1011, 30 % flap"
)


@lru_cache
def polar(name: str, kind: str) -> SectionPolar:
    measured = library_polar(name)
    return measured if kind == "measured" else shape_polar(measured.shape)


@lru_cache
def tail_section() -> SectionPolar:
    """A symmetric section; W1011's coordinates are not in the data, 0.10 thick is assumed."""
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 81))
    half = 0.5 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    shape = profile_shape(np.stack([x, half], axis=1), np.stack([x, -half], axis=1))
    return shape_polar(shape).with_flap(0.3)


# quantity, Reynolds number, further arguments, expected, band (absolute; relative below)
E387_LIFT = [
    ("alpha0", 99865, (), -3.18, 0.35),
    ("alpha0", 199970, (), -3.43, 0.35),
    ("alpha0", 299917, (), -3.32, 0.35),
    ("slope", 99865, (), 0.0890, 0.0062),
    ("slope", 199970, (), 0.1041, 0.0073),
    ("slope", 299917, (), 0.1068, 0.0075),
    ("cl_at", 99865, (4.0,), 0.687, 0.05),
    ("cl_at", 199970, (4.0,), 0.755, 0.05),
    ("cl_at", 299917, (4.0,), 0.774, 0.05),
    ("cm_at_cl", 99865, (0.5,), -0.103, 0.015),
    ("cm_at_cl", 199970, (0.5,), -0.088, 0.015),
    ("cm_at_cl", 299917, (0.5,), -0.086, 0.015),
    ("clmax", 99865, (), 1.21, 0.08),
    ("clmax", 199970, (), 1.22, 0.08),
    ("clmax", 299917, (), 1.25, 0.08),
    ("alpha_at_cl", 99865, (1.15,), 8.9, 0.8),
    ("alpha_at_cl", 199970, (1.15,), 8.2, 0.8),
    ("alpha_at_cl", 299917, (1.15,), 7.9, 0.8),
    ("cl_at", 59885, (4.0,), 0.585, 0.08),
    ("cl_at", 59885, (7.0,), 0.753, 0.10),
    ("clmax", 59885, (), 1.23, 0.08),
]
_CL = (0.2, 0.4, 0.6, 0.8, 1.0)
E387_DRAG = [
    ("cd_at_cl", reynolds, (cl,), cd, band * cd)
    for reynolds, band, row in [
        (59885, 0.25, (0.0230, 0.0303, 0.0528)),
        (99744, 0.20, (0.0172, 0.0201, 0.0264, 0.0270, 0.0217)),
        (199604, 0.12, (0.0113, 0.0111, 0.0127, 0.0142, 0.0147)),
        (299856, 0.10, (0.0103, 0.0088, 0.0098, 0.0111, 0.0118)),
        (458992, 0.10, (0.0095, 0.0073, 0.0080, 0.0092, 0.0102)),
    ]
    for cl, cd in zip(_CL, row, strict=False)
] + [
    ("best_glide", reynolds, (), glide, 0.12 * glide)
    for reynolds, glide in [(99744, 56), (199604, 73), (299856, 87), (458992, 100)]
]
BW3_LIFT = [
    (name, reynolds, arguments, value, band)
    for name, arguments, band, row in [
        ("cl_at", (0.0,), 0.08, (0.21, 0.23, 0.45, 0.48)),
        ("cl_at", (4.0,), 0.06, (0.79, 0.83, 0.90, 0.92)),
        ("cl_at", (8.0,), 0.07, (1.13, 1.13, 1.21, 1.23)),
        ("cm_at", (4.0,), 0.015, (-0.127, -0.133, -0.126, -0.125)),
        ("clmax", (), 0.08, (1.32, 1.35, 1.41, 1.44)),
        ("stall_alpha", (), 1.5, (12.9, 12.8, 11.8, 12.0)),
    ]
    for reynolds, value in zip((60000, 100000, 200100, 299500), row, strict=True)
]
BW3_DRAG = [
    ("cd_at_cl", reynolds, (cl,), cd, 0.2 * cd)
    for reynolds, row in [
        (59400, (0.0439, 0.0336, 0.0325, 0.0291, 0.0240, 0.0223)),
        (99400, (0.0383, 0.0304, 0.0264, 0.0222, 0.0183, 0.0214)),
        (198900, (0.0381, 0.0261, 0.0180, 0.0155, 0.0149, 0.0199)),
        (297600, (0.0382, 0.0252, 0.0172, 0.0136, 0.0142, 0.0175)),
    ]
    for cl, cd in zip((*_CL, 1.1), row, strict=True)
] + [
    ("best_glide", reynolds, (), glide, 0.15 * glide)
    for reynolds, glide in [(59400, 52), (99400, 55), (198900, 69), (297600, 70)]
]
# What the general polar misses: (section, quantity, Reynolds number, argument).
MISSED = {
    # Model C of E387 loses more lift at Re 1e5 and below than model A of the same section.
    ("e387", "alpha0", 99865, None),
    ("e387", "alpha0", 199970, None),
    ("e387", "slope", 99865, None),
    ("e387", "cl_at", 99865, 4.0),
    ("e387", "cm_at_cl", 99865, 0.5),
    ("e387", "alpha_at_cl", 299917, 1.15),
    ("e387", "cl_at", 59885, 4.0),
    ("e387", "cl_at", 59885, 7.0),
    ("e387", "cd_at_cl", 59885, 0.6),
    ("e387", "cd_at_cl", 99744, 0.6),
    ("e387", "cd_at_cl", 99744, 0.8),
    ("e387", "cd_at_cl", 199604, 0.8),
    ("e387", "cd_at_cl", 299856, 0.2),
    ("e387", "cd_at_cl", 299856, 0.8),
    ("e387", "cd_at_cl", 299856, 1.0),
    ("e387", "cd_at_cl", 458992, 0.2),
    ("e387", "cd_at_cl", 458992, 0.6),
    ("e387", "cd_at_cl", 458992, 0.8),
    ("e387", "cd_at_cl", 458992, 1.0),
    ("bw3", "cl_at", 60000, 0.0),
    ("bw3", "stall_alpha", 200100, None),
    ("bw3", "stall_alpha", 299500, None),
    ("bw3", "cd_at_cl", 59400, 0.6),
    ("bw3", "cd_at_cl", 59400, 0.8),
    ("bw3", "cd_at_cl", 99400, 0.6),
    ("bw3", "cd_at_cl", 297600, 0.2),
    ("bw3", "cd_at_cl", 297600, 0.4),
}


def _cases():
    for section, rows in [("e387", E387_LIFT + E387_DRAG), ("bw3", BW3_LIFT + BW3_DRAG)]:
        for kind in ("measured", "general"):
            for name, reynolds, arguments, value, band in rows:
                key = (section, name, reynolds, arguments[0] if arguments else None)
                is_missed = kind == "general" and key in MISSED
                marks = [pytest.mark.xfail(reason="missed", strict=True)] if is_missed else []
                yield pytest.param(
                    section,
                    kind,
                    name,
                    reynolds,
                    arguments,
                    value,
                    band,
                    marks=marks,
                    id=f"{section}-{kind}-{name}-{reynolds}-{key[3]}",
                )


@pytest.mark.validation(UIUC_3)
@pytest.mark.parametrize(
    ("section", "kind", "name", "reynolds", "arguments", "value", "band"), list(_cases())
)
def test_section(agrees: Agrees, section, kind, name, reynolds, arguments, value, band):
    got = getattr(quantity, name)(polar(section, kind), reynolds, *arguments)
    what = f"{section} {kind}: {name}{arguments} at Re {reynolds}"
    agrees(what, got=got, expected=value, tol_abs=band)


@pytest.mark.validation(UIUC_3)
def test_reattachment_of_e387_at_60000(agrees: Agrees):
    """The jump from cl 0.75, cd 0.084 at 7.1 deg to cl 1.06, cd 0.036 at 8.3 deg."""
    e387 = polar("e387", "measured")
    alpha = np.radians(np.arange(6.0, 10.0, 0.05))
    rise = np.gradient(e387.lift(alpha, reynolds=59885))
    place = np.degrees(alpha[int(np.argmax(rise))])
    agrees("where lift jumps [deg]", got=place, expected=7.7, tol_abs=1.5)
    agrees("drag before", got=quantity.cd_at(e387, 59885, 7.1), expected=0.084, rel=0.1)
    agrees("drag after", got=quantity.cd_at(e387, 59885, 8.3), expected=0.036, rel=0.1)


# Re; lift at no incidence, share of theory, moment and largest lift by deflection.
FLAP = [
    (1e5, (0.54, 0.75), (0.73, 0.51), -0.101, (0.92, 1.15, 1.24)),
    (2e5, (0.63, 0.87), (0.85, 0.59), -0.109, (1.00, 1.24, 1.41)),
    (4e5, (0.63, 0.94), (0.85, 0.64), -0.104, (1.09, 1.33, 1.53)),
]


@pytest.mark.validation(UIUC_6)
@pytest.mark.parametrize(("reynolds", "lift", "share", "moment", "top"), FLAP)
def test_flap(agrees: Agrees, reynolds, lift, share, moment, top):
    """The shares are the table's own source; lift, moment and drag rest on the whole model."""
    tail, theory = tail_section(), float(flap_effect(0.3).cl_delta)
    for k, (degrees, band) in enumerate([(10.0, 0.05), (20.0, 0.07)]):
        got = quantity.cl_at(tail, reynolds, 0.0, np.radians(degrees))
        agrees(f"lift at {degrees:g} deg", got=got, expected=lift[k], tol_abs=band)
        got /= theory * np.radians(degrees)
        agrees(f"share of theory at {degrees:g} deg", got=got, expected=share[k], tol_abs=0.07)
    got = quantity.cm_at(tail, reynolds, 0.0, np.radians(10.0))
    agrees("moment at 10 deg", got=got, expected=moment, tol_abs=0.012)
    gain = quantity.clmax(tail, reynolds, np.radians(10.0)) - quantity.clmax(tail, reynolds)
    agrees("gain in largest lift, 10 deg", got=gain, expected=top[1] - top[0], tol_abs=0.08)
    gain = quantity.clmax(tail, reynolds, np.radians(20.0)) - quantity.clmax(tail, reynolds)
    agrees("gain in largest lift, 20 deg", got=gain, expected=top[2] - top[0], tol_abs=0.08)


_MISS = [pytest.mark.xfail(reason="missed: 0.12 to 0.27 too low", strict=True)]


@pytest.mark.validation(UIUC_6)
@pytest.mark.parametrize(
    ("reynolds", "degrees", "top"),
    [
        pytest.param(row[0], degrees, top, marks=[] if row[0] == 1e5 else _MISS)
        for row in FLAP
        for degrees, top in zip((0.0, 10.0, 20.0), row[4], strict=True)
    ],
)
def test_largest_lift_of_a_symmetric_section(agrees: Agrees, reynolds, degrees, top):
    """The eleven fitted sections show no rise with Reynolds number; this one does."""
    got = quantity.clmax(tail_section(), reynolds, np.radians(degrees))
    agrees(f"largest lift, flap {degrees:g} deg", got=got, expected=top, tol_abs=0.08)


_DRAG_MISSED = {(1e5, 0.0), (1e5, 0.4), (1e5, 0.6), (2e5, 0.4), (2e5, 0.6)}


@pytest.mark.validation(UIUC_6)
@pytest.mark.parametrize(
    ("reynolds", "cl", "cd"),
    [
        pytest.param(
            reynolds,
            cl,
            cd,
            marks=[pytest.mark.xfail(reason="missed by 16 to 23 %", strict=True)]
            if (reynolds, cl) in _DRAG_MISSED
            else [],
        )
        for reynolds, row in [
            (1e5, (0.0107, 0.0136, 0.0171, 0.0224)),
            (2e5, (0.0090, 0.0098, 0.0126, 0.0160)),
        ]
        for cl, cd in zip((0.0, 0.2, 0.4, 0.6), row, strict=True)
    ],
)
def test_drag_of_a_symmetric_section(agrees: Agrees, reynolds, cl, cd):
    got = quantity.cd_at_cl(tail_section(), reynolds, cl)
    agrees(f"drag at cl {cl:g}, Re {reynolds:g}", got=got, expected=cd, rel=0.15)


@pytest.mark.validation(UIUC_6)
@pytest.mark.parametrize(
    ("reynolds", "cd"),
    [
        (1e5, 0.0267),
        pytest.param(
            2e5, 0.0156, marks=pytest.mark.xfail(reason="missed: 24 % too high", strict=True)
        ),
    ],
)
def test_drag_with_flap_down_10_degrees(agrees: Agrees, reynolds, cd):
    got = quantity.cd_at(tail_section(), reynolds, 0.0, np.radians(10.0))
    agrees(f"drag at no incidence, Re {reynolds:g}", got=got, expected=cd, rel=0.20)
