"""Do the figures of a sheet make sense together?"""

from __future__ import annotations

from foamwright.design.model import SheetStock
from foamwright.design.trouble import Report

# Bare bead foam weighs 10 kg/m³ or more, glass laminate 1,900 (common practice, no source).
# Twice beyond either end it is the weight of a whole sheet, or another unit.
_LIGHTEST = 5.0  # kg/m³
_HEAVIEST = 4000.0  # kg/m³


def check_sheet(sheet: SheetStock, report: Report) -> None:
    """Say what does not fit in one sheet good."""
    density = sheet.weight.value / sheet.thickness.value
    if not _LIGHTEST <= density <= _HEAVIEST:
        text = (
            f"At this thickness the sheet would weigh {density:.3g} kg per cubic metre; bare foam "
            "weighs 10 or more, glass laminate 1900."
        )
        hint = "the weight is per square metre, not of a whole sheet"
        report.say("WEIGHT-ODD", text, "weight", hint=hint)
    if 2.0 * sheet.facing_thickness >= sheet.thickness.value:
        text = f"Two facings leave no core in {report.length(sheet.thickness.value)} of sheet."
        report.say("VALUE-TOO-LARGE", text, "facing_thickness")
