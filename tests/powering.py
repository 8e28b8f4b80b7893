"""Power lines made by hand, and a propeller of constant coefficients."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from foamwright.power import ControllerModel, Installation, MotorModel, PackModel
from foamwright.power.lines import PowerGroup, PowerLine
from foamwright.power.propeller import PropellerCoefficients


@dataclass(frozen=True)
class ConstantPropeller:
    """CT and CP that do not change with advance ratio: what worked cases assume."""

    diameter: float
    ct: float
    cp: float
    pitch: float = 0.1
    style: str = "sport"
    blades: int = 2
    ct_scatter: float = 0.0
    cp_scatter: float = 0.0

    def coefficients(self, advance_ratio, *, rotation, density=1.225, viscosity=1.8e-5):
        flat = np.zeros(np.broadcast_shapes(np.shape(advance_ratio), np.shape(rotation)))
        return PropellerCoefficients(
            flat + self.ct, flat + self.cp, flat + self.ct_scatter, flat + self.cp_scatter
        )


@dataclass(frozen=True)
class FallingPropeller(ConstantPropeller):
    """Coefficients that fall with advance ratio and pass zero, as real ones do."""

    zero: float = 0.7

    def coefficients(self, advance_ratio, *, rotation, density=1.225, viscosity=1.8e-5):
        j = np.asarray(advance_ratio, dtype=float) + 0.0 * np.asarray(rotation, dtype=float)
        fall = 1.0 - np.minimum(j, 50.0) / self.zero
        held = np.maximum(1.0 - (j / (1.15 * self.zero)) ** 2, -0.3 * (1.0 + j * j))
        return PropellerCoefficients(
            self.ct * fall,
            self.cp * held,
            np.full_like(j, self.ct_scatter),
            np.full_like(j, self.cp_scatter),
        )


def rpm_per_volt(value: float) -> float:
    """From rpm per volt to rad/s per volt."""
    return value * math.pi / 30.0


def motor(kv: float = 1000.0, **changes: Any) -> MotorModel:
    """A motor by its speed constant in rpm per volt."""
    fields: dict[str, Any] = {"resistance": 0.09, "idle_current": 0.7, **changes}
    return MotorModel(speed_constant=rpm_per_volt(kv), **fields)


def controller(**changes: Any) -> ControllerModel:
    """A 30 A controller without losses at part throttle."""
    fields: dict[str, Any] = {
        "rating": 30.0,
        "resistance": 0.004,
        "leads": 0.006,
        "part_loss": 0.0,
        "part_loss_scatter": 0.0,
        **changes,
    }
    return ControllerModel(**fields)


def pack(**changes: Any) -> PackModel:
    """Three cells of 2.2 Ah."""
    fields: dict[str, Any] = {
        "cells": 3,
        "capacity": 2.2 * 3600.0,
        "resistance": 0.02,
        "max_current": 55.0,
        **changes,
    }
    return PackModel(**fields)


def line(key: str = "main", propeller: Any = None, **changes: Any) -> PowerLine:
    """One motor with a propeller."""
    fields: dict[str, Any] = {
        "motor": motor(),
        "controller": controller(),
        "propeller": propeller or FallingPropeller(0.2032, 0.105, 0.045),
        "installation": Installation(kind="free"),
        **changes,
    }
    return PowerLine(key=key, **fields)


def group(*lines: PowerLine, **changes: Any) -> PowerGroup:
    """Lines on one pack."""
    return PowerGroup(key="main", lines=lines or (line(),), pack=pack(**changes))
