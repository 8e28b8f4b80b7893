"""The five examples: they read, weigh, balance and keep clear of their propellers."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from foamwright.air import stability
from foamwright.airframe import Airframe, Disc, Piece
from foamwright.assess import Assessment, compare, has_tail
from foamwright.design import BoxBody, Design, Pack, read_design
from foamwright.findings import Level

FOLDER = Path(str(files("foamwright.design") / "examples"))

#: name: flying mass in g, span in m, over all variants; wide, for the variants differ.
RANGES = {
    "dunlin": ((430, 530), (0.9, 1.1)),
    "knot": ((150, 180), (0.7, 0.75)),
    "curlew": ((600, 720), (1.1, 1.2)),
    "avocet": ((660, 740), (1.19, 1.21)),
    "godwit": ((710, 810), (1.4, 1.8)),
}

SETS = {name: read_design(FOLDER / f"{name}.toml") for name in RANGES}
COMPARISONS = {name: compare(design_set) for name, design_set in SETS.items()}
ASSESSMENTS = [
    pytest.param(name, assessment, id=f"{name}-{assessment.design.variant}")
    for name, comparison in COMPARISONS.items()
    for assessment in comparison.assessments
]

every = pytest.mark.parametrize(("name", "assessment"), ASSESSMENTS)


def test_there_are_five_and_no_others() -> None:
    assert {path.stem for path in FOLDER.glob("*.toml")} == set(RANGES)


@pytest.mark.parametrize("name", RANGES)
def test_each_is_finished_and_has_variants(name: str) -> None:
    text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    assert not {"TODO", "FIXME", "XXX"} & set(text.replace("#", " ").split())
    assert max(map(len, text.splitlines())) <= 150
    assert len(SETS[name].variants) >= 3
    assert all(design.summary and design.brief for design in SETS[name].variants)


@every
def test_mass_span_and_loading(name: str, assessment: Assessment) -> None:
    (least, most), (narrow, wide) = RANGES[name]
    reference = assessment.airframe.reference
    assert least < 1000 * assessment.balance.mass < most
    assert narrow <= reference.span <= wide
    assert 12.0 < 10 * assessment.balance.mass / reference.area < 35.0  # g/dm²


@every
def test_it_balances_with_the_pack_in_its_tray(name: str, assessment: Assessment) -> None:
    margin = (
        assessment.aero.neutral_point - assessment.balance.point[0]
    ) / assessment.airframe.reference.mac
    low, high = (0.075, 0.12) if has_tail(assessment.design) else (0.05, 0.065)
    assert low < margin < high
    for pack in assessment.design.power.packs:
        front, back = pack.travel
        assert front <= pack.position <= back


@every
def test_it_trims_hands_off_between_stall_and_cruise(name: str, assessment: Assessment) -> None:
    """Lift coefficient at which the controls rest; a sheet wing stalls near 1."""
    stable = stability(assessment.airframe)
    margin = (
        assessment.aero.neutral_point - assessment.balance.point[0]
    ) / assessment.airframe.reference.mac
    assert 0.2 < stable.zero_lift_moment / margin < 0.7


@every
def test_nothing_is_found_that_must_not_be(name: str, assessment: Assessment) -> None:
    assert [f.text for f in assessment.findings if f.level is Level.STOP] == []
    assert abs(assessment.balance.point[1]) < 1e-3  # m, sideways


@every
def test_tail_volumes(name: str, assessment: Assessment) -> None:
    """Customary bands, common practice without a source; a V-tail counts by cos² and sin²."""
    reference = assessment.airframe.reference
    if has_tail(assessment.design):
        assert reference.tail_volume is not None
        assert 0.33 < reference.tail_volume < 0.7
    assert reference.fin_volume is not None
    assert 0.015 < reference.fin_volume < 0.06


@every
def test_propellers_keep_clear(name: str, assessment: Assessment) -> None:
    """5 mm to everything but what turns with them or drives them."""
    airframe = assessment.airframe
    own = ("power.", "item.saver", "item.collet")
    pieces = [piece for piece in airframe.pieces if not piece.path.startswith(own)]
    for disc in airframe.discs:
        assert min(_clearance(disc, piece) for piece in pieces) >= 5e-3


def _clearance(disc: Disc, piece: Piece) -> float:
    """Distance from the disc to points spread over the piece's faces. [m]"""
    shares = np.array([(i, j, 8 - i - j) for i in range(9) for j in range(9 - i)]) / 8
    corners = piece.mesh.vertices[piece.mesh.faces]
    points = np.einsum("gk,tkd->tgd", shares, corners).reshape(-1, 3) - disc.centre
    along = points @ disc.thrust
    radius = np.linalg.norm(points - along[:, None] * disc.thrust, axis=1)
    return float(np.hypot(np.maximum(radius - 0.5 * disc.diameter, 0.0), along).min())


@every
def test_packs_lie_inside_the_hull(name: str, assessment: Assessment) -> None:
    design = assessment.design
    (hull,) = (body for body in design.bodies if isinstance(body, BoxBody))
    for pack in design.power.packs:
        assert _least_room(design, hull, pack) > -1e-6
        assert pack.size[1] <= pack.tray.width
        assert pack.size[2] <= pack.tray.height


def _least_room(design: Design, hull: BoxBody, pack: Pack) -> float:
    """Least gap between the tray and the hull's inside, second layers counted. [m]"""
    tray = pack.tray
    stations = [station.x for station in hull.stations]
    gaps: list[float] = []
    for x in np.linspace(tray.front, tray.back, 25):
        inside = {
            face: design.stock.sheet(hull.sheet).thickness.value
            + sum(
                design.stock.sheet(layer.sheet).thickness.value
                for layer in hull.doublers
                if layer.face == face and layer.start <= x <= layer.end
            )
            for face in ("sides", "top", "bottom")
        }
        bottom = np.interp(x, stations, [station.bottom for station in hull.stations])
        top = np.interp(x, stations, [station.top for station in hull.stations])
        width = np.interp(x, stations, [station.width for station in hull.stations])
        gaps += [
            float(tray.floor - bottom - inside["bottom"]),
            float(top - inside["top"] - tray.floor - tray.height),
            float(0.5 * width - inside["sides"] - abs(tray.y) - 0.5 * tray.width),
        ]
    return min(gaps)


@pytest.mark.parametrize("name", RANGES)
def test_one_balance_point_suits_every_variant(name: str) -> None:
    assert not COMPARISONS[name].span.is_empty


def test_every_way_to_make_a_section_but_bending_is_shown() -> None:
    kinds = {
        type(panel.root_section).__name__
        for design_set in SETS.values()
        for surface in design_set.variants[0].surfaces
        for panel in surface.panels
    }
    assert kinds == {
        "FlatSection",
        "CreasedSection",
        "FoldedSection",
        "SteppedSection",
        "ProfiledSection",
    }


def _airframes() -> list[Airframe]:
    return [
        assessment.airframe
        for comparison in COMPARISONS.values()
        for assessment in comparison.assessments
    ]


def test_left_mirrors_right() -> None:
    """Both motors of the twin stand opposite each other and turn against each other."""
    (godwit,) = (a for a in _airframes() if a.design.variant == "evening")
    right, left = godwit.discs
    assert right.centre[1] == pytest.approx(-left.centre[1])
    turns = {propeller.rotation for propeller in godwit.design.power.propellers}
    assert len(turns) == 2
