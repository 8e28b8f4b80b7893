"""Where the vortices of a strip stand along the chord, and what slope they see."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.thin import glauert_terms

Array = NDArray[np.float64]


@lru_cache(maxsize=32)
def chord_points(rows: int) -> tuple[Array, Array]:
    r"""Vortex and control points along a strip, as fractions of its chord.

    Parameters
    ----------
    rows : int
        Vortices along the chord, at least 1. [-]

    Returns
    -------
    tuple of ndarray
        Vortex points and control points, fractions of chord from the leading edge. [-]

    Notes
    -----
    With :math:`x = (1 - \cos\theta)/2` and n rows the vortices stand at
    :math:`\theta = (2i - 1)\pi/(2n + 1)` and the control points at
    :math:`\theta = 2i\pi/(2n + 1)`: the Gauss points for the weight
    :math:`\sqrt{(1 - x)/x}` of a flat plate. In plane flow lift and moment are exact for
    any mean line whose slope is a polynomial of degree n or less. One row gives 1/4 and 3/4.

    References
    ----------
    .. [1] H. Multhopp, Methods for calculating the lift distribution of wings, ARC
       R&M 2884, 1950, for the chordwise points (from memory).
    """
    i = np.arange(1, rows + 1, dtype=np.float64)
    step = np.pi / (2 * rows + 1)
    vortex = 0.5 - 0.5 * np.cos((2.0 * i - 1.0) * step)
    control = 0.5 - 0.5 * np.cos(2.0 * i * step)
    vortex.flags.writeable = control.flags.writeable = False
    return vortex, control


def control_slopes(mean_line: Array, *, rows: int) -> Array:
    """Slope of a mean line as the control points of a strip must see it.

    Parameters
    ----------
    mean_line : ndarray, shape (k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]
    rows : int
        Vortices along the chord. [-]

    Returns
    -------
    ndarray, shape (rows,)
        dz/dx at the control points, + where the line climbs towards the tail. [-]

    Notes
    -----
    The series up to term ``rows`` rather than the slope at the point: a crease or a hinge
    may then lie anywhere, and lift and moment in plane flow stay exact with it.
    """
    return _known_slopes(np.ascontiguousarray(mean_line).tobytes(), rows)


@lru_cache(maxsize=512)
def _known_slopes(points: bytes, rows: int) -> Array:
    """Slopes of one mean line; most lines of a design come again and again."""
    mean_line = np.frombuffer(points).reshape(-1, 2)
    slopes = glauert_terms(mean_line, order=rows) @ _cosines(rows)
    slopes.flags.writeable = False
    return slopes


@lru_cache(maxsize=32)
def _cosines(rows: int) -> Array:
    """cos(k theta) at the control points, (rows + 1, rows)."""
    theta = 2.0 * np.pi / (2 * rows + 1) * np.arange(1, rows + 1)
    return np.cos(np.outer(np.arange(rows + 1), theta))


def hinge_slopes(hinge: Array, *, rows: int) -> Array:
    r"""Slope of plates hinged down by a slope of one, as the control points must see it.

    Parameters
    ----------
    hinge : ndarray, shape (n,)
        Hinges, fraction of chord from the leading edge. [-]
    rows : int
        Vortices along the chord. [-]

    Returns
    -------
    ndarray, shape (n, rows)
        dz/dx, + where the line climbs towards the tail. [-]

    Notes
    -----
    The series of :func:`control_slopes` for one straight piece behind the hinge:
    :math:`a_0 = -(\pi - \theta_h)/\pi,\ a_k = 2\sin k\theta_h/(k\pi)`.
    """
    theta = np.arccos(1.0 - 2.0 * hinge)
    k = np.arange(1, rows + 1, dtype=np.float64)
    cosines = _cosines(rows)
    series = np.sin(np.outer(theta, k)) * (2.0 / (np.pi * k))
    return series @ cosines[1:] + (theta / np.pi - 1.0)[:, None]


@lru_cache(maxsize=32)
def plane_flow(rows: int) -> Array:
    r"""Circulation of the vortices of a strip alone in plane flow.

    Parameters
    ----------
    rows : int
        Vortices along the chord. [-]

    Returns
    -------
    ndarray, shape (rows, rows)
        Row: vortex, column: unit normal velocity from below at a control point; circulation
        per chord and velocity. [-]

    Notes
    -----
    Inverse of :math:`1/(2\pi(x_c - x_v))`. All ones gives :math:`\pi` in sum: a flat plate.
    """
    vortex, control = chord_points(rows)
    inverse = np.linalg.inv(1.0 / (2.0 * np.pi * (control[:, None] - vortex)))
    matrix = np.asarray(inverse, dtype=np.float64)
    matrix.flags.writeable = False
    return matrix


@lru_cache(maxsize=32)
def _load_terms(rows: int) -> Array:
    """Terms of the load from the circulations of a strip, (terms, rows).

    The load is 2 V times the sum of A0 (1 + cos)/sin and Am sin(m theta); at a Gauss point
    the circulation is the load times chord sin(theta) pi/(2n + 1). Result: A per
    circulation over chord and speed.
    """
    step = np.pi / (2 * rows + 1)
    theta = (2.0 * np.arange(1, rows + 1) - 1.0) * step
    shape = np.sin(np.outer(theta, np.arange(rows)))
    shape[:, 0] = (1.0 + np.cos(theta)) / np.sin(theta)
    terms = np.linalg.inv(2.0 * step * np.sin(theta)[:, None] * shape)
    return np.asarray(terms, dtype=np.float64)


def hinge_weights(hinge: Array, *, rows: int) -> Array:
    r"""Hinge moment from the circulations of a strip.

    Parameters
    ----------
    hinge : ndarray, shape (n,)
        Hinge, fraction of chord from the leading edge. [-]
    rows : int
        Vortices along the chord. [-]

    Returns
    -------
    ndarray, shape (n, rows)
        Moment about the hinge per span, trailing edge down positive, over density, speed,
        chord and circulation. [-]

    Notes
    -----
    The load behind the hinge, as a flat plate's and a sine series of as many terms as there
    are rows, integrated in closed form: exact for every load without a hinge of its own.
    The load of the hinge itself has a logarithm there and is added exactly by the caller.
    """
    c = 1.0 - 2.0 * hinge
    angle = np.arccos(c)
    # integrals of cos(k theta) from the hinge to the tail
    k = np.arange(1, rows + 2, dtype=np.float64)
    whole = np.column_stack([np.pi - angle, -np.sin(np.outer(angle, k)) / k])
    plain, turned = _hinge_terms(rows)
    return c[:, None] * (whole @ plain) + whole @ turned


@lru_cache(maxsize=32)
def _hinge_terms(rows: int) -> tuple[Array, Array]:
    """Hinge weights from integrals of cos(k theta), (rows + 2, rows): times cos of the hinge; else.

    The arm of a load is (cos hinge - cos theta)/2, the loads are 1 + cos theta and
    sin(m theta) sin(theta) = (cos((m - 1) theta) - cos((m + 1) theta))/2.
    """
    one = np.eye(rows + 2)
    step = np.array([0.5 * (one[abs(m - 1)] + one[m + 1]) for m in range(rows + 1)])

    def loads(terms: Array) -> Array:
        rest = [0.5 * (terms[m - 1] - terms[m + 1]) for m in range(1, rows)]
        return -0.5 * np.column_stack([terms[0] + terms[1], *rest]) @ _load_terms(rows)

    return loads(one), -loads(step)


def thin_aerofoil(mean_line: Array) -> tuple[float, float]:
    """Zero-lift angle and quarter-chord moment of a thin section in plane flow.

    Parameters
    ----------
    mean_line : ndarray, shape (k, 2)
        Points (x, z) from nose to tail, fractions of chord. [-]

    Returns
    -------
    tuple of float
        Zero-lift angle [rad], negative for upward camber; moment coefficient about the
        quarter chord, nose up positive. [-]

    Notes
    -----
    Inviscid, linear: :math:`a_0 - a_1/2`, as the lattice has it. For the form that is exact for
    circular arcs too see :func:`foamwright.air.sections.thin.thin_aerofoil`.

    References
    ----------
    .. [1] H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII.
    """
    a0, a1, a2 = glauert_terms(mean_line).tolist()
    return a0 - 0.5 * a1, 0.25 * np.pi * (a2 - a1)
