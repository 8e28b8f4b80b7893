"""Every measure that a case may expect, by name."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from types import MappingProxyType

from foamwright.verify import (
    measures_balance,
    measures_body,
    measures_controls,
    measures_drag,
    measures_geometry,
    measures_planform,
    measures_power,
    measures_section,
    measures_stability,
    measures_whole,
)
from foamwright.verify.model import Measure

#: By room.
ROOMS = (
    measures_geometry.MEASURES,
    measures_balance.MEASURES,
    measures_planform.MEASURES,
    measures_stability.MEASURES,
    measures_controls.MEASURES,
    measures_body.MEASURES,
    measures_section.MEASURES,
    measures_drag.MEASURES,
    measures_whole.MEASURES,
    measures_power.MEASURES,
)

#: Every measure but those of formulas, room by room.
MEASURES: Mapping[str, Measure] = MappingProxyType(
    {measure.name: measure for measure in chain.from_iterable(ROOMS)}
)
