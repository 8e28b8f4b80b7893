r"""Beyond the stall, through 90 degrees and tail first.

A stalled section is a plate that feels one force, square to its chord. Its size follows the
plate formula :math:`c_n = \sin a/(0.222\sin a + 0.283)`, with the incidence taken from the
zero-lift line as long as the flow still comes from the front; it acts at
:math:`x/c = 0.5 - 0.1\cos\alpha`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.evidence import number
from foamwright.air.sections.shape import smooth

Array = NDArray[np.float64]

# Just beyond the stall there is more force than on the plate, up to the first angle in full and
# none from the second. [deg]
_EARLY = (20.0, 35.0)
# Zero-lift angle from which a sheet is a cambered one. [rad]
_CAMBERED = 0.05


def plate_normal_force(alpha: Array) -> Array:
    r"""Find the normal force of a flat plate, odd in incidence.

    Parameters
    ----------
    alpha : ndarray
        Incidence. [rad]

    Returns
    -------
    ndarray
        :math:`c_n`, + towards the upper side. [-]

    Notes
    -----
    Infinite span, 20 to 90 degrees, within 8 %. Below 20 degrees it is only what the blend with
    the attached flow needs.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965 (from memory).
    """
    s = np.sin(alpha)
    return s / (number("deep.a") * np.abs(s) + number("deep.b"))


def deep_stall(
    alpha: Array, *, alpha0: float, reverse_alpha0: float, rub: Array, sheetness: float
) -> tuple[Array, Array, Array]:
    """Lift, drag and quarter-chord moment of a stalled section at any incidence.

    Parameters
    ----------
    alpha : ndarray
        Incidence, -π to π. [rad]
    alpha0 : float
        Zero-lift angle, nose first. [rad]
    reverse_alpha0 : float
        Zero-lift angle of the section turned round. [rad]
    rub : ndarray
        Drag at no lift, which remains along the chord. [-]
    sheetness : float
        1 for a plate, 0 for a thick section with a round nose. [-]

    Returns
    -------
    tuple of ndarray
        cl, cd, cm_c4, nose up positive. [-]
    """
    c, s = np.cos(alpha), np.sin(alpha)
    front, back = np.maximum(c, 0.0) ** 2, np.maximum(-c, 0.0) ** 2
    # Tail first the incidence is π - α, and its zero-lift angle counts the other way.
    turned = alpha - alpha0 * front + reverse_alpha0 * back
    size = sheetness + (1.0 - sheetness) * number("deep.profile")
    over = np.degrees(np.arcsin(np.clip(np.abs(np.sin(turned)), 0.0, 1.0)))
    # Seen on a thick symmetric section and on two cambered ones; a flat plate keeps its formula.
    seen = max(1.0 - sheetness, float(smooth(abs(alpha0) / _CAMBERED)))
    fade = 1.0 - smooth((over - _EARLY[0]) / (_EARLY[1] - _EARLY[0]))
    early = number("deep.early") * seen * fade
    cn = size * (1.0 + early) * plate_normal_force(turned)
    cl = cn * c
    cd = np.abs(cn * s) + rub * c * c
    centre = 0.5 - number("deep.centre") * c
    return cl, cd, -cn * (centre - 0.25)
