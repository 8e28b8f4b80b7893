"""Masses, balance point, inertia; where the pack must lie; ballast as a last resort."""

from foamwright.balance.ballast import (
    ballast_for,
    ballast_mass,
    lateral_moment,
    tip_mass,
    two_scale_point,
    with_mass_added,
)
from foamwright.balance.common import common_findings
from foamwright.balance.findings import balance_findings
from foamwright.balance.model import (
    Balance,
    BalanceSpan,
    Ballast,
    GroupMass,
    MassEntry,
    PackReach,
)
from foamwright.balance.pack import (
    PackSweep,
    PackWindow,
    balance_with_pack_at,
    pack_for,
    pack_reach,
    pack_window,
    settle_packs,
    sweep_pack,
    with_packs_at,
)
from foamwright.balance.span import balance_span, common_span
from foamwright.balance.weigh import weigh

__all__ = [
    "Balance",
    "BalanceSpan",
    "Ballast",
    "GroupMass",
    "MassEntry",
    "PackReach",
    "PackSweep",
    "PackWindow",
    "balance_findings",
    "balance_span",
    "balance_with_pack_at",
    "ballast_for",
    "ballast_mass",
    "common_findings",
    "common_span",
    "lateral_moment",
    "pack_for",
    "pack_reach",
    "pack_window",
    "settle_packs",
    "sweep_pack",
    "tip_mass",
    "two_scale_point",
    "weigh",
    "with_mass_added",
    "with_packs_at",
]
