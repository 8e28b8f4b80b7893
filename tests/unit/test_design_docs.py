"""docs/design-file.md says what the schema says; run this file to write its tables anew."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foamwright.design.codes import CODES
from foamwright.design.keys import design_file_keys, key_tables
from foamwright.design.schema.brief import TOPICS
from foamwright.units import KINDS

PAGE = Path(__file__).parents[2] / "docs" / "design-file.md"
TESTS = Path(__file__).parent


def _codes() -> str:
    rows = [f"| `{code}` | {meaning} |" for code, meaning in CODES.items()]
    return "\n".join(["| code | meaning |", "|---|---|", *rows])


def _units() -> str:
    rows = [f"| {kind.name} | {', '.join(kind.units)} |" for kind in KINDS.values()]
    return "\n".join(["| quantity | units |", "|---|---|", *rows])


TABLES = {"keys": key_tables, "units": _units, "codes": _codes}


def _with_tables(page: str) -> str:
    for name, make in TABLES.items():
        pattern = rf"(<!-- {name}:[^\n]*-->\n).*?(<!-- /{name} -->)"
        table = make()
        page = re.sub(
            pattern, lambda found, t=table: f"{found[1]}\n{t}\n\n{found[2]}", page, flags=re.DOTALL
        )
    return page


def test_tables_are_what_the_schema_says():
    page = PAGE.read_text(encoding="utf-8")
    assert page == _with_tables(page), f"stale: run python {Path(__file__).name}"


def test_every_key_is_in_the_page():
    page = PAGE.read_text(encoding="utf-8")
    assert {key.key for key in design_file_keys() if f"| `{key.key}` |" not in page} == set()


def test_every_key_says_what_it_means():
    assert [key for key in design_file_keys() if not (key.what and key.takes and key.default)] == []


def test_every_topic_of_the_brief_is_in_the_page():
    page = PAGE.read_text(encoding="utf-8")
    assert [topic for topic in TOPICS if f"`{topic}`" not in page] == []


@pytest.mark.parametrize("code", CODES)
def test_every_code_has_a_test(code):
    tests = "".join(path.read_text(encoding="utf-8") for path in TESTS.glob("test_design_*.py"))
    assert f'"{code}"' in tests


if __name__ == "__main__":
    PAGE.write_text(_with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
