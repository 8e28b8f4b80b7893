"""Natural modes of small motions: equations of motion, roots, and which root is which mode."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.flight.common import GRAVITY, Array, Flags, as_array, as_arrays
from foamwright.flight.derivatives import Dimensional, Trim

Roots = NDArray[np.complex128]
Names = NDArray[np.str_]


class Mode(StrEnum):
    """What a root belongs to; a pair that has turned into two real roots keeps its name."""

    SHORT_PERIOD = "short period"  # fast pitching at nearly constant speed
    PHUGOID = "phugoid"  # slow exchange of height and speed
    PITCH_ROOTS = "pitch roots"  # one from each, where a third oscillation took the others
    THIRD_OSCILLATION = "third oscillation"  # one root of each merged, balance point too far aft
    DUTCH_ROLL = "dutch roll"  # yaw and roll together
    ROLL = "roll"  # how fast a roll rate settles
    SPIRAL = "spiral"  # how a bank grows or dies
    ROLL_SPIRAL = "roll-spiral"  # both merged into a slow rolling oscillation


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Modes:
    """Four roots, fastest first, and the mode that each belongs to; leading axes are cases."""

    roots: Roots  # (..., 4) 1/s
    names: Names  # (..., 4) values of Mode

    @property
    def stable(self) -> Flags:
        """Whether every motion dies out."""
        return np.max(self.roots.real, axis=-1) < 0.0

    def has(self, mode: Mode) -> Flags:
        """Whether there is such a mode."""
        return np.any(self.names == mode.value, axis=-1)

    def pair(self, mode: Mode) -> Roots:
        """Both roots of a mode, (..., 2): of a pair the upper one first, else the slower first.

        nan where there is no such mode or it has one root.
        """
        mine = self.names == mode.value
        both = mine.sum(axis=-1) == 2
        order = np.argsort(~mine, axis=-1, kind="stable")[..., :2]
        picked = np.take_along_axis(self.roots, order, axis=-1)
        flip = (picked[..., 0].imag < 0.0) | (picked[..., 1].real > picked[..., 0].real)
        picked = np.where(flip[..., None], picked[..., ::-1], picked)
        return np.where(both[..., None], picked, complex(np.nan, np.nan))

    def root(self, mode: Mode) -> Array:
        """Real root of a mode that has one, such as roll or spiral; nan where it has not. [1/s]"""
        mine = self.names == mode.value
        single = mine.sum(axis=-1) == 1
        value = np.sum(np.where(mine, self.roots.real, 0.0), axis=-1)
        return np.where(single, value, np.nan)

    def frequency(self, mode: Mode) -> Array:
        """Natural frequency of a mode of two roots; nan where they have unlike signs. [rad/s]"""
        pair = self.pair(mode)
        square = (pair[..., 0] * pair[..., 1]).real
        return np.sqrt(np.where(square > 0.0, square, np.nan))

    def damping(self, mode: Mode) -> Array:
        """Damping ratio of a mode of two roots; 1 and above where both are real. [-]"""
        pair = self.pair(mode)
        return -(pair[..., 0] + pair[..., 1]).real / (2.0 * self.frequency(mode))

    def growth(self, mode: Mode) -> Array:
        """Real part of a mode's least stable root; negative dies out. [1/s]"""
        mine = self.names == mode.value
        worst = np.max(np.where(mine, self.roots.real, -np.inf), axis=-1)
        return np.where(self.has(mode), worst, np.nan)

    def period(self, mode: Mode) -> Array:
        """Time of one swing; nan where it does not swing. [s]"""
        return period(self.pair(mode)[..., 0])


# ---------------------------------------------------------------- what one root says


def period(root: ArrayLike) -> Array:
    """Time of one swing; nan for a real root. [s]

    Parameters
    ----------
    root : array_like
        Complex. [1/s]

    Returns
    -------
    ndarray
    """
    swing = np.abs(np.asarray(root, dtype=np.complex128).imag)
    return as_array(2.0 * np.pi / np.where(swing > 0.0, swing, np.nan))


def half_time(root: ArrayLike) -> Array:
    """Time in which a motion dies to half; endless where it does not. [s]

    Parameters
    ----------
    root : array_like
        Complex or real. [1/s]

    Returns
    -------
    ndarray
    """
    return double_time(-np.asarray(root, dtype=np.complex128))


def double_time(root: ArrayLike) -> Array:
    """Time in which a motion grows to twice; endless where it does not. [s]

    Parameters
    ----------
    root : array_like
        Complex or real. [1/s]

    Returns
    -------
    ndarray
    """
    grows = as_array(np.asarray(root, dtype=np.complex128).real)
    good = grows > 0.0
    time = np.log(2.0) / np.where(good, grows, 1.0)
    return as_array(np.where(np.isnan(grows), np.nan, np.where(good, time, np.inf)))


# ---------------------------------------------------------------- equations of motion


def longitudinal_matrix(
    derivatives: Dimensional, *, trim: Trim, mass: ArrayLike, inertia: ArrayLike
) -> Array:
    r"""Equations of small motions in the plane of symmetry, :math:`\dot x = A x`.

    The state is u, w, q and the change of attitude. Where the axes start along the wind
    (no incidence) it is the matrix of the textbooks.

    Parameters
    ----------
    derivatives : Dimensional
        Slopes themselves. [N, N m, m/s, rad/s]
    trim : Trim
        The state they hold in. [m/s, rad]
    mass : array_like
        Of the aeroplane. [kg]
    inertia : array_like, (..., 3, 3)
        About the balance point, in either of our two axes. [kg m²]

    Returns
    -------
    ndarray, (..., 4, 4)

    Notes
    -----
    Straight flight, symmetric aeroplane: products of inertia with y are left out.
    """
    d = derivatives
    m, v, a, theta, g = as_arrays(mass, trim.speed, trim.incidence, trim.attitude, trim.gravity)
    pitching = as_array(inertia)[..., 1, 1]
    rows = (
        (d.x_u, d.x_w, as_array(d.x_q) - m * v * np.sin(a), -m * g * np.cos(theta)),
        (d.z_u, d.z_w, as_array(d.z_q) + m * v * np.cos(a), -m * g * np.sin(theta)),
        (d.m_u, d.m_w, d.m_q, 0.0),
        (0.0, 0.0, 1.0, 0.0),
    )
    inertial = (
        (m - as_array(d.x_u_dot), -as_array(d.x_w_dot), 0.0, 0.0),
        (-as_array(d.z_u_dot), m - as_array(d.z_w_dot), 0.0, 0.0),
        (-as_array(d.m_u_dot), -as_array(d.m_w_dot), pitching, 0.0),
        (0.0, 0.0, 0.0, 1.0),
    )
    return as_array(np.linalg.solve(_matrix(inertial), _matrix(rows)))


def lateral_matrix(
    derivatives: Dimensional, *, trim: Trim, mass: ArrayLike, inertia: ArrayLike
) -> Array:
    r"""Equations of small motions out of the plane of symmetry, :math:`\dot x = A x`.

    The state is v, p, r and bank.

    Parameters
    ----------
    derivatives : Dimensional
        Slopes themselves. [N, N m, m/s, rad/s]
    trim : Trim
        The state they hold in. [m/s, rad]
    mass : array_like
        Of the aeroplane. [kg]
    inertia : array_like, (..., 3, 3)
        About the balance point, in either of our two axes. [kg m²]

    Returns
    -------
    ndarray, (..., 4, 4)

    Notes
    -----
    Straight flight, symmetric aeroplane: products of inertia with y are left out.
    """
    d, full = derivatives, as_array(inertia)
    m, v, a, theta, g = as_arrays(mass, trim.speed, trim.incidence, trim.attitude, trim.gravity)
    rows = (
        (
            d.y_v,
            as_array(d.y_p) + m * v * np.sin(a),
            as_array(d.y_r) - m * v * np.cos(a),
            m * g * np.cos(theta),
        ),
        (d.l_v, d.l_p, d.l_r, 0.0),
        (d.n_v, d.n_p, d.n_r, 0.0),
        (0.0, 1.0, np.tan(theta), 0.0),
    )
    cross = full[..., 0, 2]
    inertial = (
        (m, 0.0, 0.0, 0.0),
        (0.0, full[..., 0, 0], cross, 0.0),
        (0.0, cross, full[..., 2, 2], 0.0),
        (0.0, 0.0, 0.0, 1.0),
    )
    return as_array(np.linalg.solve(_matrix(inertial), _matrix(rows)))


def _matrix(rows: tuple[tuple[ArrayLike, ...], ...]) -> Array:
    """Stack entries that broadcast into matrices, (..., n, n)."""
    flat = as_arrays(*(entry for row in rows for entry in row))
    size = len(rows)
    return np.stack(flat, axis=-1).reshape(*flat[0].shape, size, size)


# ---------------------------------------------------------------- which root is which


def longitudinal_modes(matrix: Array) -> Modes:
    """Roots of motions in the plane of symmetry, with their names.

    Parameters
    ----------
    matrix : ndarray, (..., 4, 4)
        Of u, w, q and attitude, as :func:`longitudinal_matrix` gives. [any units]

    Returns
    -------
    Modes

    Notes
    -----
    The two fast roots are the short period's and the two slow ones the phugoid's, be they pairs
    or real. Only where a pair lies between two real roots have one root of each merged: the pair
    is then a third oscillation and the real ones keep no name of their own.
    """
    roots, swings, known = _sorted_roots(matrix)
    between = swings[..., 1] & swings[..., 2] & ~swings[..., 0]
    plain = np.array([Mode.SHORT_PERIOD.value] * 2 + [Mode.PHUGOID.value] * 2)
    merged = np.array(
        [
            Mode.PITCH_ROOTS.value,
            Mode.THIRD_OSCILLATION.value,
            Mode.THIRD_OSCILLATION.value,
            Mode.PITCH_ROOTS.value,
        ]
    )
    names = np.where(between[..., None], merged, plain)
    return Modes(roots=roots, names=np.where(known[..., None], names, ""))


def lateral_modes(matrix: Array) -> Modes:
    """Roots of motions out of the plane of symmetry, with their names.

    Parameters
    ----------
    matrix : ndarray, (..., 4, 4)
        Of v, p, r and bank, as :func:`lateral_matrix` gives. [any units]

    Returns
    -------
    Modes

    Notes
    -----
    One pair: the dutch roll; of the real roots the more negative is the roll, the other the
    spiral. Two pairs: the faster is the dutch roll, roll and spiral have merged in the slower.
    A single pair slower than both real roots is a roll-spiral where yaw and sideslip alone would
    not swing (their 2 by 2 block has real roots), and the real ones are the dutch roll's. Four
    real roots: the most negative is the roll, the slowest of the others the spiral, the rest the
    dutch roll's, which then is a yawing that does not swing.
    """
    roots, swings, known = _sorted_roots(matrix)
    count = swings.sum(axis=-1)
    names = np.full(roots.shape, Mode.DUTCH_ROLL.value, dtype="U20")
    slow_pair = (count == 2) & swings[..., 2] & swings[..., 3]
    odd = slow_pair & ~_yaw_swings(matrix)
    two = count == 4
    names[(two | odd)[..., None] & (np.arange(4) >= 2)] = Mode.ROLL_SPIRAL.value
    single = ~two & ~odd
    value = np.where(swings | ~known[..., None], np.inf, roots.real)
    roll = np.argmin(value, axis=-1)[..., None] == np.arange(4)
    names[single[..., None] & roll] = Mode.ROLL.value
    slow = np.where(swings | roll | ~known[..., None], np.inf, np.abs(roots.real))
    spiral = np.argmin(slow, axis=-1)[..., None] == np.arange(4)
    names[single[..., None] & spiral] = Mode.SPIRAL.value
    return Modes(roots=roots, names=np.where(known[..., None], names, ""))


def _sorted_roots(matrix: Array) -> tuple[Roots, Flags, Flags]:
    """Roots, fastest first, pairs together with the upper one first; which swing; which cases hold.

    A case without a trim has no numbers: its roots are nan and the others go on.
    """
    known = np.all(np.isfinite(matrix), axis=(-2, -1))
    held = np.where(known[..., None, None], matrix, 0.0)
    roots = np.linalg.eigvals(held).astype(np.complex128)
    order = np.lexsort((-roots.imag, roots.real, -np.abs(roots)), axis=-1)
    roots = np.take_along_axis(roots, order, axis=-1)
    swings = roots.imag != 0.0
    return np.where(known[..., None], roots, complex(np.nan, np.nan)), swings, known


def _yaw_swings(matrix: Array) -> Flags:
    """Whether sideslip and yaw alone, without rolling, would swing."""
    a, b = matrix[..., 0, 0], matrix[..., 0, 2]
    c, d = matrix[..., 2, 0], matrix[..., 2, 2]
    return (a - d) ** 2 + 4.0 * b * c < 0.0


# ---------------------------------------------------------------- classical approximations


def phugoid_frequency(speed: ArrayLike, *, gravity: ArrayLike = GRAVITY) -> Array:
    r"""Lanchester's phugoid, :math:`\sqrt2\,g/V`, the same for every aeroplane. [rad/s]

    Parameters
    ----------
    speed : array_like
        Airspeed. [m/s]
    gravity : array_like, optional
        Of the place. [m/s²]

    Returns
    -------
    ndarray

    References
    ----------
    .. [1] F. W. Lanchester, Aerodonetics, 1908 (from memory).
    """
    return np.sqrt(2.0) * as_array(gravity) / as_array(speed)


def phugoid_damping(glide_ratio: ArrayLike) -> Array:
    r"""Find the phugoid's damping ratio at constant thrust, :math:`1/(\sqrt2\,L/D)`. [-]

    Parameters
    ----------
    glide_ratio : array_like
        Lift over drag. [-]

    Returns
    -------
    ndarray
    """
    return 1.0 / (np.sqrt(2.0) * as_array(glide_ratio))


def short_period_approximation(matrix: Array) -> tuple[Array, Array]:
    """Natural frequency and damping ratio of pitching at constant speed. [rad/s], [-]

    Parameters
    ----------
    matrix : ndarray, (..., 4, 4)
        From :func:`longitudinal_matrix`. [1/s]

    Returns
    -------
    tuple of ndarray
        nan where it does not hold together.
    """
    return _block(matrix, 1, 2)


def dutch_roll_approximation(matrix: Array) -> tuple[Array, Array]:
    """Natural frequency and damping ratio of yawing without rolling. [rad/s], [-]

    Parameters
    ----------
    matrix : ndarray, (..., 4, 4)
        From :func:`lateral_matrix`. [1/s]

    Returns
    -------
    tuple of ndarray
        nan where it does not hold together.
    """
    return _block(matrix, 0, 2)


def _block(matrix: Array, one: int, two: int) -> tuple[Array, Array]:
    a, b = matrix[..., one, one], matrix[..., one, two]
    c, d = matrix[..., two, one], matrix[..., two, two]
    square = a * d - b * c
    frequency = np.sqrt(np.where(square > 0.0, square, np.nan))
    return frequency, -(a + d) / (2.0 * frequency)


def roll_time(
    damping: ArrayLike,
    *,
    speed: ArrayLike,
    area: ArrayLike,
    span: ArrayLike,
    inertia: ArrayLike,
    density: ArrayLike,
) -> Array:
    r"""Time in which a roll rate comes to 63 % of its end, rolling alone. [s]

    .. math:: \tau = \frac{4 I_x}{\rho V S b^2 |C_{lp}|}

    Parameters
    ----------
    damping : array_like
        Cl by p b/2V, negative. [-]
    speed, area, span : array_like
        Airspeed [m/s], wing area [m²] and span [m].
    inertia : array_like
        Ix. [kg m²]
    density : array_like
        Of the air. [kg/m³]

    Returns
    -------
    ndarray
    """
    v, s, b, ix, rho = as_arrays(speed, area, span, inertia, density)
    return -4.0 * ix / (rho * v * s * b**2 * as_array(damping))


def spiral_margin(
    *, roll_slip: ArrayLike, yaw_yaw_rate: ArrayLike, yaw_slip: ArrayLike, roll_yaw_rate: ArrayLike
) -> Array:
    r"""Judge the spiral in level flight: positive rights itself, negative tightens. [-]

    .. math:: C_{l\beta} C_{nr} - C_{n\beta} C_{lr}

    Parameters
    ----------
    roll_slip, yaw_slip : array_like
        Cl and Cn by sideslip. [1/rad]
    roll_yaw_rate, yaw_yaw_rate : array_like
        Cl and Cn by r b/2V. [-]

    Returns
    -------
    ndarray

    Notes
    -----
    Stability axes, small angles of climb.
    """
    stable = as_array(roll_slip) * as_array(yaw_yaw_rate)
    return stable - as_array(yaw_slip) * as_array(roll_yaw_rate)


def steady_roll(moment: ArrayLike, *, damping: ArrayLike) -> Array:
    r"""Helix angle :math:`pb/2V` of a steady roll; right wing down positive. [rad]

    Parameters
    ----------
    moment : array_like
        Cl that makes it roll: of the ailerons, or of dihedral times sideslip. [-]
    damping : array_like
        Cl by p b/2V, negative. [-]

    Returns
    -------
    ndarray
    """
    return -as_array(moment) / as_array(damping)
