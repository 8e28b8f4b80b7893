"""Reads tables of measured propellers: a folder of tunnel data, a file of bench readings."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from foamwright.design.model import Propeller, Rotation
from foamwright.errors import DomainError
from foamwright.figures import Figure
from foamwright.power.propeller.laws import WIDTH_FROM
from foamwright.power.propeller.model import BladeGeometry
from foamwright.power.propeller.styles import style_of

Array = NDArray[np.float64]

MANIFEST = "manifest.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPropeller:
    """A propeller with its measured coefficients; row by row."""

    key: str
    make: str
    propeller: Propeller  # without width
    geometry: BladeGeometry | None
    is_twist_doubtful: bool
    is_static: NDArray[np.bool_]
    rotation: Array  # 1/s
    advance_ratio: Array
    ct: Array
    cp: Array

    @property
    def width(self) -> float | None:
        """Largest width of the blade outside 0.6 R. [m]"""
        if self.geometry is None:
            return None
        pairs = zip(self.geometry.radius_fraction, self.geometry.chord_fraction, strict=True)
        widest = max(chord for radius, chord in pairs if radius >= WIDTH_FROM)
        return 0.5 * widest * self.propeller.diameter


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchReading:
    """One row of a static bench."""

    motor: str
    propeller: str
    diameter: float  # m
    pitch: float  # m
    blades: int
    is_full_throttle: bool
    volts: float  # V
    amps: float  # A
    rotation: float  # 1/s
    thrust: float  # N


def named_propeller(
    key: str,
    *,
    diameter: float,
    pitch: float,
    blades: int,
    style: str = "",
    width: float | None = None,
) -> Propeller:
    """Make a propeller of plain numbers.

    Parameters
    ----------
    key : str
        Its name.
    diameter, pitch : float
        Nominal. [m]
    blades : int
        Number of blades. [-]
    style : str, optional
        Class of blade.
    width : float, optional
        Largest width of the blade. [m]

    Returns
    -------
    Propeller
        Without mass.
    """
    return Propeller(
        key=key,
        diameter=diameter,
        pitch=pitch,
        blades=blades,
        style=style,
        blade_width=width,
        rotation=Rotation.NORMAL,
        mass=Figure(value=0.0, source="not weighed"),
    )


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _column(rows: list[dict[str, str]], name: str, path: Path) -> Array:
    try:
        return np.array([float(row[name]) for row in rows])
    except (KeyError, TypeError, ValueError) as err:
        raise DomainError(f"{path.name}: column {name} is missing or holds no number") from err


def _geometry(path: Path) -> BladeGeometry:
    rows = _rows(path)
    radius, chord, twist = (_column(rows, name, path) for name in ("r_R", "c_R", "beta_deg"))
    return BladeGeometry(
        radius_fraction=tuple(radius.tolist()),
        chord_fraction=tuple(chord.tolist()),
        twist=tuple(np.radians(twist).tolist()),
    )


def read_propellers(folder: Path) -> tuple[MeasuredPropeller, ...]:
    """Read a folder of measured propellers.

    Parameters
    ----------
    folder : Path
        Holds `manifest.csv` (id, D_m, P_m, blades, style, family, geom, note), and for every id a
        table `id.csv` (kind, rpm, J, CT, CP) and, where geom is yes, `id_geom.csv` (r_R, c_R,
        beta_deg). Ids without a table are left out.

    Returns
    -------
    tuple of MeasuredPropeller
        In the order of the manifest.
    """
    entries = _rows(folder / MANIFEST)
    found: list[MeasuredPropeller] = []
    for entry in entries:
        path = folder / f"{entry['id']}.csv"
        if path.exists():
            found.append(_propeller(entry, path))
    return tuple(found)


def _propeller(entry: dict[str, str], path: Path) -> MeasuredPropeller:
    rows = _rows(path)
    shape = path.with_name(f"{entry['id']}_geom.csv")
    return MeasuredPropeller(
        key=entry["id"],
        make=entry["family"],
        propeller=named_propeller(
            entry["id"],
            diameter=float(entry["D_m"]),
            pitch=float(entry["P_m"]),
            blades=int(entry["blades"]),
            style=style_of(entry["style"]),
        ),
        geometry=_geometry(shape) if entry["geom"] == "yes" and shape.exists() else None,
        is_twist_doubtful="twist" in (entry.get("note") or ""),
        is_static=np.array([row["kind"] == "static" for row in rows]),
        rotation=_column(rows, "rpm", path) / 60.0,
        advance_ratio=_column(rows, "J", path),
        ct=_column(rows, "CT", path),
        cp=_column(rows, "CP", path),
    )


def read_bench(path: Path) -> tuple[BenchReading, ...]:
    """Read a file of static bench readings.

    Parameters
    ----------
    path : Path
        Columns motor, prop, D_in, P_in, blades, esc_us, V_V, I_A, rpm, thrust_gf.

    Returns
    -------
    tuple of BenchReading
        Row by row.
    """
    rows = _rows(path)
    names = ("D_in", "P_in", "blades", "esc_us", "V_V", "I_A", "rpm", "thrust_gf")
    columns = {name: _column(rows, name, path) for name in names}
    return tuple(
        BenchReading(
            motor=row["motor"],
            propeller=row["prop"],
            diameter=0.0254 * float(columns["D_in"][i]),
            pitch=0.0254 * float(columns["P_in"][i]),
            blades=int(columns["blades"][i]),
            is_full_throttle=bool(columns["esc_us"][i] >= 1990.0),
            volts=float(columns["V_V"][i]),
            amps=float(columns["I_A"][i]),
            rotation=float(columns["rpm"][i]) / 60.0,
            thrust=9.80665e-3 * float(columns["thrust_gf"][i]),
        )
        for i, row in enumerate(rows)
    )
