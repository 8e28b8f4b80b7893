"""Polars of sections as built, from theory and the record's figures."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foamwright.air.sections.attached import Attached, attached
from foamwright.air.sections.deep import deep_stall
from foamwright.air.sections.drag import attached_drag
from foamwright.air.sections.evidence import bands, fact, number
from foamwright.air.sections.grid import ALPHA, LOG_REYNOLDS, polar_grid
from foamwright.air.sections.made import section_shape
from foamwright.air.sections.polar import SectionPolar
from foamwright.air.sections.shape import Make, Nose, SectionShape, smooth
from foamwright.air.sections.thin import thin_aerofoil
from foamwright.design.model import Section, Stock

Array = NDArray[np.float64]

_STEPPED_NOTE = (
    "stepped section: no measured polar at low Reynolds numbers is known; lift from the faired "
    "mean line, drag from base drag, both with wide bands"
)
_FOLDED_NOTE = (
    "folded section: drag of the folded nose is bounded, not measured; the open underside is "
    "taken to fill with dead air at low incidence as a hollow sheet does"
)
_CREASED_NOTE = (
    "creased sheet: no measured polar at Re 3e4-3e5 is known; the crease itself is taken to cost "
    "nothing, as on a faceted section at Re 6e4-2.5e5 (W. Chen, L. P. Bernal, AIAA 2008-316)"
)
_SHEET_NOTE = (
    "thin sheet: largest lift, hollow underside and drag rest on one thin cambered section and on "
    "rounded readings of one plate wing"
)
_SQUARE_NOTE = "square nose: its drag is carried over from flat-ended bodies"


def section_polar(
    section: Section, *, chord: float, stock: Stock, nose: Nose = Nose.ROUND, name: str = ""
) -> SectionPolar:
    """Polar of a section as it is built.

    Parameters
    ----------
    section : Section
        How the section is made.
    chord : float
        Chord, which sets the thickness ratio of sheet. [m]
    stock : Stock
        Goods, for the thicknesses. [m]
    nose : Nose, optional
        How the nose of a sheet is finished.
    name : str, optional
        What to call it.

    Returns
    -------
    SectionPolar
        Coefficients at every incidence, Re 2e4 to 5e5. [-]
    """
    return shape_polar(section_shape(section, chord=chord, stock=stock, nose=nose), name=name)


def shape_polar(shape: SectionShape, *, name: str = "") -> SectionPolar:
    """Polar of a section from what the air sees of it.

    Parameters
    ----------
    shape : SectionShape
        In fractions of chord. [-]
    name : str, optional
        What to call it.

    Returns
    -------
    SectionPolar
        Coefficients at every incidence, Re 2e4 to 5e5. [-]
    """
    cl, cd, cm, share = general_nodes(shape)
    return SectionPolar(
        name=name or str(shape.make),
        shape=shape,
        thin=thin_aerofoil(shape.mean_line),
        grid=polar_grid(cl, cd, cm, share),
        bands=bands(shape.family),
        sources=_sources(shape),
        notes=_notes(shape),
    )


def general_nodes(shape: SectionShape) -> tuple[Array, Array, Array, Array]:
    """Lift, drag, moment and share of attached flow at every node of the table.

    Parameters
    ----------
    shape : SectionShape
        The section. [-]

    Returns
    -------
    tuple of ndarray, (15, 721)
        cl, cd, cm, share. [-]
    """
    alpha, log_re = ALPHA[None, :], LOG_REYNOLDS[:, None]
    front, front_cd, front_share = _attached_side(shape, alpha, log_re)
    back_shape = shape.reversed()
    turned = np.where(alpha >= 0.0, np.pi - alpha, -np.pi - alpha)
    back, back_cd, back_share = _attached_side(back_shape, turned, log_re)
    rub = front_cd.min(axis=-1, keepdims=True)
    worse = shape.sheetness + (1.0 - shape.sheetness) * number("deep.reverse_drag")
    # Tail first a profile's drag is a known multiple of its own; a sheet's is a sheet's.
    back_cd = back_cd * np.maximum(1.0, worse * rub / back_cd.min(axis=-1, keepdims=True))
    deep_cl, deep_cd, deep_cm = deep_stall(
        alpha,
        alpha0=front.alpha0,
        reverse_alpha0=back.alpha0,
        rub=rub,
        sheetness=shape.sheetness,
    )
    rest = 1.0 - front_share - back_share
    # Seen from the tail lift counts the other way and moments turn about the other quarter.
    back_cl, back_cm = -back.cl, -0.5 * back.cl - back.cm
    cl = front_share * front.cl + back_share * back_cl + rest * deep_cl
    cd = front_share * front_cd + back_share * back_cd + rest * deep_cd
    cm = front_share * front.cm + back_share * back_cm + rest * deep_cm
    return cl, cd, cm, front_share


def _attached_side(
    shape: SectionShape, alpha: Array, log_re: Array
) -> tuple[Attached, Array, Array]:
    """Attached loads, drag and share of one way through the air."""
    # Beyond a right angle nothing is attached; keep the formulas where they are defined.
    near = np.clip(alpha, -0.5 * np.pi, 0.5 * np.pi)
    loads = attached(shape, alpha=near, log_reynolds=log_re)
    drag = attached_drag(shape, loads, alpha=near, log_reynolds=log_re)
    width = np.radians(number("stall.width"))
    share = (1.0 - smooth((alpha - loads.stall) / width)) * (
        1.0 - smooth((loads.lower_stall - alpha) / width)
    )
    return loads, drag, share


def _sources(shape: SectionShape) -> tuple[str, ...]:
    keys = ["deep.a", "deep.centre"]
    if shape.sheetness < 1.0:
        keys += ["slope.base", "wake.share", "limit.profile", "drag.friction"]
    if shape.sheetness > 0.0:
        keys += ["limit.sheet", "sheet.pressure", "sheet.suction"]
    if shape.hollow > 0.0 or shape.filled_line is not None:
        keys.append("hollow.share")
    if shape.steps:
        keys += ["step.reattach", "step.suction"]
    if shape.nose is not Nose.ROUND:
        keys.append(f"nose.{shape.nose}")
    if shape.tail > 0.0 or shape.steps:
        keys.append("base.factor")
    thin = "thin-aerofoil theory (H. Glauert, 1926) on the mean line as built"
    return (thin, *dict.fromkeys(str(fact(key)) for key in keys))


def _notes(shape: SectionShape) -> tuple[str, ...]:
    notes: list[str] = []
    if shape.make is Make.STEPPED:
        notes.append(_STEPPED_NOTE)
    if shape.make is Make.FOLDED:
        notes.append(_FOLDED_NOTE)
    if shape.make is Make.CREASED:
        notes.append(_CREASED_NOTE)
    if shape.sheetness > 0.0:
        notes.append(_SHEET_NOTE)
    if shape.nose is Nose.SQUARE:
        notes.append(_SQUARE_NOTE)
    return tuple(notes)
