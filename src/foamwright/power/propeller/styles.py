"""Nominal blade styles: the words people write, and the classes the laws know."""

from __future__ import annotations

from types import MappingProxyType

#: Styles with a law of their own.
STYLES = (
    "sport",
    "thin electric",
    "slow flyer",
    "folding",
    "direct drive",
    "micro",
    "free flight",
    "research",
    "multirotor",
)

#: Style of a blade nobody gave one for.
NO_STYLE = ""

#: Largest width outside 0.6 R over R by style: mean and scatter of the UIUC Propeller Database's
#: propellers with a measured blade (vols. 1 and 2). Sport and micro are of several makes, the rest
#: of one; folding and free flight are a single propeller. Research blades scatter too widely.
NOMINAL_WIDTHS = MappingProxyType(
    {
        "sport": (0.171, 0.014),
        "thin electric": (0.176, 0.011),
        "slow flyer": (0.227, 0.001),
        "direct drive": (0.198, 0.033),
        "micro": (0.195, 0.011),
        "folding": (0.280, 0.0),
        "free flight": (0.188, 0.0),
    }
)

_OTHER_WORDS = MappingProxyType(
    {
        "slow fly": "slow flyer",
        "electric": "thin electric",
        "folder": "folding",
        "glow": "sport",
        "moulded": "micro",
        "small moulded": "micro",
        "rubber": "free flight",
        "racing": "multirotor",
        "multi rotor": "multirotor",
        "drone": "multirotor",
    }
)


def style_of(words: str) -> str:
    """Find the blade style that is meant; empty where there is none of that name.

    Parameters
    ----------
    words : str
        As the design file says it; case, hyphens and spaces do not matter.

    Returns
    -------
    str
        One of `STYLES`, or empty.
    """
    plain = " ".join(words.lower().replace("-", " ").replace("_", " ").split())
    plain = _OTHER_WORDS.get(plain, plain)
    return plain if plain in STYLES else NO_STYLE


def nominal_width(style: str, *, diameter: float) -> float | None:
    """Tell the largest blade width usual for a style; None where none is known.

    Parameters
    ----------
    style : str
        Any word for it.
    diameter : float
        Of the propeller. [m]

    Returns
    -------
    float or None
        Width outside 0.6 R. [m]

    Notes
    -----
    To draw a blade or to check a measurement. The model does not count on it: across makes it does
    not foretell thrust or power.
    """
    known = NOMINAL_WIDTHS.get(style_of(style))
    return None if known is None else 0.5 * diameter * known[0]
