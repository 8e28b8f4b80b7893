"""What the lattice says, as frozen values."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class LatticeReference:
    """What the coefficients are made with and about."""

    area: float  # m²
    chord: float  # m, for pitching moments and the pitch rate
    span: float  # m, for rolling and yawing moments and the roll rate
    point: tuple[float, float, float]  # m, of the moments and of the turning


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceShare:
    """One surface's part of the sums, both halves, on the aeroplane's reference."""

    key: str
    lift_slope: float  # 1/rad
    moment_slope: float  # 1/rad
    lift_at_zero: float  # with the x axis along the wind
    moment_at_zero: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpanLoad:
    """Load along one surface, from root to tip of the half given, at its control lines.

    The load is chord times lift coefficient of the strip, square to the surface; at an
    incidence it is ``incidence * unit + at_zero``.
    """

    key: str
    y: Array  # m
    z: Array  # m
    width: Array  # m, of the strip, along the surface
    chord: Array  # m
    unit: Array  # m/rad
    at_zero: Array  # m, with the x axis along the wind


@dataclass(frozen=True, slots=True, kw_only=True)
class LateralSlopes:
    """Slopes of the antisymmetric part at zero lift; right is positive."""

    side_sideslip: float  # 1/rad, CY_beta; sideslip is positive with the wind from the right
    roll_sideslip: float  # 1/rad, Cl_beta; negative is stable
    yaw_sideslip: float  # 1/rad, Cn_beta; positive is stable
    roll_damping: float  # Cl_p, per p b / 2V; negative damps


@dataclass(frozen=True, slots=True, kw_only=True)
class LatticeResult:
    """What the lattice says of an aeroplane, linear in incidence, power off."""

    reference: LatticeReference
    lift_slope: float  # 1/rad
    moment_slope: float  # 1/rad, about the reference point
    neutral_point: float  # m, x; nan where nothing lifts
    lift_at_zero: float  # CL with the x axis along the wind
    moment_at_zero: float  # Cm there, about the reference point
    zero_lift_angle: float  # rad, of the x axis; nan where nothing lifts
    zero_lift_moment: float  # Cm at zero lift, about any point; nan where nothing lifts
    lift_pitch_rate: float  # CL_q, per q c / 2V, turning about the reference point
    moment_pitch_rate: float  # Cm_q
    lateral: LateralSlopes | None  # where asked for
    shares: tuple[SurfaceShare, ...]
    loads: tuple[SpanLoad, ...]
    joints: tuple[str, ...]  # "fin+tail": surfaces that meet
    panels: int  # of the halves given
    is_symmetric: bool  # solved by halves
    notes: tuple[str, ...]  # what is left out, and what was taken for granted
