"""Inviscid flow round a closed section: vortex panels.

Thin-aerofoil theory leaves thickness out; this gives what thickness does to lift and moment
and the pressures at the nose. It knows no viscosity: below Re 3e5 it is no measure of drag or
of the stall.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.errors import DomainError

Array = NDArray[np.float64]

#: Panels that a section is drawn anew with: 240 are within 0.3 % of the exact lift.
PANELS = 240


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelFlow:
    """Inviscid flow round a section."""

    cl: Array  # (n,) one per incidence
    cm_c4: Array  # (n,) nose up positive
    x: Array  # (m,) panel ends, fractions of chord, tail, lower side, nose, upper side, tail
    z: Array  # (m,)
    cp: Array  # (n, m) pressure coefficient at the panel ends


def panel_flow(outline: ArrayLike, *, alpha: ArrayLike, panels: int | None = PANELS) -> PanelFlow:
    """Lift, moment and pressures of a closed section in inviscid flow.

    Parameters
    ----------
    outline : array_like, (k, 2)
        Points (x, z) from the tail over the nose back to the tail, either way round, fractions
        of chord. A blunt tail is closed to its middle. [-]
    alpha : array_like
        Incidence. [rad]
    panels : int or None, optional
        How many panels to draw the section with; None takes the points as they are. [-]

    Returns
    -------
    PanelFlow
        Coefficients [-], one per incidence.

    Notes
    -----
    Vortex strength varies linearly over each panel and is the surface speed at the panel ends;
    no flow through the panel middles, no load at the tail. Incompressible and inviscid.

    References
    ----------
    .. [1] A. M. Kuethe, C. Y. Chow, Foundations of Aerodynamics, ch. 5 (method from memory);
       J. Katz, A. Plotkin, Low-Speed Aerodynamics, ch. 11, for the linear panel's velocity.
    """
    points = np.asarray(outline, dtype=np.float64)
    if points.ndim != 2 or points.shape[1] != 2 or len(points) < 10:
        raise DomainError("an outline is at least ten points (x, z)")
    x, z = points.T
    if float(np.sum(x[:-1] * z[1:] - x[1:] * z[:-1])) > 0.0:  # anticlockwise
        points = points[::-1]  # tail, lower side, nose, upper side
    if panels is not None:
        points = _redrawn(points, panels)
    points = points.copy()
    points[0] = points[-1] = 0.5 * (points[0] + points[-1])
    angle = np.atleast_1d(np.asarray(alpha, dtype=np.float64))
    speed = _surface_speeds(points, angle)
    cp = 1.0 - speed**2
    cl, cm = _loads(points, cp, angle)
    return PanelFlow(cl=cl, cm_c4=cm, x=points[:, 0], z=points[:, 1], cp=cp)


def _surface_speeds(points: Array, angle: Array) -> Array:
    start, end = points[:-1], points[1:]
    step = end - start
    length = np.hypot(step[:, 0], step[:, 1])
    tangent = step / length[:, None]
    normal = np.stack([-tangent[:, 1], tangent[:, 0]], axis=1)  # outward, clockwise way round
    middle = 0.5 * (start + end)
    first, second = _influence(middle, start, tangent, normal, length)
    n = len(length)
    matrix = np.zeros((n + 1, n + 1))
    matrix[:n, :n] += np.einsum("ijk,ik->ij", first, normal)
    matrix[:n, 1:] += np.einsum("ijk,ik->ij", second, normal)
    matrix[n, 0] = matrix[n, n] = 1.0
    wind = np.stack([np.cos(angle), np.sin(angle)])
    right = np.zeros((n + 1, len(angle)))
    right[:n] = -normal @ wind
    return np.asarray(np.linalg.solve(matrix, right).T, dtype=np.float64)


def _influence(
    at: Array, start: Array, tangent: Array, normal: Array, length: Array
) -> tuple[Array, Array]:
    """Velocity at points from panels, per unit strength at their first and second end."""
    rel = at[:, None, :] - start[None, :, :]
    x = np.einsum("ijk,jk->ij", rel, tangent)
    z = np.einsum("ijk,jk->ij", rel, normal)
    far = x - length
    r1, r2 = x * x + z * z, far * far + z * z
    np.fill_diagonal(z, 0.0)
    log = 0.5 * np.log(r2 / r1)
    turn = np.arctan2(z, far) - np.arctan2(z, x)
    np.fill_diagonal(turn, np.pi)  # from outside
    k = 1.0 / (2.0 * np.pi * length)
    u2 = k * (z * log + x * turn)
    w2 = k * (length + x * log - z * turn)
    u1 = turn / (2.0 * np.pi) - u2
    w1 = log / (2.0 * np.pi) - w2
    return (
        u1[..., None] * tangent + w1[..., None] * normal,
        u2[..., None] * tangent + w2[..., None] * normal,
    )


def _loads(points: Array, cp: Array, angle: Array) -> tuple[Array, Array]:
    step = np.diff(points, axis=0)
    mean = 0.5 * (cp[:, 1:] + cp[:, :-1])
    # Pressure pushes against the outward normal (-dz, dx).
    fx, fz = mean * step[:, 1], -mean * step[:, 0]
    at = 0.5 * (points[1:] + points[:-1])
    cl = fz.sum(axis=1) * np.cos(angle) - fx.sum(axis=1) * np.sin(angle)
    cm = (fx * at[:, 1] - fz * (at[:, 0] - 0.25)).sum(axis=1)
    return cl, cm


def _redrawn(points: Array, panels: int) -> Array:
    """Points gathered at the nose, on a parametric cubic through the given ones."""
    arc = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    keep = np.concatenate([[True], np.diff(arc) > 1e-9])
    arc, points = arc[keep], points[keep]
    nose = arc[int(np.argmin(points[:, 0]))]
    half = panels // 2
    u = _gathered(np.linspace(0.0, 1.0, half + 1))
    v = 1.0 - _gathered(np.linspace(1.0, 0.0, panels - half + 1))
    s = np.concatenate([nose * u, nose + (arc[-1] - nose) * v[1:]])
    return np.stack([_natural_cubic(s, arc, points[:, k]) for k in (0, 1)], axis=1)


def _gathered(t: Array) -> Array:
    """Places from tail (0) to nose (1), gathered at the nose and a little at the tail.

    Full gathering at a thin tail puts panels nearer to the other side than they are long.
    """
    return 0.5 * np.sin(0.5 * np.pi * t) + 0.5 * (0.5 - 0.5 * np.cos(np.pi * t))


def _natural_cubic(x: Array, knots: Array, values: Array) -> Array:
    """Natural cubic spline, by its second derivatives."""
    h = np.diff(knots)
    n = len(knots)
    matrix = np.eye(n)
    i = np.arange(1, n - 1)
    matrix[i, i - 1], matrix[i, i], matrix[i, i + 1] = h[:-1], 2.0 * (h[:-1] + h[1:]), h[1:]
    right = np.zeros(n)
    secant = np.diff(values) / h
    right[1:-1] = 6.0 * np.diff(secant)
    bend = np.linalg.solve(matrix, right)
    j = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, n - 2)
    a, b = knots[j + 1] - x, x - knots[j]
    return (bend[j] * a**3 + bend[j + 1] * b**3) / (6.0 * h[j]) + (
        (values[j] / h[j] - bend[j] * h[j] / 6.0) * a
        + (values[j + 1] / h[j] - bend[j + 1] * h[j] / 6.0) * b
    )
