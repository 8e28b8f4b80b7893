"""The static bench of tests/data/bench_static_5in.csv, read as arrays.

Rows above 10.7 A are left out (the supply limits near 10.9 A), and one faulty pair.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

FILE = Path(__file__).parent / "data" / "bench_static_5in.csv"
_SUPPLY_LIMIT = 10.7  # A
_FAULTY = ("M02", "T050x0400-2b-a")


def bench_rows(**wanted: str) -> dict[str, np.ndarray]:
    """Columns of the rows that have the wanted texts; names stay texts, the rest are floats."""
    with FILE.open(encoding="utf-8", newline="") as file:
        rows = [
            row
            for row in csv.DictReader(file)
            if float(row["I_A"]) <= _SUPPLY_LIMIT
            and (row["motor"], row["prop"]) != _FAULTY
            and all(row[key] == value for key, value in wanted.items())
        ]
    texts = ("motor", "stator_code", "prop")
    return {
        key: np.array([row[key] if key in texts else float(row[key]) for row in rows])
        for key in rows[0]
    }
