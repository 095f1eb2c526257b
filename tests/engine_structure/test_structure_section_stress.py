"""Stresses of a section: what they add up to, closed forms, and loads told about another axis."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.structure.moments import region_moments
from bladewright.engine.structure.section_mesh import Patch, section_mesh
from bladewright.engine.structure.section_stress import (
    SectionLoads,
    Stress,
    axial_strain,
    carried_to_centres,
    shear_flow,
    shear_strain,
)
from bladewright.engine.structure.section_warping import SectionWarping, section_warping

E, G = np.array([71e9, 2.2e9]), np.array([26.9e9, 0.8e9])
GAUSS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)])
WEIGHT = np.array([5.0, 8.0, 5.0]) / 9.0
LOADS = st.builds(SectionLoads, *[st.floats(-1e3, 1e3)] * 6)


def channel() -> SectionWarping:
    """Three walls, one of them soft: no symmetry, shear centre outside."""
    x = [np.linspace(*ends, 5) for ends in ((0.0, 0.002), (0.002, 0.03), (0.002, 0.02))]
    z = [np.linspace(*ends, 3) for ends in ((0.0, 0.003), (0.003, 0.04), (0.04, 0.042))]
    grids = [(x[0], z[0]), (x[1], z[0]), (x[0], z[1]), (x[0], z[2]), (x[2], z[2])]
    nodes = [np.stack(np.meshgrid(a, b, indexing="ij"), axis=-1)[None] for a, b in grids]
    return section_warping(section_mesh([Patch(n, (int(at == 4),)) for at, n in enumerate(nodes)]), E, G)


@pytest.fixture(scope="module")
def section() -> SectionWarping:
    return channel()


@settings(max_examples=25, deadline=None)
@given(LOADS)
def test_stresses_add_up_to_what_passes_through(loads: SectionLoads) -> None:
    found = channel()
    count = len(found.mesh.elements)
    along, across = (grid.ravel() for grid in np.meshgrid(GAUSS, GAUSS, indexing="ij"))
    weights = np.outer(WEIGHT, WEIGHT).ravel()
    corner = found.mesh.nodes[0, found.mesh.elements]
    size = np.ptp(corner, axis=1) / 2.0  # all elements are rectangles
    middle = 0.5 * (corner.max(axis=1) + corner.min(axis=1))
    total = np.zeros(6)
    centre = found.stretching[0, 1:3] / found.stretching[0, 0]
    for a, b, weight in zip(along, across, weights, strict=True):
        place = middle + size * np.array([a, b])
        area = weight * size.prod(axis=-1)
        axial = E[found.mesh.layers] * axial_strain(found.stretching[0], loads, place[:, 0], place[:, 1])
        shear = G[found.mesh.layers, None] * shear_strain(
            found, 0, np.arange(count), np.full(count, a), np.full(count, b), loads
        )
        x, z = (place - centre).T
        x_s, z_s = place[:, 0] - found.shear_x[0], place[:, 1] - found.shear_z[0]
        rows = (axial, axial * x, axial * z, shear[:, 0], shear[:, 1], shear[:, 0] * z_s - shear[:, 1] * x_s)
        total += [float((row * area).sum()) for row in rows]
    wanted = [loads.pull, loads.chord_moment, loads.flap_moment, loads.force_aft, loads.force_up, loads.torque]
    assert total == pytest.approx(np.array(wanted, dtype=float), rel=1e-7, abs=1e-6)


def test_a_bar_bent_askew_stretches_linearly() -> None:
    # sigma = M_z z / I: any text; the same by axes that are not principal, turned by 30 degrees
    half = np.array([(-0.03, -0.006), (0.03, -0.006), (0.03, 0.006), (-0.03, 0.006)])
    turn = np.pi / 6.0
    c, s = np.cos(turn), np.sin(turn)
    ring = half @ np.array([(c, s), (-s, c)])
    loads = SectionLoads(flap_moment=300.0 * c, chord_moment=-300.0 * s)  # about the bar's own long axis
    strain = axial_strain(71e9 * region_moments(ring), loads, ring[:, 0], ring[:, 1])
    own = 300.0 * half[:, 1] / (71e9 * 0.06 * 0.012**3 / 12.0)
    assert strain == pytest.approx(own, rel=1e-9)


def test_the_shear_of_a_bar_is_the_parabola() -> None:
    # 3/2 F / A in the middle, nothing at the faces: any text on strength of materials
    nodes = np.stack(np.meshgrid(np.linspace(0, 0.06, 5), np.linspace(-0.006, 0.006, 33), indexing="ij"), -1)[None]
    bar = section_warping(section_mesh([Patch(nodes, (0,) * 16)]), E, G)
    middle = shear_strain(
        bar, 0, np.array([8]), np.array([0.0]), np.array([-1.0]), SectionLoads(force_up=1000.0)
    ) * G[0]  # fmt: skip
    assert middle[0] == pytest.approx([0.0, 1.5 * 1000.0 / (0.06 * 0.012)], rel=3e-3, abs=1.0)


def test_pull_and_torque_off_their_centres_are_carried_there() -> None:
    told = SectionLoads(pull=1000.0, force_up=200.0, force_aft=50.0, torque=3.0)
    found = carried_to_centres(told, 0.05, 0.0, 0.06, 0.002, 0.04, 0.003)
    # by hand: pull 10 mm ahead of and 2 mm below the centre; force up 10 mm behind the shear centre turns nose-down
    assert found.chord_moment == pytest.approx(1000.0 * -0.010)
    assert found.flap_moment == pytest.approx(1000.0 * -0.002)
    assert found.torque == pytest.approx(3.0 - 200.0 * 0.010 - 50.0 * 0.003)


def test_one_number_for_pull_and_shear() -> None:
    # pure shear: von Mises sqrt(3) t, principal +t and -t; elementary
    pure = Stress(np.array(0.0), np.array(3.0), np.array(4.0))
    assert (pure.equivalent, pure.greatest, pure.least) == (pytest.approx(np.sqrt(3.0) * 5.0), 5.0, -5.0)


def test_a_tube_flows_as_bredt_says_and_a_web_carries_the_force() -> None:
    # q = T / (2 A) round a thin tube, A within its middle: R. Bredt, 1896
    angle, radius, thin = np.linspace(0.0, 2.0 * np.pi, 65), 0.03, 0.3e-3
    ring = np.stack(
        [(radius + d) * np.column_stack((np.cos(angle), np.sin(angle))) for d in thin * np.array([-0.5, 0.0, 0.5])], 1
    )
    tube = section_warping(section_mesh([Patch(ring[None], (0,))]), E, G)
    flow = shear_flow(tube, 0, np.arange(32), G, SectionLoads(torque=50.0), "rows")
    # counter-clockwise with x to the right and z up is nose-down
    assert flow == pytest.approx(-50.0 / (2.0 * np.pi * radius**2), rel=1e-3)
    # a tall bar: 3/2 F / h in its middle, through its columns, upward
    nodes = np.stack(np.meshgrid(np.linspace(0, 2e-3, 5), np.linspace(-0.02, 0.02, 35), indexing="ij"), -1)[None]
    web = section_warping(section_mesh([Patch(nodes, (0,) * 17)]), E, G)
    middle = np.array([8, 8 + 17])  # the ninth of 17 rows, in both columns of elements
    carried = shear_flow(web, 0, middle, G, SectionLoads(force_up=1000.0), "columns")
    assert carried.sum() == pytest.approx(1.5 * 1000.0 / 0.04, rel=3e-3)
