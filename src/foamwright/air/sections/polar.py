"""The polar of one section as built: lift, drag and moment at every incidence."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.air.sections.evidence import REYNOLDS_RANGE, Bands, number
from foamwright.air.sections.flaps import Flap, acting_deflection, flap_drag
from foamwright.air.sections.grid import PolarGrid, read_grid
from foamwright.air.sections.shape import SectionShape
from foamwright.air.sections.thin import FlapEffect, ThinAerofoil, flap_effect

Array = NDArray[np.float64]

# Incidences between which the stalls are looked for: every quarter degree. [rad]
_SEARCH = np.radians(np.arange(-30.0, 30.01, 0.25))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionCoefficients:
    """Coefficients of a section, one per case, with what they rest on."""

    cl: Array
    cd: Array  # on chord, always above nought
    cm: Array  # about the quarter chord, nose up positive
    within: NDArray[np.bool_]  # Reynolds number inside the tables; outside the edge is held
    attached: Array  # 1 between the stalls .. 0 beyond: whose band holds
    cl_band: Array  # one standard deviation
    cd_band: Array
    cm_band: Array
    sources: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionPolar:
    """Lift, drag and moment of one section at every incidence and Reynolds number."""

    name: str
    shape: SectionShape
    thin: ThinAerofoil
    grid: PolarGrid
    bands: Bands
    sources: tuple[str, ...]
    notes: tuple[str, ...]
    flap: Flap | None = None
    reynolds_range: tuple[float, float] = REYNOLDS_RANGE

    def with_flap(self, fraction: float, *, gap: float = 0.0) -> SectionPolar:
        """Return the section with a plain flap: flap chord and open gap, of chord. [-]"""
        return replace(self, flap=Flap(fraction=fraction, gap=gap))

    def coefficients(
        self, alpha: ArrayLike, *, reynolds: ArrayLike, deflection: ArrayLike = 0.0
    ) -> SectionCoefficients:
        """Coefficients at any incidence.

        Parameters
        ----------
        alpha : array_like
            Incidence of the chord line, any angle. [rad]
        reynolds : array_like
            Reynolds number on chord. Outside 2e4 to 5e5 the edge is held and ``within`` is
            false: a flight simulation must go on. [-]
        deflection : array_like, optional
            Flap deflection, trailing edge down positive; needs a flap. [rad]

        Returns
        -------
        SectionCoefficients
            Arrays broadcast from the arguments. [-]

        Notes
        -----
        Values and slopes are continuous in all three arguments; in Reynolds number the slope
        breaks where the tables end.
        """
        alpha, reynolds, deflection = np.broadcast_arrays(
            np.asarray(alpha, dtype=np.float64),
            np.asarray(reynolds, dtype=np.float64),
            np.asarray(deflection, dtype=np.float64),
        )
        log_re = np.log10(np.maximum(reynolds, 1.0))
        cl, cd, cm, share = self._values(alpha, log_re, reynolds, deflection)
        low, high = self.reynolds_range
        return self._with_bands(cl, cd, cm, share, log_re, (reynolds >= low) & (reynolds <= high))

    def _values(
        self, alpha: Array, log_re: Array, reynolds: Array, deflection: Array
    ) -> tuple[Array, Array, Array, Array]:
        if self.flap is None or not np.any(deflection):
            cells = read_grid(self.grid, alpha=alpha, log_reynolds=log_re)
            return cells[..., 0], np.exp(cells[..., 1]), cells[..., 2], cells[..., 3]
        theory: FlapEffect = flap_effect(self.flap.fraction)
        acting = acting_deflection(deflection, reynolds=reynolds, gap=self.flap.gap)
        # Nose first, a flap moves the ideal incidence; across the stream it tilts the plate.
        front = np.maximum(np.cos(alpha), 0.0) ** 2
        tilt = self.flap.fraction * deflection
        moved = alpha - theory.ideal_delta * acting * front + tilt * (1.0 - front)
        cells = read_grid(self.grid, alpha=moved, log_reynolds=log_re)
        share = cells[..., 3]
        cl = cells[..., 0] + share * theory.design_cl_delta * acting
        moment = np.sign(acting) * np.minimum(
            np.abs(acting) * number("flap.moment"), np.abs(deflection)
        )
        cm = cells[..., 2] + share * theory.cm_delta * moment
        cd = np.exp(cells[..., 1]) + flap_drag(deflection, fraction=self.flap.fraction)
        return cl, cd, cm, share

    def _with_bands(
        self,
        cl: Array,
        cd: Array,
        cm: Array,
        share: Array,
        log_re: Array,
        within: NDArray[np.bool_],
    ) -> SectionCoefficients:
        share = np.clip(share, 0.0, 1.0)
        cl_band, cd_share, cm_band = self.bands.at(log_re)
        deep = number("deep.spread")
        away = (1.0 - share) * deep
        return SectionCoefficients(
            cl=cl,
            cd=cd,
            cm=cm,
            within=within,
            attached=share,
            cl_band=share * cl_band + away * np.abs(cl),
            cd_band=(share * cd_share + away) * cd,
            cm_band=share * cm_band + away * np.abs(cm),
            sources=self.sources,
            notes=self.notes,
        )

    def lift(self, alpha: ArrayLike, *, reynolds: ArrayLike, deflection: ArrayLike = 0.0) -> Array:
        """Lift alone, as :meth:`coefficients`; angles [rad], Reynolds number [-]."""
        return self.coefficients(alpha, reynolds=reynolds, deflection=deflection).cl

    def clmax(self, reynolds: ArrayLike, *, deflection: ArrayLike = 0.0) -> Array:
        """Largest lift below 30 degrees; Reynolds number [-], deflection [rad]."""
        return self._peak(reynolds, deflection, 1.0)[0]

    def clmin(self, reynolds: ArrayLike, *, deflection: ArrayLike = 0.0) -> Array:
        """Most negative lift above -30 degrees; Reynolds number [-], deflection [rad]."""
        return -self._peak(reynolds, deflection, -1.0)[0]

    def stall_alpha(self, reynolds: ArrayLike, *, deflection: ArrayLike = 0.0) -> Array:
        """Incidence of the largest lift. [rad]; Reynolds number [-], deflection [rad]."""
        return self._peak(reynolds, deflection, 1.0)[1]

    def alpha0(self, reynolds: ArrayLike, *, deflection: ArrayLike = 0.0) -> Array:
        """Incidence of no lift between the stalls. [rad]

        Parameters
        ----------
        reynolds : array_like
            Reynolds number on chord. [-]
        deflection : array_like, optional
            Flap deflection, down positive. [rad]

        Returns
        -------
        ndarray
            The crossing nearest to no incidence. [rad]
        """
        reynolds, deflection = np.broadcast_arrays(
            np.asarray(reynolds, dtype=np.float64), np.asarray(deflection, dtype=np.float64)
        )
        lift = self.lift(_SEARCH, reynolds=reynolds[..., None], deflection=deflection[..., None])
        crosses = (lift[..., :-1] <= 0.0) & (lift[..., 1:] > 0.0)
        cost = np.where(crosses, np.abs(_SEARCH[:-1]), np.inf)
        i = np.argmin(cost, axis=-1)[..., None]
        a, b = np.take_along_axis(lift, i, -1)[..., 0], np.take_along_axis(lift, i + 1, -1)[..., 0]
        step = _SEARCH[1] - _SEARCH[0]
        found = _SEARCH[i[..., 0]] - a * step / np.where(b > a, b - a, 1.0)
        return np.where(crosses.any(axis=-1), found, np.nan)

    def _peak(self, reynolds: ArrayLike, deflection: ArrayLike, sign: float) -> tuple[Array, Array]:
        """Largest sign * lift and its incidence, through the top three points by a parabola."""
        reynolds, deflection = np.broadcast_arrays(
            np.asarray(reynolds, dtype=np.float64), np.asarray(deflection, dtype=np.float64)
        )
        found = self.coefficients(
            _SEARCH, reynolds=reynolds[..., None], deflection=deflection[..., None]
        )
        # The stall, not the second peak of a plate at 45 degrees: half the flow still attached.
        lift = np.where(found.attached > 0.5, sign * found.cl, -np.inf)
        i = np.clip(np.argmax(lift, axis=-1), 1, len(_SEARCH) - 2)[..., None]
        raw = sign * found.cl
        y0, y1, y2 = (np.take_along_axis(raw, i + k, -1)[..., 0] for k in (-1, 0, 1))
        bend = y0 - 2.0 * y1 + y2
        t = np.where(bend < 0.0, 0.5 * (y0 - y2) / np.where(bend < 0.0, bend, -1.0), 0.0)
        t = np.clip(t, -1.0, 1.0)
        step = _SEARCH[1] - _SEARCH[0]
        return y1 - 0.25 * (y0 - y2) * t, _SEARCH[i[..., 0]] + t * step
