"""Lifting surfaces: panels, controls, joints, cut lines, tape and glue."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from foamwright.design.checks.surfaces import check_surface
from foamwright.design.model import Along as LineAlong
from foamwright.design.model import (
    Channel,
    Control,
    CutLine,
    Face,
    HingeKind,
    Joint,
    JointKind,
    LineUse,
    Mix,
    Panel,
    Section,
    Surface,
    SurfaceRole,
)
from foamwright.design.schema.base import Reading, Table
from foamwright.design.schema.fields import Choice, Whole
from foamwright.design.schema.kinds import (
    Along,
    At,
    Bevel,
    Chord,
    ControlChord,
    Dihedral,
    Flag,
    Fraction,
    Gain,
    Gap,
    Key,
    MaybeLine,
    PanelLength,
    RodLength,
    Sweep,
    Throw,
    Twist,
)
from foamwright.design.schema.sections import SectionIn
from foamwright.design.trouble import Report, listed, meant

_FIN_STANDS = 0.5 * math.pi


class LineIn(Table):
    """Tape or glue laid along something."""

    use: Key = Field(description="a tape or a glue of the stock")
    along: Annotated[LineAlong, Choice(LineAlong)] = Field(description="where it runs")
    runs: Annotated[int, Whole(1, 20)] = Field(1, description="how many times over")

    def build(self, report: Report) -> LineUse:
        """Return the line."""
        report.use("tape or glue", self.use, "use")
        return LineUse(use=self.use, along=self.along, runs=self.runs)


class PanelIn(Table):
    """One panel of a surface."""

    name: Key = Field(description="its name, used by controls, joints and variants")
    length: PanelLength = Field(description="along the panel, not projected")
    root_chord: Chord | None = Field(
        None, description="chord at its root; the tip chord of the panel before it"
    )
    tip_chord: Chord | None = Field(None, description="chord at its tip; its root chord")
    sweep: Sweep = Field(0.0, description="of the leading edge in the panel's own plane, + aft")
    dihedral: Dihedral | None = Field(
        None, description="its own angle to the horizontal, + tip up; 0, in a fin 90"
    )
    root_twist: Twist | None = Field(
        None, description="added to the incidence, + nose up; the tip twist of the panel before it"
    )
    tip_twist: Twist | None = Field(
        None, description="the same at its tip (washout is negative); its root twist"
    )
    section: SectionIn | None = Field(None, description="its own section; that of the surface")
    tip_section: SectionIn | None = Field(None, description="section at its tip; that at its root")


class ControlIn(Table):
    """A hinged part of one panel."""

    panel: Key = Field(description="the panel it is cut from")
    start: Along = Field(alias="from", description="its inboard end, along the panel")
    end: Along = Field(alias="to", description="its outboard end, along the panel")
    chord: ControlChord = Field(description="its own chord, or [at from, at to]")
    hinge: Annotated[HingeKind, Choice(HingeKind)] = Field(
        HingeKind.TAPE, description="how it is hung"
    )
    hinge_face: Annotated[Face, Choice(Face)] = Field(
        Face.UPPER, description="the face its hinge is on"
    )
    bevel: Bevel = Field(math.radians(45.0), description="of its front edge")
    gap: Gap = Field(0.0, description="between it and the panel")
    up: Throw = Field(description="largest throw, trailing edge up")
    down: Throw = Field(description="largest throw, trailing edge down")
    follows: dict[Annotated[Channel, Choice(Channel)], Gain] = Field(
        min_length=1, description="how much of each channel it follows: pitch, roll, yaw, flap"
    )

    def build(self, key: str, *, panel: Panel) -> Control:
        """Return the control, its ends as fractions of its panel."""
        return Control(
            key=key,
            panel=self.panel,
            start=self.start.share_of(panel.length),
            end=self.end.share_of(panel.length),
            start_chord=self.chord[0],
            end_chord=self.chord[1],
            hinge=self.hinge,
            hinge_face=self.hinge_face,
            bevel=self.bevel,
            gap=self.gap,
            throw_up=self.up,
            throw_down=self.down,
            mixes=tuple(Mix(channel=channel, gain=gain) for channel, gain in self.follows.items()),
        )


class JointIn(Table):
    """The joint at the root of a panel."""

    panel: Key = Field(description="the panel at whose root it is")
    kind: Annotated[JointKind, Choice(JointKind)] = Field(
        JointKind.GLUED, description="how the panel meets the one inboard"
    )
    rod: Key | None = Field(None, description="the rod that bridges it")
    rod_length: RodLength | None = Field(None, description="whole length of the rod, both sides")
    rod_at: Fraction = Field(0.3, description="place of the rod, as a fraction of the chord")

    def build(self, key: str, report: Report) -> Joint | None:
        """Return the joint."""
        report.use("rod", self.rod, "rod")
        if self.rod is not None and self.rod_length is None:
            report.say("KEY-MISSING", "A joint with a rod needs rod_length.", "rod_length")
            return None
        if self.rod is None and self.rod_length is not None:
            report.say("KEY-MISSING", "rod_length needs a rod to go with it.", "rod")
            return None
        return Joint(
            key=key,
            panel=self.panel,
            kind=self.kind,
            rod=self.rod,
            rod_length=self.rod_length or 0.0,
            rod_at=self.rod_at,
        )


class CutLineIn(Table):
    """A line at which a panel may be cut shorter."""

    panel: Key = Field(description="the panel that may be cut")
    at: Along = Field(description="where, along the panel")
    says: MaybeLine = Field("", description="what the plan prints beside it")

    def build(self, key: str, *, panel: Panel) -> CutLine:
        """Return the cut line, its place as a fraction of its panel."""
        at = self.at.share_of(panel.length)
        return CutLine(key=key, panel=self.panel, at=at, says=self.says)


class SurfaceIn(Table):
    """A lifting surface."""

    role: Annotated[SurfaceRole, Choice(SurfaceRole)] = Field(description="what it is for")
    at: At = Field(description="leading edge at the root, mid-sheet")
    incidence: Twist = Field(0.0, description="+ nose up, to the x axis")
    mirror: Flag = Field(False, description="drawn for the right, repeated on the left")
    section: SectionIn | None = Field(None, description="section of every panel without its own")
    lines: tuple[LineIn, ...] = Field((), max_length=30, description="tape and glue")
    panel: tuple[PanelIn, ...] = Field((), max_length=30, description="panels from root to tip")
    control: dict[Key, ControlIn] = Field(
        default_factory=dict[str, ControlIn], max_length=30, description="controls by name"
    )
    joint: dict[Key, JointIn] = Field(
        default_factory=dict[str, JointIn], max_length=30, description="joints by name"
    )
    cut_line: dict[Key, CutLineIn] = Field(
        default_factory=dict[str, CutLineIn], max_length=30, description="cut lines by name"
    )

    def build(self, key: str, report: Report, reading: Reading) -> Surface | None:
        """Return the surface; what is wrong with it goes to the report."""
        panels = self._panels(report, reading)
        lines = tuple(
            line.build(report.at("lines", place)) for place, line in enumerate(self.lines)
        )
        if panels is None:
            return None
        by_name = {panel.name: panel for panel in panels}
        joints = [
            joint.build(name, report.at("joint", name))
            for name, joint in self.joint.items()
            if _knows(joint.panel, by_name, report.at("joint", name))
        ]
        surface = Surface(
            key=key,
            role=self.role,
            at=self.at,
            incidence=self.incidence,
            mirrored=self.mirror,
            panels=panels,
            controls=tuple(
                control.build(name, panel=by_name[control.panel])
                for name, control in self.control.items()
                if _knows(control.panel, by_name, report.at("control", name))
            ),
            joints=tuple(joint for joint in joints if joint is not None),
            cut_lines=tuple(
                line.build(name, panel=by_name[line.panel])
                for name, line in self.cut_line.items()
                if _knows(line.panel, by_name, report.at("cut_line", name))
            ),
            lines=lines,
        )
        check_surface(surface, report, says_mirror="mirror" in self.model_fields_set)
        return surface

    def _panels(self, report: Report, reading: Reading) -> tuple[Panel, ...] | None:
        if not self.panel:
            text = "A surface needs at least one panel."
            hint = f"add a table [[{'.'.join(str(bit) for bit in report.loc)}.panel]]"
            report.say("PANEL-MISSING", text, hint=hint)
            return None
        default = None
        if self.section is not None:
            default = self.section.build(report.at("section"), reading)
        panels: list[Panel] = []
        complete = True
        chord: float | None = None
        twist = 0.0
        for place, panel in enumerate(self.panel):
            inner = report.at("panel", place)
            if panel.name in {before.name for before in self.panel[:place]}:
                inner.say("NAME-TWICE", "Another panel of this surface has that name.", "name")
            chord = panel.root_chord or chord
            built = self._panel(panel, inner, reading, default, (chord, twist))
            chord = panel.tip_chord or chord
            complete = complete and built is not None
            if built is not None:
                panels.append(built)
                twist = built.tip_twist
        return tuple(panels) if complete else None

    def _panel(
        self,
        panel: PanelIn,
        report: Report,
        reading: Reading,
        default: Section | None,
        before: tuple[float | None, float],
    ) -> Panel | None:
        """Return a panel; `before` is the chord and the twist it takes over. [m], [rad]"""
        root_section, tip_section = self._sections(panel, report, reading, default)
        root_chord, root_twist = before
        if root_chord is None and report.loc[-1] == 0:
            report.say("KEY-MISSING", "The first panel needs root_chord.", "root_chord")
        if root_chord is None or root_section is None or tip_section is None:
            return None
        dihedral = _FIN_STANDS if self.role is SurfaceRole.FIN else 0.0
        root_twist = root_twist if panel.root_twist is None else panel.root_twist
        return Panel(
            name=panel.name,
            length=panel.length,
            root_chord=root_chord,
            tip_chord=panel.tip_chord or root_chord,
            sweep=panel.sweep,
            dihedral=dihedral if panel.dihedral is None else panel.dihedral,
            root_twist=root_twist,
            tip_twist=root_twist if panel.tip_twist is None else panel.tip_twist,
            root_section=root_section,
            tip_section=tip_section,
        )

    def _sections(
        self, panel: PanelIn, report: Report, reading: Reading, default: Section | None
    ) -> tuple[Section | None, Section | None]:
        root = default
        if panel.section is not None:
            root = panel.section.build(report.at("section"), reading)
        elif self.section is None:
            text = "This panel has no section, and its surface has none for all panels."
            report.say("KEY-MISSING", text, "section", hint='add section = { kind = "flat", ... }')
        tip = root
        if panel.tip_section is not None:
            tip = panel.tip_section.build(report.at("tip_section"), reading)
        return root, tip


def _knows(name: str, panels: dict[str, Panel], report: Report) -> bool:
    if name in panels:
        return True
    text = f"This surface has no panel of that name; it has {listed(panels)}."
    report.say("PART-UNKNOWN", text, "panel", hint=meant(name, panels))
    return False
