"""Do the parts of a surface fit each other?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from foamwright.design.model import (
    Control,
    CreasedSection,
    Panel,
    ProfiledSection,
    Section,
    SteppedSection,
    Surface,
    SurfaceRole,
)
from foamwright.design.trouble import Report

_NEAR = 1e-9  # fractions of a panel nearer than this are one place
_SHORTEST = 0.005  # m; a control shorter than 5 mm is a slip of a unit
_STANDING = math.radians(60.0)  # panels steeper than this may stand alone, as a fin does


def check_surface(surface: Surface, report: Report, *, says_mirror: bool) -> None:
    """Say what does not fit in one surface; one side alone must be asked for in words."""
    panels = {panel.name: panel for panel in surface.panels}
    if not says_mirror:
        _check_mirror(surface, report)
    for place, panel in enumerate(surface.panels):
        _check_sections(panel, report.at("panel", place))
    for control in surface.controls:
        _check_control(control, panels[control.panel], report.at("control", control.key))
    for first, second in _overlapping(surface.controls):
        report.say(
            "CONTROL-OVERLAP",
            f'It overlaps the control "{first.key}" on the panel "{first.panel}".',
            "control",
            second.key,
            "from",
        )
    for line in surface.cut_lines:
        _check_cut(line.at, panels[line.panel], report.at("cut_line", line.key))
    _check_joints(surface, report)


def _check_mirror(surface: Surface, report: Report) -> None:
    lying = any(abs(panel.dihedral) < _STANDING for panel in surface.panels)
    if lying and not surface.mirrored and surface.role is not SurfaceRole.FIN:
        text = "Nothing says whether the right half that is drawn has a left one."
        hint = "add mirror = true, or mirror = false for a surface on one side alone"
        report.say("MIRROR-MISSING", text, "mirror", hint=hint)


def _check_sections(panel: Panel, report: Report) -> None:
    root, tip = panel.root_section, panel.tip_section
    if root is tip:
        return
    if type(root) is not type(tip):
        text = "The tip section must be made the same way (kind) as the section at the root."
    elif _made_of(root) != _made_of(tip):
        text = "The tip section must be cut from the same stock as the section at the root."
    elif _node_count(root) != _node_count(tip):
        text = "The tip section must have as many creases, layers or points as the one at the root."
    else:
        return
    report.say("SECTION-MISMATCH", text, "tip_section")


def _made_of(section: Section) -> tuple[str, ...]:
    if isinstance(section, ProfiledSection):
        return (section.core,)
    if isinstance(section, SteppedSection):
        return (section.sheet, *(layer.sheet for layer in section.layers))
    return (section.sheet,)


def _node_count(section: Section) -> int:
    if isinstance(section, CreasedSection):
        return len(section.nodes)
    if isinstance(section, SteppedSection):
        return len(section.layers)
    return len(section.coordinates) if isinstance(section, ProfiledSection) else 0


def _check_control(control: Control, panel: Panel, report: Report) -> None:
    length = report.length(panel.length)
    for key, share in (("from", control.start), ("to", control.end)):
        if share > 1.0 + _NEAR:
            place = report.length(share * panel.length)
            text = f'It lies at {place}, past the end of the panel "{panel.name}" at {length}.'
            report.say("CONTROL-OUTSIDE", text, key)
            return
    if (control.end - control.start) * panel.length < _SHORTEST:
        text = (
            f"The control would run from {report.length(control.start * panel.length)} to "
            f'{report.length(control.end * panel.length)} along the panel "{panel.name}", '
            f"which is {length} long; it needs 5 mm or more."
        )
        hint = 'bare numbers here are lengths; write a fraction as text, such as "95 %"'
        report.say("CONTROL-OUTSIDE", text, "to", hint=hint)
        return
    for share, chord in ((control.start, control.start_chord), (control.end, control.end_chord)):
        local = panel.root_chord + share * (panel.tip_chord - panel.root_chord)
        if chord >= local - _NEAR:
            text = (
                f"The control is {report.length(chord)} deep where the panel has a chord of "
                f"{report.length(local)}, so its hinge line would lie ahead of the panel."
            )
            report.say("CONTROL-TOO-DEEP", text, "chord")
            return


def _overlapping(controls: tuple[Control, ...]) -> Iterator[tuple[Control, Control]]:
    for first, second in combinations(controls, 2):
        same = first.panel == second.panel
        if same and max(first.start, second.start) < min(first.end, second.end) - _NEAR:
            yield first, second


def _check_cut(share: float, panel: Panel, report: Report) -> None:
    if not _SHORTEST / panel.length <= share < 1.0 - _NEAR:
        text = (
            f"A cut line must lie between root and tip of its panel, which is "
            f"{report.length(panel.length)} long; this one lies at "
            f"{report.length(share * panel.length)}."
        )
        report.say("CUT-OUTSIDE", text, "at")


def _check_joints(surface: Surface, report: Report) -> None:
    seen: set[str] = set()
    for joint in surface.joints:
        if joint.panel in seen:
            text = f'The root of the panel "{joint.panel}" has a joint already.'
            report.say("NAME-TWICE", text, "joint", joint.key, "panel")
        seen.add(joint.panel)
