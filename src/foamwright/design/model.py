"""The design as frozen values in SI: what the maker intends, read from one design file.

Axes: x aft, y right, z up, from the design's own datum. Lengths in metres, masses in
kilograms, angles in radians. Every ``key`` is the name the maker gave in the file, so
``surface.wing`` in the file is the :class:`Surface` whose key is ``"wing"``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from foamwright.figures import Figure

Vec3 = tuple[float, float, float]
Point = tuple[float, float]  # (x, z) in a side view or a section, unless said otherwise


# ---------------------------------------------------------------- brief


class Rank(StrEnum):
    """How firmly a line of the brief is meant."""

    MUST = "must"
    WISH = "wish"


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefLine:
    """One line of the brief; a measured topic has limits, a spoken one has ``says``."""

    topic: str  # "flying mass", "flyer", "wind", ... (see design/schema for the list)
    rank: Rank
    says: str = ""
    at_least: float | None = None  # SI
    at_most: float | None = None  # SI
    note: str = ""


# ---------------------------------------------------------------- stock


class SheetKind(StrEnum):
    """What a sheet is made of."""

    FOAM_BOARD = "foam board"  # foam core between paper or film facings
    FOAM = "foam"  # bare foam sheet
    PLY = "ply"
    BALSA = "balsa"
    CARD = "card"


class StiffWay(StrEnum):
    """The stiff direction of a sheet, seen on the sheet as sold."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class OffCut:
    """A left-over rectangle that may be used first."""

    length: float  # m
    width: float  # m
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet good: foam board, bare foam, ply, balsa, card."""

    key: str
    kind: SheetKind
    says: str  # what to ask for in the shop, by property
    thickness: Figure  # m
    weight: Figure  # kg/m²
    length: float  # m
    width: float  # m
    count: int | None  # sheets at hand; None where the maker did not say
    stiff: StiffWay
    facing: str  # "paper", "film", "none"
    facing_thickness: float  # m, one facing
    off_cuts: tuple[OffCut, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeStock:
    """Tape, laid in lines."""

    key: str
    says: str
    width: float  # m
    weight: Figure  # kg/m², film and adhesive

    @property
    def line_mass(self) -> Figure:
        """Mass of one metre of tape. [kg/m]"""
        return Figure(
            value=self.weight.value * self.width,
            scatter=self.weight.scatter * self.width,
            source=self.weight.source,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueStock:
    """Glue, laid in beads."""

    key: str
    says: str
    line_mass: Figure  # kg/m of one bead


@dataclass(frozen=True, slots=True, kw_only=True)
class RodStock:
    """Rod, tube, wire or stick, used by length."""

    key: str
    says: str
    diameter: float  # m
    bore: float  # m, 0 for solid
    line_mass: Figure  # kg/m


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockStock:
    """Block foam for cut cores and carved pods, used by volume."""

    key: str
    says: str
    density: Figure  # kg/m³


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """All goods the design uses. Keys are unique over all five kinds."""

    sheets: tuple[SheetStock, ...] = ()
    tapes: tuple[TapeStock, ...] = ()
    glues: tuple[GlueStock, ...] = ()
    rods: tuple[RodStock, ...] = ()
    blocks: tuple[BlockStock, ...] = ()

    def sheet(self, key: str) -> SheetStock:
        """Return the sheet good of that key; KeyError where there is none."""
        return _by_key(self.sheets, key)

    def rod(self, key: str) -> RodStock:
        """Return the rod, tube or wire of that key; KeyError where there is none."""
        return _by_key(self.rods, key)

    def block(self, key: str) -> BlockStock:
        """Return the block foam of that key; KeyError where there is none."""
        return _by_key(self.blocks, key)

    def line(self, key: str) -> TapeStock | GlueStock:
        """Return the tape or glue of that key; KeyError where there is none."""
        goods: tuple[TapeStock | GlueStock, ...] = (*self.tapes, *self.glues)
        return _by_key(goods, key)


_Good = TypeVar("_Good", SheetStock, TapeStock | GlueStock, RodStock, BlockStock)


def _by_key(goods: tuple[_Good, ...], key: str) -> _Good:
    for good in goods:
        if good.key == key:
            return good
    raise KeyError(key)


# ---------------------------------------------------------------- sections


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatSection:
    """One flat sheet."""

    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CreasedSection:
    """One sheet with creases along the span."""

    sheet: str
    nodes: tuple[Point, ...]  # mid-sheet, fractions of chord, from (0, 0) to (1, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedSection:
    """One sheet folded round the nose over a spar: lower skin, nose, upper skin."""

    sheet: str
    spar_sheet: str
    spar_at: float  # fraction of chord
    depth: float  # m, outside depth at the spar, skins included
    nose_height: float  # m, outside height of the nose
    lower_to: float  # fraction of chord where the lower skin ends


class Face(StrEnum):
    """Upper or lower face of a surface."""

    UPPER = "upper"
    LOWER = "lower"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLayer:
    """A strip of sheet glued on a flat base; it starts and ends in a step."""

    sheet: str
    start: float  # fraction of chord
    end: float  # fraction of chord
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class SteppedSection:
    """A flat sheet with layers glued on."""

    sheet: str
    layers: tuple[StepLayer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvedSection:
    """One sheet bent to a smooth camber line."""

    sheet: str
    camber: float  # fraction of chord
    camber_at: float  # fraction of chord


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfiledSection:
    """A core cut to coordinates."""

    core: str  # key of a block stock
    coordinates: tuple[Point, ...]  # trailing edge, upper side, nose, lower side; closed by code


Section = (
    FlatSection | CreasedSection | FoldedSection | SteppedSection | CurvedSection | ProfiledSection
)


# ---------------------------------------------------------------- surfaces


class SurfaceRole(StrEnum):
    """What a lifting surface is for."""

    WING = "wing"
    TAILPLANE = "tailplane"
    FIN = "fin"
    V_TAIL = "v-tail"
    CANARD = "canard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One panel, right-hand side; panels follow each other from root to tip."""

    name: str
    length: float  # m, along the panel, not projected
    root_chord: float  # m
    tip_chord: float  # m
    sweep: float  # rad, of the leading edge in the panel's own plane, + aft
    dihedral: float  # rad, this panel's own angle to the horizontal, + tip up; 90 deg is a fin
    root_twist: float  # rad, added to the incidence, + nose up
    tip_twist: float  # rad, added to the incidence, + nose up (washout is negative)
    root_section: Section
    tip_section: Section  # same kind and node count as root_section


class HingeKind(StrEnum):
    """How a control is hung."""

    TAPE = "tape"
    SHEET = "sheet"  # the kept skin of the sheet itself
    FABRIC = "fabric"
    FILM_TABS = "film tabs"
    CUT_PAPER = "cut paper"


class Channel(StrEnum):
    """What the pilot asks for; a control follows one or more of them."""

    PITCH = "pitch"  # + stick back, nose up: trailing edge of a tail goes up
    ROLL = "roll"  # + right wing down
    YAW = "yaw"  # + nose right
    FLAP = "flap"  # + trailing edge down


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """Share of one channel that a control follows (1 = full throw)."""

    channel: Channel
    gain: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """A hinged part of one panel, cut out at its trailing edge."""

    key: str
    panel: str  # name of the panel it is cut from
    start: float  # fraction of the panel's length
    end: float  # fraction of the panel's length
    start_chord: float  # m, the control's own chord at its inboard end
    end_chord: float  # m
    hinge: HingeKind
    hinge_face: Face
    bevel: float  # rad
    gap: float  # m
    throw_up: float  # rad, largest, trailing edge up
    throw_down: float  # rad, largest, trailing edge down
    mixes: tuple[Mix, ...]


class JointKind(StrEnum):
    """How a panel meets the one inboard of it (or its mirror image)."""

    GLUED = "glued"  # bevelled edges, glued and taped
    FOLDED = "folded"  # one sheet, folded on its skin
    PLUGGED = "plugged"  # removable, on a tongue or rods


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """The joint at the root of a panel."""

    key: str
    panel: str
    kind: JointKind
    rod: str | None  # key of the rod stock that bridges it
    rod_length: float  # m, whole length, shared by both sides
    rod_at: float  # fraction of chord


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """A line at which a panel may be cut shorter, parallel to the chord."""

    key: str
    panel: str
    at: float  # fraction of the panel's length
    says: str


class Along(StrEnum):
    """Where tape or glue runs."""

    LEADING_EDGE = "leading edge"
    TRAILING_EDGE = "trailing edge"
    TIPS = "tips"
    JOINTS = "joints"  # root of every panel
    CREASES = "creases"  # creases and nose folds
    HINGES = "hinges"
    SPAR = "spar"
    LAYERS = "layers"  # both long edges of every glued-on layer
    EDGES = "edges"  # long corners of a box body, outline of a slab
    FORMERS = "formers"  # outline of every former
    DOUBLERS = "doublers"


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUse:
    """Tape or glue laid along something."""

    use: str  # key of a tape or glue
    along: Along
    runs: int  # how many times over


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A lifting surface."""

    key: str
    role: SurfaceRole
    at: Vec3  # m, leading edge at the root, mid-sheet
    incidence: float  # rad, + nose up, to the x axis
    mirrored: bool  # drawn for the right, repeated on the left
    panels: tuple[Panel, ...]
    controls: tuple[Control, ...] = ()
    joints: tuple[Joint, ...] = ()
    cut_lines: tuple[CutLine, ...] = ()
    lines: tuple[LineUse, ...] = ()


# ---------------------------------------------------------------- bodies


class BoxFace(StrEnum):
    """A face of a box body."""

    SIDES = "sides"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxStation:
    """Outside measures of a box body at one place along it."""

    x: float  # m
    bottom: float  # m, z of the outside bottom
    top: float  # m, z of the outside top
    width: float  # m, outside


@dataclass(frozen=True, slots=True, kw_only=True)
class Former:
    """A cross piece inside a box body, square to the x axis."""

    key: str
    x: float  # m
    sheet: str
    opening: float  # fraction of its area cut out, 0 to below 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubler:
    """A second layer inside a face of a box body."""

    key: str
    face: BoxFace
    start: float  # m, x
    end: float  # m, x
    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A rectangle cut out of a face; a hatch keeps its cover."""

    key: str
    face: BoxFace
    start: float  # m, x
    end: float  # m, x
    low: float  # m, across the face: z on sides, y on top and bottom
    high: float  # m
    is_hatch: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxBody:
    """A box fuselage from a side outline and plan widths; y = 0 is its middle plane."""

    key: str
    sheet: str
    y: float  # m, middle plane
    mirrored: bool
    stations: tuple[BoxStation, ...]
    ends: tuple[bool, bool]  # front closed, back closed
    formers: tuple[Former, ...] = ()
    doublers: tuple[Doubler, ...] = ()
    openings: tuple[Opening, ...] = ()
    lines: tuple[LineUse, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabBody:
    """An upright sheet body or pylon: outline in side view, one or more layers."""

    key: str
    is_pylon: bool
    sheet: str
    layers: int
    y: float  # m, middle plane
    mirrored: bool
    outline: tuple[Point, ...]  # m, (x, z), simple polygon
    openings: tuple[tuple[Point, ...], ...] = ()  # m, simple polygons inside the outline
    lines: tuple[LineUse, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PodBody:
    """A rounded pod: an ellipsoid, carved from block or bought with a given mass."""

    key: str
    at: Vec3  # m, its middle
    length: float  # m
    width: float  # m
    height: float  # m
    mirrored: bool
    block: str | None  # key of the block stock, or None where mass is given
    mass: Figure | None  # kg


@dataclass(frozen=True, slots=True, kw_only=True)
class BoomBody:
    """A rod or tube that carries a tail."""

    key: str
    rod: str
    start: Vec3  # m
    end: Vec3  # m
    mirrored: bool


Body = BoxBody | SlabBody | PodBody | BoomBody


# ---------------------------------------------------------------- power


class Mounting(StrEnum):
    """Which way the propeller works."""

    TRACTOR = "tractor"
    PUSHER = "pusher"


class Rotation(StrEnum):
    """Sense of rotation of the propeller, seen from behind in flight direction."""

    NORMAL = "normal"  # clockwise from behind for a tractor
    REVERSE = "reverse"


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltRange:
    """Adjustment of the thrust tilt about one axis."""

    low: float  # rad
    high: float  # rad
    step: float  # rad


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """The adjustable mount: pivot to disc, ranges, lock pegs."""

    up: TiltRange | None
    right: TiltRange | None
    peg_diameter: float | None  # m
    peg_radius: float | None  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Propeller:
    """A propeller as the maker knows it."""

    key: str
    diameter: float  # m
    pitch: float  # m
    blades: int
    style: str  # class of blade, such as "sport", "thin electric", "slow flyer"
    blade_width: float | None  # m, largest
    rotation: Rotation
    mass: Figure  # kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor:
    """A motor with its place, its tilt and what hangs on it."""

    key: str
    at: Vec3  # m, pivot of the mount, on the thrust line
    mounting: Mounting
    tilt_up: float  # rad, thrust vector above the forward x axis
    tilt_right: float  # rad, thrust vector to the right of it
    reach: float  # m, pivot to propeller disc along the shaft, away from the motor
    diameter: float  # m
    length: float  # m
    mass: Figure  # kg, with mount and screws
    speed_constant: float | None  # rad/s per volt
    resistance: float | None  # ohm
    idle_current: float | None  # A
    max_current: float | None  # A
    propeller: str | None
    controller: str | None
    mount: Mount


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """A speed controller."""

    key: str
    at: Vec3  # m
    size: Vec3  # m, along x, y, z
    rating: float  # A
    mass: Figure  # kg
    pack: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The space a pack can slide in; the pack's long side lies along x."""

    front: float  # m, x of the front stop
    back: float  # m, x of the back stop
    width: float  # m
    height: float  # m
    floor: float  # m, z
    y: float  # m, middle


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A pack of cells and where it lies."""

    key: str
    cells: int  # in series
    capacity: float  # coulomb
    rating: float  # discharge rating, multiples of capacity per hour
    mass: Figure  # kg
    size: Vec3  # m, along x, y, z as it lies
    position: float  # m, x of its middle
    tray: Tray

    @property
    def travel(self) -> tuple[float, float]:
        """Foremost and aftmost place of the pack's middle in its tray. [m]"""
        half = 0.5 * self.size[0]
        return self.tray.front + half, self.tray.back - half

    @property
    def middle(self) -> Vec3:
        """Middle of the pack where the design puts it. [m]"""
        return self.position, self.tray.y, self.tray.floor + 0.5 * self.size[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """Everything that turns the propellers."""

    motors: tuple[Motor, ...] = ()
    propellers: tuple[Propeller, ...] = ()
    controllers: tuple[Controller, ...] = ()
    packs: tuple[Pack, ...] = ()

    def propeller(self, key: str) -> Propeller:
        """Return the propeller of that key; KeyError where there is none."""
        for propeller in self.propellers:
            if propeller.key == key:
                return propeller
        raise KeyError(key)


# ---------------------------------------------------------------- items and gear


class ItemKind(StrEnum):
    """What a placed item is."""

    SERVO = "servo"
    RECEIVER = "receiver"
    LINKAGE = "linkage"
    BALLAST = "ballast"
    CAMERA = "camera"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A placed thing with a mass."""

    key: str
    kind: ItemKind
    at: Vec3  # m, its middle
    size: Vec3  # m, along x, y, z
    mass: Figure  # kg, each
    mirrored: bool
    moves: str | None  # path of the control a servo moves, such as "surface.wing.control.aileron"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pushrod:
    """A straight linkage rod."""

    key: str
    rod: str
    start: Vec3  # m
    end: Vec3  # m
    mirrored: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """A wheel."""

    key: str
    at: Vec3  # m, its middle
    diameter: float  # m
    width: float  # m
    mass: Figure  # kg, each
    mirrored: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GearWire:
    """A bent wire leg or a skid: rod stock along a polyline."""

    key: str
    is_skid: bool
    rod: str
    points: tuple[Vec3, ...]  # m
    mirrored: bool


Gear = Wheel | GearWire


# ---------------------------------------------------------------- the whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the plan must carry."""

    revision: str
    licence: str
    notes: tuple[str, ...]
    balance_span: bool  # balance marks on the wing
    thrust_line: bool
    cut_lines: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One variant of a design: all intent, nothing computed."""

    name: str
    variant: str
    summary: str
    brief: tuple[BriefLine, ...]
    stock: Stock
    surfaces: tuple[Surface, ...]
    bodies: tuple[Body, ...]
    power: Power
    items: tuple[Item, ...]
    pushrods: tuple[Pushrod, ...]
    gear: tuple[Gear, ...]
    marks: Marks


@dataclass(frozen=True, slots=True, kw_only=True)
class FileUnits:
    """Units of bare numbers in the file."""

    lengths: str  # "mm", "cm", "m", "in", ...
    masses: str  # "g", "kg", "oz", ...


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignSet:
    """A design file read: the same aeroplane in each variant it is flown in."""

    file: str
    variants: tuple[Design, ...]  # the first is the design as drawn
    units: FileUnits

    @property
    def name(self) -> str:
        """Name of the aeroplane."""
        return self.variants[0].name

    def variant(self, name: str) -> Design:
        """Return the variant of that name; KeyError where there is none."""
        for design in self.variants:
            if design.variant == name:
                return design
        raise KeyError(name)
