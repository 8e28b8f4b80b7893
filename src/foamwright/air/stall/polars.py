"""The sections of all strips as one table, read for many strips and states at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections import SectionPolar
from foamwright.air.sections.evidence import REYNOLDS_RANGE, number
from foamwright.air.sections.flaps import acting_deflection, flap_drag
from foamwright.air.sections.grid import ALPHA, CELL, LOG_REYNOLDS, STEP
from foamwright.air.sections.thin import flap_effect

Array = NDArray[np.float64]
Places = NDArray[np.intp]

_COLUMNS = len(ALPHA) - 1
_ROWS = len(LOG_REYNOLDS)
_ROW_STEP = float(LOG_REYNOLDS[1] - LOG_REYNOLDS[0])
_WIDTH = len(ALPHA) + 2
_HEIGHT = _ROWS + 2
#: Incidence beyond which no first stall is looked for. [rad]
_LAST_STALL = np.radians(30.0)
#: Share of attached flow below which it has begun to go.
_WHOLE = 0.99


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripPolars:
    """Sections of every strip: each between the polars of its panel's two ends."""

    polars: tuple[SectionPolar, ...]
    cells: Array  # (K, rows + 2, columns + 3, CELL), the tables of all polars
    ends: Places  # (S, 2) polar at the root and at the tip of the strip's panel
    share: Array  # (S,) of the way to the tip
    cosine: Array  # (S,) of the sweep of the quarter-chord line
    chord: Array  # (S,) m
    alpha0: Array  # (S,) rad, zero-lift angle of thin-aerofoil theory, along the stream
    moment0: Array  # (S,) quarter-chord moment of thin-aerofoil theory
    flap: Array  # (S,) flap chord over chord; 0 without one
    gap: Array  # (S,) open gap of its hinge, of chord
    limits: Array  # (4, K, rows) rad, see SectionsAt: upper, lower, hold_upper, hold_lower

    def at(self, reynolds: Array, deflection: Array | None = None) -> SectionsAt:
        """Sections at given Reynolds numbers and deflections, ready for many incidences.

        Parameters
        ----------
        reynolds : ndarray, shape (..., S)
            Of each strip on its own chord and speed. [-]
        deflection : ndarray, shape (..., S), optional
            Of the strip's flap, trailing edge down positive. [rad]

        Returns
        -------
        SectionsAt
        """
        log_re = np.log10(np.maximum(reynolds, 1.0))
        v = np.clip((log_re - LOG_REYNOLDS[0]) / _ROW_STEP, 0.0, _ROWS - 1.0)
        j = np.minimum(v.astype(np.intp), _ROWS - 2)
        along = np.stack(cubic(v - j), axis=-1)
        side = np.stack([1.0 - self.share, self.share], axis=-1)
        weight = (side[:, :, None] * along[..., None, :]).reshape(*log_re.shape, 8)
        start = (self.ends[:, :, None] * _HEIGHT + j[..., None, None] + np.arange(4)) * _WIDTH
        limits = [self._limit(table, v) for table in self.limits]
        flaps = None
        if deflection is not None and np.any(deflection):
            flaps = self._flaps(np.broadcast_to(deflection, log_re.shape), reynolds)
            limits = [limit + flaps.ideal for limit in limits]
        upper, lower, hold_upper, hold_lower = (
            np.arctan(np.tan(limit) * self.cosine) for limit in limits
        )
        return SectionsAt(
            cells=self.cells,
            start=start.reshape(*log_re.shape, 8),
            weight=weight,
            cosine=self.cosine,
            upper=upper,
            lower=lower,
            hold_upper=hold_upper,
            hold_lower=hold_lower,
            flaps=flaps,
            within=(reynolds >= REYNOLDS_RANGE[0]) & (reynolds <= REYNOLDS_RANGE[1]),
        )

    def _limit(self, table: Array, v: Array) -> Array:
        """Stall incidence of each strip's own section between rows and ends. [rad]"""
        j = np.minimum(v.astype(np.intp), _ROWS - 2)
        rows = table[self.ends[:, :, None], j[..., None, None] + np.arange(2)]
        part = (v - j)[..., None]
        ends = rows[..., 0] * (1.0 - part) + rows[..., 1] * part
        return ends[..., 0] * (1.0 - self.share) + ends[..., 1] * self.share

    def _flaps(self, deflection: Array, reynolds: Array) -> FlapsAt:
        """Find what deflections do; nothing on strips without a flap."""
        has = self.flap > 0.0
        fraction = np.where(has, self.flap, 0.5)
        delta = np.where(has, deflection, 0.0)
        acting = np.zeros(delta.shape)
        for gap in np.unique(self.gap[has]).tolist():
            mine = has & (self.gap == gap)
            acting[..., mine] = acting_deflection(
                delta[..., mine], reynolds=reynolds[..., mine], gap=gap
            )
        theory = flap_effect(fraction)
        moment = np.sign(acting) * np.minimum(np.abs(acting) * number("flap.moment"), np.abs(delta))
        s = np.sin(delta)
        return FlapsAt(
            ideal=theory.ideal_delta * acting,
            tilt=fraction * delta,
            lift=theory.design_cl_delta * acting,
            moment=theory.cm_delta * moment,
            drag=fraction**1.38 * s * s * _FLAP_DRAG,
        )


#: Factor of the flap's own drag: that of a half-chord flap at a right angle, taken from there.
_FLAP_DRAG = float(flap_drag(0.5 * np.pi, fraction=0.5)) / 0.5**1.38


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlapsAt:
    """What the flaps add at given deflections; (..., S)."""

    ideal: Array  # rad, shift of the ideal incidence
    tilt: Array  # rad, tilt of the chord as a plate across the stream
    lift: Array  # added in attached flow
    moment: Array
    drag: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionsAt:
    """Sections at given Reynolds numbers and deflections: incidence is left to ask."""

    cells: Array
    start: Places  # (..., S, 8) first cell of the rows that are read
    weight: Array  # (..., S, 8)
    cosine: Array  # (S,)
    upper: Array  # (..., S) rad, incidence of the stall along the stream
    lower: Array  # (..., S) the same upside down
    hold_upper: Array  # (..., S) rad, up to which the flow holds whole: no lift is lost
    hold_lower: Array  # (..., S)
    flaps: FlapsAt | None
    within: NDArray[np.bool_]  # (..., S) Reynolds number inside the tables

    def take(self, which: NDArray[np.bool_]) -> SectionsAt:
        """Only some of the states, by their leading axis."""
        return self._with(lambda values: values[which])

    def repeated(self, count: int) -> SectionsAt:
        """One state for many incidences."""
        return self._with(lambda values: np.broadcast_to(values, (count, *values.shape[1:])))

    def _with(self, change: Callable[[NDArray[Any]], NDArray[Any]]) -> SectionsAt:
        flaps = self.flaps
        return replace(
            self,
            start=change(self.start),
            weight=change(self.weight),
            upper=change(self.upper),
            lower=change(self.lower),
            hold_upper=change(self.hold_upper),
            hold_lower=change(self.hold_lower),
            flaps=None
            if flaps is None
            else FlapsAt(
                ideal=change(flaps.ideal),
                tilt=change(flaps.tilt),
                lift=change(flaps.lift),
                moment=change(flaps.moment),
                drag=change(flaps.drag),
            ),
            within=change(self.within),
        )

    def lift(self, alpha: Array) -> tuple[Array, Array]:
        """Lift and its slope.

        Parameters
        ----------
        alpha : ndarray, shape (..., S)
            Incidence of each strip's chord, along the stream. [rad]

        Returns
        -------
        tuple of ndarray
            cl [-] and dcl/dα [1/rad].
        """
        flow = _across(alpha, self.cosine)
        moved, turn = self._moved(flow.alpha)
        cl, slope = self._read(0, moved)
        slope = slope * turn
        if self.flaps is not None:
            share, fade = self._read(3, moved)
            cl = cl + share * self.flaps.lift
            slope = slope + fade * turn * self.flaps.lift
        return flow.pressure * cl, flow.bend * cl + self.cosine * slope

    def all(self, alpha: Array) -> SectionValues:
        """Lift, drag, moment and share of attached flow.

        Parameters
        ----------
        alpha : ndarray, shape (..., S)
            Incidence of each strip's chord, along the stream. [rad]

        Returns
        -------
        SectionValues
            On the strip's chord and its own speed along the stream. [-]
        """
        flow = _across(alpha, self.cosine)
        moved, _ = self._moved(flow.alpha)
        index, across, _ = self._cells(moved)
        values = self.cells.reshape(-1, CELL)[index]
        read = np.einsum("...ekc,...e,...k->...c", values, self.weight, across, optimize=True)
        cl, cd, cm, share = (read[..., k] for k in range(CELL))
        cd = np.exp(cd)
        if self.flaps is not None:
            cl = cl + share * self.flaps.lift
            cm = cm + share * self.flaps.moment
            cd = cd + self.flaps.drag
        return SectionValues(
            cl=flow.pressure * cl,
            cd=cd,
            cm=flow.pressure * cm,
            attached=np.clip(share, 0.0, 1.0),
        )

    def _moved(self, alpha: Array) -> tuple[Array, Array]:
        """Incidence at which the plain section is read, and its slope."""
        if self.flaps is None:
            return alpha, np.ones(())
        # As SectionPolar: nose first a flap moves the ideal incidence, across it tilts the plate.
        c = np.maximum(np.cos(alpha), 0.0)
        both = self.flaps.ideal + self.flaps.tilt
        moved = alpha + self.flaps.tilt - both * c * c
        return moved, 1.0 + both * 2.0 * c * np.sin(alpha)

    def _cells(self, alpha: Array) -> tuple[Places, Array, Array]:
        u = (alpha / STEP + 0.5 * _COLUMNS) % _COLUMNS
        i = np.minimum(u.astype(np.intp), _COLUMNS - 1)
        t = u - i
        index = (self.start + i[..., None])[..., None] + np.arange(4)
        return index, np.stack(cubic(t), axis=-1), np.stack(cubic_slope(t), axis=-1)

    def _read(self, channel: int, alpha: Array) -> tuple[Array, Array]:
        index, across, slope = self._cells(alpha)
        values = self.cells.reshape(-1, CELL)[:, channel][index]
        line = (self.weight[..., None, :] @ values)[..., 0, :]
        return (line * across).sum(axis=-1), (line * slope).sum(axis=-1) / STEP


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionValues:
    """Coefficients of the strips, (..., S)."""

    cl: Array
    cd: Array
    cm: Array  # about the quarter chord, nose up
    attached: Array  # 1 attached .. 0 stalled


@dataclass(frozen=True, slots=True, eq=False)
class _Across:
    """Flow across the quarter-chord line of a swept strip."""

    alpha: Array  # rad, incidence across
    pressure: Array  # dynamic pressure across over that along the stream
    bend: Array  # its slope with incidence along the stream


def _across(alpha: Array, cosine: Array) -> _Across:
    """Take the flow across the quarter-chord line: by simple sweep only that loads a section."""
    s, c = np.sin(alpha), np.cos(alpha)
    pressure = s * s + (c * cosine) ** 2
    return _Across(
        alpha=np.arctan2(s, c * cosine),
        pressure=pressure,
        bend=2.0 * s * c * (1.0 - cosine * cosine),
    )


def stack_cells(polars: tuple[SectionPolar, ...]) -> Array:
    """Tables of several polars as one, (K, rows + 2, columns + 3, CELL). [-]"""
    return np.stack([polar.grid.cells for polar in polars])


def stall_limits(cells: Array) -> Array:
    """Incidences at which sections stall, and up to which their flow holds whole.

    Parameters
    ----------
    cells : ndarray, shape (K, rows + 2, columns + 3, CELL)
        Tables of the polars. [-]

    Returns
    -------
    ndarray, (4, K, rows)
        Upper and lower stall: the first peak of lift, or the last incidence looked at where
        there is none; then the same or the place where attached flow begins to go, whichever
        comes first. [rad]
    """
    near = np.flatnonzero((ALPHA > 0.0) & (_LAST_STALL > ALPHA))
    lift, share = cells[:, 1:-1, 1:-1, 0], cells[:, 1:-1, 1:-1, 3]
    limits: list[Array] = []
    holds: list[Array] = []
    for columns, side in ((near, 1.0), (_COLUMNS - near, -1.0)):
        rise, whole = side * lift[..., columns], share[..., columns] >= _WHOLE
        falls = (rise[..., :-1] >= rise[..., 1:]) & (rise[..., :-1] > 0.0)
        goes = falls | ~whole[..., 1:]
        limits.append(side * _first(falls, ALPHA[near]))
        holds.append(side * _first(goes, ALPHA[near]))
    return np.stack(limits + holds)


def _first(flags: NDArray[np.bool_], alpha: Array) -> Array:
    """First flagged incidence; the last one where none is. [rad]"""
    return alpha[np.where(flags.any(axis=-1), np.argmax(flags, axis=-1), len(alpha) - 1)]


def cubic(t: Array) -> tuple[Array, Array, Array, Array]:
    """Weights of the four nodes about a place, as the tables are read. [-]"""
    t2 = t * t
    t3 = t2 * t
    return (
        0.5 * (-t3 + 2.0 * t2 - t),
        0.5 * (3.0 * t3 - 5.0 * t2 + 2.0),
        0.5 * (-3.0 * t3 + 4.0 * t2 + t),
        0.5 * (t3 - t2),
    )


def cubic_slope(t: Array) -> tuple[Array, Array, Array, Array]:
    """Slopes of those weights with the place. [-]"""
    t2 = t * t
    return (
        0.5 * (-3.0 * t2 + 4.0 * t - 1.0),
        0.5 * (9.0 * t2 - 10.0 * t),
        0.5 * (-9.0 * t2 + 8.0 * t + 1.0),
        0.5 * (3.0 * t2 - 2.0 * t),
    )
