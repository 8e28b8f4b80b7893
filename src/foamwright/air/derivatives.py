"""Every static, rate and control derivative of an aeroplane, from its tensor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.tensor import LiftTensor, loads, motion_state

Array = NDArray[np.float64]

#: Coefficients in their order.
COEFFICIENTS = ("lift", "drag", "side", "roll", "pitch", "yaw")
#: What they are derived by; moving parts follow.
MOTION_ANGLES = ("incidence", "sideslip", "roll rate", "pitch rate", "yaw rate")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Derivatives:
    """Coefficients of an aeroplane in one state, and their slopes.

    Lift, drag and side force are square to and along the wind, moments about the axes of the
    body; all on the reference measures. Drag is that which lift induces.
    """

    columns: tuple[str, ...]  # incidence, sideslip, three rates, then the moving parts
    values: Array  # (6,) lift, drag, side, roll, pitch, yaw
    table: Array  # (6, M) 1/rad; rates p b/2V, q c/2V, r b/2V
    neutral_point: float  # m, x; nan where nothing lifts

    def of(self, coefficient: str, column: str) -> float:
        """Look one slope up by its names. [1/rad]"""
        return float(self.table[COEFFICIENTS.index(coefficient), self.columns.index(column)])


def derivatives(
    tensor: LiftTensor,
    *,
    incidence: float = 0.0,
    sideslip: float = 0.0,
    rates: ArrayLike = (0.0, 0.0, 0.0),
    deflections: ArrayLike | None = None,
) -> Derivatives:
    """Coefficients and all their slopes in one state.

    Parameters
    ----------
    tensor : LiftTensor
        The aeroplane, about the point wanted.
    incidence, sideslip : float, optional
        Nose up, and wind from the right. [rad]
    rates : array_like, (3,), optional
        p b/2V, q c/2V, r b/2V: right wing down, nose up, nose right. [-]
    deflections : array_like, (U,), optional
        Of the moving parts. [rad]

    Returns
    -------
    Derivatives

    Notes
    -----
    Exact derivatives of the bilinear form; steady, so neither downwash lag nor the inertia of
    the air is in the pitch rate.
    """
    ref = tensor.reference
    over = 2.0 / np.array([ref.span, ref.chord, ref.span])
    x = motion_state(
        tensor,
        incidence=incidence,
        sideslip=sideslip,
        rates=np.asarray(rates, dtype=np.float64) * over,
        deflections=deflections,
    )
    scale = 2.0 / (ref.area * np.array([1.0, 1.0, 1.0, ref.span, ref.chord, ref.span]))
    force = scale * loads(tensor, x)
    slope = 2.0 * scale[:, None] * ((tensor.tensor @ x) @ _changes(tensor, x, over))
    a, b = np.arctan2(x[1], x[0]), np.arcsin(x[3])
    turn = _to_wind(a, b)
    values, table = force.copy(), slope.copy()
    values[:3], table[:3] = turn @ force[:3], turn @ slope[:3]
    lift, drag, side = values[:3].tolist()
    ahead = drag * np.cos(b) + side * np.sin(b)
    table[:3, 0] += (-ahead, lift * np.cos(b), lift * np.sin(b))
    table[:3, 1] += (0.0, -side, drag)
    for array in (values, table):
        array.flags.writeable = False
    # Of the force along z: its slope and the moment's go together when the point moves in x.
    up = float(slope[2, 0])
    ahead_of = float(table[4, 0]) / up if up > 0.0 else np.nan
    return Derivatives(
        columns=(*MOTION_ANGLES, *tensor.states[6:]),
        values=values,
        table=table,
        neutral_point=ref.point[0] - ref.chord * ahead_of,
    )


def _changes(tensor: LiftTensor, x: Array, over: Array) -> Array:
    """How the state moves with each column, (N, M), at unit speed."""
    count, units = len(x), len(tensor.units)
    change = np.zeros((count, 5 + units))
    plane = np.hypot(x[0], x[1])
    change[0, 0], change[1, 0] = -x[1], x[0]
    change[0, 1], change[1, 1], change[3, 1] = -x[3] * x[0] / plane, -x[3] * x[1] / plane, plane
    change[4, 2], change[2, 3], change[5, 4] = over
    moved = np.arange(units)
    change[6 + moved, 5 + moved] = x[0]
    # A control's state is its deflection times the forward speed, which the angles change.
    change[6:, :2] += np.outer(x[6:] / x[0], change[0, :2])
    return change


def _to_wind(a: float, b: float) -> Array:
    """Turn a force (aft, right, up) into lift, drag and side force, (3, 3)."""
    sa, ca, sb, cb = np.sin(a), np.cos(a), np.sin(b), np.cos(b)
    return np.array([[-sa, 0.0, ca], [ca * cb, -sb, sa * cb], [ca * sb, cb, sa * sb]])
