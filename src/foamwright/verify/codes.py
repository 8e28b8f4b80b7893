"""The stable codes of what can be wrong with a case file, beside those of the design file.

docs/verify.md lists them; a test compares the two and asks for one test per code.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

#: What each code means, in one line.
CODES: Mapping[str, str] = MappingProxyType(
    {
        "CASE-FOLDER": "There is no such folder, or no case file (*.toml) in it.",
        "CASE-MISSING": "The file holds no [case.NAME].",
        "CASE-TWICE": "Another file of the folder has a case of that name.",
        "CASE-SUBJECT": "A case is about nothing, or about several things at once.",
        "CASE-REFERENCE": "A reference measure is missing or out of place.",
        "EXPECT-MISSING": "A case expects nothing.",
        "EXPECT-BAND": "An expected value has no band, two bands, or limits that cross.",
        "EXPECT-LENGTHS": "Lists of states and expected values differ in length.",
        "MEASURE-UNKNOWN": "There is no measure of that name.",
        "MEASURE-SUBJECT": "That measure cannot be asked of what the case is about.",
        "MEASURE-PART": "The part that a measure speaks of is missing, unknown or out of place.",
        "STATE-UNKNOWN": "There is no state of that name.",
        "STATE-MISSING": "A measure needs a state that is not given.",
        "STATE-UNUSED": "A state is given that no measure of the case looks at.",
        "FORMULA-UNKNOWN": "There is no formula of that name.",
        "FORMULA-INPUT": "An input of a formula is missing or unknown.",
    }
)
