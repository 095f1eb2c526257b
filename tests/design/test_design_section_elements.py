"""The drawn section's elements: they cover what the parts' areas say, whatever is drawn, or the drawing is refused."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.design.section_constants import section_constants, section_stiffness
from bladewright.design.section_elements import section_elements
from bladewright.design.section_layout import section_layout
from bladewright.design.section_moduli import moduli
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.structure.section_warping import section_warping
from bladewright.errors import BadInput
from bladewright.figures import Missing

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
DRAWN = read_drawing(FM31).model_copy(update={"tip_weight": None, "finish": None})


@st.composite
def drawings(draw: st.DrawFn) -> BladeDrawing:
    assert DRAWN.spar is not None
    assert DRAWN.adhesive is not None
    assert DRAWN.doubler is not None
    chord = draw(st.floats(0.08, 0.35))
    stations = tuple(station.model_copy(update={"chord": chord}) for station in DRAWN.planform.stations)
    walls = st.floats(0.5e-3, 6e-3)
    sheets = st.floats(0.3e-3, 1.4e-3)
    spar = {
        "top_wall": draw(walls),
        "bottom_wall": draw(walls),
        "nose_wall": draw(st.floats(0.03, 0.15)) * chord,
        "web": draw(st.floats(0.005, 0.08)) * chord,
        "web_place": draw(st.floats(0.2, 0.5)),
    }
    section = {
        "designation": draw(st.sampled_from(["0012", "23012", "4415", "0018"])),
        "trailing_edge": draw(st.sampled_from(["open", "closed", "rescaled"])),
    }
    front = draw(st.sampled_from([0.0, 0.05, 0.2, 0.4]))
    doubler = {"thickness": draw(st.floats(0.5e-3, 3e-3)), "front": front, "back": draw(st.floats(front + 0.1, 1.0))}
    glue = {"seam_start": draw(st.floats(0.85, 0.97)), "fillable_gap": draw(st.sampled_from([0.0, 2.5e-4, 2e-3]))}
    skin = {"top_thickness": draw(sheets), "bottom_thickness": draw(sheets)}
    return DRAWN.model_copy(
        update={
            "section": DRAWN.section.model_copy(update=section),
            "planform": DRAWN.planform.model_copy(update={"stations": stations}),
            "spar": DRAWN.spar.model_copy(update=spar),
            "skin": DRAWN.skin.model_copy(update=skin),
            "doubler": DRAWN.doubler.model_copy(update=doubler),
            "adhesive": DRAWN.adhesive.model_copy(update=glue),
        }
    )


@settings(max_examples=60, deadline=None)
@given(drawings())
def test_any_drawing_is_worked_out_or_refused_by_name(drawing: BladeDrawing) -> None:
    try:
        sections = section_constants(drawing, np.array([0.4, 2.0]))
        found = section_stiffness(drawing, sections)
    except BadInput as error:
        refused = error
    else:
        refused = None
    if refused is not None:
        assert refused.field
        assert refused.allowed
        return
    assert found.torsion is not None
    assert found.shearing is not None
    assert found.shear_x is not None
    assert found.torsion[0] > found.torsion[1] > 0.0  # under the doubler, and without
    assert np.all(np.linalg.eigvalsh(found.shearing) > 0.0)
    assert np.all(np.abs(found.shear_x) < sections.chord)  # ahead of the nose where the seam holds nothing
    entered = moduli(drawing)
    assert not isinstance(entered.young, Missing)
    assert not isinstance(entered.shear, Missing)
    assert found.stretching is not None
    for at, doubled in enumerate((True, False)):
        (group,) = section_elements(drawing, sections.layout, doubled, filled=False)
        meshed = section_warping(group.mesh, entered.young, entered.shear).stretching[0, 0]
        # what differs: film that holds nothing, straight cuts of the doubler's ends (all of it on a short thick one),
        # curves through fewer points: 2.1 % at the most that searching found
        assert meshed == pytest.approx(found.stretching[at, 0], rel=0.03)


def test_sections_of_one_make_up_are_meshed_together_and_others_apart() -> None:
    drawing = DRAWN
    layout = section_layout(drawing, np.array([0.16, 0.2, 0.24]))
    (alike,) = section_elements(drawing, layout, doubled=False, filled=False)
    assert alike.at.tolist() == [0, 1, 2]
    # at 10 % of the chord the doubler's front passes the end of the 20 mm nose wall as the chord grows
    assert drawing.doubler is not None
    moved = drawing.model_copy(update={"doubler": drawing.doubler.model_copy(update={"front": 0.10})})
    groups = section_elements(moved, section_layout(moved, np.array([0.16, 0.2, 0.30])), doubled=True, filled=False)
    assert sorted(number for group in groups for number in group.at.tolist()) == [0, 1, 2]
    assert len(groups) > 1
