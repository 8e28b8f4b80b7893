"""The static bench of tests/data/bench, read as arrays."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

FILE = Path(__file__).parent / "data" / "bench" / "static_5in.csv"


def bench_rows(**wanted: str) -> dict[str, np.ndarray]:
    """Columns of the rows that have the wanted texts; names stay texts, the rest are floats."""
    lines = [line for line in FILE.read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    rows = [
        row
        for row in csv.DictReader(lines)
        if all(row[key] == value for key, value in wanted.items())
    ]
    texts = ("motor", "prop")
    return {
        key: np.array([row[key] if key in texts else float(row[key]) for row in rows])
        for key in rows[0]
    }
