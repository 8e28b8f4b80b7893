"""The allowed range of the balance point, from the neutral point and who flies."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from foamwright.balance.model import BalanceSpan
from foamwright.errors import DomainError

#: At 3 % of chord and less a model in the NACA free-flight tunnel was "especially unsteady".
#: NACA wartime report on static margin and damping in pitch, free-flight tunnel, 1944 (summary).
LEAST_MARGIN = 0.03

#: Most static margin of a tailed aeroplane: upper end of the first-flight and trainer bands.
#: Common practice, no source. Further forward costs elevator, not safety in calm trim.
MOST_MARGIN = 0.15

#: Band of a flying wing: trim drag and elevon travel grow quickly beyond it. Common practice,
#: no source.
FLYING_WING = (0.03, 0.08)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Flyer:
    words: tuple[str, ...]
    least: float  # static margin at the aft limit, fraction of mac
    says: str


#: Common practice, no source: trainer and first flights 10-15 %, sport 5-10 %, aerobatic 0-5 %.
#: Searched in this order, so that "sport, first aeroplane" counts as a first aeroplane.
_FLYERS = (
    _Flyer(
        words=("beginner", "first", "learn", "train", "novice", "new", "school", "pupil"),
        least=0.10,
        says="a learner (trainers and first flights 10-15 %)",
    ),
    _Flyer(
        words=("aerobat", "expert", "display"),
        least=0.0,
        says="an aerobatic flyer (0-5 %)",
    ),
    _Flyer(
        words=("sport", "practice", "practised", "improver", "intermediate", "experienced"),
        least=0.05,
        says="a practised or sport flyer (5-10 %, first flights 10-15 %)",
    ),
)
_OTHER = _Flyer(words=(), least=0.05, says="a flyer not known further (5-10 %, first 10-15 %)")


def balance_span(neutral_point: float, *, mac: float, flyer: str, has_tail: bool) -> BalanceSpan:
    """Return the allowed range of the balance point along x.

    Parameters
    ----------
    neutral_point : float
        Stick-fixed neutral point, aft of datum. [m]
    mac : float
        Mean aerodynamic chord of the main wing. [m]
    flyer : str
        Who flies it, as the brief says; "" where it does not.
    has_tail : bool
        Whether a tail or canard shares the trim; False for a flying wing.

    Returns
    -------
    BalanceSpan
        Foremost and aftmost balance point, and the rule behind them.

    Notes
    -----
    Static margins in fractions of mac. With a tail: at most 15 %, at least 10 % for a learner,
    5 % for a sport flyer and where nobody is named. An aerobatic flyer's 0-5 % is cut off at
    3 %, and so is everything else: the floor is measured, the bands are common practice without
    a source. A flying wing has 3-8 % whoever flies it; first flights belong to its front.
    Neither elevator power nor a body is looked at here: pass the neutral point of the whole.

    References
    ----------
    .. [1] NACA wartime report: the effects of static margin and rotational damping in pitch on
       the longitudinal stability characteristics of an airplane as determined by tests of a
       model in the NACA free-flight tunnel, 1944 (summary read).
    """
    if not mac > 0.0:
        raise DomainError("a balance span needs a mean aerodynamic chord above zero")
    if has_tail:
        who = _flyer(flyer)
        least, most, says = max(who.least, LEAST_MARGIN), MOST_MARGIN, who.says
    else:
        (least, most), says = FLYING_WING, "a flying wing (3-8 %)"
    return BalanceSpan(
        forward=neutral_point - most * mac,
        aft=neutral_point - least * mac,
        why=(
            f"static margin {100 * least:.0f} to {100 * most:.0f} % of mean aerodynamic chord for "
            f"{says}: common practice, no source; never {100 * LEAST_MARGIN:.0f} % or less: NACA "
            "free-flight tunnel, 1944"
        ),
    )


def common_span(spans: Sequence[BalanceSpan]) -> BalanceSpan:
    """Range of balance points that every variant allows; may be empty.

    Parameters
    ----------
    spans : sequence of BalanceSpan
        One per variant, at least one. [m]

    Returns
    -------
    BalanceSpan
        Their intersection; ``is_empty`` where there is none.
    """
    if not spans:
        raise DomainError("a common balance span needs at least one span")
    rules = tuple(dict.fromkeys(span.why for span in spans))
    why = "; ".join(rules)
    return BalanceSpan(
        forward=max(span.forward for span in spans),
        aft=min(span.aft for span in spans),
        why=why if len(spans) == 1 else f"what all {len(spans)} variants allow: {why}",
    )


def _flyer(words: str) -> _Flyer:
    said = words.lower()
    for flyer in _FLYERS:
        if any(re.search(rf"\b{word}", said) for word in flyer.words):
            return flyer
    return _OTHER
