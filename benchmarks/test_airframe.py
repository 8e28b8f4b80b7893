"""Shapes of the five examples: cut anew, and with only a pack moved; integrals of all solids.

Run: ``.venv/bin/pytest benchmarks/test_airframe.py --benchmark-enable``. No test asserts a time.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from foamwright.airframe import build_airframe, mesh_properties
from foamwright.airframe.build import forget_parts
from foamwright.design import read_design_text, starter_text
from foamwright.drawing.glb import write_glb

NAMES = ("avocet", "curlew", "dunlin", "godwit", "knot")


def drawn(name: str):
    return read_design_text(starter_text(name)).variants[0]


@pytest.mark.parametrize("name", NAMES)
def test_all_parts_cut_anew(benchmark, name):
    design = drawn(name)
    benchmark.pedantic(build_airframe, (design,), setup=forget_parts, rounds=100, warmup_rounds=3)


@pytest.mark.parametrize("name", NAMES)
def test_only_the_pack_moved(benchmark, name):
    design = drawn(name)
    pack = design.power.packs[0]
    moved = replace(pack, position=pack.position + 0.001)
    changed = replace(design, power=replace(design.power, packs=(moved,)))
    build_airframe(design)
    benchmark(build_airframe, changed)


def test_integrals_of_all_solids(benchmark):
    meshes = [piece.mesh for piece in build_airframe(drawn("dunlin")).pieces]
    benchmark(mesh_properties, meshes)


def test_glb(benchmark):
    benchmark(write_glb, build_airframe(drawn("dunlin")))
