"""Measures of moving parts, induced drag, ground and turning, from the lattice's tensor."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from foamwright.air import LiftTensor, motion_state, solve_tensor, wind_forces
from foamwright.air import span_efficiency as efficiency_of
from foamwright.errors import DomainError
from foamwright.verify.model import (
    AeroplaneSubject,
    LatticeSubject,
    Measure,
    Part,
    Question,
)
from foamwright.verify.subjects import lattice_given
from foamwright.verify.values import SLOPE

Array = NDArray[np.float64]

_ONLY = (AeroplaneSubject,)
#: Places of the coefficients: lift, drag, side force; roll, pitch, yaw.
_LIFT, _DRAG, _SIDE, _ROLL, _PITCH, _YAW = range(6)
#: Half a step of a central difference; loads are bilinear, so any small one is exact. [rad]
_STEP = 1e-3


@lru_cache(maxsize=8)
def _solved(subject: AeroplaneSubject | LatticeSubject, height: float | None) -> LiftTensor:
    surfaces, reference = lattice_given(subject)
    return solve_tensor(surfaces, reference=reference, height=height)


def _tensor(question: Question, height: float | None = None) -> LiftTensor:
    subject = question.subject
    if not isinstance(subject, AeroplaneSubject | LatticeSubject):
        raise DomainError("this measure wants an aeroplane or a lattice")
    return _solved(subject, height)


def _alpha(question: Question) -> Array:
    """Incidence, nought where it is not given. [rad]"""
    return question.state.get("alpha", np.zeros(1))


# ---------------------------------------------------------------- induced drag, ground


def _induced_drag(question: Question) -> Array:
    tensor = _tensor(question)
    state = motion_state(tensor, incidence=question.at("alpha"))
    ref = tensor.reference
    lift = wind_forces(tensor, state)[..., _LIFT]
    return lift**2 * ref.area / (np.pi * ref.span**2 * efficiency_of(tensor, state))


def _span_efficiency(question: Question) -> Array:
    tensor = _tensor(question)
    return efficiency_of(tensor, motion_state(tensor, incidence=question.at("alpha")))


def _drag_factor(question: Question) -> Array:
    return 1.0 / _span_efficiency(question)


def _near_ground(question: Question) -> tuple[Array, Array]:
    """Lift slope and induced drag over lift squared at each height, over those far away."""
    far = _lifting(_tensor(question))
    near = np.array([_lifting(_tensor(question, h)) for h in question.at("height").tolist()])
    return near[:, 0] / far[0], near[:, 1] / far[1]


def _lifting(tensor: LiftTensor) -> tuple[float, float]:
    """Lift slope, and induced drag over lift squared. [1/rad], [-]"""
    state = motion_state(tensor, incidence=np.array([-_STEP, _STEP]))
    lift = wind_forces(tensor, state)[..., _LIFT]
    slope = float((lift[1] - lift[0]) / (2.0 * _STEP))
    one = motion_state(tensor, incidence=np.array([_STEP]))
    ref = tensor.reference
    return slope, ref.area / (np.pi * ref.span**2 * float(efficiency_of(tensor, one)[0]))


# ---------------------------------------------------------------- moving parts


def _deflections(tensor: LiftTensor, name: str, *, apart: bool) -> Array:
    """Deflect a control by one on every hand; `apart` turns the left one the other way."""
    size = [
        (-1.0 if apart and str(unit.hand) == "left" else 1.0) if unit.key == name else 0.0
        for unit in tensor.units
    ]
    return np.array(size)


def _by_deflection(question: Question, load: int, *, apart: bool = False) -> Array:
    tensor, alpha = _tensor(question), _alpha(question)
    unit = _deflections(tensor, question.of, apart=apart)
    loads = [
        wind_forces(
            tensor, motion_state(tensor, incidence=alpha, deflections=unit * (sign * _STEP))
        )[..., load]
        for sign in (1.0, -1.0)
    ]
    return (loads[0] - loads[1]) / (2.0 * _STEP)


def _effectiveness(question: Question) -> Array:
    return _by_deflection(question, _LIFT) / _lifting(_tensor(question))[0]


# ---------------------------------------------------------------- turning


def _by_rate(question: Question, load: int, axis: int) -> Array:
    """Coefficient per p b / 2V (axis 0), q c / 2V (1) or r b / 2V (2)."""
    tensor, alpha = _tensor(question), _alpha(question)
    length = tensor.reference.chord if axis == 1 else tensor.reference.span
    turn = np.zeros(3)
    turn[axis] = 2.0 / length
    loads = [
        wind_forces(tensor, motion_state(tensor, incidence=alpha, rates=turn * (sign * _STEP)))[
            ..., load
        ]
        for sign in (1.0, -1.0)
    ]
    return (loads[0] - loads[1]) / (2.0 * _STEP)


def _deflected(name: str, what: str, load: int, *, apart: bool = False) -> Measure:
    return Measure(
        name=name,
        what=what,
        family="controls",
        unit="/rad",
        kind=SLOPE,
        of=Part.CONTROL,
        subjects=_ONLY,
        takes=("alpha",),
        compute=lambda question: _by_deflection(question, load, apart=apart),
    )


def _turned(name: str, what: str, load: int, axis: int) -> Measure:
    return Measure(
        name=name,
        what=what,
        family="stability",
        unit="-",
        takes=("alpha",),
        compute=lambda question: _by_rate(question, load, axis),
    )


MEASURES = (
    Measure(
        name="induced drag",
        what="induced drag coefficient at an incidence, of the Trefftz plane",
        family="induced drag",
        unit="-",
        needs=("alpha",),
        compute=_induced_drag,
    ),
    Measure(
        name="span efficiency",
        what="lift coefficient squared over pi, aspect ratio and induced drag coefficient",
        family="induced drag",
        unit="-",
        needs=("alpha",),
        compute=_span_efficiency,
    ),
    Measure(
        name="induced drag factor",
        what="induced drag over the least for the same lift and span: 1 / span efficiency",
        family="induced drag",
        unit="-",
        needs=("alpha",),
        compute=_drag_factor,
    ),
    Measure(
        name="lift slope near ground",
        what="lift slope at a height over the one in free air",
        family="ground",
        unit="-",
        needs=("height",),
        compute=lambda question: _near_ground(question)[0],
    ),
    Measure(
        name="induced drag near ground",
        what="induced drag over lift squared at a height over the same in free air",
        family="ground",
        unit="-",
        needs=("height",),
        compute=lambda question: _near_ground(question)[1],
    ),
    _deflected(
        "lift by deflection",
        "lift coefficient per deflection, trailing edge down on both sides",
        _LIFT,
    ),
    _deflected(
        "moment by deflection",
        "pitching moment coefficient per deflection, trailing edge down on both sides",
        _PITCH,
    ),
    _deflected(
        "roll by deflection",
        "rolling moment coefficient per deflection, trailing edge down right and up left",
        _ROLL,
        apart=True,
    ),
    _deflected(
        "yaw by deflection",
        "yawing moment coefficient per deflection, trailing edge down right and up left; of a "
        "single fin towards its lower face",
        _YAW,
        apart=True,
    ),
    Measure(
        name="flap effectiveness",
        what="lift by deflection over lift by incidence",
        family="controls",
        unit="-",
        of=Part.CONTROL,
        subjects=_ONLY,
        compute=_effectiveness,
    ),
    _turned("yaw by roll rate", "yawing moment coefficient per p b / 2V", _YAW, 0),
    _turned("side force by roll rate", "side force coefficient per p b / 2V", _SIDE, 0),
    _turned("roll by yaw rate", "rolling moment coefficient per r b / 2V", _ROLL, 2),
    _turned("yaw by yaw rate", "yawing moment coefficient per r b / 2V; negative damps", _YAW, 2),
    _turned("side force by yaw rate", "side force coefficient per r b / 2V", _SIDE, 2),
)
