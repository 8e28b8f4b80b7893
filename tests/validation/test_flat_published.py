"""Flat parts against worked geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foamwright.airframe import RuledSheet, build_airframe
from foamwright.balance import BalanceSpan, weigh
from foamwright.flat import flatten, unfold
from tests.drawn import panel, wing
from tests.handmade import design
from tests.reference import Reference

GEOMETRY = Reference("none", "plane geometry", None, "worked by hand for this project", "derived")
CONE = Reference(
    "none", "development of a right circular cone, school geometry", None, "sector", "derived"
)


def tapered(mark):
    """Half of a 1.2 m wing, 240 mm at the root, 160 at the tip, swept 6 degrees, and its mark."""
    half = panel(length=0.6, root_chord=0.24, tip_chord=0.16, sweep=math.radians(6.0))
    of = design(surfaces=(wing(half, at=(0.0, 0.0, 0.0), incidence=0.0),))
    airframe = build_airframe(of)
    span = BalanceSpan(forward=mark, aft=mark + 0.01, why="")
    return airframe, flatten(airframe, weigh(airframe), span=span).parts[0]


def from_edge(part, text, along):
    """Distance from the leading edge to a mark, parallel to the root, at a distance from it.

    The root is the outline's edge at the left; the part may be turned on the page.
    """
    mark = next(mark.points for mark in part.marks if mark.text == text)
    corners = part.outline
    root = corners[np.argsort(corners[:, 0])[:2]]
    root = root[np.argsort(-root[:, 1])]  # leading edge first: nose up the page
    chord = (root[1] - root[0]) / np.linalg.norm(root[1] - root[0])
    out = np.array([-chord[1], chord[0]])
    tip = corners[np.argsort(corners[:, 0])[2:]]
    tip = tip[np.argsort(-tip[:, 1])]

    def at(line):
        ends = (line - root[0]) @ np.stack([out, chord], axis=1)
        ends = ends[np.argsort(ends[:, 0])]
        slope = (ends[-1, 1] - ends[0, 1]) / (ends[-1, 0] - ends[0, 0])
        return ends[0, 1] + slope * (along - ends[0, 0])

    return at(mark) - at(np.stack([root[0], tip[0]]))


@pytest.mark.validation(GEOMETRY)
def test_balance_mark_on_a_swept_tapered_wing(agrees):
    """28 % of the mean chord: 86.18 mm at the root, 75.67 mm at 100 mm out."""
    airframe, part = tapered(0.08617585)
    agrees("mean chord [m]", got=airframe.reference.mac, expected=0.2026667, rel=1e-5)
    text = "balance span, forward limit"
    agrees(
        "mark behind the root's leading edge [mm]",
        got=1e3 * from_edge(part, text, 0.0),
        expected=86.17585,
        tol_abs=0.1,
    )
    agrees(
        "mark behind the leading edge at 100 mm [mm]",
        got=1e3 * from_edge(part, text, 0.1),
        expected=75.66543,
        tol_abs=0.1,
    )


@pytest.mark.validation(GEOMETRY)
def test_area_of_a_swept_tapered_panel(agrees):
    """A trapezium: half the sum of the chords times the length."""
    _, part = tapered(0.08)
    agrees("area [m²]", got=part.area, expected=0.5 * (0.24 + 0.16) * 0.6, rel=1e-12)


@pytest.mark.validation(CONE)
def test_a_cone_unrolls_into_its_sector(agrees):
    """Radii 60 and 90 mm, 100 mm apart: a sector of 2 pi sin(half apex) between two arcs."""
    count = 1440
    angle = np.linspace(0.0, math.pi, count + 1)
    ring = np.stack([np.cos(angle), np.sin(angle), np.zeros_like(angle)], axis=1)
    first = 0.06 * ring
    second = 0.09 * ring + np.array([0.0, 0.0, 0.1])
    flat = unfold(RuledSheet(first=first, second=second, thickness=0.001, folds=()))
    slant = math.hypot(0.1, 0.03)
    ends = flat.second[[0, -1]] - flat.first[[0, -1]]
    ways = ends / np.linalg.norm(ends, axis=1)[:, None]
    opened = math.acos(float(ways[0] @ ways[1]))
    agrees("half sector [rad]", got=opened, expected=math.pi * 0.03 / slant, rel=1e-5)
    agrees("length error [m]", got=flat.length_error, expected=0.0, tol_abs=1e-12)
    apex = flat.first[0] - (0.06 / 0.03) * slant * ways[0]
    radii = np.linalg.norm(flat.second - apex, axis=1)
    agrees("outer radius [m]", got=float(radii.max()), expected=0.09 / 0.03 * slant, rel=1e-9)
    agrees("outer radius [m]", got=float(radii.min()), expected=0.09 / 0.03 * slant, rel=1e-9)
