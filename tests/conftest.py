"""Shared fixtures: the check of a value against its published reference."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tests.reference import Agrees, Reference


@pytest.fixture
def agrees(request: pytest.FixtureRequest) -> Agrees:
    """Return a function that asserts agreement with the test's Reference and notes it."""
    marker = request.node.get_closest_marker("validation")
    assert marker is not None, "`agrees` belongs to tests marked validation(Reference(...))"
    reference: Reference = marker.args[0]

    def check(
        what: str, *, got: float, expected: float, rel: float = 0.0, tol_abs: float = 0.0
    ) -> None:
        row = {
            "what": what,
            "expected": float(expected),
            "got": float(got),
            "rel": rel,
            "abs": tol_abs,
            "source": str(reference),
            "test": request.node.nodeid,
        }
        print(f"{what}: expected {expected:.6g}, got {got:.6g}, from {reference}")
        log = os.environ.get("FOAMWRIGHT_VALIDATION_LOG")
        if log:
            with Path(log).open("a", encoding="utf-8") as file:
                file.write(json.dumps(row) + "\n")
        assert got == pytest.approx(expected, rel=rel, abs=tol_abs), what

    return check
