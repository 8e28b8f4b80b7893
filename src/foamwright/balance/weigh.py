"""What every part weighs, where it balances, and how sure that is."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

from foamwright.airframe import Airframe, Basis, Group, LineRun, Piece, mesh_properties
from foamwright.balance.bodies import (
    Bodies,
    centre_of,
    inertia_from,
    join,
    line_bodies,
    second_about,
)
from foamwright.balance.model import Balance, GroupMass, MassEntry
from foamwright.design.model import Stock, TapeStock, Vec3
from foamwright.errors import InternalError
from foamwright.figures import Figure

Array = NDArray[np.float64]


def weigh(airframe: Airframe) -> Balance:
    """Weigh one variant, ready to fly.

    Parameters
    ----------
    airframe : Airframe
        The shape of the variant, with its stock.

    Returns
    -------
    Balance
        Masses by part and by group, balance point, inertia about it, and their scatter.

    Notes
    -----
    Sheet by flat area and areal weight, rod by length, block by volume, tape and glue by
    length along their runs; bought things as given. Within one part the mass is even.

    Scatter counts weights only, not where things lie. All parts of one stock share that
    stock's error (one heavy board makes every part heavy), and so do all things of one given
    figure; different stocks and figures err independently, so their effects add as root sum
    of squares. The scatter of the balance point is first order in the weights.
    """
    figures = [_piece_figure(piece, airframe.design.stock) for piece in airframe.pieces]
    line_figures = [_line_figure(run, airframe.design.stock) for run in airframe.lines]
    bodies = join(
        _piece_bodies(airframe.pieces, figures),
        line_bodies(
            [run.points for run in airframe.lines],
            np.array([figure.value for figure in line_figures]),
        ),
    )
    if not bodies.masses.sum() > 0.0:
        raise InternalError("an aeroplane without mass was asked to balance; please report this")
    point = centre_of(bodies)
    entries = _entries(airframe, figures, line_figures, bodies)
    mass_scatter, point_scatter = scatter_of(entries)
    return Balance(
        entries=entries,
        groups=_groups(entries),
        mass=float(bodies.masses.sum()),
        mass_scatter=mass_scatter,
        point=as_vector(point),
        point_scatter=point_scatter,
        inertia=read_only(inertia_from(second_about(bodies, point))),
    )


def as_vector(array: Array) -> Vec3:
    """Three floats of an array."""
    x, y, z = array.tolist()
    return x, y, z


def read_only(array: Array) -> Array:
    """Return the array, locked."""
    array.setflags(write=False)
    return array


def _piece_figure(piece: Piece, stock: Stock) -> Figure:
    """Mass per amount, or the mass itself where it is given."""
    if piece.basis is Basis.GIVEN:
        if piece.given is None:
            raise InternalError(f"{piece.key} has neither stock nor mass; please report this")
        return piece.given
    key = piece.stock or ""
    if piece.basis is Basis.AREA:
        return stock.sheet(key).weight
    if piece.basis is Basis.LENGTH:
        return stock.rod(key).line_mass
    return stock.block(key).density


def _line_figure(run: LineRun, stock: Stock) -> Figure:
    return stock.line(run.stock).line_mass


def _piece_bodies(pieces: Sequence[Piece], figures: Sequence[Figure]) -> Bodies:
    if not pieces:
        return line_bodies((), np.zeros(0))
    solid = mesh_properties([piece.mesh for piece in pieces])
    if not (solid.volume > 0.0).all():
        worst = pieces[int(np.argmin(solid.volume))].key
        raise InternalError(f"the solid of {worst} is inside out or empty; please report this")
    masses = np.array(
        [
            figure.value * (1.0 if piece.basis is Basis.GIVEN else piece.amount)
            for piece, figure in zip(pieces, figures, strict=True)
        ]
    )
    density = masses / solid.volume
    return Bodies(
        masses=masses,
        centres=solid.centroid,
        seconds=density[:, None, None] * solid.second_moment,
    )


def _entries(
    airframe: Airframe,
    figures: Sequence[Figure],
    line_figures: Sequence[Figure],
    bodies: Bodies,
) -> tuple[MassEntry, ...]:
    masses, centres = bodies.masses.tolist(), bodies.centres.tolist()
    split = len(airframe.pieces)
    pieces = (
        _entry(piece, piece.title, _amount(piece), figure, mass, centre)
        for piece, figure, mass, centre in zip(
            airframe.pieces, figures, masses[:split], centres[:split], strict=True
        )
    )
    stock = airframe.design.stock
    runs = (
        _entry(run, _run_title(run, stock), _run_amount(run, figure, mass), figure, mass, centre)
        for run, figure, mass, centre in zip(
            airframe.lines, line_figures, masses[split:], centres[split:], strict=True
        )
    )
    return (*pieces, *runs)


def _entry(
    thing: Piece | LineRun,
    title: str,
    amount: str,
    figure: Figure,
    mass: float,
    centre: list[float],
) -> MassEntry:
    x, y, z = centre
    return MassEntry(
        key=thing.key,
        path=thing.path,
        title=title,
        group=thing.group,
        hand=thing.hand,
        stock=thing.stock,
        mass=mass,
        scatter=mass * figure.relative_scatter,
        centre=(x, y, z),
        amount=amount,
        source=figure.source,
    )


def _amount(piece: Piece) -> str:
    if piece.basis is Basis.AREA:
        return f"{piece.amount:.4f} m² of {piece.stock}"
    if piece.basis is Basis.LENGTH:
        return f"{piece.amount:.3f} m of {piece.stock}"
    if piece.basis is Basis.VOLUME:
        return f"{1e3 * piece.amount:.3f} dm³ of {piece.stock}"
    return "as given"


def _run_amount(run: LineRun, figure: Figure, mass: float) -> str:
    length = mass / figure.value if figure.value else run.length
    return f"{length:.3f} m of {run.stock}"


def _run_title(run: LineRun, stock: Stock) -> str:
    """Words of the key, then what is laid: "wing, inner, leading edge, tape packing"."""
    kind = "tape" if isinstance(stock.line(run.stock), TapeStock) else "glue"
    words = [word for word in run.key.split(".") if word != run.stock]
    return ", ".join([*(word.replace("-", " ") for word in words), f"{kind} {run.stock}"])


def _groups(entries: Sequence[MassEntry]) -> tuple[GroupMass, ...]:
    groups: list[GroupMass] = []
    for group in Group:
        members = [entry for entry in entries if entry.group is group and entry.mass > 0.0]
        if members:
            masses = np.array([entry.mass for entry in members])
            centres = np.array([entry.centre for entry in members])
            total = float(masses.sum())
            centre = as_vector((masses @ centres) / total)
            groups.append(GroupMass(group=group, mass=total, centre=centre))
    return tuple(groups)


def scatter_of(entries: Sequence[MassEntry]) -> tuple[float, Vec3]:
    """One sigma of the mass and of the balance point, see :func:`weigh`. [kg, m]"""
    shared, moments, _ = _shared_errors(entries)
    total = sum(entry.mass for entry in entries)
    point = np.sqrt((moments**2).sum(axis=1)) / total
    return float(np.sqrt(shared @ shared)), as_vector(point)


def chief_doubt(entries: Sequence[MassEntry]) -> str:
    """Name the stock or thing whose weight adds most to the scatter of the balance along x."""
    _, moments, first = _shared_errors(entries)
    entry = first[int(np.argmax(np.abs(moments[0])))]
    return entry.stock or entry.title


def _shared_errors(entries: Sequence[MassEntry]) -> tuple[Array, Array, list[MassEntry]]:
    """Errors in mass and in moment about the balance point, and one entry, of each owner."""
    masses = np.array([entry.mass for entry in entries])
    errors = np.array([entry.scatter for entry in entries])
    centres = np.array([entry.centre for entry in entries])
    numbers: dict[Hashable, int] = {}
    first: list[MassEntry] = []
    owner: list[int] = []
    for entry in entries:
        number = numbers.setdefault(_owner(entry), len(numbers))
        if number == len(first):
            first.append(entry)
        owner.append(number)
    # dx/dm = (x_i - x) / M, summed over all that share one error
    arms = centres - (masses @ centres) / masses.sum()
    moments = np.zeros((3, len(first)))
    shared = np.zeros(len(first))
    np.add.at(shared, owner, errors)
    np.add.at(moments.T, owner, errors[:, None] * arms)
    return shared, moments, first


def _owner(entry: MassEntry) -> Hashable:
    """Whose error an entry shares: its stock's, or that of the figure given at its path."""
    return entry.stock or (entry.path, entry.mass, entry.scatter)
