"""Vectors and points."""

Vec3 = tuple[float, float, float]  # m: x aft, y right, z up
Point = tuple[float, float]  # (x, z) in a side view or a section, unless said otherwise
