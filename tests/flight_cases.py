"""Checks of the flight room, read from tests/data/flight/cases.toml with sources and bands."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from tests.reference import Agrees, Reference

FOLDER = Path(__file__).parent / "data" / "flight"


def _plain(entry: Any) -> Any:
    """A value without its unit: [number, unit] to the number."""
    if isinstance(entry, list) and entry and isinstance(entry[-1], str):
        return entry[0]
    return entry


@dataclass(frozen=True)
class Case:
    """One check: what goes in, what should come out, within which band, by whom."""

    name: str
    inputs: dict[str, Any]
    expected: dict[str, Any]
    tolerance: dict[str, str]
    reference: Reference

    def __getitem__(self, key: str) -> Any:
        return self.inputs[key]

    def band(self, key: str) -> dict[str, float]:
        said = self.tolerance.get(key, self.tolerance.get("all", ""))
        found = re.match(r"(rel|abs) ([0-9.e-]+)", said)
        assert found, f"{self.name}.{key}: no band in {said!r}"
        return {"rel" if found[1] == "rel" else "tol_abs": float(found[2])}

    def check(self, agrees: Agrees, key: str, got: Any) -> None:
        """Compare one output, or a row of them, with what is expected."""
        band = self.band(key)
        expected = np.atleast_1d(np.asarray(self.expected[key], dtype=float))
        values = np.atleast_1d(np.asarray(got, dtype=float))
        assert values.shape == expected.shape, key
        for one, want in zip(values.ravel(), expected.ravel(), strict=True):
            agrees(f"{self.name} {key}", got=float(one), expected=float(want), **band)


@cache
def _cases() -> dict[str, dict[str, Any]]:
    return tomllib.loads((FOLDER / "cases.toml").read_text(encoding="utf-8"))


def case(name: str) -> Case:
    entry = _cases()[name]
    inputs, expected = (
        {key: _plain(value) for key, value in entry.get(part, {}).items()}
        for part in ("inputs", "expected")
    )
    reference = Reference("", entry["source"], None, name, entry["sure"])
    return Case(name, inputs, expected, entry.get("tolerance", {}), reference)


def case_names() -> tuple[str, ...]:
    return tuple(_cases())
