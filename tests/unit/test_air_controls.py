"""What the pilot asks for comes out as the right moment, in every example and layout."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foamwright.air import (
    CHANNELS,
    control_deflections,
    control_units,
    lift_tensor,
    motion_state,
    wind_forces,
)
from foamwright.airframe import Airframe, Hand, build_airframe
from foamwright.design import (
    STARTERS,
    Channel,
    Control,
    Mix,
    SurfaceRole,
    read_design_text,
    starter_text,
)

AIRFRAMES = {
    starter: build_airframe(read_design_text(starter_text(starter)).variants[0])
    for starter in STARTERS
}
#: Which moment a channel makes, all positive.
MOMENTS = {"roll": 3, "pitch": 4, "yaw": 5}


def channels(airframe: Airframe) -> set[str]:
    return {str(mix.channel) for s in airframe.surfaces for c in s.controls for mix in c.mixes}


def moment(airframe: Airframe, channel: str, asked: float = 1.0) -> np.ndarray:
    tensor = lift_tensor(airframe)
    level = motion_state(tensor, incidence=0.05)
    angles = control_deflections(airframe, **{channel: asked})
    moved = motion_state(tensor, incidence=0.05, deflections=angles)
    return wind_forces(tensor, moved) - wind_forces(tensor, level)


@pytest.mark.parametrize("name", AIRFRAMES)
def test_units_are_those_of_the_lattice(name):
    assert control_units(AIRFRAMES[name]) == lift_tensor(AIRFRAMES[name]).units


@pytest.mark.parametrize(
    ("name", "channel"),
    [(name, c) for name, airframe in AIRFRAMES.items() for c in sorted(channels(airframe))],
)
def test_each_channel_turns_the_aeroplane_its_way(name, channel):
    if channel == "flap":
        pytest.skip("a flap lifts; see below")
    at = MOMENTS[channel]
    right, left = (moment(AIRFRAMES[name], channel, asked)[at] for asked in (1.0, -1.0))
    assert right > 0.003
    assert left < -0.003


def with_mixes(airframe: Airframe, key: str, *mixes: Mix) -> Airframe:
    surfaces = tuple(
        replace(
            s,
            controls=tuple(replace(c, mixes=mixes) if c.key == key else c for c in s.controls),
        )
        for s in airframe.surfaces
    )
    return replace(airframe, surfaces=surfaces)


def test_flaps_go_down_together_and_lift():
    flaps = with_mixes(AIRFRAMES["curlew"], "aileron", Mix(channel=Channel.FLAP, gain=0.5))
    angles = control_deflections(flaps, flap=1.0)
    aileron = flaps.surfaces[0].controls[0]
    assert angles[:2] == pytest.approx([0.5 * aileron.throw_down] * 2)
    assert np.all(angles[2:] == 0.0)
    assert moment(flaps, "flap")[0] > 0.02


def test_a_canards_trailing_edge_goes_down_for_nose_up():
    """The Curlew's tailplane moved ahead of its wing."""
    airframe = AIRFRAMES["curlew"]
    ahead = np.array([-0.9, 0.0, 0.0])

    def moved(station):
        return replace(station, leading_edge=station.leading_edge + ahead)

    surfaces = tuple(
        replace(
            s,
            role=SurfaceRole.CANARD,
            panels=tuple(replace(p, root=moved(p.root), tip=moved(p.tip)) for p in s.panels),
        )
        if s.key == "tailplane"
        else s
        for s in airframe.surfaces
    )
    canard = replace(airframe, surfaces=surfaces)
    number = [unit.key for unit in control_units(canard)].index("elevator")
    assert control_deflections(canard, pitch=1.0)[number] > 0.0
    assert control_deflections(airframe, pitch=1.0)[number] < 0.0
    assert moment(canard, "pitch")[4] > 0.01


def test_ailerons_coupled_to_yaw_roll_into_the_turn():
    coupled = with_mixes(AIRFRAMES["curlew"], "aileron", Mix(channel=Channel.YAW, gain=0.5))
    right, left = control_deflections(coupled, yaw=1.0)[:2]
    assert right < 0.0 < left


def test_v_tail_mixes_pitch_and_yaw():
    airframe = AIRFRAMES["dunlin"]
    units = [(u.key, u.hand) for u in control_units(airframe)]
    right = units.index(("ruddervator", Hand.RIGHT))
    left = units.index(("ruddervator", Hand.LEFT))
    up = control_deflections(airframe, pitch=0.5)
    assert up[right] == up[left] == pytest.approx(-np.radians(10.0))
    turn = control_deflections(airframe, yaw=0.5)
    assert turn[right] == -turn[left] == pytest.approx(0.35 * np.radians(20.0))
    both = control_deflections(airframe, pitch=0.5, yaw=0.5)
    assert both == pytest.approx(up + turn)
    assert control_deflections(airframe, pitch=1.0, yaw=-1.0)[right] == pytest.approx(
        -np.radians(20.0)
    )


def test_throws_differ_up_and_down():
    airframe = AIRFRAMES["dunlin"]
    aileron = next(c for s in airframe.design.surfaces for c in s.controls if c.key == "aileron")
    assert isinstance(aileron, Control)
    right, left = control_deflections(airframe, roll=1.0)[:2]
    assert right == pytest.approx(-aileron.throw_up)
    assert left == pytest.approx(aileron.throw_down)


def test_many_demands_at_once():
    airframe = AIRFRAMES["knot"]
    sticks = np.linspace(-1.0, 1.0, 7)
    angles = control_deflections(airframe, pitch=sticks[:, None], roll=sticks)
    assert angles.shape == (7, 7, len(control_units(airframe)))
    one = control_deflections(airframe, pitch=float(sticks[2]), roll=float(sticks[5]))
    assert angles[2, 5] == pytest.approx(one)


def test_no_control_moves_nothing():
    airframe = AIRFRAMES["knot"]
    bare = replace(airframe, surfaces=tuple(replace(s, controls=()) for s in airframe.surfaces))
    assert control_units(bare) == ()
    assert control_deflections(bare, pitch=np.ones(3)).shape == (3, 0)
    assert lift_tensor(bare).states == ("u", "w", "q", "v", "p", "r")


def test_every_channel_has_its_place():
    assert set(CHANNELS) == set(Channel)
