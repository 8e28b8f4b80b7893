"""Lifting surfaces: panels, controls, joints, cut lines, tape and glue."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from foamwright.design.model.sections import Face, Section
from foamwright.design.model.vectors import Vec3


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
