"""The drawn blade as a beam: the sections' constants at the span's stations, from the feathering axis."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.blade_beam import beam_gaps, blade_beam
from bladewright.design.section_constants import section_constants, section_stiffness
from bladewright.design.spanwise import spanwise
from bladewright.drawing.blade import ErosionTape, Filler
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.errors import BadInput, MissingInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def test_the_beam_weighs_what_the_blade_weighs(drawing: BladeDrawing) -> None:
    beam, blade = blade_beam(drawing), spanwise(drawing)
    assert np.trapezoid(beam.mass_per_length, beam.y) == pytest.approx(blade.total_mass, rel=1e-12)
    assert np.trapezoid(beam.mass_per_length * beam.y, beam.y) == pytest.approx(blade.span_moment, rel=1e-12)
    assert beam.twist == pytest.approx(blade.twist)
    assert beam.masses == ()  # the tip weight lies in the stations it spans


def test_places_are_told_from_the_feathering_axis(drawing: BladeDrawing) -> None:
    beam = blade_beam(drawing)
    at = int(np.searchsorted(beam.y, 2.5))
    sections = section_constants(drawing, beam.y[[at]])
    found = section_stiffness(drawing, sections)
    assert found.bending is not None
    assert found.shear_x is not None
    axis = 0.25 * 0.2
    assert beam.elastic_x[at] == pytest.approx(found.bending.centre_x[0] - axis, abs=1e-12)
    assert beam.shear_x[at] == pytest.approx(found.shear_x[0] - axis, abs=1e-12)
    polar = found.bending.flapwise[0] + found.bending.chordwise[0]
    assert beam.gyration_squared[at] == pytest.approx(polar / found.bending.axial[0], rel=1e-12)


def test_the_doubler_stiffens_its_own_stations_alone(drawing: BladeDrawing) -> None:
    assert drawing.doubler is not None
    beam, plain = blade_beam(drawing), blade_beam(drawing.model_copy(update={"doubler": None}))
    end = drawing.doubler.outer
    for name in ("axial", "flapwise", "torsion"):
        more = getattr(beam, name) / np.interp(beam.y, plain.y, getattr(plain, name))
        assert np.all(more[beam.y < end - 1e-6] > 1.2)
        assert more[beam.y > end + 1e-6] == pytest.approx(1.0, rel=1e-12)


def test_what_is_not_entered_is_named(drawing: BladeDrawing) -> None:
    assert beam_gaps(drawing) == ()
    with pytest.raises(MissingInput) as missing:
        blade_beam(drawing.model_copy(update={"spar": None}))
    assert missing.value.field == "spar"
    soft = drawing.materials["skin-sheet"].model_copy(update={"youngs_modulus": None})
    with pytest.raises(MissingInput) as missing:
        blade_beam(drawing.model_copy(update={"materials": {**drawing.materials, "skin-sheet": soft}}))
    assert missing.value.field == "materials.skin-sheet.youngs_modulus"


def test_tape_weighs_its_length_round_the_nose_and_bears_nothing(drawing: BladeDrawing) -> None:
    tape = ErosionTape.model_construct(area_density=0.35, back=0.10, inner=1.0, outer=3.5)
    beam, plain = blade_beam(drawing.model_copy(update={"erosion_tape": tape})), blade_beam(drawing)
    at, base = np.searchsorted(beam.y, 2.0), np.searchsorted(plain.y, 2.0)
    # ahead of 10 % of 200 mm the section is nearly half an ellipse 20 mm long and, at 12 % thick, 2 x 9.4 mm deep:
    # pi / 2 (3 (a + b) - sqrt((3 a + b) (a + 3 b))) by S. Ramanujan, 1914
    a, b = 0.020, 0.0094
    length = 0.5 * np.pi * (3.0 * (a + b) - np.sqrt((3.0 * a + b) * (a + 3.0 * b)))
    assert beam.mass_per_length[at] - plain.mass_per_length[base] == pytest.approx(0.35 * length, rel=0.05)
    assert beam.mass_x[at] < plain.mass_x[base]
    assert beam.torsion[at] == pytest.approx(plain.torsion[base], rel=1e-12)
    assert beam.mass_per_length[0] == plain.mass_per_length[0]


def with_filler(drawing: BladeDrawing, young: float | None, **changes: float) -> BladeDrawing:
    sizes = {"front": 0.5, "back": 0.9, "inner": 1.0, "outer": 3.5} | changes
    filler = Filler.model_construct(material="foam", **sizes)
    foam = drawing.materials["film-epoxy"].model_copy(
        update={"density": 60.0, "youngs_modulus": young, "shear_modulus": young and young / 2.6}
    )
    return drawing.model_copy(update={"filler": filler, "materials": {**drawing.materials, "foam": foam}})


def test_filler_weighs_always_and_bears_where_its_moduli_are_entered(drawing: BladeDrawing) -> None:
    plain, dead, live = (blade_beam(d) for d in (drawing, with_filler(drawing, None), with_filler(drawing, 60e6)))
    base, at = np.searchsorted(plain.y, 2.0), np.searchsorted(live.y, 2.0)
    assert dead.mass_per_length[at] == live.mass_per_length[at] > plain.mass_per_length[base]
    assert dead.torsion[at] == pytest.approx(plain.torsion[base], rel=1e-12)
    assert dead.axial[at] == pytest.approx(plain.axial[base], rel=1e-12)
    # it holds the skins apart but bears little: G of the foam times the tail's own solid is a small part
    assert plain.torsion[base] < live.torsion[at] < 1.05 * plain.torsion[base]
    stiff = blade_beam(with_filler(drawing, 6e9))
    assert stiff.torsion[at] > live.torsion[at]
    assert stiff.axial[at] > live.axial[at]


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"front": 0.2}, "filler.front"),
        ({"front": 0.9, "back": 0.5}, "filler.back"),
        ({"inner": 3.5, "outer": 1.0}, "filler.outer"),
    ],
)
def test_a_filler_that_does_not_fit_is_refused(drawing: BladeDrawing, changes: dict[str, float], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        blade_beam(with_filler(drawing, 60e6, **changes))
    assert refused.value.field == field
