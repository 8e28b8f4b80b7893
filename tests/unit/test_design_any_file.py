"""Whatever stands in the file: a design, or problems in our own words, and soon."""

from __future__ import annotations

import copy
import time
import tomllib

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from foamwright.design import DesignSet, read_design_text
from foamwright.design.codes import CODES
from foamwright.errors import DesignFileError, Problem
from tests.unit.design_text import LEGAL

HEAD = 'format = 1\nname = "x"\n'
TREE = tomllib.loads(LEGAL)
QUICK = settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)


def _try(text: str) -> DesignSet | tuple[Problem, ...]:
    """Read a text and look at what comes of it; anything but these two fails the test."""
    try:
        return read_design_text(text, file="any.toml")
    except DesignFileError as error:
        problems = error.problems
    assert problems
    for problem in problems:
        assert problem.code in CODES
        assert problem.text.endswith((".", ")"))
        assert all(line.isprintable() for line in str(problem).split("\n"))
        assert len(str(problem)) < 2000
        words = str(problem).casefold()
        assert not any(word in words for word in ("pydantic", "input should", "traceback"))
    return problems


def _places(node, loc=()):
    members = node.items() if isinstance(node, dict) else enumerate(node)
    for bit, value in members:
        yield (*loc, bit)
        if isinstance(value, dict | list):
            yield from _places(value, (*loc, bit))


PLACES = list(_places(TREE))
JUNK = st.one_of(
    st.booleans(),
    st.integers(-(10**30), 10**30),
    st.floats(),
    st.text(max_size=20),
    st.sampled_from(
        ["18 cmm", "-1 mm", "1e400", "%", "main", "board", "10 %", "", "nan", "1/0 in"]
    ),
    st.lists(st.integers(-5, 5), max_size=4),
    st.dictionaries(st.sampled_from(["kind", "at", "from", "x y", ""]), st.integers(), max_size=2),
    st.just([[]]),
    st.just([{}]),
)


@given(place=st.sampled_from(PLACES), junk=JUNK)
@QUICK
def test_any_value_replaced(place, junk):
    tree = copy.deepcopy(TREE)
    node = tree
    for bit in place[:-1]:
        node = node[bit]
    node[place[-1]] = junk
    _try(tomlkit.dumps(tree))


@given(place=st.sampled_from(PLACES))
@QUICK
def test_any_value_left_out(place):
    tree = copy.deepcopy(TREE)
    node = tree
    for bit in place[:-1]:
        node = node[bit]
    del node[place[-1]]
    _try(tomlkit.dumps(tree))


@given(place=st.sampled_from(PLACES), other=st.sampled_from(PLACES))
@QUICK
def test_any_value_moved_to_another_place(place, other):
    tree = copy.deepcopy(TREE)
    value = TREE
    for bit in other:
        value = value[bit]
    node = tree
    for bit in place[:-1]:
        node = node[bit]
    node[place[-1]] = copy.deepcopy(value)
    _try(tomlkit.dumps(tree))


@given(
    start=st.integers(0, len(LEGAL)),
    length=st.integers(0, 60),
    junk=st.one_of(st.text(max_size=12), st.text(alphabet="[]{}=\"'\n.,#\\ 1a", max_size=12)),
)
@QUICK
def test_any_piece_of_text_replaced(start, length, junk):
    _try(LEGAL[:start] + junk + LEGAL[start + length :])


@given(path=st.text(alphabet='surface.wingpael[]12"', max_size=30), junk=JUNK)
@QUICK
def test_any_change_of_a_variant(path, junk):
    tree = {**TREE, "variant": {"v": {"set": {path: junk}, "without": [path]}}}
    _try(tomlkit.dumps(tree))


HOSTILE = {
    "ten thousand panels": HEAD
    + '[surface.wing]\nrole = "wing"\nat = [0,0,0]\n'
    + "[[surface.wing.panel]]\n" * 10_000,
    "panels inline": HEAD
    + 'surface.wing = {role="wing", at=[0,0,0], panel=['
    + "{}," * 30_000
    + "]}",
    "tables": HEAD + "".join(f"[item.a{n}]\n" for n in range(15_000)),
    "keys": HEAD + "".join(f"k{n}=1\n" for n in range(25_000)),
    "keys of one table": HEAD + "[item.a]\n" + "".join(f"k{n}=1\n" for n in range(25_000)),
    "dotted": HEAD + "a" + ".a" * 100_000 + "=1",
    "many dotted": HEAD + "".join("a." * 11 + f"k{n}=1\n" for n in range(7_000)),
    "brackets": HEAD + "a=" + "[" * 200_000,
    "braces": HEAD + "a=" + "{a=" * 60_000,
    "long text": HEAD + 'summary="' + "x" * 240_000 + '"',
    "long name": HEAD + "[item." + "x" * 240_000 + "]",
    "open text": HEAD + 'a="""' + 'x"' * 120_000,
    "escapes": HEAD + 'summary="' + "\\n" * 110_000 + '"',
    "comment": "#" * 250_000,
    "digits": HEAD + "a=" + "9" * 240_000,
    "hexadecimal": HEAD + "[item.a]\nmass=0x" + "f" * 240_000,
    "infinite": HEAD + "[item.a]\nat=[1e400,-inf,nan]\nmass=1e400",
    "control characters": HEAD + '[item."a\\u001b[31m\\u0000"]\nkind="\\u001b[2J"',
    "variants": LEGAL + "".join(f"[variant.v{n}]\n" for n in range(9_000)),
    "chain of variants": LEGAL + "".join(f'[variant.v{n}]\nlike="v{n + 1}"\n' for n in range(26)),
    "changes": LEGAL
    + "".join(
        f"[variant.v{n}]\nset={{" + ",".join(f'"item.servo.k{m}"=1' for m in range(190)) + "}\n"
        for n in range(25)
    ),
    "too large": "x" * 10_000_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_refused_soon(name):
    start = time.process_time()
    result = _try(HOSTILE[name])
    assert isinstance(result, tuple)
    # Two seconds are promised; processor time, since the machine may be busy with other things.
    assert time.process_time() - start < 2.0
