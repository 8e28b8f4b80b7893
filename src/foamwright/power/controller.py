"""The speed controller and the leads: resistance, part throttle, copper.

At a share d of full throttle a controller connects the motor for d of the time::

    motor volts = d · pack volts - I R        pack amps = I (d + k (1 - d))

where k stands for what switching and the ripple in the winding cost; k = 0 is the ideal chopper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.design.model import Controller

Array = NDArray[np.float64]

#: k, and its one sigma: median fit over eleven outrunners with five-inch propellers at part
#: throttle (0.28; 0.35 over the four whose motor lines fit best), same bench as the motor's label
#: ratio. Larger motors of more inductance should lose less; none was found measured.
PART_LOSS, PART_LOSS_SCATTER = 0.30, 0.10

#: Resistance times rating: 4 mohm at 20 A. Common practice, no source.
RESISTANCE_RATING = 0.08  # ohm A

#: Resistivity of annealed copper at 20 °C, IEC 60028, and what it gains per kelvin.
COPPER, COPPER_COEFFICIENT = 1.7241e-8, 0.00393  # ohm m, 1/K

#: Leads and connectors from pack to controller: 0.3 m of 18 AWG and one pair of plugs, and its one
#: sigma, relative. Common practice, no source.
LEAD_RESISTANCE, LEAD_SCATTER = 0.006, 0.3  # ohm, -


@dataclass(frozen=True, slots=True, kw_only=True)
class ControllerModel:
    """A controller as two resistances and a loss."""

    rating: float  # A
    resistance: float  # ohm, in the motor's current
    leads: float = LEAD_RESISTANCE  # ohm, in the pack's current
    part_loss: float = PART_LOSS  # k above
    part_loss_scatter: float = PART_LOSS_SCATTER


def controller_model(controller: Controller) -> ControllerModel:
    """Model a controller of the design file.

    Parameters
    ----------
    controller : Controller
        As the maker knows it.

    Returns
    -------
    ControllerModel
        Its resistance follows from its rating.
    """
    return ControllerModel(
        rating=controller.rating, resistance=RESISTANCE_RATING / controller.rating
    )


def chopper(
    duty: ArrayLike, *, pack_volts: ArrayLike, motor_amps: ArrayLike, part_loss: float = 0.0
) -> tuple[Array, Array]:
    """Volts at the motor and amps from the pack at part throttle.

    Parameters
    ----------
    duty : array_like
        Share of full throttle, 0 to 1. [-]
    pack_volts, motor_amps : array_like
        Either side of the controller. [V, A]
    part_loss : float
        k; 0 for the ideal chopper, which keeps power. [-]

    Returns
    -------
    tuple of ndarray
        Motor volts and pack amps. [V, A]
    """
    d = np.asarray(duty, dtype=np.float64)
    volts = np.asarray(pack_volts, dtype=np.float64)
    amps = np.asarray(motor_amps, dtype=np.float64)
    return d * volts, amps * (d + part_loss * (1.0 - d))


def wire_diameter(gauge: float) -> float:
    """Diameter of a wire of an American gauge. [m]

    Parameters
    ----------
    gauge : float
        AWG number. [-]

    Returns
    -------
    float
        Diameter of the solid wire. [m]

    References
    ----------
    .. [1] ASTM B258, standard nominal diameters of solid round wires.
    """
    return 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)


def wire_resistance(gauge: float, *, length: float, temperature: float = 20.0) -> float:
    """Resistance of copper wire.

    Parameters
    ----------
    gauge : float
        AWG number. [-]
    length : float
        Of all conductors together, there and back. [m]
    temperature : float
        Of the wire. [°C]

    Returns
    -------
    float
        Resistance. [ohm]

    References
    ----------
    .. [1] IEC 60028, international standard of resistance for copper.
    """
    area = 0.25 * math.pi * wire_diameter(gauge) ** 2
    return COPPER * (1.0 + COPPER_COEFFICIENT * (temperature - 20.0)) * length / area
