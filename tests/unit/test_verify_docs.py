"""docs/verify.md says what the registries say; run this file to write its tables anew."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foamwright.verify import FORMULAS, MEASURES, read_case_text, run_cases, tally
from foamwright.verify.pages import TABLES
from foamwright.verify.states import STATES

PAGE = Path(__file__).parents[2] / "docs" / "verify.md"


def _with_tables(page: str) -> str:
    for name, make in TABLES.items():
        pattern = rf"(<!-- {name}:[^\n]*-->\n).*?(<!-- /{name} -->)"
        table = make()
        page = re.sub(
            pattern, lambda found, t=table: f"{found[1]}\n{t}\n\n{found[2]}", page, flags=re.DOTALL
        )
    return page


def test_tables_are_what_the_registries_say():
    page = PAGE.read_text(encoding="utf-8")
    assert page == _with_tables(page), f"stale: run python {Path(__file__).name}"


@pytest.mark.parametrize("name", [*MEASURES, *FORMULAS, *STATES])
def test_every_measure_formula_and_state_is_in_the_page(name: str):
    assert f"| `{name}` |" in PAGE.read_text(encoding="utf-8")


def test_the_worked_example_runs():
    """The TOML of the page, put together, is a case file whose checks all pass."""
    page = PAGE.read_text(encoding="utf-8")
    text = "\n".join(re.findall(r"```toml\n(.*?)```", page, flags=re.DOTALL))
    results = run_cases(read_case_text(text))
    assert len(results) >= 3
    assert tally(results).missed == 0
    assert tally(results).total >= 5


if __name__ == "__main__":
    PAGE.write_text(_with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
