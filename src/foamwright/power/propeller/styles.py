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
