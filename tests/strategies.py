"""Random legal designs for property tests, built from values and not from files.

``designs()`` draws whole aeroplanes; ``surfaces()``, ``bodies()`` and the rest draw their
parts. Whatever they draw passes the checks of a design file: creases lie ahead of hinges,
layers and lower skins end ahead of them or run through, openings lie on their face.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from foamwright.design.model import (
    Along,
    Body,
    BoxBody,
    BoxFace,
    BoxStation,
    Control,
    CreasedSection,
    CurvedSection,
    Design,
    Doubler,
    Face,
    FlatSection,
    FoldedSection,
    Former,
    ItemKind,
    JointKind,
    LineUse,
    Mounting,
    Opening,
    Panel,
    ProfiledSection,
    Rotation,
    Section,
    StepLayer,
    SteppedSection,
    Surface,
    SurfaceRole,
)
from foamwright.figures import Figure
from tests import making

#: Every kind of section by name.
KINDS = ("flat", "creased", "curved", "stepped", "folded", "profiled")

# Hinges lie behind this fraction of the chord; creases, spars and short layers ahead of it.
_HINGE_FROM = 0.6


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Finite numbers between two limits, rounded to what a maker would write."""
    return st.integers(0, 1000).map(lambda step: low + (high - low) * step / 1000.0)


@st.composite
def sections(draw: st.DrawFn, kind: str | None = None) -> Section:
    """A section of one kind, or of any."""
    match kind or draw(st.sampled_from(KINDS)):
        case "flat":
            return FlatSection(sheet="board")
        case "creased":
            return draw(_creased())
        case "curved":
            return CurvedSection(
                sheet="board", camber=draw(numbers(0.0, 0.1)), camber_at=draw(numbers(0.2, 0.5))
            )
        case "stepped":
            return draw(_stepped())
        case "folded":
            return FoldedSection(
                sheet="board",
                spar_sheet=draw(st.sampled_from(("board", "ply"))),
                spar_at=draw(numbers(0.25, 0.45)),
                depth=draw(numbers(0.018, 0.03)),
                nose_height=draw(numbers(0.0105, 0.016)),
                lower_to=draw(st.sampled_from((0.5, _HINGE_FROM, 1.0))),
            )
        case _:
            swell = draw(numbers(0.5, 1.5))
            return ProfiledSection(
                core="white", coordinates=tuple((x, swell * z) for x, z in making.PROFILE)
            )


@st.composite
def _creased(draw: st.DrawFn) -> CreasedSection:
    count = draw(st.integers(1, 3))
    places = [0.15 + 0.4 * (k + draw(numbers(0.3, 0.7))) / count for k in range(count)]
    inner = [(at, draw(numbers(-0.02, 0.06))) for at in places]
    return CreasedSection(sheet="board", nodes=((0.0, 0.0), *inner, (1.0, 0.0)))


@st.composite
def _stepped(draw: st.DrawFn) -> SteppedSection:
    layers: list[StepLayer] = []
    for _ in range(draw(st.integers(1, 3))):
        start = draw(numbers(0.0, 0.3))
        end = draw(st.sampled_from((start + 0.2, _HINGE_FROM, 1.0)))
        layers.append(
            StepLayer(
                sheet=draw(st.sampled_from(("board", "ply"))),
                start=start,
                end=end,
                face=draw(st.sampled_from(Face)),
            )
        )
    return SteppedSection(sheet="board", layers=tuple(layers))


@st.composite
def _panels(draw: st.DrawFn, *, role: SurfaceRole, kind: str | None) -> tuple[Panel, ...]:
    section = draw(sections(kind))
    chord, twist = draw(numbers(0.1, 0.25)), 0.0
    angle = {SurfaceRole.FIN: 90.0, SurfaceRole.V_TAIL: 35.0}.get(role, 0.0)
    panels: list[Panel] = []
    for k in range(draw(st.integers(1, 3))):
        tip, tip_twist = chord * draw(numbers(0.6, 1.1)), draw(numbers(-3.0, 2.0))
        lean = angle if role is SurfaceRole.FIN else angle + draw(numbers(-6.0, 15.0))
        panels.append(
            making.panel(
                ("inner", "middle", "tip")[k],
                length=draw(numbers(0.1, 0.5)),
                root_chord=chord,
                tip_chord=tip,
                sweep=draw(numbers(-10.0, 30.0)),
                dihedral=lean,
                root_twist=twist,
                tip_twist=tip_twist,
                section=section,
            )
        )
        chord, twist = tip, tip_twist
    return tuple(panels)


@st.composite
def _controls(draw: st.DrawFn, panels: tuple[Panel, ...]) -> tuple[Control, ...]:
    controls: list[Control] = []
    for panel in panels:
        marks = draw(st.sampled_from(((), (0.0, 1.0), (0.1, 0.9), (0.2, 0.5, 0.5, 0.9))))
        for k in range(0, len(marks), 2):
            share = draw(numbers(0.15, 0.35)), draw(numbers(0.15, 0.35))
            start, end = marks[k], marks[k + 1]
            chords = [
                part * (panel.root_chord + at * (panel.tip_chord - panel.root_chord))
                for part, at in zip(share, (start, end), strict=True)
            ]
            controls.append(
                making.control(
                    f"control{len(controls)}",
                    panel=panel.name,
                    start=start,
                    end=end,
                    start_chord=chords[0],
                    end_chord=chords[1],
                    gap=draw(numbers(0.0, 0.0015)),
                )
            )
    return tuple(controls)


@st.composite
def surfaces(
    draw: st.DrawFn,
    key: str = "wing",
    role: SurfaceRole = SurfaceRole.WING,
    kind: str | None = None,
) -> Surface:
    """A surface of one to three panels with controls, joints and lines."""
    panels = draw(_panels(role=role, kind=kind))
    joints = tuple(
        making.joint(
            f"joint{k}",
            panel=panel.name,
            kind=draw(st.sampled_from(JointKind)),
            rod=draw(st.sampled_from((None, "tube", "wire"))),
        )
        for k, panel in enumerate(panels)
    )
    off_middle = draw(st.booleans())
    mirrored = role is not SurfaceRole.FIN or off_middle
    return making.surface(
        key,
        role=role,
        at=(draw(numbers(-0.2, 1.0)), 0.05 if off_middle else 0.0, draw(numbers(-0.1, 0.1))),
        incidence=draw(numbers(-3.0, 5.0)),
        mirrored=mirrored,
        panels=panels,
        controls=draw(_controls(panels)),
        joints=joints,
        lines=tuple(LineUse(use="tape", along=along, runs=1) for along in Along),
    )


# ---------------------------------------------------------------- bodies


@st.composite
def boxes(draw: st.DrawFn, key: str = "hull") -> BoxBody:
    """A box body of two to four stations with all that may be on it."""
    count = draw(st.integers(2, 4))
    x, stations = draw(numbers(-0.1, 0.1)), []
    for _ in range(count):
        middle = draw(numbers(-0.02, 0.02))
        half = draw(numbers(0.022, 0.05))
        stations.append(
            BoxStation(
                x=x, bottom=middle - half, top=middle + half, width=draw(numbers(0.04, 0.08))
            )
        )
        x += draw(numbers(0.1, 0.4))
    front, back = stations[0].x, stations[-1].x
    off_middle = draw(st.booleans())

    def place(share: float) -> float:
        return front + share * (back - front)

    middle = 0.1 if off_middle else 0.0
    faces = draw(st.lists(st.sampled_from(BoxFace), max_size=3))
    return making.box(
        key,
        y=middle,
        mirrored=off_middle and draw(st.booleans()),
        stations=tuple(stations),
        ends=(draw(st.booleans()), draw(st.booleans())),
        formers=tuple(
            Former(key=f"former{k}", x=place(at), sheet="ply", opening=draw(numbers(0.0, 0.8)))
            for k, at in enumerate(draw(st.sampled_from(((), (0.2,), (0.3, 0.7)))))
        ),
        doublers=tuple(
            Doubler(key=f"doubler{k}", face=face, start=place(0.05), end=place(0.5), sheet="ply")
            for k, face in enumerate(sorted(set(faces)))
        ),
        openings=tuple(
            Opening(
                key=f"opening{k}",
                face=face,
                start=place(0.1 + 0.3 * k),
                end=place(0.25 + 0.3 * k),
                low=-0.001 + (0.0 if face is BoxFace.SIDES else middle - 0.01),
                high=0.001 + (0.0 if face is BoxFace.SIDES else middle + 0.01),
                is_hatch=draw(st.booleans()),
            )
            for k, face in enumerate(faces)
        ),
        lines=tuple(
            LineUse(use="glue", along=along, runs=1)
            for along in (Along.EDGES, Along.FORMERS, Along.DOUBLERS)
        ),
    )


@st.composite
def bodies(draw: st.DrawFn, key: str = "hull") -> Body:
    """A body of any kind."""
    match draw(st.sampled_from(("box", "slab", "pod", "boom"))):
        case "box":
            return draw(boxes(key))
        case "slab":
            off_middle = draw(st.booleans())
            return making.slab(
                key,
                layers=draw(st.integers(1, 3)),
                is_pylon=draw(st.booleans()),
                y=0.2 if off_middle else 0.0,
                mirrored=off_middle,
                lines=(LineUse(use="glue", along=Along.EDGES, runs=2),),
            )
        case "pod":
            given = draw(st.booleans())
            return making.pod(
                key,
                length=draw(numbers(0.02, 0.3)),
                block=None if given else "white",
                mass=Figure(value=0.01) if given else None,
            )
        case _:
            return making.boom(key, rod=draw(st.sampled_from(("tube", "wire"))))


# ---------------------------------------------------------------- the whole


@st.composite
def designs(draw: st.DrawFn, **changes: Any) -> Design:
    """A whole aeroplane: wing, perhaps tails, bodies, power, items and gear."""
    tails = draw(st.sampled_from(((), ("v",), ("tail", "fin"), ("tail",), ("fin",))))
    roles = {"v": SurfaceRole.V_TAIL, "tail": SurfaceRole.TAILPLANE, "fin": SurfaceRole.FIN}
    parts = [draw(surfaces()), *(draw(surfaces(key, roles[key], "flat")) for key in tails)]
    fields: dict[str, Any] = {
        "surfaces": tuple(parts),
        "bodies": tuple(draw(bodies(f"body{k}")) for k in range(draw(st.integers(0, 2)))),
        "power": making.power(
            motors=(
                making.motor(
                    mounting=draw(st.sampled_from(Mounting)),
                    tilt_up=draw(numbers(-10.0, 10.0)),
                    tilt_right=draw(numbers(-5.0, 5.0)),
                    reach=draw(numbers(0.0, 0.06)),
                ),
            ),
            propellers=(
                making.propeller(
                    blades=draw(st.integers(2, 4)), rotation=draw(st.sampled_from(Rotation))
                ),
            ),
        ),
        "items": (
            making.item(),
            making.item(
                "servo", kind=ItemKind.SERVO, at=(0.3, 0.2, 0.0), mirrored=draw(st.booleans())
            ),
        ),
        "pushrods": (making.pushrod(),),
        "gear": draw(st.sampled_from(((), (making.wheel(), making.wire())))),
    }
    return making.design(**{**fields, **changes})
