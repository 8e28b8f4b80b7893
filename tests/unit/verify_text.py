"""A small sound case file for tests, and the changes that spoil it."""

from __future__ import annotations

from foamwright.errors import DesignFileError, Problem
from foamwright.verify import Case, read_case_text

HEAD = """\
format = 1
lengths = "mm"

[stock.sheet.plate]
kind = "foam"
thickness = 3
weight = 100
size = [1000, 700]
"""

WING = """
[case.wing]
what = "A flat wing"
family = "wings"
source = "our own"
sure = "derived"

[case.wing.surface.main]
role = "wing"
at = [0, 0, 0]
mirror = true
section = { kind = "flat", sheet = "plate" }
panel = [{ name = "half", length = 600, root_chord = 200 }]

[[case.wing.expect]]
measure = "lift slope"
value = 4.2147
tolerance = "1 %"
"""

SECTION = """
[case.fold]
what = "A folded plate"
family = "sections"
source = "our own"
sure = "derived"
chord = 200
section = { kind = "creased", sheet = "plate", creases = [{ at = 0.5, rise = 0.05 }] }

[[case.fold.expect]]
measure = "thin moment"
value = -0.1
tolerance_abs = 0.002
"""

FORMULA = """
[case.slope]
what = "Helmbold"
family = "formulas"
source = "our own"
sure = "derived"
formula = "helmbold slope"
inputs = { aspect_ratio = [4, 6] }

[[case.slope.expect]]
measure = "lift slope"
value = [3.883222, 4.528664]
tolerance = "0.01 %"
"""

LATTICE = """
[case.points]
what = "A wing by points"
family = "wings"
source = "our own"
sure = "derived"

[case.points.reference]
area = "0.24 m2"
chord = 200
span = 1200

[[case.points.lattice]]
name = "wing"
leading = [[0, 0, 0], [0, 600, 0]]
chord = [200, 200]

[[case.points.expect]]
measure = "neutral point"
value = 0.2388
tolerance_abs = 0.005
"""

SOUND = HEAD + WING + SECTION + FORMULA + LATTICE


def read(text: str) -> tuple[Case, ...]:
    return read_case_text(text, file="checks.toml")


def problems(text: str) -> tuple[Problem, ...]:
    try:
        read(text)
    except DesignFileError as error:
        return error.problems
    return ()


def changed(text: str, old: str, new: str) -> str:
    assert old in text, old
    return text.replace(old, new, 1)
