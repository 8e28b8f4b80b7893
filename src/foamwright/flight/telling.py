"""The flight of a variant in the maker's units: cells, the table of the thrust line, JSON."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from foamwright.figures import Figure
from foamwright.flight.assessment import FlightAssessment
from foamwright.flight.thrustline import NO_ARM
from foamwright.flight.tilting import FULL, LEVEL, OFF, ThrustMap
from foamwright.flight.trim_findings import arm_words, degrees, nose_words, worst
from foamwright.flight.trimming import Reason

#: Marks a tilt that the mount does not reach.
OUT_OF_MOUNT = "‡"

#: Head of the thrust-line table.
TILT_COLUMNS = (
    "tilt °",
    "arm mm",
    "elevator glide °",
    "level °",
    "full °",
    "swing °",
    "kick °/s²",
    "with wash",
    "opened",
    "shut",
    "holds N",
)


def stall_cell(flight: FlightAssessment) -> str:
    """Slowest trimmed glide. [m/s]"""
    return _banded(flight.envelope.stall, ".1f")


def speeds_cell(flight: FlightAssessment) -> str:
    """Slowest and fastest level flight. [m/s]"""
    top, slowest = flight.envelope.top, flight.envelope.slowest
    if top is None or not math.isfinite(slowest):
        return ""
    return f"{slowest:.1f} to {top.value:.1f} ± {2.0 * top.scatter:.1f}"


def climb_cell(flight: FlightAssessment) -> str:
    """Best steady climb at full throttle. [m/s]"""
    found = flight.envelope
    if found.is_vertical:
        return "straight up"
    return "" if found.climb is None else _banded(found.climb, ".1f")


def glide_cell(flight: FlightAssessment) -> str:
    """Best glide, trimmed, and its airspeed."""
    found = flight.envelope
    if found.best_glide is None:
        return ""
    return f"{_banded(found.best_glide, '.1f')} at {found.best_glide_speed:.1f} m/s"


def sink_cell(flight: FlightAssessment) -> str:
    """Least sink. [m/s]"""
    return _banded(flight.envelope.least_sink, ".2f")


def arm_cell(flight: FlightAssessment) -> str:
    """Arm of the thrust line. [mm]"""
    found = flight.thrust_map
    if found is None:
        return ""
    arm = float(found.arm[found.hole])
    if abs(arm) < NO_ARM:
        return "0"
    return f"{1e3 * abs(arm):.0f} {'above' if arm > 0.0 else 'below'}"


def power_cell(flight: FlightAssessment) -> str:
    """Which way the nose goes with power, and the elevator for it. [°]"""
    found = flight.thrust_map
    if found is None:
        return ""
    most = float(np.degrees(worst(found, found.hole)[0]))
    return f"{nose_words(found, found.hole)}, {_said(most, '.1f')}"


def calm_cell(flight: FlightAssessment) -> str:
    """Tilt that calms it best, with its band. [°]"""
    found = flight.thrust_map
    if found is None:
        return ""
    if not math.isfinite(found.calm):
        return f"none near {OUT_OF_MOUNT}"
    mark = f" {OUT_OF_MOUNT}" if is_beyond_mount(flight) else ""
    return f"{degrees(found.calm):.0f} ± {np.degrees(2.0 * found.calm_scatter):.0f}{mark}"


def is_beyond_mount(flight: FlightAssessment) -> bool:
    """Whether the mount does not reach the calm tilt."""
    found = flight.thrust_map
    return found is not None and not found.calm_is_there


def holes_cell(flight: FlightAssessment) -> str:
    """Calmest hole of the mount and the next two. [°]"""
    found = flight.thrust_map
    if found is None or not found.can_tilt:
        return ""
    return ", ".join(f"{degrees(float(found.up[k])):g}" for k in found.order[:3])


def _banded(figure: Figure | None, form: str) -> str:
    if figure is None:
        return ""
    return f"{figure.value:{form}} ± {2.0 * figure.scatter:{form}}"


def tilt_rows(found: ThrustMap) -> list[tuple[str, ...]]:
    """Rows of the thrust-line table, one for each hole, at the slowest airspeed that all hold.

    Parameters
    ----------
    found : ThrustMap
        The map.

    Returns
    -------
    list of tuple of str
        In the order of :data:`TILT_COLUMNS`; the hole as drawn is marked ">", the calmest "*".
    """
    place = speed_place(found)
    rows: list[tuple[str, ...]] = []
    for k, tilt in enumerate(found.up.tolist()):
        mark = (">" if k == found.hole else "") + ("*" if k == found.best else "")
        angles = np.degrees(found.elevator[k, place])
        rows.append(
            (
                f"{mark} {degrees(tilt):g}",
                f"{1e3 * found.arm[k] + 0.0:.0f}",
                *(_said(float(angles[n]), ".1f") for n in (OFF, LEVEL, FULL)),
                _said(float(angles.max() - angles.min()), ".1f"),
                _said(float(np.degrees(found.kick[k, place])), ".0f"),
                _said(float(np.degrees(found.kick_washed[k, place])), ".0f"),
                _settled(float(found.full_speed[k]), float(found.full_climb[k])),
                _settled(float(found.off_speed[k]), float(found.off_climb[k])),
                _said(float(found.held[k]), ".1f"),
            )
        )
    return rows


def speed_place(found: ThrustMap) -> int:
    """Find the slowest airspeed at which all holes have a balance."""
    known = np.isfinite(found.elevator).all(axis=(0, 2))
    return int(np.argmax(known)) if known.any() else len(found.airspeed) - 1


def _said(value: float, form: str) -> str:
    return format(value, form) if math.isfinite(value) else "–"


def _settled(speed: float, climb: float) -> str:
    """Airspeed and climb where it may settle. [m/s]"""
    return f"{speed:.1f}, {climb:+.1f}" if math.isfinite(speed + climb) else "–"


def tilt_title(found: ThrustMap) -> str:
    """Title of the thrust-line table: what its columns mean."""
    speed = float(found.airspeed[speed_place(found)])
    return (
        f"Thrust line at {speed:.1f} m/s: elevator for glide, level flight and full throttle "
        "(trailing edge down +), tilt and arm up +, nose up +"
    )


def tilt_words(flight: FlightAssessment) -> tuple[str, ...]:
    """Say in sentences what the table means."""
    found = flight.thrust_map
    if found is None:
        return ()
    hole = found.hole
    first = (
        f"As drawn the thrust line passes {arm_words(float(found.arm[hole]))}; as power comes on "
        f"the nose goes {nose_words(found, hole).removeprefix('nose ')}{_wash_words(found, hole)}."
    )
    rest = (
        "> as drawn, * calmest. Kick: turning from level flight the moment the throttle opens, "
        "thrust alone and with the wash on the tail. Opened, shut: airspeed and climb, m/s, where "
        "full throttle and none settle with the elevator left as for level flight at "
        f"{found.airspeed[1]:.1f} m/s; – where nothing steady was found. Holds: thrust that full "
        "elevator holds when thrown at "
        f"{found.throw_speed:.0f} m/s, of {found.throw_thrust:.1f} N."
    )
    yaw = ""
    if len(found.right) > 1:
        yaw = (
            f"Full throttle yaws it least with the line {_side(found.calm_right)}; the mount "
            f"reaches {_side(float(found.right[0]))} to {_side(float(found.right[-1]))}."
        )
    return tuple(text for text in (first, rest, yaw) if text)


def _wash_words(found: ThrustMap, hole: int) -> str:
    """Say so where the wash outdoes the line itself."""
    way = nose_words(found, hole)
    line = "nose down" if found.arm[hole] > 0.0 else "nose up"
    if way == line or "known" in way or abs(found.arm[hole]) < NO_ARM:
        return ""
    return ": the wash on wing and tail does more than the line"


def _side(angle: float) -> str:
    value = degrees(angle)
    return f"{abs(value):g}° {'right' if value >= 0.0 else 'left'}"


# ---------------------------------------------------------------- JSON


def flight_dictionary(flight: FlightAssessment) -> dict[str, Any]:
    """Return trims, speeds and the thrust line as plain values; null where there is none."""
    found = flight.envelope
    return {
        "stall_m_s": _figure(found.stall),
        "best_glide": _figure(found.best_glide),
        "best_glide_speed_m_s": _plain(found.best_glide_speed),
        "least_sink_m_s": _figure(found.least_sink),
        "least_sink_speed_m_s": _plain(found.least_sink_speed),
        "slowest_level_m_s": _plain(found.slowest),
        "top_speed_m_s": _figure(found.top),
        "climb_m_s": _figure(found.climb),
        "climb_speed_m_s": _plain(found.climb_speed),
        "climbs_straight_up": found.is_vertical,
        "glides": [
            {
                "alpha_deg": _plain(math.degrees(alpha)),
                "speed_m_s": _plain(speed),
                "elevator_deg": _plain(math.degrees(elevator)),
                "path_deg": _plain(math.degrees(path)),
                "trim": Reason(reason).says,
            }
            for alpha, speed, elevator, path, reason in zip(
                found.glide.alpha.tolist(),
                found.glide.airspeed.tolist(),
                found.glide.elevator.tolist(),
                found.glide.path.tolist(),
                found.glide.reason.tolist(),
                strict=True,
            )
        ],
        "thrust_line": None if flight.thrust_map is None else _map(flight.thrust_map),
    }


def _map(found: ThrustMap) -> dict[str, Any]:
    return {
        "drawn_up_deg": math.degrees(found.drawn[0]),
        "drawn_right_deg": math.degrees(found.drawn[1]),
        "airspeeds_m_s": found.airspeed.tolist(),
        "through_balance_point_deg": _plain(math.degrees(found.through)),
        "calm_up_deg": _plain(math.degrees(found.calm)),
        "calm_up_scatter_deg": _plain(math.degrees(found.calm_scatter)),
        "calm_right_deg": _plain(math.degrees(found.calm_right)),
        "nose_with_power": nose_words(found, found.hole),
        "throw_speed_m_s": found.throw_speed,
        "throw_thrust_N": found.throw_thrust,
        "holes": [_hole(found, k) for k in range(len(found.up))],
        "order": list(found.order),
        "right": [
            {
                "right_deg": math.degrees(tilt),
                "yaw_N_m": _list(found.yaw[k]),
                "rudder_deg": _list(np.degrees(found.rudder[k])),
            }
            for k, tilt in enumerate(found.right.tolist())
        ],
    }


def _hole(found: ThrustMap, k: int) -> dict[str, Any]:
    return {
        "up_deg": math.degrees(float(found.up[k])),
        "arm_mm": 1e3 * float(found.arm[k]),
        "elevator_deg": {
            name: _list(np.degrees(found.elevator[k, :, n]))
            for n, name in ((OFF, "glide"), (LEVEL, "level"), (FULL, "full"))
        },
        "swing_deg": _plain(math.degrees(float(found.swing[k]))),
        "kick_deg_s2": _list(np.degrees(found.kick[k])),
        "kick_with_wash_deg_s2": _list(np.degrees(found.kick_washed[k])),
        "full_throttle_speed_m_s": _plain(float(found.full_speed[k])),
        "full_throttle_climb_m_s": _plain(float(found.full_climb[k])),
        "power_off_speed_m_s": _plain(float(found.off_speed[k])),
        "power_off_climb_m_s": _plain(float(found.off_climb[k])),
        "held_at_throw_N": _plain(float(found.held[k])),
    }


def _plain(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _list(values: np.ndarray[Any, np.dtype[np.float64]]) -> list[float | None]:
    return [_plain(value) for value in values.tolist()]


def _figure(figure: Figure | None) -> dict[str, float] | None:
    return None if figure is None else {"value": figure.value, "scatter": figure.scatter}
