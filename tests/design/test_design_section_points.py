"""Named points of the drawn section: where they lie, what is made of what, and sums by hand."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.section_constants import section_constants, section_stiffness
from bladewright.design.section_matrices import section_matrices
from bladewright.design.section_points import section_points
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.structure.section_stress import SectionLoads
from bladewright.errors import BadInput, MissingInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def test_each_part_is_named_where_it_reaches(drawing: BladeDrawing) -> None:
    at_root = {point.part for point in section_points(drawing, 0.4).points}
    outboard = section_points(drawing, 2.5).points
    assert at_root == {"skin", "spar", "adhesive", "doubler"}
    assert {point.part for point in outboard} == {"skin", "spar", "adhesive"}
    assert len({point.name for point in outboard}) == len(outboard)
    places = {point.name: point for point in outboard}
    assert places["skin, leading edge"].x == pytest.approx(0.0, abs=2e-4)
    assert places["skin top, trailing edge"].x == pytest.approx(0.2, abs=2e-4)
    assert places["web, middle"].x == pytest.approx(0.26 * 0.2, abs=1e-6)
    for name in ("skin {}, over the web", "spar {} wall, outside"):
        assert places[name.format("top")].z > 0.0 > places[name.format("bottom")].z


def test_a_pull_stretches_every_part_alike(drawing: BladeDrawing) -> None:
    # plane sections: stress N E / EA, whatever the part; transformed section
    found = section_points(drawing, 2.5)
    axial = section_stiffness(drawing, section_constants(drawing, np.array([2.5]))).bending
    assert axial is not None
    stress = found.stress(SectionLoads(pull=40e3))
    expected = [40e3 * point.young / axial.axial[0] for point in found.points]
    assert stress.axial == pytest.approx(expected, rel=1e-3)
    assert stress.shear == pytest.approx(0.0, abs=1e-6)


def test_a_torque_flows_round_the_skin_behind_the_web(drawing: BladeDrawing) -> None:
    # the tail's flow is one all round: top and bottom skins bear alike, against each other
    found = section_points(drawing, 2.5)
    stress = found.stress(SectionLoads(torque=50.0))
    skins = {point.name: stress.shear_x[at] for at, point in enumerate(found.points) if "half-way" in point.name}
    top, bottom = skins["skin top, half-way to the seam"], skins["skin bottom, half-way to the seam"]
    assert top > 0.0 > bottom  # nose-up: the top goes aft
    assert top == pytest.approx(-bottom, rel=0.1)


def test_loads_about_the_feathering_axis_are_the_matrix_strains(drawing: BladeDrawing) -> None:
    # the six-by-six about the same axis gives the same stretch at the same fibre
    found = section_points(drawing, 2.5)
    told = SectionLoads(pull=30e3, chord_moment=400.0, flap_moment=-150.0, force_up=300.0, torque=20.0)
    stress = found.stress(found.from_the_axis(told))
    matrix = section_matrices(drawing, np.array([2.5])).stiffness[0]
    stretch, _, _, aft, up, _ = np.linalg.solve(matrix, [30e3, 0.0, 300.0, 400.0, -150.0, 20.0])
    expected = [p.young * (stretch + aft * (p.x - found.axis) + up * p.z) for p in found.points]
    assert stress.axial == pytest.approx(expected, rel=2e-3, abs=2e5)


def test_what_is_off_the_blade_or_not_entered_is_refused(drawing: BladeDrawing) -> None:
    with pytest.raises(BadInput) as refused:
        section_points(drawing, 9.0)
    assert (refused.value.field, refused.value.value) == ("radius", 9.0)
    film = drawing.materials["film-epoxy"].model_copy(update={"shear_modulus": None})
    soft = drawing.model_copy(update={"materials": {**drawing.materials, "film-epoxy": film}})
    for asked in (section_points, lambda d, r: section_matrices(d, np.array([r]))):
        with pytest.raises(MissingInput) as missing:
            asked(soft, 2.5)
        assert missing.value.field == "materials.film-epoxy.shear_modulus"
