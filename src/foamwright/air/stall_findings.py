"""Warnings of a stall that starts at the tips, with cures that are worked out.

A warning, never a pass: no finding does not say that a wing stalls kindly. Spin and recovery
are not looked at; criteria for them have failed on real aeroplanes (S. M. Burk, J. S. Bowman,
W. L. White, NASA TP-1009, 1977).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from foamwright.air.aero import AeroModel
from foamwright.air.aeroplane import lift_tensor
from foamwright.air.levels import level_of
from foamwright.air.stall import TIP_FROM, StallCase, StallResult, sweep_stall
from foamwright.air.stall.results import MAX_LIFT_SCATTER
from foamwright.air.state import DENSITY, VISCOSITY
from foamwright.airframe import build_airframe
from foamwright.design.model import (
    CreasedSection,
    CurvedSection,
    Design,
    Panel,
    Section,
    Surface,
    SurfaceRole,
)
from foamwright.findings import Change, Cure, Finding, Level, Value

#: What makes a wing drop before its middle stalls: common practice, no source.
LEAST_TAPER = 0.45
LEAST_TIP_CHORD = 0.080  # m
LEAST_TIP_REYNOLDS = 60e3
POINTED = 0.20  # tip chord over root chord
#: Most washout that practice gives, in all: common practice, no source. [rad]
MOST_WASHOUT = {
    "straight": np.radians(2.0),
    "tapered": np.radians(3.0),
    "tailless": np.radians(5.0),
}

#: Most that a tip section is arched higher, in hundredths of its chord: beyond it the tip's own
#: moment and drag would be another wing's. Common practice, no source.
MOST_MORE_ARCH = 4

_WHY = (
    "a stall that starts beyond 60 % of the half span takes the ailerons and drops a wing: "
    "common practice, no source; where it starts is worked out strip by strip. No warning would "
    "not mean that it stalls kindly"
)
_SHAPE_WHY = (
    f"taper below {LEAST_TAPER:g}, tip chord below {1e3 * LEAST_TIP_CHORD:.0f} mm, tip Reynolds "
    f"number below {LEAST_TIP_REYNOLDS:,.0f}, pointed tips and wash-in let tips stall early: "
    "common practice, no source"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Trial:
    """A change of the last panel that might bring the stall inboard."""

    panel: Panel
    change: Change
    says: str


def stall_findings(
    model: AeroModel, stall: StallResult, *, cruise_speed: float
) -> tuple[Finding, ...]:
    """Say where a wing is likely to drop, and what would bring the stall inboard.

    Parameters
    ----------
    model : AeroModel
        The aeroplane.
    stall : StallResult
        Its stall, controls straight.
    cruise_speed : float
        For the Reynolds number of the tips. [m/s]

    Returns
    -------
    tuple of Finding
        Cures have been tried on the changed design: with them the stall starts within 60 %
        of the half span. None does not say that the wing is safe.
    """
    wing = next(
        s for s in model.airframe.design.surfaces if s.key == model.airframe.reference.surface
    )
    found = (_tip_stall(model, stall, wing), _tip_shape(wing, cruise_speed))
    return tuple(finding for finding in found if finding is not None)


# ---------------------------------------------------------------- where it starts


def _tip_stall(model: AeroModel, stall: StallResult, wing: Surface) -> Finding | None:
    first = stall.first_wing
    if not np.isfinite(first.alpha):
        return None
    near = 2.0 * MAX_LIFT_SCATTER * first.lift / model.lift_slope
    where = f"surface.{wing.key}.panel.{first.panel}"
    start = f"at {100 * first.place:.0f} % of the half span, at {np.degrees(first.alpha):.0f}°"
    if first.place > TIP_FROM:
        return Finding(
            slug="tip-stall",
            level=Level.MIND,
            text=f"The wing's stall starts {start}, outboard of {100 * TIP_FROM:.0f} %.",
            where=where,
            why=_WHY,
            cures=_cures(model, stall, wing),
        )
    if stall.follows < near:
        return Finding(
            slug="tip-stall-near",
            level=Level.NOTE,
            text=(
                f"The wing's stall starts {start}, but the tips follow within "
                f"{np.degrees(stall.follows):.1f}° of incidence: less than the band of "
                f"{np.degrees(near):.1f}°, so a wing may drop first."
            ),
            where=where,
            why=_WHY,
        )
    return None


def _cures(model: AeroModel, stall: StallResult, wing: Surface) -> tuple[Cure, ...]:
    """Give the smallest change of each kind that brings the stall inboard; each is tried."""
    design = model.airframe.design
    cures: list[Cure] = []
    for kind in (
        _washout(design, wing),
        _wider_tip(wing),
        _less_sweep(wing),
        _rounder_tip(wing),
    ):
        for trial in kind:
            place, most = _tried(_with_panel(design, wing, trial.panel), round(stall.airspeed, 2))
            if place <= TIP_FROM:
                cures.append(
                    Cure(
                        changes=(trial.change,),
                        effect=(
                            f"{trial.says}: the stall starts at {100 * place:.0f} % of the half "
                            f"span; largest lift {most:.2f} (was {stall.max_lift:.2f})"
                        ),
                    )
                )
                break
    return tuple(cures)


@lru_cache(maxsize=64)
def _tried(design: Design, airspeed: float) -> tuple[float, float]:
    """Place of the wing's first stall over its half span, and largest lift, of a changed design."""
    airframe = build_airframe(design)
    level = level_of(airframe, lift_tensor(airframe), height=None)
    case = StallCase(
        area=airframe.reference.area,
        wing=airframe.reference.surface,
        airspeed=airspeed,
        viscosity=VISCOSITY / DENSITY,
    )
    stall = sweep_stall(level.whole, case, mirror=level.half)
    started = np.isfinite(stall.first_wing.alpha)
    return stall.first_wing.place if started else np.inf, stall.max_lift


def _with_panel(design: Design, wing: Surface, panel: Panel) -> Design:
    panels = (*wing.panels[:-1], panel)
    changed = replace(wing, panels=panels)
    return replace(
        design, surfaces=tuple(changed if s.key == wing.key else s for s in design.surfaces)
    )


def _washout(design: Design, wing: Surface) -> Iterator[_Trial]:
    """Tip twist a degree further down at a time, no further than practice goes."""
    last, root = wing.panels[-1], wing.panels[0]
    most = MOST_WASHOUT[_habit(design, wing)]
    for step in range(1, 1 + round(np.degrees(most))):
        twist = last.tip_twist - np.radians(step)
        if root.root_twist - twist > most + 1e-9:
            return
        yield _Trial(
            panel=replace(last, tip_twist=twist),
            change=Change(path=_path(wing, "tip_twist"), value=f"{np.degrees(twist):.4g} deg"),
            says=f"{step}° more washout at the tip",
        )


def _habit(design: Design, wing: Surface) -> str:
    trimming = (SurfaceRole.TAILPLANE, SurfaceRole.V_TAIL, SurfaceRole.CANARD)
    if not any(surface.role in trimming for surface in design.surfaces):
        return "tailless"
    tapered = wing.panels[-1].tip_chord < 0.95 * wing.panels[0].root_chord
    return "tapered" if tapered else "straight"


def _wider_tip(wing: Surface) -> Iterator[_Trial]:
    """Tip chord wider by a tenth of the root's at a time, to the chord the panel starts with."""
    last, step = wing.panels[-1], 0.1 * wing.panels[0].root_chord
    for number in range(1, 11):
        chord = round(last.tip_chord + number * step, 3)
        if chord > last.root_chord:
            return
        yield _Trial(
            panel=replace(last, tip_chord=chord),
            change=Change(path=_path(wing, "tip_chord"), value=f"{1e3 * chord:.0f} mm"),
            says=f"tip chord {1e3 * (chord - last.tip_chord):.0f} mm wider",
        )


def _less_sweep(wing: Surface) -> Iterator[_Trial]:
    """Sweep of the last panel less by five degrees at a time, down to none."""
    last = wing.panels[-1]
    for number in range(1, 13):
        sweep = last.sweep - np.radians(5.0 * number)
        if sweep < -1e-9:
            return
        yield _Trial(
            panel=replace(last, sweep=max(sweep, 0.0)),
            change=Change(path=_path(wing, "sweep"), value=f"{abs(np.degrees(sweep)):.4g} deg"),
            says=f"{5 * number}° less sweep of the last panel",
        )


def _rounder_tip(wing: Surface) -> Iterator[_Trial]:
    """Tip section arched higher by a hundredth of the chord at a time, for sheet that is arched.

    A higher crease or camber carries more lift before it stalls (the sections' rule: largest lift
    is design lift and a constant). Flat, folded, stepped and cut sections have none to give.
    """
    last = wing.panels[-1]
    for number in range(1, 1 + MOST_MORE_ARCH):
        more = 0.01 * number
        arched = _arched(last.tip_section, more)
        if arched is None:
            return
        section, table = arched
        yield _Trial(
            panel=replace(last, tip_section=section),
            change=Change(path=_path(wing, "tip_section"), value=table),
            says=f"tip section arched {number} % of its chord higher",
        )


def _arched(section: Section, more: float) -> tuple[Section, Mapping[str, Value]] | None:
    match section:
        case CurvedSection(camber=camber) if camber > 0.0:
            arched = replace(section, camber=camber + more)
            return arched, {
                "kind": "curved",
                "sheet": section.sheet,
                "camber": _percent(arched.camber),
                "camber_at": _percent(arched.camber_at),
            }
        case CreasedSection(nodes=nodes) if max(z for _, z in nodes) > 0.0:
            top = max(z for _, z in nodes)
            # As the file says it, so that what is tried is what would be read.
            rises = tuple((x, round(z * (top + more) / top, 6)) for x, z in nodes)
            creases = tuple({"at": _percent(x), "rise": _percent(z)} for x, z in rises[1:-1])
            table = {"kind": "creased", "sheet": section.sheet, "creases": creases}
            return replace(section, nodes=rises), table
        case _:
            return None


def _percent(share: float) -> str:
    return f"{100.0 * share:.6g} %"


def _path(wing: Surface, field: str) -> str:
    return f"surface.{wing.key}.panel.{wing.panels[-1].name}.{field}"


# ---------------------------------------------------------------- what the tips look like


def _tip_shape(wing: Surface, cruise_speed: float) -> Finding | None:
    last, root = wing.panels[-1], wing.panels[0]
    taper = last.tip_chord / root.root_chord
    reynolds = cruise_speed * last.tip_chord * DENSITY / VISCOSITY
    wash_in = last.tip_twist - root.root_twist
    signs: list[str] = []
    if taper < POINTED:
        signs.append(f"the tips are pointed ({100 * taper:.0f} % of the root chord)")
    elif taper < LEAST_TAPER:
        signs.append(f"taper is {taper:.2f}")
    if last.tip_chord < LEAST_TIP_CHORD:
        signs.append(f"the tip chord is {1e3 * last.tip_chord:.0f} mm")
    if reynolds < LEAST_TIP_REYNOLDS:
        signs.append(f"the tips' Reynolds number at {cruise_speed:.1f} m/s is {reynolds:,.0f}")
    if wash_in > 1e-6:
        signs.append(f"the tips are twisted {np.degrees(wash_in):.1f}° nose up")
    if not signs:
        return None
    text = ", ".join(signs)
    return Finding(
        slug="tip-shape",
        level=Level.NOTE,
        text=f"{text[0].upper()}{text[1:]}: tips of that kind tend to stall first.",
        where=f"surface.{wing.key}.panel.{last.name}",
        why=_SHAPE_WHY,
    )
