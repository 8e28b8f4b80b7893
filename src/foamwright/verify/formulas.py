"""The hand formulas that a case may name."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from types import MappingProxyType

from foamwright.verify import (
    formulas_balance,
    formulas_body,
    formulas_drag,
    formulas_flight,
    formulas_margin,
    formulas_power,
    formulas_section,
    formulas_wash,
    formulas_wing,
)
from foamwright.verify.formulas_kit import Formula

#: By room.
ROOMS = (
    formulas_wing.FORMULAS,
    formulas_margin.FORMULAS,
    formulas_balance.FORMULAS,
    formulas_body.FORMULAS,
    formulas_section.FORMULAS,
    formulas_drag.FORMULAS,
    formulas_wash.FORMULAS,
    formulas_power.FORMULAS,
    formulas_flight.FORMULAS,
)

#: Every formula by name.
FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.name: formula for formula in chain.from_iterable(ROOMS)}
)
