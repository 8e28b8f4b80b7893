"""How this room words lengths and ways, and what it calls no move at all."""

from __future__ import annotations

HAIR = 1e-6  # m; a thousandth of a millimetre is no move


def way(shift: float) -> str:
    """Word for a shift along x, which points back. [m]"""
    return "back" if shift > 0.0 else "forward"


def mm(value: float) -> str:
    """Distance in millimetres, with a tenth below 10 mm. [m]"""
    millimetres = 1e3 * value
    return f"{millimetres:.0f}" if abs(millimetres) >= 9.95 else f"{millimetres:.1f}"


def place(value: float) -> str:
    """Place in millimetres, without a tail of zeros. [m]"""
    return f"{1e3 * value:.1f}".removesuffix(".0")
