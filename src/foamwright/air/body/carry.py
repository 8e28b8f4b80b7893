"""Lift that a body takes over from the wing it covers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def carry_over(width: ArrayLike) -> tuple[Array, Array]:
    r"""Lift of a wing on a body, and of the body under it, over that of the free wing halves.

    .. math:: K_W + K_B = (1 + \tau)^2

    Parameters
    ----------
    width : array_like
        :math:`\tau`, width of the body over span of wing and body, 0 to below 1. [-]

    Returns
    -------
    tuple of ndarray
        :math:`K_W` of the wing halves, :math:`K_B` of the body. [-]

    Notes
    -----
    Slender bodies and wings, round body, wing in its middle. A high-aspect wing loses less
    and gains less: one drawn straight through the body, as the lattice draws it, has the
    measured lift within a few per cent for bodies up to a tenth of the span, while slender
    theory would add :math:`\tau` to it. So no correction is made, and the difference belongs
    to the band of the lift slope.

    References
    ----------
    .. [1] W. C. Pitts, J. N. Nielsen, G. E. Kaattari, NACA TR 1307, 1957 (from memory).
    """
    t = np.asarray(width, dtype=np.float64)
    # At no width at all 1/t is endless; its arctangent is a right angle all the same.
    gap = 1.0 / np.maximum(t, _THINNEST) - t
    outer = (1.0 + t**4) * (0.5 * np.arctan(0.5 * gap) + 0.25 * np.pi)
    inner = t * t * (gap + 2.0 * np.arctan(t))
    wing = 2.0 / np.pi * (outer - inner) / (1.0 - t) ** 2
    return wing, (1.0 + t) ** 2 - wing


_THINNEST = 1e-12
