"""What is read: SI values, defaults, catalogue, units, variants; and files that are not read."""

from __future__ import annotations

import math
import os
from pathlib import Path

import pytest

from foamwright.air import stability
from foamwright.airframe import Hand, build_airframe
from foamwright.design import (
    BoxBody,
    Channel,
    CreasedSection,
    CurvedSection,
    FoldedSection,
    GearWire,
    ProfiledSection,
    SlabBody,
    SteppedSection,
    read_design,
    read_design_text,
)
from foamwright.design.starters import STARTERS, starter_text
from foamwright.errors import DesignFileError
from foamwright.figures import Figure, Record
from tests.unit.design_text import LEGAL, edited, line_of, problems_of, read


@pytest.fixture(scope="module")
def design():
    return read().variants[0]


def _codes(caught: pytest.ExceptionInfo[DesignFileError]) -> list[str]:
    return [problem.code for problem in caught.value.problems]


# ---------------------------------------------------------------- values


def test_lengths_and_angles_are_si(design):
    wing = design.surfaces[0]
    assert wing.at == (0.21, 0.0, 0.035)
    assert wing.incidence == pytest.approx(math.radians(2))
    assert wing.panels[0].length == 0.38
    assert wing.panels[1].dihedral == pytest.approx(math.radians(12))


def test_a_figure_carries_scatter_source_and_record(design):
    board = design.stock.sheet("board")
    assert board.weight == Figure(value=0.3, scatter=pytest.approx(0.015), source="design file")
    assert board.thickness.scatter == pytest.approx(0.03 * 0.0048)
    assert board.weight.record is Record.DESIGN


def test_catalogue_figures_say_where_they_come_from(design):
    ply = design.stock.sheet("ply")
    assert ply.weight.source.startswith("catalogue: ")
    assert ply.weight.scatter > 0.0
    assert ply.says


def test_a_figure_of_the_file_goes_before_the_catalogue(design):
    servo = design.items[0]
    assert servo.mass.value == pytest.approx(0.013)
    assert servo.mass.source == "design file"
    # The catalogue's scatter is relative and still the best that is known.
    assert servo.mass.relative_scatter == pytest.approx(0.08)


def test_a_variant_that_sets_a_figure_makes_it_the_files_own():
    text = edited(('"stock.sheet.board.weight" = 480', '"stock.sheet.ply.weight" = 2000'))
    drawn, _, heavy = read(text).variants
    assert drawn.stock.sheet("ply").weight.source.startswith("catalogue")
    assert heavy.stock.sheet("ply").weight == Figure(
        value=2.0, scatter=heavy.stock.sheet("ply").weight.scatter, source="design file"
    )


def test_panels_take_over_what_they_do_not_say(design):
    inner, tip = design.surfaces[0].panels
    assert (inner.tip_chord, tip.root_chord, tip.tip_chord) == (0.19, 0.19, 0.15)
    assert (inner.tip_twist, tip.root_twist) == (0.0, 0.0)
    assert tip.tip_twist == pytest.approx(math.radians(-2))
    assert tip.root_section is inner.root_section


def test_a_fin_stands_unless_told_otherwise(design):
    fin = design.surfaces[2]
    assert fin.panels[0].dihedral == pytest.approx(math.pi / 2)


def test_sections_of_every_kind(design):
    kinds = [type(panel.root_section) for surface in design.surfaces for panel in surface.panels]
    assert {CreasedSection, FoldedSection, SteppedSection, CurvedSection, ProfiledSection} <= set(
        kinds
    )
    assert design.surfaces[0].panels[0].root_section.nodes == ((0, 0), (0.35, 0.05), (1, 0))


def test_controls_lie_along_their_panel_by_share_or_by_length(design):
    aileron, flap = design.surfaces[0].controls
    assert aileron.start == 0.1
    assert aileron.end == pytest.approx(200 / 220)
    assert (aileron.start_chord, aileron.end_chord) == (0.04, 0.03)
    assert flap.start_chord == flap.end_chord == 0.04
    assert {mix.channel: mix.gain for mix in flap.mixes} == {Channel.FLAP: 1.0, Channel.ROLL: 0.2}


def test_rods_are_weighed_by_density_and_section(design):
    spar = design.stock.rod("spar")
    # 1550 kg/m³ times the ring between 5 and 3 mm: 19.5 g/m
    assert spar.line_mass.value == pytest.approx(1550 * math.pi * (2.5e-3**2 - 1.5e-3**2))


def test_bodies_of_every_kind(design):
    hull, pylon, pod, boom = design.bodies
    assert isinstance(hull, BoxBody)
    assert hull.ends == (True, False)
    assert hull.formers[0].sheet == "ply"
    assert hull.doublers[0].sheet == "board"
    assert isinstance(pylon, SlabBody)
    assert pylon.is_pylon
    assert pod.mass == Figure(value=0.014)
    assert boom.mirrored


def test_power_is_si(design):
    motor, pack = design.power.motors[0], design.power.packs[0]
    assert motor.speed_constant == pytest.approx(1500 * 2 * math.pi / 60)
    assert motor.mount.up.step == pytest.approx(math.radians(1))
    assert pack.capacity == pytest.approx(1.3 * 3600)
    assert pack.travel == pytest.approx((0.0975, 0.1525))
    assert design.power.propeller("five").diameter == pytest.approx(0.127)


def test_gear(design):
    wheel, leg = design.gear
    assert wheel.diameter == 0.05
    assert isinstance(leg, GearWire)
    assert leg.points[1] == (0.23, 0.105, -0.11)


def test_marks_and_brief(design):
    assert design.marks.notes == ("one", "two")
    assert design.marks.balance_span
    assert design.brief[1].at_most == pytest.approx(0.7)
    assert design.brief[1].at_least is None


def test_a_file_in_inches_and_ounces_is_the_same_aeroplane():
    text = 'format = 1\nname = "x"\nlengths = "in"\nmasses = "oz"\n'
    text += """
[stock.sheet.board]
kind = "foam"
thickness = 0.25
weight = "0.5 oz/ft2"
size = [30, 20]
[surface.wing]
role = "wing"
at = [1, 0, 0]
mirror = true
section = { kind = "flat", sheet = "board" }
[[surface.wing.panel]]
name = "all"
length = "1 ft"
root_chord = "7 1/2"
[item.lead]
kind = "ballast"
at = [0, 0, 0]
mass = 1
"""
    design_set = read(text)
    design = design_set.variants[0]
    assert (design_set.units.lengths, design_set.units.masses) == ("in", "oz")
    assert design.surfaces[0].at == (0.0254, 0.0, 0.0)
    assert design.surfaces[0].panels[0].length == pytest.approx(0.3048)
    assert design.surfaces[0].panels[0].root_chord == pytest.approx(0.1905)
    assert design.items[0].mass.value == pytest.approx(0.028349523125)
    assert design.variant == "as drawn"


@pytest.mark.parametrize("name", STARTERS)
def test_every_example_reads(name):
    design_set = read_design_text(starter_text(name), file=name)
    assert len(design_set.variants) > 1


# ---------------------------------------------------------------- variants


def test_variants_stand_in_file_order_behind_the_drawn_one():
    names = [variant.variant for variant in read().variants]
    assert names == ["long tips", "short tips", "heavy board"]


def test_a_variant_changes_what_it_sets_and_leaves_the_rest():
    drawn, short, heavy = read().variants
    assert [v.surfaces[0].panels[1].length for v in (drawn, short, heavy)] == [0.22, 0.21, 0.21]
    assert short.surfaces[1] is drawn.surfaces[1]
    assert short.gear == ()
    assert heavy.stock.sheet("board").weight.value == 0.48
    assert short.stock.sheet("board").weight.value == 0.3


def test_unquoted_paths_and_whole_tables_can_be_set():
    text = (
        LEGAL
        + """
[variant.third]
set.surface.wing.incidence = 3
set."item.lead" = { kind = "ballast", at = [1, 2, 3], mass = 20 }
set.marks = { revision = "C" }
"""
    )
    third = read(text).variant("third")
    assert third.surfaces[0].incidence == pytest.approx(math.radians(3))
    assert third.items[-1].key == "lead"
    assert third.marks.revision == "C"
    assert third.marks.notes == ("one", "two")


def test_a_variant_can_open_a_group_that_the_file_lacks():
    text = (
        LEGAL[: LEGAL.index("[gear.main]")]
        + """
[variant.wheels.set."gear.main"]
kind = "wheel"
from = "foam wheel 50 mm"
at = [230, 110, -110]
"""
    )
    assert read(text).variant("wheels").gear[0].key == "main"


def test_members_of_lists_can_be_set():
    text = (
        LEGAL
        + """
[variant.third]
set = { "surface.wing.section.creases[1].rise" = "6 %", "surface.wing.at[3]" = 40 }
"""
    )
    third = read(text).variant("third")
    assert third.surfaces[0].at[2] == 0.04
    assert third.surfaces[0].panels[0].root_section.nodes[1] == (0.35, 0.06)


def test_a_wrong_value_of_a_variant_is_told_where_it_stands():
    text = edited(
        ('"surface.wing.panel.tip.length" = 210', '"surface.wing.panel.tip.length" = "21 cmm"')
    )
    (problem,) = problems_of(text)
    assert problem.code == "UNIT-UNKNOWN"
    assert problem.path == 'variant.short tips.set."surface.wing.panel.tip.length"'
    assert problem.line == line_of(text, "21 cmm")


def test_what_only_a_variant_breaks_says_so():
    text = edited(('"stock.sheet.board.weight" = 480', '"power.pack.main.tray.back" = 150'))
    (problem,) = problems_of(text)
    assert problem.code == "PACK-OUTSIDE"
    assert problem.path == "power.pack.main.position"
    assert 'in the variant "heavy board"' in problem.text


def test_a_panel_left_out_moves_no_lines():
    text = (
        LEGAL
        + """
[variant.third]
without = ["surface.tail.panel.half"]
set = { "stock.sheet.board.thickness" = 4 }
"""
    )
    (problem,) = problems_of(text)  # the next panel loses the chord it took over
    assert problem.code == "KEY-MISSING"
    assert problem.path == "surface.tail.panel.end.root_chord"
    assert problem.line == line_of(text, 'name = "end"') - 1


def test_all_problems_of_all_variants_come_at_once():
    text = edited(
        ("length = 380", 'length = "38 cmm"'),
        ("position = 120", "position = 160"),
        ('"stock.sheet.board.weight" = 480', '"stock.sheet.board.weight" = "heavy"'),
    )
    problems = problems_of(text)
    assert [problem.code for problem in problems] == [
        "UNIT-UNKNOWN",
        "PACK-OUTSIDE",
        "NUMBER-UNREADABLE",
    ]
    assert [problem.line for problem in problems] == sorted(problem.line for problem in problems)


def test_a_loop_of_three_is_told_in_each():
    text = LEGAL + '[variant.a]\nlike = "b"\n[variant.b]\nlike = "c"\n[variant.c]\nlike = "a"\n'
    assert [problem.code for problem in problems_of(text)] == ["VARIANT-LOOP"] * 3


# ---------------------------------------------------------------- catalogue


PARTS = """
[sheet."my board"]
kind = "foam"
thickness = "6 mm"
weight = "180 g/m2"
size = ["1 m", "500 mm"]
source = "my kitchen scale"
"""


def test_a_catalogue_beside_the_design_is_used(tmp_path):
    (tmp_path / "parts.toml").write_text(PARTS, encoding="utf-8")
    text = edited(
        ('from = "birch ply 3 mm"', 'from = "my board"'),
        ('masses = "g"', 'masses = "g"\ncatalogue = "parts.toml"'),
    )
    (tmp_path / "d.toml").write_text(text, encoding="utf-8")
    design = read_design(tmp_path / "d.toml").variants[0]
    assert design.stock.sheet("ply").weight.source == "catalogue: my kitchen scale"
    assert design.stock.sheet("ply").says == "my board"


def test_a_catalogue_given_beside_goes_first(tmp_path):
    (tmp_path / "own.toml").write_text(PARTS, encoding="utf-8")
    (tmp_path / "given.toml").write_text(PARTS.replace("180", "190"), encoding="utf-8")
    text = edited(
        ('from = "birch ply 3 mm"', 'from = "my board"'),
        ('masses = "g"', 'masses = "g"\ncatalogue = "own.toml"'),
    )
    design = read_design_text(text, folder=tmp_path, catalogue=tmp_path / "given.toml").variants[0]
    assert design.stock.sheet("ply").weight.value == pytest.approx(0.19)


@pytest.mark.parametrize("name", ["../parts.toml", "/etc/passwd", "C:\\parts.toml", "none.toml"])
def test_a_catalogue_elsewhere_is_refused(tmp_path, name):
    text = edited(('masses = "g"', f"masses = \"g\"\ncatalogue = '{name}'"))
    with pytest.raises(DesignFileError) as caught:
        read_design_text(text, folder=tmp_path)
    assert _codes(caught) == ["CATALOGUE-FILE"]
    assert caught.value.problems[0].line == line_of(text, "catalogue =")


def test_a_broken_catalogue_says_what_is_wrong_in_it(tmp_path):
    (tmp_path / "parts.toml").write_text("[sheet.x\n", encoding="utf-8")
    text = edited(('masses = "g"', 'masses = "g"\ncatalogue = "parts.toml"'))
    with pytest.raises(DesignFileError) as caught:
        read_design_text(text, folder=tmp_path)
    assert _codes(caught) == ["CATALOGUE-FILE"]
    assert "line 1" in caught.value.problems[0].text


def test_a_figure_of_the_catalogue_that_does_not_fit_says_so():
    text = edited(
        ('mass = "110 g"\n', ""),
        ("size = [75, 34, 22]", 'from = "pack 3-cell 2200 mAh"'),
        ("cells = 3\ncapacity = 1300\nrating = 30\n", ""),
    )
    problems = problems_of(text)
    assert {problem.code for problem in problems} == {"PACK-TOO-BIG"}
    assert all("of the catalogue" in problem.hint for problem in problems)


def test_every_entry_of_the_catalogue_fits_the_schema():
    from foamwright.design.catalogue import load_catalogue
    from foamwright.design.schema.base import Reading
    from foamwright.design.tables import GROUPS, read_entry

    place: dict[str, object] = {
        "motor": {"at": [0, 0, 0], "mounting": "tractor", "reach": 30},
        "controller": {"at": [0, 0, 0]},
        "item": {"at": [0, 0, 0]},
        "wheel": {"at": [0, 0, 0], "kind": "wheel"},
    }
    tray = {"front": 0, "back": 400, "width": 200, "height": 200, "floor": 0}
    place["pack"] = {"position": 200, "tray": tray}
    catalogue, reading = load_catalogue(), Reading()
    wrong = []
    for group in (group for group in GROUPS if group.catalogue):
        for name in catalogue.names(group.catalogue):
            raw = {"from": name, **place.get(group.catalogue, {})}
            entry = read_entry(group, "x", raw, catalogue=catalogue, reading=reading)
            wrong += [(group.catalogue, name, trouble) for trouble in entry.troubles]
    assert wrong == []


def test_a_surface_on_one_side_alone_is_asked_for_in_words():
    """A tailplane half on the right only, such as a boom may carry."""
    text = edited(("at = [20, 0, 0]\nmirror = true", "at = [20, 30, 0]\nmirror = false"))
    design = read_design_text(text).variants[0]
    canard = next(surface for surface in design.surfaces if surface.key == "canard")
    assert not canard.mirrored
    hands = {piece.hand for piece in build_airframe(design).pieces if "canard" in piece.key}
    assert hands == {Hand.RIGHT}
    assert stability(build_airframe(design)).lift_slope > 0.0


# ---------------------------------------------------------------- coordinates


CORE = "coordinates = [[1, 0.001], [0.5, 0.06], [0.1, 0.05], [0, 0], [0.1, -0.02], [0.5, -0.02], "
CORE += "[1, -0.001]]"


def test_coordinates_come_from_a_file_beside_the_design(tmp_path):
    rows = "x,z\n# upper side first\n1,0.001\n0.5;0.06\n0.1 0.05\n\n0,0\n0.1\t-0.02\n0.5, -0.02\n"
    (tmp_path / "wing.csv").write_text(rows + "1,-0.001\n", encoding="utf-8")
    text = edited((CORE, 'coordinates_file = "wing.csv"'))
    design = read_design_text(text, folder=tmp_path).variants[0]
    assert design == read().variants[0]


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("../wing.csv", b"", "beside"),
        ("none.csv", None, "no such file"),
        ("wing.csv", b"1,0\n0.5,x\n", "Line 2"),
        ("wing.csv", b"1,0\n0.5,0.1\n", "6 to 300 points"),
        ("wing.csv", b"1,0,0\n" * 9, "not two numbers"),
        ("wing.csv", b"\xff\xfe1", "UTF-8"),
        ("wing.csv", b"1,0\n" * 20000, "too large"),
        ("wing.csv", b"nan,inf\n" * 9, "not two numbers"),
    ],
)
def test_a_coordinates_file_that_cannot_be_used(tmp_path, name, content, words):
    if content is not None:
        (tmp_path / "wing.csv").write_bytes(content)
    text = edited((CORE, f'coordinates_file = "{name}"'))
    with pytest.raises(DesignFileError) as caught:
        read_design_text(text, folder=tmp_path)
    assert _codes(caught) == ["COORDINATES-FILE"]
    assert words in caught.value.problems[0].text


TABLE = "reynolds,alpha_deg,cl,cd\n1e5,-2,-0.1,0.02\n1e5,0,0.1,0.018\n1e5,4,0.5,\n1e5,8,0.8,0.04\n"
PROFILED = 'kind = "profiled"'


def test_a_measured_polar_comes_from_a_file_beside_the_design(tmp_path):
    (tmp_path / "wing.csv").write_text(TABLE, encoding="utf-8")
    text = edited((PROFILED, f'{PROFILED}, polar_file = "wing.csv"'))
    design = read_design_text(text, folder=tmp_path).variants[0]
    fin = next(surface for surface in design.surfaces if surface.key == "fin")
    (section,) = (
        panel.root_section
        for panel in fin.panels
        if isinstance(panel.root_section, ProfiledSection)
    )
    assert section.measured is not None
    assert section.measured.source == "wing.csv"
    assert [row[0] for row in section.measured.rows] == [1e5] * 4
    assert section.measured.rows[2] == (1e5, math.radians(4.0), 0.5, None, None)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "no such file"),
        (b"", "no table"),
        (TABLE.replace("0.5,", "high,").encode(), "Line 4"),
        (b"reynolds,alpha_deg,cl\n1e5,0,0\n", "at least 4 readings"),
        (b"\xff\xfe", "UTF-8"),
    ],
)
def test_a_polar_file_that_cannot_be_used(tmp_path, content, words):
    if content is not None:
        (tmp_path / "wing.csv").write_bytes(content)
    text = edited((PROFILED, f'{PROFILED}, polar_file = "wing.csv"'))
    with pytest.raises(DesignFileError) as caught:
        read_design_text(text, folder=tmp_path)
    assert _codes(caught) == ["POLAR-FILE"]
    assert words in caught.value.problems[0].text


# ---------------------------------------------------------------- files that are not read


def test_a_file_is_read_from_disk_as_from_text(tmp_path):
    path = tmp_path / "turnstone.toml"
    path.write_text(LEGAL, encoding="utf-8")
    design_set = read_design(path)
    assert design_set.file == str(path)
    assert design_set.name == "Turnstone"
    assert design_set.variants == read().variants


def _refused(path: Path) -> tuple[str, int | None]:
    with pytest.raises(DesignFileError) as caught:
        read_design(path)
    (problem,) = caught.value.problems
    assert problem.file == str(path)
    return problem.code, problem.line


def test_no_such_file(tmp_path):
    assert _refused(tmp_path / "none.toml") == ("FILE-MISSING", None)


def test_a_folder(tmp_path):
    assert _refused(tmp_path) == ("FILE-UNREADABLE", None)


def test_a_pipe_is_not_waited_for(tmp_path):
    if not hasattr(os, "mkfifo"):
        pytest.skip("no pipes on this system")
    os.mkfifo(tmp_path / "pipe")
    assert _refused(tmp_path / "pipe") == ("FILE-UNREADABLE", None)


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    path = tmp_path / "d.toml"
    path.write_text(LEGAL, encoding="utf-8")

    def refuse(*_args: object, **_kwargs: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert _refused(path) == ("FILE-UNREADABLE", None)


def test_a_name_that_no_system_takes(tmp_path):
    assert _refused(tmp_path / "a\0b")[0] == "FILE-UNREADABLE"


@pytest.mark.parametrize(
    ("content", "code", "line"),
    [
        (b"", "FILE-EMPTY", None),
        (b" \n\t\n", "FILE-EMPTY", None),
        (b"#" * 10_000_000, "FILE-TOO-LARGE", None),
        (b"\xef\xbb\xbf" + LEGAL.encode(), "FILE-ENCODING", 1),
        (LEGAL.encode("utf-16"), "FILE-ENCODING", 1),
        (LEGAL.encode("utf-16-be"), "FILE-ENCODING", 1),
        (b'format = 1\nname = "\xe9"\n', "FILE-ENCODING", 2),
        (b'format = 1\nname = "a\0b"\n', "FILE-ENCODING", 2),
        (b'format = 1\nname = "a\x07b"\n', "TOML-SYNTAX", 2),
    ],
)
def test_content_that_is_no_plain_text(tmp_path, content, code, line):
    path = tmp_path / "d.toml"
    path.write_bytes(content)
    assert _refused(path) == (code, line)


def test_half_a_character_in_text():
    assert [problem.code for problem in problems_of('name = "\ud800"')] == ["FILE-ENCODING"]


def test_windows_line_ends_are_welcome():
    assert read(LEGAL.replace("\n", "\r\n")).variants == read().variants


def test_more_problems_than_anybody_reads_are_cut():
    bad = "".join(f"[item.i{n}]\n" + "".join(f"k{m} = 1\n" for m in range(9)) for n in range(60))
    problems = problems_of(LEGAL + bad)
    assert len(problems) == 201
    assert problems[-1].code == "PROBLEMS-CUT"


def test_a_problem_reads_like_this():
    text = edited(("length = 380", 'length = "18 cmm"'))
    (problem,) = problems_of(text)
    assert str(problem) == (
        f't.toml:{problem.line}  surface.wing.panel.inner.length = "18 cmm"   [UNIT-UNKNOWN]\n'
        '  The unit "cmm" is unknown; lengths take mm, cm, m, in, ft.\n'
        '  did you mean "18 cm"?'
    )


def test_a_slip_inside_a_table_that_a_variant_puts_in_has_its_own_line():
    text = (
        LEGAL
        + """
[variant.third.set."gear.tail"]
kind = "wheel"
from = "foam wheel 50 mm"
at = [230, 110, "1 cmm"]
"""
    )
    (problem,) = problems_of(text)
    assert problem.path == 'variant.third.set."gear.tail".at[3]'
    assert problem.line == line_of(text, "1 cmm")
