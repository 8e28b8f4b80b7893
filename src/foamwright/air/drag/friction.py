"""Skin friction of plates at the Reynolds numbers of models."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

#: Reynolds number of transition on a smooth part that nothing trips: a plate without pressure
#: gradient stays laminar below about this (reference set, after Michel and Drela, computed).
SMOOTH_TRANSITION = 3.0e5


def laminar_friction(reynolds: ArrayLike) -> Array:
    r"""Mean friction of a laminar plate, one side.

    .. math:: C_F = 1.328/\sqrt{Re}

    Parameters
    ----------
    reynolds : array_like
        On the plate's length. [-]

    Returns
    -------
    ndarray
        Friction coefficient on the wetted side. [-]

    Notes
    -----
    Re above about 1e3; below, the layer is too thick for the theory and friction is higher.

    References
    ----------
    .. [1] H. Blasius, 1908; as in H. Schlichting, Boundary-Layer Theory (formula read).
    """
    return 1.328 / np.sqrt(np.asarray(reynolds, dtype=np.float64))


def turbulent_friction(reynolds: ArrayLike) -> Array:
    r"""Mean friction of a plate that is turbulent from its front edge, one side.

    .. math:: C_F = 0.455/(\log_{10} Re)^{2.58}

    Parameters
    ----------
    reynolds : array_like
        On the plate's length. [-]

    Returns
    -------
    ndarray
        Friction coefficient on the wetted side. [-]

    Notes
    -----
    A layer can hardly be turbulent at the front of a plate below Re 2e5; behind a blunt front
    it is, because the flow that lies on again is.

    References
    ----------
    .. [1] L. Prandtl, H. Schlichting, 1932; as in H. Schlichting, Boundary-Layer Theory
       (from memory).
    """
    return 0.455 / np.log10(np.asarray(reynolds, dtype=np.float64)) ** 2.58


def plate_friction(reynolds: ArrayLike, *, transition: ArrayLike = 0.0) -> Array:
    r"""Mean friction of a plate, laminar in front and turbulent behind, one side.

    .. math:: C_F = C_{F,t}(Re) - \frac{Re_t}{Re}\,[C_{F,t}(Re_t) - C_{F,l}(Re_t)]

    Parameters
    ----------
    reynolds : array_like
        On the plate's length. [-]
    transition : array_like, optional
        Reynolds number of transition; 0 where something trips the layer at the front. [-]

    Returns
    -------
    ndarray
        Friction coefficient on the wetted side; laminar below the transition. [-]

    References
    ----------
    .. [1] L. Prandtl, 1927; as in H. Schlichting, Boundary-Layer Theory (from memory):
       1700/Re is taken off at a transition of 5e5.
    """
    re, turn = np.broadcast_arrays(
        np.asarray(reynolds, dtype=np.float64), np.asarray(transition, dtype=np.float64)
    )
    # Where the front is tripped nothing is taken off; 10 only keeps the logarithm finite.
    at = np.maximum(turn, 10.0)
    saved = np.where(turn > 0.0, turn * (turbulent_friction(at) - laminar_friction(at)), 0.0)
    return np.where(re > turn, turbulent_friction(re) - saved / re, laminar_friction(re))
