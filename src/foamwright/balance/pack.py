"""Where the pack must lie: moving masses without weighing anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from foamwright.balance.bodies import inertia_from, outer, second_from
from foamwright.balance.model import Balance, BalanceSpan, MassEntry, PackReach
from foamwright.balance.weigh import as_vector, read_only, scatter_of
from foamwright.design.model import Pack
from foamwright.errors import DomainError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PackSweep:
    """Balance point and inertia for many places of one pack."""

    positions: Array  # (n,) m, pack middle
    points: Array  # (n, 3) m, balance point
    inertias: Array  # (n, 3, 3) kg m² about the balance point


@dataclass(frozen=True, slots=True, kw_only=True)
class PackWindow:
    """Places of one pack that keep the balance point in its span."""

    pack: str
    forward: float  # m, foremost middle, tray not looked at
    aft: float  # m, aftmost middle, tray not looked at
    travel: tuple[float, float]  # m, the tray's

    @property
    def in_tray(self) -> tuple[float, float] | None:
        """Foremost and aftmost middle that the tray allows too; None where there is none."""
        low, high = max(self.forward, self.travel[0]), min(self.aft, self.travel[1])
        return (low, high) if low <= high else None


def pack_entry(balance: Balance, pack: Pack) -> MassEntry:
    """Return the line of the weight statement that is this pack; KeyError where there is none."""
    path = f"power.pack.{pack.key}"
    for entry in balance.entries:
        if entry.path == path:
            return entry
    raise KeyError(path)


def chief_pack(balance: Balance, packs: Sequence[Pack]) -> Pack | None:
    """Return the heaviest pack, the one that balances; None where there is none."""
    return max(packs, key=lambda pack: pack_entry(balance, pack).mass, default=None)


def sweep_pack(balance: Balance, pack: Pack, positions: ArrayLike) -> PackSweep:
    """Balance point and inertia with the pack at many places, nothing else moved.

    Parameters
    ----------
    balance : Balance
        As weighed.
    pack : Pack
        The pack that slides along x.
    positions : array_like
        Places of its middle; need not lie in the tray. [m]

    Returns
    -------
    PackSweep
        Exact, since a pack is moved without turning it.
    """
    entry = pack_entry(balance, pack)
    places = np.atleast_1d(np.asarray(positions, dtype=np.float64))
    shift = places - entry.centre[0]
    old_arm = np.array(entry.centre) - np.array(balance.point)
    step = np.zeros((len(places), 3))
    step[:, 0] = shift
    new_arm = old_arm + step
    moved = (entry.mass / balance.mass) * step
    # S about the old point with the pack moved, then to the new point: less M d dᵀ.
    second = (
        second_from(balance.inertia)
        + entry.mass * (outer(new_arm) - outer(old_arm))
        - balance.mass * outer(moved)
    )
    return PackSweep(
        positions=places,
        points=np.array(balance.point) + moved,
        inertias=inertia_from(second),
    )


def balance_with_pack_at(balance: Balance, pack: Pack, position: float) -> Balance:
    """Return the balance with one pack moved along x, without weighing anew.

    Parameters
    ----------
    balance : Balance
        As weighed.
    pack : Pack
        The pack that slides.
    position : float
        New place of its middle; need not lie in the tray. [m]

    Returns
    -------
    Balance
        Exact, scatter included.
    """
    entry = pack_entry(balance, pack)
    sweep = sweep_pack(balance, pack, position)
    shift = position - entry.centre[0]
    entries = tuple(
        replace(other, centre=_shifted(other.centre, shift)) if other is entry else other
        for other in balance.entries
    )
    return replace(
        balance,
        entries=entries,
        groups=tuple(
            replace(group, centre=_shifted(group.centre, shift * entry.mass / group.mass))
            if group.group is entry.group
            else group
            for group in balance.groups
        ),
        point=as_vector(sweep.points[0]),
        point_scatter=scatter_of(entries)[1],
        inertia=read_only(sweep.inertias[0]),
    )


def pack_for(balance: Balance, pack: Pack, target: float) -> float:
    """Place of the pack's middle that puts the balance point on a target.

    Parameters
    ----------
    balance : Balance
        As weighed.
    pack : Pack
        The pack that slides.
    target : float
        Balance point aimed at, along x. [m]

    Returns
    -------
    float
        Middle of the pack; may lie outside its tray. [m]

    Notes
    -----
    Moments: the pack moves m_all/m_pack times as far as the balance point.
    """
    entry = pack_entry(balance, pack)
    if not entry.mass > 0.0:
        raise DomainError(f'pack "{pack.key}" weighs nothing, so moving it balances nothing')
    return entry.centre[0] + (target - balance.point[0]) * balance.mass / entry.mass


def pack_reach(balance: Balance, pack: Pack, target: float) -> PackReach:
    """Say what sliding one pack in its tray does.

    Parameters
    ----------
    balance : Balance
        As weighed.
    pack : Pack
        The pack that slides.
    target : float
        Balance point aimed at, along x. [m]

    Returns
    -------
    PackReach
        Travel, the balance it buys, and the place wanted.
    """
    travel = pack.travel
    at_ends = sweep_pack(balance, pack, travel).points[:, 0].tolist()
    return PackReach(
        pack=pack.key,
        position=pack.position,
        travel=travel,
        balance=(at_ends[0], at_ends[1]),
        wanted=pack_for(balance, pack, target),
        target=target,
    )


def pack_window(balance: Balance, pack: Pack, span: BalanceSpan) -> PackWindow:
    """Places of the pack that put the balance point inside a span.

    Parameters
    ----------
    balance : Balance
        As weighed.
    pack : Pack
        The pack that slides; others stay.
    span : BalanceSpan
        The allowed range, of this variant or common to all. [m]

    Returns
    -------
    PackWindow
        Foremost and aftmost middle of the pack, and what its tray leaves of it.
    """
    return PackWindow(
        pack=pack.key,
        forward=pack_for(balance, pack, span.forward),
        aft=pack_for(balance, pack, span.aft),
        travel=pack.travel,
    )


def settle_packs(balance: Balance, packs: Sequence[Pack], target: float) -> Mapping[str, float]:
    """Places of all packs, inside their trays, that come nearest to a target.

    Parameters
    ----------
    balance : Balance
        As weighed.
    packs : sequence of Pack
        All that slide. The heaviest moves first, the next only for what is left.
    target : float
        Balance point aimed at, along x. [m]

    Returns
    -------
    mapping of str to float
        Middle of every pack by key. [m] On target if the trays can reach it, else all at their
        stops. A pack longer than its tray stays where it is.
    """
    places: dict[str, float] = {}
    now = balance
    for pack in sorted(packs, key=lambda pack: -pack_entry(balance, pack).mass):
        front, back = pack.travel
        here = pack_entry(now, pack).centre[0]
        fits = front <= back and pack_entry(now, pack).mass > 0.0
        places[pack.key] = min(max(pack_for(now, pack, target), front), back) if fits else here
        now = balance_with_pack_at(now, pack, places[pack.key])
    return places


def with_packs_at(balance: Balance, packs: Sequence[Pack], places: Mapping[str, float]) -> Balance:
    """Return the balance with several packs moved.

    Parameters
    ----------
    balance : Balance
        As weighed.
    packs : sequence of Pack
        The packs spoken of.
    places : mapping of str to float
        Middle of each pack that moves, by key. [m]

    Returns
    -------
    Balance
        See :func:`balance_with_pack_at`.
    """
    for pack in packs:
        if pack.key in places:
            balance = balance_with_pack_at(balance, pack, places[pack.key])
    return balance


def _shifted(centre: tuple[float, float, float], shift: float) -> tuple[float, float, float]:
    return centre[0] + shift, centre[1], centre[2]
