"""Propeller, motor, controller and pack: the match, its limits, its place on the aeroplane."""

from foamwright.power.choose import PropellerChoice, rank_propellers
from foamwright.power.clearance import Clearance, disc_clearance
from foamwright.power.controller import ControllerModel, controller_model
from foamwright.power.disc import (
    IdealDisc,
    ideal_disc,
    induced_speed,
    pitch_speed,
    slipstream,
    swirl_speed,
)
from foamwright.power.findings import power_findings
from foamwright.power.flying import Discharge, Endurance, Leg, discharge, endurance
from foamwright.power.hands import Handedness, handedness
from foamwright.power.inverse import Demand, throttle_for_current, throttle_for_thrust
from foamwright.power.limits import FullThrottle, Margins, full_throttle, margins, rpm_limit
from foamwright.power.lines import (
    Installation,
    Missing,
    Parts,
    PowerGroup,
    PowerLine,
    pack_group,
    parts_of,
    power_line,
)
from foamwright.power.matching import SEA_LEVEL, Air, Bands, OperatingPoint, match
from foamwright.power.moments import PropellerLoads, gyroscopic_couple, propeller_loads
from foamwright.power.motor import (
    MotorLine,
    MotorModel,
    fit_motor_line,
    motor_model,
    motor_point,
    winding_temperature,
)
from foamwright.power.pack import CAUTIONS, PackModel, joined_packs, pack_model
from foamwright.power.place import installation
from foamwright.power.propeller import PropellerModel, propeller_model
from foamwright.power.shortlist import Shortlist, shortlists
from foamwright.power.state import (
    MotorState,
    PackState,
    PowerAssessment,
    assess_power,
    customary_mix,
    loads_of,
    one_out,
)

__all__ = [
    "CAUTIONS",
    "SEA_LEVEL",
    "Air",
    "Bands",
    "Clearance",
    "ControllerModel",
    "Demand",
    "Discharge",
    "Endurance",
    "FullThrottle",
    "Handedness",
    "IdealDisc",
    "Installation",
    "Leg",
    "Margins",
    "Missing",
    "MotorLine",
    "MotorModel",
    "MotorState",
    "OperatingPoint",
    "PackModel",
    "PackState",
    "Parts",
    "PowerAssessment",
    "PowerGroup",
    "PowerLine",
    "PropellerChoice",
    "PropellerLoads",
    "PropellerModel",
    "Shortlist",
    "assess_power",
    "controller_model",
    "customary_mix",
    "disc_clearance",
    "discharge",
    "endurance",
    "fit_motor_line",
    "full_throttle",
    "gyroscopic_couple",
    "handedness",
    "ideal_disc",
    "induced_speed",
    "installation",
    "joined_packs",
    "loads_of",
    "margins",
    "match",
    "motor_model",
    "motor_point",
    "one_out",
    "pack_group",
    "pack_model",
    "parts_of",
    "pitch_speed",
    "power_findings",
    "power_line",
    "propeller_loads",
    "propeller_model",
    "rank_propellers",
    "rpm_limit",
    "shortlists",
    "slipstream",
    "swirl_speed",
    "throttle_for_current",
    "throttle_for_thrust",
    "winding_temperature",
]
