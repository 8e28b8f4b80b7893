"""The brief: what the aeroplane is for, each line a must or a wish."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated

from pydantic import Field
from pydantic_core import PydanticCustomError

from foamwright.design.model import BriefLine, Rank
from foamwright.design.schema.base import Reading, Table, Value
from foamwright.design.schema.fields import Choice, Quantity, Text, Whole
from foamwright.design.schema.kinds import MaybeLine
from foamwright.design.trouble import Report, listed, meant

#: Topics with limits, and what their limits may be.
MEASURED: Mapping[str, Quantity | Whole] = MappingProxyType(
    {
        "flying mass": Quantity("mass", "1 g", "25 kg"),
        "span": Quantity("length", "50 mm", "6 m"),
        "wing area": Quantity("area", "0.1 dm2", "1000 dm2"),
        "wing loading": Quantity("wing loading", "0.1 g/dm2", "500 g/dm2"),
        "static margin": Quantity("fraction", "-50 %", "100 %"),
        "sheets": Whole(0, 100),
        "wind": Quantity("speed", "0 m/s", "30 m/s"),
    }
)

#: Topics that are only said.
SPOKEN = (
    "flyer",
    "launch",
    "landing",
    "site",
    "wind note",
    "sheet",
    "gear",
    "transport",
    "other",
)

#: What "flyer" may say.
FLYERS = ("first flights", "some practice", "sport")

TOPICS = (*MEASURED, *SPOKEN)


class Unread(Value):
    """A value that is read later, once its topic is known."""

    def read(self, given: object, reading: Reading) -> object:  # noqa: ARG002 - one shape for all
        """Return the value as it stands."""
        return given

    def takes(self) -> str:
        """Return what may stand there, for the docs."""
        return "by topic: see below"


class BriefLineIn(Table):
    """One line of the brief."""

    topic: Annotated[str, Choice(TOPICS)] = Field(description="what it speaks of")
    rank: Annotated[Rank, Choice(Rank)] = Field(Rank.WISH, description="how firmly it is meant")
    says: Annotated[str, Text(200)] | None = Field(
        None, description="for topics that are only said"
    )
    at_least: Annotated[object, Unread()] = Field(
        None, description="lower limit of a measured topic"
    )
    at_most: Annotated[object, Unread()] = Field(
        None, description="upper limit of a measured topic"
    )
    note: MaybeLine = Field("", description="anything to remember")

    def build(self, report: Report, reading: Reading) -> BriefLine | None:
        """Return the line; what is wrong with it goes to the report."""
        wanted = MEASURED.get(self.topic)
        if wanted is None:
            return self._spoken(report)
        if self.says is not None:
            text = f"{self.topic} is measured: it takes at_least, at_most or both, not says."
            report.say("KEY-CLASH", text, "says")
            return None
        if self.at_least is None and self.at_most is None:
            text = f"{self.topic} is measured: it needs at_least, at_most or both."
            report.say("KEY-MISSING", text, "at_most")
            return None
        low = _limit(self.at_least, wanted, reading, report.at("at_least"))
        high = _limit(self.at_most, wanted, reading, report.at("at_most"))
        if low is not None and high is not None and low > high:
            report.say("RANGE-ORDER", "at_least must be no more than at_most.", "at_least")
            return None
        return BriefLine(
            topic=self.topic, rank=self.rank, at_least=low, at_most=high, note=self.note
        )

    def _spoken(self, report: Report) -> BriefLine | None:
        if self.at_least is not None or self.at_most is not None:
            key = "at_most" if self.at_least is None else "at_least"
            text = f'"{self.topic}" has no limits; say it in words: says = "...".'
            report.say("KEY-CLASH", text, key)
            return None
        if self.says is None:
            report.say("KEY-MISSING", f'"{self.topic}" needs says = "...".', "says")
            return None
        if self.topic == "flyer" and self.says not in FLYERS:
            text = f"A flyer is one of these: {listed(FLYERS)}."
            report.say("VALUE-CHOICE", text, "says", hint=meant(self.says, FLYERS))
            return None
        return BriefLine(topic=self.topic, rank=self.rank, says=self.says, note=self.note)


def _limit(
    given: object, wanted: Quantity | Whole, reading: Reading, report: Report
) -> float | None:
    if given is None:
        return None
    try:
        return float(wanted.read(given, reading))
    except PydanticCustomError as error:
        context = error.context or {}
        report.say(error.type, str(context["text"]), hint=context["hint"])
        return None
