"""Do the parts of a body lie on it, and is its outline one closed line?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from foamwright.design.checks.outlines import crosses_itself, encloses, is_flat
from foamwright.design.model import BoxBody, BoxFace, BoxStation, Opening, SlabBody
from foamwright.design.trouble import Report

_CLOSE = 1e-6  # m; a micrometre outside is on the edge


def check_box(body: BoxBody, report: Report) -> None:
    """Say what does not fit in one box body."""
    sound = True
    for place, station in enumerate(body.stations):
        if station.top <= station.bottom:
            text = (
                f"The top must lie above the bottom, which is at {report.length(station.bottom)}."
            )
            report.say("STATION-FLAT", text, "stations", place, "top")
            sound = False
    for place, (before, after) in enumerate(pairwise(body.stations), start=1):
        if after.x <= before.x + _CLOSE:
            place_before = report.length(before.x)
            text = f"Stations must go from front to back; the one before is at {place_before}."
            report.say("STATION-ORDER", text, "stations", place, "x")
            sound = False
    if not sound:
        return
    front, back = body.stations[0].x, body.stations[-1].x
    for former in body.formers:
        _check_along(former.x, front, back, report.at("former", former.key), "x")
    for word, parts in (("doubler", body.doublers), ("opening", body.openings)):
        for part in parts:
            _check_range(part.start, part.end, front, back, report.at(word, part.key))
    for opening in body.openings:
        _check_across(opening, body, report.at("opening", opening.key))


def check_slab(body: SlabBody, report: Report) -> None:
    """Say what does not fit in one slab body or pylon."""
    if crosses_itself(body.outline):
        text = "The outline crosses or touches itself; give its corners in order round the piece."
        closed = body.outline[0] == body.outline[-1]
        hint = "leave out the last point: it repeats the first" if closed else ""
        report.say("OUTLINE-CROSSES", text, "outline", hint=hint)
        return
    if is_flat(body.outline):
        report.say("OUTLINE-CROSSES", "The outline encloses no area.", "outline")
        return
    for place, hole in enumerate(body.openings):
        if crosses_itself(hole) or is_flat(hole):
            text = "The cut-out crosses or touches itself; give its corners in order round it."
            report.say("OUTLINE-CROSSES", text, "openings", place)
        elif not encloses(body.outline, hole):
            text = "The cut-out must lie inside the outline, clear of its edge."
            report.say("BODY-OUTSIDE", text, "openings", place)


def _check_along(x: float, front: float, back: float, report: Report, key: str) -> bool:
    if front - _CLOSE <= x <= back + _CLOSE:
        return True
    text = (
        f"This must lie on the body, which runs from {report.length(front)} to "
        f"{report.length(back)}."
    )
    report.say("BODY-OUTSIDE", text, key)
    return False


def _check_range(start: float, end: float, front: float, back: float, report: Report) -> None:
    inside = [
        _check_along(place, front, back, report, key)
        for key, place in (("from", start), ("to", end))
    ]
    if all(inside) and start >= end:
        report.say("RANGE-ORDER", "It must start ahead of where it ends.", "from")


def _check_across(opening: Opening, body: BoxBody, report: Report) -> None:
    if opening.low >= opening.high:
        report.say("RANGE-ORDER", "low must lie below high.", "low")
        return
    places = [opening.start, opening.end]
    places += [s.x for s in body.stations if opening.start < s.x < opening.end]
    spans = [_across(body.stations, x, opening.face, body.y) for x in places]
    low, high = max(span[0] for span in spans), min(span[1] for span in spans)
    for key, value in (("low", opening.low), ("high", opening.high)):
        if not low - _CLOSE <= value <= high + _CLOSE:
            text = (
                "This must lie on the face, which along this opening runs from "
                f"{report.length(low)} to {report.length(high)}."
            )
            report.say("BODY-OUTSIDE", text, key)


def _across(
    stations: Sequence[BoxStation], x: float, face: BoxFace, middle: float
) -> tuple[float, float]:
    """Lower and upper end of a face at one place, straight between stations. [m]"""
    for before, after in pairwise(stations):
        if x <= after.x or after is stations[-1]:
            share = min(max((x - before.x) / (after.x - before.x), 0.0), 1.0)
            break
    else:  # a box has two stations or more
        raise ValueError("a box body has two stations or more")
    if face is BoxFace.SIDES:
        return (
            before.bottom + share * (after.bottom - before.bottom),
            before.top + share * (after.top - before.top),
        )
    half = 0.5 * (before.width + share * (after.width - before.width))
    return middle - half, middle + half
