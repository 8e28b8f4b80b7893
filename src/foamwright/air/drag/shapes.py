"""Drag coefficients of shapes: noses, backs, edges, blocks, rods, wheels, corners."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

#: Mean pressure on a flat front face whose flow lies on again behind it, on its own area.
#: Flat-ended cylinders 4 and 7 diameters long have 0.87 and 0.99 (Matthews, read); less
#: friction and base drag (Re 1e5 on the diameter) 0.69 and 0.78 are left.
FLAT_FACE = 0.70
#: Most that a back end can add: a flat-ended cylinder one diameter long has 0.91 (Matthews,
#: read), less its front.
FREE_BASE = 0.21
#: Square corners along a box make this much of its friction and form drag.
#: D. P. Raymer, Aircraft Design: A Conceptual Approach, "about 40 %" (memory).
SQUARE_CORNERS = 1.4
#: Open wheel, rotating, on diameter times width (Matthews, read).
WHEEL = 0.58
#: Wind along the mouth of a groove, a slot or a hole that nothing flows through: the shear of
#: a mixing layer is about 0.01 of rho V², H. W. Liepmann, J. Laufer, NACA TN 1257 (memory).
CAVITY = 0.02
#: Friction of a rod along the wind, on diameter times length. Hoerner, ch. 3 (memory).
ALONG_ROD = 0.02
# A side that closes by less than the first angle keeps its flow, by more than the second
# loses it: "10 to 12 degrees" is the usual limit, Raymer and Hoerner (memory).
_CLOSING = (np.radians(10.0), np.radians(20.0))

# Length over diameter and drag on the end: square plate, then cylinders end-on (Matthews).
_BLOCK_LENGTH = np.array([0.0, 1.0, 2.0, 4.0, 7.0])
_BLOCK_DRAG = np.array([1.17, 0.91, 0.85, 0.87, 0.99])
# Length over diameter and drag of ellipsoids with laminar layers on their frontal area.
# F. M. White, Fluid Mechanics, table of three-dimensional bodies (memory).
_ELLIPSOID_LENGTH = np.array([0.75, 1.0, 2.0, 4.0, 8.0])
_ELLIPSOID_DRAG = np.array([0.5, 0.47, 0.27, 0.25, 0.2])


def form_factor(fineness: ArrayLike) -> Array:
    r"""Total over friction drag of a streamlined body.

    .. math:: 1 + 1.5\,f^{-3/2} + 7\,f^{-3}

    Parameters
    ----------
    fineness : array_like
        Length over diameter, above about 3. [-]

    Returns
    -------
    ndarray
        Factor on the friction of the wetted area. [-]

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 6 (from memory).
    """
    f = np.asarray(fineness, dtype=np.float64)
    return 1.0 + 1.5 * f**-1.5 + 7.0 * f**-3.0


def slope_share(angle: ArrayLike) -> Array:
    r"""Front drag of a slanted face over that of a flat one, on its projected area.

    .. math:: \sin^2\theta

    Parameters
    ----------
    angle : array_like
        Of the face to the wind, a right angle for a flat front. [rad]

    Returns
    -------
    ndarray
        Share of ``FLAT_FACE``. [-]

    Notes
    -----
    Only the ends are known: a flat face, and a fair nose without pressure drag. The path
    between them is ours, without source; hence the band of the nose rows.
    """
    return np.sin(np.asarray(angle, dtype=np.float64)) ** 2


def lost_share(angle: ArrayLike) -> Array:
    """Share of a closing side whose flow has left it, and which counts as back end.

    Parameters
    ----------
    angle : array_like
        By which the side closes. [rad]

    Returns
    -------
    ndarray
        0 up to 10 degrees, 1 from 20 degrees, smooth between. [-]

    Notes
    -----
    A propeller close behind keeps the flow on sides up to about 30 degrees (Raymer, memory);
    that is not counted.
    """
    low, high = _CLOSING
    u = np.clip((np.asarray(angle, dtype=np.float64) - low) / (high - low), 0.0, 1.0)
    return u * u * (3.0 - 2.0 * u)


def body_base(forebody: ArrayLike) -> Array:
    r"""Drag coefficient of the back end of a body, on its area.

    .. math:: C_{DB} = 0.029/\sqrt{C_{fB}}

    Parameters
    ----------
    forebody : array_like
        Friction drag of the body ahead on the area of the back end. [-]

    Returns
    -------
    ndarray
        On the area of the back end, never more than ``FREE_BASE``. [-]

    Notes
    -----
    Turbulent layers; at model size 40 % either way.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory).
    """
    return np.minimum(0.029 / np.sqrt(np.asarray(forebody, dtype=np.float64)), FREE_BASE)


def edge_base(forebody: ArrayLike) -> Array:
    r"""Drag coefficient of a blunt trailing edge or a step that faces aft, on its height.

    .. math:: C_{DB} = 0.135/C_{fB}^{1/3}

    Parameters
    ----------
    forebody : array_like
        Drag of the section ahead on the height of the edge. [-]

    Returns
    -------
    ndarray
        On the height of the edge. [-]

    Notes
    -----
    Turbulent layers; below Re 1e5 40 % either way.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory).
    """
    return 0.135 / np.cbrt(np.asarray(forebody, dtype=np.float64))


def block_drag(fineness: ArrayLike) -> Array:
    """Drag coefficient of a block or plate square to the wind, on its front.

    Parameters
    ----------
    fineness : array_like
        Length along the wind over the diameter of a circle as large as the front. [-]

    Returns
    -------
    ndarray
        1.17 for a square plate, 0.85 at 2, held beyond 7. [-]

    References
    ----------
    .. [1] C. Matthews, Aeronautical Engineer's Data Book, 2002, fig. 5.13(b), p. 95 (read).
    """
    return np.interp(np.asarray(fineness, dtype=np.float64), _BLOCK_LENGTH, _BLOCK_DRAG)


def ellipsoid_drag(fineness: ArrayLike) -> Array:
    """Drag coefficient of an ellipsoid along the wind, on its front.

    Parameters
    ----------
    fineness : array_like
        Length over diameter. [-]

    Returns
    -------
    ndarray
        With laminar layers, as below Re 1e5 on the diameter; held outside 0.75 to 8. [-]

    References
    ----------
    .. [1] F. M. White, Fluid Mechanics, table of three-dimensional bodies (from memory).
    """
    return np.interp(np.asarray(fineness, dtype=np.float64), _ELLIPSOID_LENGTH, _ELLIPSOID_DRAG)


def cylinder_drag(reynolds: ArrayLike) -> Array:
    r"""Drag coefficient of an endless cylinder across the wind, on its diameter.

    Parameters
    ----------
    reynolds : array_like
        On the diameter, 1 to 2e5. [-]

    Returns
    -------
    ndarray
        :math:`1.18 + 6.8 Re^{-0.89} + 1.96 Re^{-1/2} - 0.0004 Re/(1 + 3.64\cdot10^{-7}
        Re^2)`. [-]

    References
    ----------
    .. [1] F. M. White, Viscous Fluid Flow, fit to measurements (from memory).
    """
    re = np.asarray(reynolds, dtype=np.float64)
    dip = 4.0e-4 * re / (1.0 + 3.64e-7 * re * re)
    return 1.18 + 6.8 * re**-0.89 + 1.96 / np.sqrt(re) - dip


def rod_drag(reynolds: ArrayLike, *, lean: ArrayLike) -> Array:
    r"""Drag coefficient of a rod that leans into the wind, on diameter times length.

    .. math:: C_D = C_{D,90}\sin^3\alpha + 0.02

    Parameters
    ----------
    reynolds : array_like
        On diameter and airspeed. [-]
    lean : array_like
        Sine of the angle between rod and wind, 1 across it. [-]

    Returns
    -------
    ndarray
        Along the wind only the friction is left. [-]

    Notes
    -----
    The cylinder's own coefficient is taken at the speed across the rod.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory).
    """
    sine = np.asarray(lean, dtype=np.float64)
    # The cube makes an end of the rod's own coefficient long before Re falls below 1.
    across = np.maximum(np.asarray(reynolds, dtype=np.float64) * sine, 1.0)
    return cylinder_drag(across) * sine**3 + ALONG_ROD


def wall_corner(thickness: ArrayLike) -> Array:
    r"""Drag of the corner of a wing and a wall, on the square of the wing's thickness.

    .. math:: 0.75\,(t/c) - 0.0003/(t/c)^2

    Parameters
    ----------
    thickness : array_like
        Of the wing over its chord. [-]

    Returns
    -------
    ndarray
        Each side of the wall; 0 for thin sections, where the formula falls below. [-]

    Notes
    -----
    Square, unfilled corners at small lift. For sheet it is nothing.

    References
    ----------
    .. [1] S. F. Hoerner, Fluid-Dynamic Drag, 1965, ch. 8 (from memory).
    """
    t = np.asarray(thickness, dtype=np.float64)
    return np.maximum(0.75 * t - 3.0e-4 / (t * t), 0.0)
