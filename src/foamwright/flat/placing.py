"""Which marks a part carries: balance, cut lines, rods, layers, formers."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, PanelShape, Piece, StationShape
from foamwright.balance import BalanceSpan
from foamwright.design.model import BoxBody, SteppedSection, Surface
from foamwright.flat.lay import Laid
from foamwright.flat.marks import Draft, across_draft, along_draft, station_draft
from foamwright.flat.unfold import Unfolded
from foamwright.flat.views import Lies, body_of, designed_surface, panel_of

Array = NDArray[np.float64]


def drafts_for(
    airframe: Airframe, piece: Piece, laid: Laid, *, point: float, span: BalanceSpan | None
) -> tuple[Draft, ...]:
    """Choose the marks of one part, not yet clipped to it.

    Parameters
    ----------
    airframe : Airframe
        The shape.
    piece : Piece
        The part.
    laid : Laid
        The part in the plane. [m]
    point : float
        Balance point along x. [m]
    span : BalanceSpan or None
        Allowed balance points. [m]

    Returns
    -------
    tuple of Draft
        Lines with their text.
    """
    panel = panel_of(airframe, piece)
    if panel is None:
        return _body_drafts(airframe, piece, laid)
    if laid.view.lies is not Lies.ALONG_SPAN or laid.rulings is None:
        return ()
    surface = designed_surface(airframe, piece)
    is_skin = piece.key.endswith(".skin")
    drafts: list[Draft] = []
    if is_skin:
        if surface.key == airframe.reference.surface and airframe.design.marks.balance_span:
            drafts += _balance_drafts(laid, point, span)
        drafts += _rod_drafts(surface, panel, laid.rulings)
        drafts += _layer_drafts(surface, panel, laid.rulings)
    if airframe.design.marks.cut_lines:
        drafts += _cut_drafts(surface, panel, piece, laid.rulings)
    return tuple(drafts)


def _balance_drafts(laid: Laid, point: float, span: BalanceSpan | None) -> list[Draft]:
    levels = [(point, "balance point")]
    if span is not None and not span.is_empty:
        levels += [
            (span.forward, "balance span, forward limit"),
            (span.aft, "balance span, aft limit"),
        ]
    drafts = (station_draft(laid.facets, laid.x, level, text) for level, text in levels)
    return [draft for draft in drafts if draft is not None]


def _cut_drafts(
    surface: Surface, panel: PanelShape, piece: Piece, rulings: Unfolded
) -> list[Draft]:
    start, end = 0.0, 1.0
    if ".control." in piece.path:
        key = piece.path.split(".")[-1]
        control = next(control for control in surface.controls if control.key == key)
        start, end = control.start, control.end
    return [
        across_draft(rulings, (line.at - start) / (end - start), f"cut line {line.key}")
        for line in surface.cut_lines
        if line.panel == panel.name and start < line.at < end
    ]


def _rod_drafts(surface: Surface, panel: PanelShape, rulings: Unfolded) -> list[Draft]:
    """Where the rod of a joint lies on the panels it bridges, to its very end."""
    names = [one.name for one in surface.panels]
    number = names.index(panel.name)
    outboard = names[number + 1] if number + 1 < len(names) else None
    length = surface.panels[number].length
    drafts: list[Draft] = []
    for joint in surface.joints:
        if joint.rod is None or joint.panel not in (panel.name, outboard):
            continue
        reach = min(0.5 * joint.rod_length / length, 1.0)
        span = (0.0, reach) if joint.panel == panel.name else (1.0 - reach, 1.0)
        text = f"rod {joint.rod}, joint {joint.key}"
        drafts.append(_chordwise(rulings, panel, joint.rod_at, text, span=span))
    return drafts


def _chordwise(
    rulings: Unfolded,
    panel: PanelShape,
    at: float,
    text: str,
    *,
    span: tuple[float, float] = (0.0, 1.0),
) -> Draft:
    """Line along the span at one fraction of the chord, on a creased sheet too."""
    start = _at_chord(rulings.first, panel.root, at)
    end = _at_chord(rulings.second, panel.tip, at)
    line = np.stack([start + share * (end - start) for share in span])
    return Draft(segments=line[None], text=text)


def _at_chord(nodes: Array, station: StationShape, at: float) -> Array:
    """Place on a sheet's end at a fraction of the chord, on the facet that it falls on."""
    line = station.mean_line[:, 0]
    places = line if len(line) == len(nodes) else np.linspace(0.0, 1.0, len(nodes))
    return np.array([np.interp(at, places, nodes[:, axis]) for axis in (0, 1)])


def _layer_drafts(surface: Surface, panel: PanelShape, rulings: Unfolded) -> list[Draft]:
    """Both long edges of every layer that is glued straight onto the base."""
    section = next(one for one in surface.panels if one.name == panel.name)
    root, tip = section.root_section, section.tip_section
    if not isinstance(root, SteppedSection) or not isinstance(tip, SteppedSection):
        return []
    drafts: list[Draft] = []
    for number, (inner, outer) in enumerate(zip(root.layers, tip.layers, strict=True), 1):
        for side, start, end in (
            ("front", inner.start, outer.start),
            ("back", inner.end, outer.end),
        ):
            if 0.0 < start < 1.0:
                text = f"layer {number}, {side}, {inner.face.value} face"
                drafts.append(along_draft(rulings, start, end, text))
    return drafts


def _body_drafts(airframe: Airframe, piece: Piece, laid: Laid) -> tuple[Draft, ...]:
    body = body_of(airframe, piece)
    if not isinstance(body, BoxBody) or laid.view.lies is not Lies.ALONG_BODY:
        return ()
    if piece.path != f"body.{body.key}":
        return ()  # doublers and hatch covers lie between formers or cross them
    drafts = (
        station_draft(laid.facets, laid.x, former.x, f"former {former.key}")
        for former in body.formers
    )
    return tuple(draft for draft in drafts if draft is not None)
