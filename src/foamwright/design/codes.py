"""The stable codes of everything that can be wrong with a design file.

docs/design-file.md lists them for makers; a test compares the two and asks for one test
per code. A code is never renamed or given another meaning.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

#: What each code means, in one line.
CODES: Mapping[str, str] = MappingProxyType(
    {
        # the file as a whole
        "FILE-MISSING": "There is no file of that name.",
        "FILE-UNREADABLE": "It is a folder, a device, or may not be read.",
        "FILE-TOO-LARGE": "It is far larger than any design file.",
        "FILE-EMPTY": "Nothing stands in it.",
        "FILE-ENCODING": "It is not plain UTF-8 text without a byte-order mark.",
        "TOML-SYNTAX": "A line is not TOML.",
        "TOML-TOO-DEEP": "Brackets or dotted names are nested too deeply.",
        "FORMAT-UNKNOWN": "This program does not read that format number.",
        "TOO-MANY": "More of one thing than an aeroplane has.",
        "PROBLEMS-CUT": "There are more problems than are listed.",
        # keys and names
        "KEY-UNKNOWN": "No such key exists here.",
        "KEY-MISSING": "A key that must be given is not there.",
        "KEY-CLASH": "Two keys that exclude each other, or a key out of place beside another.",
        "NAME-ODD": "A name is not made of letters, digits, spaces, - and _ alone.",
        "NAME-TWICE": "The same name is used twice where names must differ.",
        # values
        "VALUE-TYPE": "A number, text, list or table stands where another is wanted.",
        "VALUE-CHOICE": "It is not one of the words allowed here.",
        "VALUE-TOO-SMALL": "The number is below what makes sense.",
        "VALUE-TOO-LARGE": "The number is above what makes sense.",
        "NUMBER-UNREADABLE": "The text is not one number with one unit.",
        "NUMBER-COMMA": "Decimals take a point, not a comma.",
        "NUMBER-NOT-FINITE": "Infinity and “not a number” are of no use.",
        "UNIT-UNKNOWN": "There is no such unit here.",
        "UNIT-WRONG-KIND": "The unit belongs to another kind of quantity.",
        "UNIT-MISSING": "A bare number does not say its unit here.",
        "TEXT-ODD": "The text is empty, far too long, or holds characters that cannot be printed.",
        "LIST-LENGTH": "The list has too few or too many members.",
        "RANGE-ORDER": "The start of a range does not lie before its end.",
        # references
        "CATALOGUE-UNKNOWN": "The catalogue has no entry of that name.",
        "CATALOGUE-FILE": "The catalogue file that the design names cannot be used.",
        "STOCK-UNKNOWN": "No stock of that name is declared, or it is of another kind.",
        "PART-UNKNOWN": "No propeller, controller, pack, panel or control of that name.",
        # surfaces
        "WING-MISSING": "No surface has the role wing.",
        "PANEL-MISSING": "A surface has no panels.",
        "MIRROR-MISSING": "Nothing says whether a wing or tail is drawn for both sides.",
        "SURFACES-MEET": "Two surfaces lie in the same place.",
        "SPAN-TOO-LARGE": "The whole span is more than a model aeroplane has.",
        "SECTION-MISMATCH": "Root and tip section of a panel cannot be joined.",
        "SECTION-DEPTH": "A folded section has no room between its skins.",
        "CREASE-ORDER": "Creases do not follow each other from nose to trailing edge.",
        "CREASE-MIXED": "Some creases are given by rise and some by angle.",
        "CREASE-FOLD": "The fold angles do not bring the sheet back to its chord line.",
        "LAYER-ORDER": "A layer ends before it starts.",
        "COORDINATES-ODD": "Section coordinates do not run round the section as they should.",
        "POLAR-FILE": "The file with measured polars cannot be used.",
        "COORDINATES-FILE": "The file with section coordinates cannot be used.",
        "CONTROL-OUTSIDE": "A control does not lie on its panel.",
        "CONTROL-OVERLAP": "Two controls take the same part of a panel.",
        "CONTROL-TOO-DEEP": "A control is as deep as its panel there.",
        "CUT-OUTSIDE": "A cut line does not lie on its panel.",
        # bodies
        "STATION-ORDER": "Stations of a box body do not follow each other along x.",
        "STATION-FLAT": "A station's top does not lie above its bottom.",
        "OUTLINE-CROSSES": "An outline crosses or touches itself.",
        "BODY-OUTSIDE": "A former, doubler or opening does not lie on its body.",
        "SHAPE-IMPOSSIBLE": "A part cannot be made from its sheet or rod as drawn.",
        # power and masses
        "PACK-TOO-BIG": "A pack does not fit its tray.",
        "PACK-OUTSIDE": "A pack lies beyond the ends of its tray.",
        "TILT-OUTSIDE": "A tilt lies beyond what its mount can be set to.",
        "ROD-BORE": "The bore of a rod is as wide as the rod.",
        "WEIGHT-ODD": "Weight and thickness together are no known material.",
        "MASS-TOO-LARGE": "The given masses add up to more than a model aeroplane may weigh.",
        # variants and changes
        "PATH-UNKNOWN": "A change names a path that is not in the file.",
        "VARIANT-NAME": "A variant has the name of the design as drawn.",
        "VARIANT-UNKNOWN": "A variant starts from one that is not there.",
        "VARIANT-LOOP": "Variants start from each other in a circle.",
        "VARIANT-FIXED": "A variant changes what holds for the whole file.",
        "CHANGE-REFUSED": "A change cannot be written into the file.",
    }
)
