"""Apparent mass: what air a body must push aside when the wind crosses it."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Nearer to a sphere than this, in the square of the eccentricity, the closed forms lose
# digits (they are differences of nearly equal terms) and their series is used.
_NEAR_SPHERE = 1e-2
# Corner angles in the table of rectangles, graded towards both flat limits.
_ANGLES = 801


def ellipsoid_masses(fineness: ArrayLike) -> tuple[Array, Array]:
    r"""Apparent-mass factors of an ellipsoid of revolution, along and across its axis.

    Parameters
    ----------
    fineness : array_like
        Length over diameter; below 1 it is flattened. [-]

    Returns
    -------
    tuple of ndarray
        :math:`k_1` along, :math:`k_2` across, as shares of the displaced mass. [-]

    Notes
    -----
    Exact potential flow. With :math:`s = 1 - 1/f^2`, negative for a flattened body,
    :math:`\alpha_0 = 2(1 - s)\,(L - 1)/s`, where :math:`L = \operatorname{artanh}(\sqrt s)/
    \sqrt s`, :math:`\beta_0 = 1 - \alpha_0/2`, :math:`k = \alpha/(2 - \alpha)`.

    References
    ----------
    .. [1] H. Lamb, Hydrodynamics, 6th ed., 1932, art. 114 and 373 (from memory).
    """
    f = np.asarray(fineness, dtype=np.float64)
    s = 1.0 - 1.0 / (f * f)
    far = np.abs(s) > _NEAR_SPHERE
    safe = np.where(far, s, 0.5)
    root = np.sqrt(np.abs(safe))
    long = np.arctanh(np.where(safe > 0.0, root, 0.0))
    flat = np.arctan(np.where(safe < 0.0, root, 0.0))
    closed = (np.where(safe > 0.0, long, flat) / root - 1.0) / safe
    near = np.where(far, 0.0, s)
    series = sum((near**n / (2 * n + 3) for n in range(8)), np.zeros_like(f))
    alpha = 2.0 * (1.0 - s) * np.where(far, closed, series)
    beta = 1.0 - 0.5 * alpha
    return alpha / (2.0 - alpha), beta / (2.0 - beta)


def munk_factor(fineness: ArrayLike) -> Array:
    r"""Munk's correction for bodies that are not endlessly long, :math:`k_2 - k_1`.

    Parameters
    ----------
    fineness : array_like
        Length over diameter. [-]

    Returns
    -------
    ndarray
        1 for an endlessly long body, 0 for a sphere, below 0 for a flattened one. [-]

    Notes
    -----
    Exact for ellipsoids of revolution; for other bodies that of the ellipsoid of their
    length and largest cross-section stands for it.

    References
    ----------
    .. [1] M. M. Munk, The Aerodynamic Forces on Airship Hulls, NACA TR 184, 1924 (memory).
    """
    along, across = ellipsoid_masses(fineness)
    return across - along


def rectangle_mass(aspect: ArrayLike) -> Array:
    r"""Apparent mass of a rectangle against that of the circle over its width.

    Parameters
    ----------
    aspect : array_like
        Side along the motion over side across it, above 0. [-]

    Returns
    -------
    ndarray
        :math:`A/(\pi a^2)`, a half the side across the motion; 1 for a plate. [-]

    Notes
    -----
    Exact plane potential flow. The outside of the unit circle goes to that of the rectangle
    by :math:`dz/d\zeta = c\,(1 - 2\cos 2\varphi\,\zeta^{-2} + \zeta^{-4})^{1/2}`, with the
    corners at :math:`\pm\varphi` and :math:`\pi \pm \varphi`; then
    :math:`A = 2\pi c^2(1 + \cos 2\varphi) - 4ab`, :math:`a = 2c\,[E(k') - k^2 K(k')]`,
    :math:`b = 2c\,[E(k) - k'^2 K(k)]`, :math:`k = \sin\varphi`. The flow is taken not to
    separate at the corners.

    References
    ----------
    .. [1] J. N. Newman, Marine Hydrodynamics, 1977, table 4.3, gives the square: 4.754 a²
       (from memory). The map is the usual one of Schwarz and Christoffel.
    """
    logs, masses = _rectangles()
    ratio = np.asarray(aspect, dtype=np.float64)
    thin = np.maximum(ratio, np.exp(logs[0]))
    value = np.interp(np.log(thin), logs, masses)
    # Beyond the table's thin end the mass tends to the plate's in proportion.
    return np.where(ratio < thin, 1.0 + (masses[0] - 1.0) * ratio / thin, value)


@lru_cache(maxsize=1)
def _rectangles() -> tuple[Array, Array]:
    """Logarithm of the aspect, rising, and apparent mass over pi a²."""
    # The aspect falls with the square of the corner angle: grade in the angle's logarithm.
    grade = np.linspace(-9.0, 9.0, _ANGLES)
    angle = 0.5 * np.pi / (1.0 + np.exp(-grade))
    k2 = np.sin(angle) ** 2
    first, second = elliptic_integrals(k2)
    first_c, second_c = elliptic_integrals(1.0 - k2)
    b = 2.0 * (second - (1.0 - k2) * first)
    a = 2.0 * (second_c - k2 * first_c)
    mass = 2.0 * np.pi * (1.0 + np.cos(2.0 * angle)) - 4.0 * a * b
    return np.log(b / a), mass / (np.pi * a * a)


def elliptic_integrals(parameter: ArrayLike) -> tuple[Array, Array]:
    r"""Complete elliptic integrals K and E of the parameter m = k², below 1.

    Parameters
    ----------
    parameter : array_like
        m. [-]

    Returns
    -------
    tuple of ndarray
        :math:`K(m)` and :math:`E(m)`. [-]

    References
    ----------
    .. [1] M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 1964, 17.6:
       arithmetic-geometric mean.
    """
    m = np.asarray(parameter, dtype=np.float64)
    a, b = np.ones_like(m), np.sqrt(1.0 - m)
    lost, weight = 0.5 * m, 0.5
    for _ in range(_AGM_STEPS):
        a, b, c = 0.5 * (a + b), np.sqrt(a * b), 0.5 * (a - b)
        weight *= 2.0
        lost = lost + weight * c * c
    first = 0.5 * np.pi / a
    return first, first * (1.0 - lost)


#: The mean converges quadratically; eight steps serve 1 - m down to 1e-30.
_AGM_STEPS = 8
