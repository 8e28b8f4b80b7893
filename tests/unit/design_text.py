"""A legal design file that uses every table, for the tests of the design room to break."""

from __future__ import annotations

from foamwright.design import DesignSet, read_design_text
from foamwright.errors import DesignFileError, Problem

LEGAL = """\
format = 1
name = "Turnstone"
summary = "Every table once."
lengths = "mm"
masses = "g"
as_drawn = "long tips"

[marks]
revision = "B"
notes = ["one", "two"]

[[brief]]
topic = "flyer"
says = "some practice"
rank = "must"

[[brief]]
topic = "flying mass"
at_most = "700 g"
rank = "must"

# ---- stock
[stock.sheet.board]
kind = "foam board"
thickness = 4.8
thickness_scatter = "3 %"
weight = 300
weight_scatter = 0.05
size = [762, 508]
count = 3
stiff = "length"
facing_thickness = 0.2
off_cuts = [{ size = [300, 200], count = 2 }]

[stock.sheet.ply]
from = "birch ply 3 mm"

[stock.tape.packing]
width = "48 mm"
weight = 44

[stock.glue.hot]
line_mass = 6.7

[stock.rod.spar]
diameter = 5
bore = 3
density = 1550

[stock.block.white]
density = "18 kg/m3"

# ---- surfaces
[surface.wing]
role = "wing"
at = [210, 0, 35]
incidence = 2
mirror = true
section = { kind = "creased", sheet = "board", creases = [{ at = "35 %", rise = "5 %" }] }
lines = [
  { use = "packing", along = "leading edge", runs = 2 },
  { use = "hot", along = "joints" },
]

[[surface.wing.panel]]
name = "inner"
length = 380
root_chord = 190

[[surface.wing.panel]]
name = "tip"
length = 220
tip_chord = 150
dihedral = 12
tip_twist = -2

[surface.wing.control.aileron]
panel = "tip"
from = "10 %"
to = 200
chord = [40, 30]
up = 18
down = 12
follows = { roll = 1.0 }

[surface.wing.control.flap]
panel = "inner"
from = 10
to = 150
chord = 40
up = 0
down = 30
follows = { flap = 1.0, roll = "20 %" }

[surface.wing.joint.plug]
panel = "tip"
kind = "plugged"
rod = "spar"
rod_length = 160

[surface.wing.cut_line.short]
panel = "tip"
at = "60 %"
says = "cut here"

[surface.tail]
role = "tailplane"
at = [760, 0, 40]
mirror = true

[[surface.tail.panel]]
name = "half"
length = 200
root_chord = 120
section = { kind = "folded", sheet = "board", spar_sheet = "ply", spar_at = 0.3, depth = 18, nose_height = 10 }

[[surface.tail.panel]]
name = "end"
length = 40
section = { kind = "stepped", sheet = "board", layers = [{ sheet = "board", start = 0, end = "45 %" }] }
tip_section = { kind = "stepped", sheet = "board", layers = [{ sheet = "board", start = 0, end = "30 %" }] }

[surface.fin]
role = "fin"
at = [780, 0, 40]

[[surface.fin.panel]]
name = "low"
length = 60
root_chord = 100
section = { kind = "curved", sheet = "board", camber = 0 }

[[surface.fin.panel]]
name = "high"
length = 60
section = { kind = "profiled", core = "white", coordinates = [[1, 0.001], [0.5, 0.06], [0.1, 0.05], [0, 0], [0.1, -0.02], [0.5, -0.02], [1, -0.001]] }

[surface.canard]
role = "canard"
at = [20, 0, 0]
mirror = true
section = { kind = "flat", sheet = "board" }

[[surface.canard.panel]]
name = "whole"
length = 90
root_chord = 70
sweep = 10

# ---- bodies
[body.hull]
kind = "box"
sheet = "board"
stations = [
  { x = 0, bottom = -20, top = 20, width = 50 },
  { x = 700, bottom = 10, top = 35, width = 40 },
]
closed = ["front"]

[body.hull.former.bay]
x = 180
sheet = "ply"
opening = "60 %"

[body.hull.doubler.nose]
face = "sides"
from = 20
to = 200

[body.hull.opening.hatch]
face = "top"
from = 60
to = 180
low = -18
high = 18
hatch = true

[body.pylon]
kind = "pylon"
sheet = "board"
layers = 2
outline = [[400, 40], [470, 40], [480, 130], [430, 130]]
openings = [[[440, 60], [450, 60], [450, 70]]]

[body.pod]
kind = "pod"
at = [50, 0, 0]
length = 120
width = 50
height = 50
mass = 14

[body.boom]
kind = "boom"
rod = "spar"
start = [300, 120, 0]
end = [800, 120, 10]
mirror = true

# ---- power
[power.motor.main]
from = "outrunner 250-450 g class"
at = [455, 0, 135]
mounting = "pusher"
tilt_up = -3
reach = 35
propeller = "five"
controller = "esc"
mount = { up = [-8, 8], up_step = 1, right = [-4, 4], right_step = 1 }

[power.propeller.five]
diameter = "5 in"
pitch = "4 in"
mass = 4

[power.controller.esc]
at = [330, 0, 0]
size = [40, 20, 8]
rating = "30 A"
mass = 25
pack = "main"

[power.pack.main]
cells = 3
capacity = 1300
rating = 30
mass = "110 g"
size = [75, 34, 22]
position = 120
tray = { front = 60, back = 190, width = 40, height = 34, floor = -15 }

# ---- the rest
[item.servo]
kind = "servo"
from = "servo 9 g"
mass = 13
at = [300, 250, 40]
mirror = true
moves = "surface.wing.control.aileron"

[pushrod.tail]
rod = "spar"
start = [300, 20, 10]
end = [720, 20, 20]

[gear.main]
kind = "wheel"
from = "foam wheel 50 mm"
at = [230, 110, -110]
mirror = true

[gear.leg]
kind = "wire"
rod = "spar"
points = [[230, 20, -20], [230, 105, -110]]

# ---- variants
[variant."short tips"]
says = "Plain tips."
set = { "surface.wing.panel.tip.length" = 210, "surface.wing.panel.tip.tip_chord" = 165 }
without = ["gear.main", "gear.leg"]

[variant."heavy board"]
like = "short tips"
set = { "stock.sheet.board.weight" = 480 }
"""  # noqa: E501 - inline tables of TOML take one line


def read(text: str = LEGAL, **changes: str) -> DesignSet:
    """Read a design from text."""
    return read_design_text(text, file="t.toml", **changes)


def edited(*edits: tuple[str, str], text: str = LEGAL) -> str:
    """Return the legal file with pieces replaced; each must stand there exactly once."""
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


def problems_of(text: str) -> tuple[Problem, ...]:
    """Return the problems of a text; none where it reads."""
    try:
        read(text)
    except DesignFileError as error:
        return error.problems
    return ()


def line_of(text: str, marker: str) -> int:
    """Return the line, counted from 1, of a marker that stands in one line only."""
    lines = [number for number, line in enumerate(text.split("\n"), 1) if marker in line]
    assert len(lines) == 1, f"{marker!r} stands in lines {lines}"
    return lines[0]
