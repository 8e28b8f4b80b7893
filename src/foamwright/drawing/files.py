"""Write a plan as files: all of them or none, and never over another without being told to."""

from __future__ import annotations

from pathlib import Path

from foamwright.airframe import Airframe
from foamwright.assess import Assessment
from foamwright.balance.model import Balance, BalanceSpan
from foamwright.drawing.dxf import dxf_text
from foamwright.drawing.glb import write_glb
from foamwright.drawing.lettering import has_letters
from foamwright.drawing.paper import PAPERS
from foamwright.drawing.part import MM
from foamwright.drawing.pdf import page_of, pdf_bytes
from foamwright.drawing.plan import plan_drawing, plan_pages
from foamwright.drawing.sections import PlanWords
from foamwright.drawing.svg import svg_text
from foamwright.drawing.threeview import three_view
from foamwright.errors import FoamwrightError
from foamwright.files import write_atomically
from foamwright.findings import Finding
from foamwright.flat import FlatSet, flatten
from foamwright.progress import Progress, no_progress

PAGES = ("A4", "Letter")  # papers that home printers take


def write_plan(
    assessment: Assessment,
    folder: Path,
    *,
    force: bool = False,
    progress: Progress = no_progress,
) -> tuple[Path, ...]:
    """Write the plan of one assessed variant.

    Parameters
    ----------
    assessment : Assessment
        The variant.
    folder : Path
        Where the files go; made if it is not there.
    force : bool
        Whether files of the same names are overwritten.
    progress : callable
        Told what is being done.

    Returns
    -------
    tuple of Path
        The files written.
    """
    airframe, balance = assessment.airframe, assessment.balance
    progress("unrolling the parts")
    contents = plan_contents(
        airframe,
        flat=flatten(airframe, balance, span=assessment.span),
        balance=balance,
        balance_span=assessment.span,
        neutral_point=assessment.aero.neutral_point,
        words=plan_words(
            airframe,
            findings=assessment.findings,
            balance=balance,
            balance_span=assessment.span,
        ),
        progress=progress,
    )
    return write_files(folder, contents, force=force)


def plan_words(
    airframe: Airframe,
    *,
    findings: tuple[Finding, ...] = (),
    balance: Balance | None = None,
    balance_span: BalanceSpan | None = None,
) -> PlanWords:
    """Return what a plan says: the file's licence, notes and stock, and where it balances."""
    design = airframe.design
    notes = design.marks.notes
    told = balance_span is not None and design.marks.balance_span and not balance_span.is_empty
    if balance is not None and balance_span is not None and told:
        notes = (*notes, _balance_note(airframe, balance, balance_span))
    return PlanWords(
        licence=design.marks.licence,
        notes=notes,
        findings=findings,
        stock_words={sheet.key: sheet.says for sheet in design.stock.sheets},
    )


def _balance_note(airframe: Airframe, balance: Balance, span: BalanceSpan) -> str:
    """Say where it balances, in words: a wing that is not drawn flat carries no marks."""
    key = airframe.reference.surface
    wing = next(shape for shape in airframe.surfaces if shape.key == key)
    root = float(wing.panels[0].root.leading_edge[0])
    front, back, point = (
        round(MM * (x - root)) for x in (span.forward, span.aft, balance.point[0])
    )
    return (
        f"Balance it between {front} and {back} mm behind the root leading edge of the {key}, "
        f"ready to fly; designed for {point} mm."
    )


def missing_letters(airframe: Airframe) -> str:
    """Return the letters of a design that the plan's own font lacks: they print as boxes."""
    design = airframe.design
    parts = (piece.title for piece in airframe.pieces)
    text = "".join((design.name, design.variant, design.marks.licence, *design.marks.notes, *parts))
    return "".join(sorted({sign for sign in text if not (sign.isspace() or has_letters(sign))}))


def plan_contents(
    airframe: Airframe,
    *,
    flat: FlatSet,
    balance: Balance | None = None,
    balance_span: BalanceSpan | None = None,
    neutral_point: float | None = None,
    words: PlanWords | None = None,
    progress: Progress = no_progress,
) -> dict[str, bytes]:
    """Return the files of a plan by name: large plan, pages, cutter files, three-view, model.

    Parameters
    ----------
    airframe : Airframe
        The shape of one variant. [m]
    flat : FlatSet
        Its flat parts. [m]
    balance, balance_span, neutral_point : optional
        For the three-view; what is not given is not drawn. [m]
    words : PlanWords, optional
        What the plan says; by default what the design file says.
    progress : callable
        Told what is being done.
    """
    words = words or plan_words(airframe)
    contents: dict[str, bytes] = {}
    if flat.parts:
        progress("laying out the large plan")
        plan = plan_drawing(flat, words=words)
        contents["plan-big.pdf"] = pdf_bytes([page_of(plan)], title=plan.title)
        contents["plan.svg"] = svg_text(plan).encode("utf-8")
        progress("writing the cutter file")
        contents["plan.dxf"] = dxf_text(plan).encode("ascii")
        for name in PAGES:
            progress(f"laying out pages for {name}")
            contents[f"plan-{name.lower()}.pdf"] = plan_pages(
                flat, paper=PAPERS[name], words=words
            ).pdf()
    progress("drawing the three-view")
    view = three_view(
        airframe,
        balance=balance,
        balance_span=balance_span,
        neutral_point=neutral_point,
        words=words,
    )
    contents["three-view.pdf"] = pdf_bytes([page_of(view)], title=view.title)
    contents["three-view.svg"] = svg_text(view, paper="#fdfbf6").encode("utf-8")
    progress("writing the model in space")
    contents["model.glb"] = write_glb(airframe)
    return contents


def write_files(
    folder: Path, contents: dict[str, bytes], *, force: bool = False
) -> tuple[Path, ...]:
    """Write files into a folder; refuse before the first one if any is there already.

    Parameters
    ----------
    folder : Path
        Where they go; made if it is not there.
    contents : dict
        Contents by file name.
    force : bool
        Whether files of the same names are overwritten.
    """
    paths = tuple(folder / name for name in contents)
    there = [path.name for path in paths if path.exists()]
    if there and not force:
        raise FoamwrightError(
            f"{folder} already holds {', '.join(there)}; nothing was written. "
            "Choose another folder, or overwrite them with --force."
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FoamwrightError(f"cannot make {folder}: {error.strerror or error}") from error
    for path, content in zip(paths, contents.values(), strict=True):
        write_atomically(path, content)
    return paths
