"""What the room says in tables and in one dictionary, in the maker's units."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from foamwright.power.pack import CAUTIONS
from foamwright.power.shortlist import Shortlist
from foamwright.power.state import MotorState, PackState, PowerAssessment


def power_rows(motor: MotorState) -> list[tuple[str, ...]]:
    """Return full throttle over airspeed, every third speed, pack half flown."""
    points, bands = motor.full.points, motor.full.points.bands
    scatter = points.thrust * 0.0 if bands is None else bands.thrust
    return [
        (
            f"{points.airspeed[1, k]:.0f}",
            f"{points.thrust[1, k]:.2f}",
            f"{2.0 * scatter[1, k]:.2f}",
            f"{points.pack_amps[1, k]:.1f}",
            f"{points.rpm[1, k]:.0f}",
            f"{points.shaft_power[1, k]:.0f}",
            f"{100.0 * points.propeller_efficiency[1, k]:.0f}",
            f"{100.0 * points.motor_efficiency[1, k]:.0f}",
            f"{100.0 * points.efficiency[1, k]:.0f}",
        )
        for k in range(0, points.airspeed.shape[1], 2)
        if points.thrust[1, k] > 0.0
    ]


#: Headings of a table of propellers that would do.
PROPELLER_COLUMNS = ("Propeller", "", "N", "A each", "A pack", "rpm", "pitch m/s", "Why")
SHORTLISTED = 12  # propellers printed; --json has them all


def propeller_rows(shortlist: Shortlist) -> list[tuple[str, ...]]:
    """Return the best of a shortlist as cells under :data:`PROPELLER_COLUMNS`."""
    return [
        (
            choice.propeller.key.removeprefix("propeller "),
            "suits" if choice.suits else "no",
            f"{choice.static_thrust:.1f}",
            f"{choice.amps:.0f}",
            f"{choice.pack_amps:.0f}",
            f"{60.0 * choice.rotation:.0f}",
            f"{choice.pitch_speed:.0f}",
            "; ".join(choice.reasons),
        )
        for choice in shortlist.choices[:SHORTLISTED]
    ]


def propellers_dictionary(shortlist: Shortlist) -> dict[str, Any]:
    """Return a shortlist as plain values for ``--json``."""
    return {
        "motors": list(shortlist.motors),
        "largest_disc_mm": 1e3 * shortlist.largest,
        "propellers": [
            {
                "propeller": choice.propeller.key,
                "suits": choice.suits,
                "reasons": list(choice.reasons),
                "static_thrust_N": choice.static_thrust,
                "thrust_at_speed_N": choice.thrust_at_speed,
                "amps_each_A": choice.amps,
                "pack_amps_A": choice.pack_amps,
                "rpm": 60.0 * choice.rotation,
                "pitch_speed_m_s": choice.pitch_speed,
            }
            for choice in shortlist.choices
        ],
    }


def power_dictionary(power: PowerAssessment) -> dict[str, Any]:
    """Return motors, propellers and packs in the maker's units."""
    thrust = power.static_thrust
    return {
        "static_thrust_N": None if thrust is None else thrust.value,
        "static_thrust_scatter_N": None if thrust is None else thrust.scatter,
        "thrust_to_weight": power.thrust_to_weight,
        "mix": power.mix,
        "motors": [_motor_dictionary(motor) for motor in power.motors],
        "packs": [_pack_dictionary(pack) for pack in power.packs],
        "incomplete": [{"motor": one.motor, "lacks": one.lacks} for one in power.missing],
    }


def _motor_dictionary(motor: MotorState) -> dict[str, Any]:
    full, hand, near = motor.full, motor.hand, motor.clearance
    return {
        "motor": motor.line.key,
        "installation": motor.installation.kind,
        "thrust_loss": motor.installation.loss,
        "static_thrust_N": full.static_thrust,
        "static_thrust_scatter_N": full.static_thrust_scatter,
        "current_A": full.amps,
        "current_scatter_A": full.amps_scatter,
        "margins": asdict(motor.margins),
        "rpm": 60.0 * full.rotation,
        "rpm_limit": 60.0 * motor.rpm_limit,
        "pitch_speed_m_s": motor.pitch_speed,
        "pull_ends_m_s": full.useful_top,
        "winding_C": motor.winding,
        "turns_seen_from_behind": hand.seen_from_behind,
        "turns_seen_at_shaft": hand.seen_at_shaft,
        "leads": hand.leads,
        "face": hand.face,
        "nut_loosens": hand.nut_loosens,
        "clearance_mm": None if near is None else 1e3 * near.gap,
        "full_throttle": [
            {
                "airspeed_m_s": speed,
                "thrust_N": push,
                "current_A": amps,
                "rpm": rpm,
            }
            for speed, push, amps, rpm in zip(
                full.points.airspeed[1].tolist(),
                full.points.thrust[1].tolist(),
                full.points.pack_amps[1].tolist(),
                full.points.rpm[1].tolist(),
                strict=True,
            )
        ],
    }


def _pack_dictionary(pack: PackState) -> dict[str, Any]:
    lasting = pack.endurance
    return {
        "pack": pack.group.key,
        "current_A": pack.current.value,
        "current_scatter_A": pack.current.scatter,
        "max_current_A": pack.group.pack.max_current,
        "energy_Wh": pack.group.pack.energy / 3600.0,
        "volts_per_cell_landing_due": pack.volts_per_cell,
        "minutes": lasting.duration / 60.0,
        "minutes_scatter": lasting.duration_scatter / 60.0,
        "distance_km": lasting.distance / 1e3,
        "mean_current_A": lasting.current,
        "cannot_fly": list(lasting.shortfall),
        "cautions": list(CAUTIONS),
    }
