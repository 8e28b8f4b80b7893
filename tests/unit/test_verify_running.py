"""What comes of a case: bands, limits, known misses, answers that are not there."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from foamwright.verify import MEASURES, Verdict, as_dictionary, formulas, measures, run_cases, tally
from foamwright.verify.formulas import FORMULAS
from tests.unit.verify_text import FORMULA, HEAD, LATTICE, SECTION, SOUND, WING, changed, read


def checks(text: str):
    return [check for result in run_cases(read(text)) for check in result.checks]


def test_sound_cases_pass():
    results = run_cases(read(SOUND))
    assert [check.verdict for result in results for check in result.checks] == [Verdict.PASS] * 5
    assert tally(results).total == tally(results).passed == 5


@pytest.mark.parametrize(
    ("expected", "tolerance", "passes"),
    [
        ("4.2147", 'tolerance = "0.1 %"', True),
        ("4.3", 'tolerance = "1 %"', False),
        ("4.3", "tolerance_abs = 0.1", True),
        ("4.3", "tolerance_abs = 0.08", False),
        ('"0.07356 /deg"', 'tolerance = "0.1 %"', True),
    ],
)
def test_bands(expected: str, tolerance: str, passes: bool):
    text = changed(HEAD + WING, "value = 4.2147", f"value = {expected}")
    (check,) = checks(changed(text, 'tolerance = "1 %"', tolerance))
    assert (check.verdict is Verdict.PASS) is passes
    assert check.error == pytest.approx(check.got - check.expected)


@pytest.mark.parametrize(
    ("limits", "passes", "error"),
    [
        ("at_least = 4", True, 0.0),
        ("at_most = 4", False, 0.214),
        ("at_least = 4\nat_most = 5", True, 0.0),
        ("at_least = 4.5", False, -0.286),
    ],
)
def test_limits(limits: str, passes: bool, error: float):
    (check,) = checks(changed(HEAD + WING, 'value = 4.2147\ntolerance = "1 %"', limits))
    assert (check.verdict is Verdict.PASS) is passes
    assert check.error == pytest.approx(error, abs=1e-3)


def test_a_list_of_states_gives_a_check_each():
    text = changed(
        HEAD + WING,
        '"lift slope"\nvalue = 4.2147\ntolerance = "1 %"',
        '"lift"\nstate = { alpha = ["0 deg", 4] }\nvalue = [0, 0.2942]\ntolerance_abs = 0.001',
    )
    first, second = checks(text)
    assert first.state == (("alpha", "0 deg"),)
    assert second.state == (("alpha", "4 deg"),)
    assert second.got == pytest.approx(0.2942, abs=1e-3)


def test_states_of_the_case_reach_its_measures():
    text = changed(HEAD + WING, 'sure = "derived"', 'sure = "derived"\nstate = { alpha = 4 }')
    text = changed(text, '"lift slope"', '"lift"')
    (check,) = checks(text)
    assert check.state == (("alpha", "4 deg"),)


def test_a_known_miss_is_counted_apart():
    text = changed(HEAD + WING, "value = 4.2147", 'value = 5\nknown_miss = "too high"')
    results = run_cases(read(text))
    assert tally(results).known == 1
    assert tally(results).missed == 0
    (check,) = results[0].checks
    assert check.verdict is Verdict.KNOWN
    assert check.why == "too high"
    assert not check.stale


def test_a_known_miss_that_passes_is_stale():
    text = changed(HEAD + WING, 'sure = "derived"', 'sure = "derived"\nknown_miss = "too high"')
    (check,) = checks(text)
    assert check.verdict is Verdict.PASS
    assert check.stale


def test_no_answer_is_a_miss_with_a_reason():
    """A formula that takes one number is given two; a fin volume without a fin."""
    text = changed(HEAD + WING, '"lift slope"\nvalue = 4.2147', '"fin volume"\nvalue = 0.1')
    (check,) = checks(text)
    assert check.verdict is Verdict.MISS
    assert check.got is None
    assert check.why == "there is no answer in this state"


def test_a_fault_of_ours_in_one_case_does_not_end_the_run():
    (case, other) = read(HEAD + WING + FORMULA)

    def breaks(question: object) -> float:
        raise IndexError("out of bounds")

    (asked,) = case.expectations
    broken = replace(asked, measure=replace(asked.measure, compute=breaks))
    results = run_cases((replace(case, expectations=(broken,)), other))
    assert results[0].checks[0].verdict is Verdict.MISS
    assert results[0].checks[0].why == "the program itself failed (IndexError: out of bounds)"
    assert tally(results[1:]).passed == 2


def test_a_single_part_needs_no_name_and_two_do():
    text = changed(HEAD + WING, '"lift slope"', '"share of lift slope"')
    (check,) = checks(text)
    assert check.of == "main"


def test_units_of_a_case_go_before_those_of_the_file():
    text = changed(HEAD + WING, 'sure = "derived"', 'sure = "derived"\nlengths = "cm"')
    text = text.replace("length = 600, root_chord = 200", "length = 60, root_chord = 20")
    text = changed(text, '"lift slope"\nvalue = 4.2147', '"mean chord"\nvalue = 20')
    (check,) = checks(text)
    assert (check.unit, check.verdict) == ("cm", Verdict.PASS)
    assert check.got == pytest.approx(20.0)


def test_inputs_that_change_are_told():
    first, second = checks("format = 1\n" + FORMULA)
    assert (first.state, second.state) == (
        (("aspect_ratio", "4"),),
        (("aspect_ratio", "6"),),
    )


def test_one_limit_goes_with_each_answer():
    text = changed(
        "format = 1\n" + FORMULA,
        'value = [3.883222, 4.528664]\ntolerance = "0.01 %"',
        "at_least = 4",
    )
    first, second = checks(text)
    assert (first.verdict, second.verdict) == (Verdict.MISS, Verdict.PASS)
    assert second.state == (("aspect_ratio", "6"),)


def test_dictionary_is_json():
    results = run_cases(read(SOUND))
    told = json.loads(json.dumps(as_dictionary(results), allow_nan=False))
    assert set(told) == {"foamwright", "cases", "families", "total"}
    assert told["total"] == {"passed": 5, "known": 0, "missed": 0, "checks": 5}
    assert set(told["families"]) == {"wings", "sections", "formulas"}
    case = told["cases"][0]
    assert case["name"] == "wing"
    assert case["line"] == HEAD.count("\n") + 2
    assert set(case) == {
        "name",
        "file",
        "line",
        "what",
        "family",
        "source",
        "sure",
        "note",
        "checks",
    }
    assert case["checks"][0]["verdict"] == "pass"
    assert case["checks"][0]["band_relative"] == 0.01


def test_no_answer_is_null_in_json():
    text = changed(HEAD + WING, '"lift slope"\nvalue = 4.2147', '"fin volume"\nvalue = 0.1')
    told = json.dumps(as_dictionary(run_cases(read(text))), allow_nan=False)
    assert '"got": null' in told


def test_a_wing_in_the_design_files_words_is_the_wing_by_points():
    drawn = checks(changed(HEAD + WING, '"lift slope"', '"neutral point"'))[0]
    points = checks(HEAD + LATTICE)[0]
    assert drawn.got == pytest.approx(points.got, rel=1e-9)


def test_sections_are_built_as_in_a_panel():
    (check,) = checks(HEAD + SECTION)
    assert check.got == pytest.approx(-0.1, abs=1e-6)


def test_no_name_is_used_twice():
    for registry, rooms in (
        (measures.MEASURES, measures.ROOMS),
        (formulas.FORMULAS, formulas.ROOMS),
    ):
        assert len(registry) == sum(len(room) for room in rooms)


def test_names_say_what_they_are():
    for name, measure in MEASURES.items():
        assert name == measure.name
        assert measure.what
        assert measure.unit
    for name, formula in FORMULAS.items():
        assert name == formula.name
        assert formula.gives
