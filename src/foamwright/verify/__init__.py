"""Published checks: cases written in the design file's words, run and laid beside the source."""

from foamwright.verify.formulas import FORMULAS
from foamwright.verify.measures import MEASURES
from foamwright.verify.model import Case, CaseResult, Check, Measure, Tally, Verdict
from foamwright.verify.reading import read_case_text, read_cases
from foamwright.verify.report import as_dictionary
from foamwright.verify.running import run_case, run_cases, tally

__all__ = [
    "FORMULAS",
    "MEASURES",
    "Case",
    "CaseResult",
    "Check",
    "Measure",
    "Tally",
    "Verdict",
    "as_dictionary",
    "read_case_text",
    "read_cases",
    "run_case",
    "run_cases",
    "tally",
]
