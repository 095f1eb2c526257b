"""The drawing's handle force: sums, signs, missing entries by their field, and hand-worked shares."""

import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.at_the_handle import HandleForce
from bladewright.design.handle_force import (
    collective_handle_force,
    hover_case,
    lowest_collective_case,
    named_cases,
)
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing(_thin_sections: None) -> BladeDrawing:
    return changed(read_drawing(FM31), trim_spring=40.0)  # [N] a strong spring of these tests' own


def uniform_mass(aft: float = 0.002) -> SpanMass:
    y = np.linspace(0.25, 3.55, 331)
    one = np.ones_like(y)
    return SpanMass(y, 2.9 * one, aft * one, 0.0 * one, 2.9 * 0.0021 * one, 2.9 * 2.5e-5 * one, 0.0 * one)


def named(answer: HandleForce) -> dict[str, float]:
    return {figure.name: figure.value for figure in (*answer.contributions, *answer.figures)}


def changed(drawing: BladeDrawing, **control: object) -> BladeDrawing:
    assert drawing.rotor is not None
    assert drawing.rotor.control is not None
    run = drawing.rotor.control.model_copy(update=control)
    return drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"control": run})})


def test_contributions_add_up_to_the_total_in_both_named_cases(drawing: BladeDrawing) -> None:
    for answer in named_cases(drawing, mass=uniform_mass()):
        assert answer.total is not None
        assert answer.total.value == pytest.approx(sum(part.value for part in answer.contributions), rel=1e-12)
        assert answer.missing == ()


def test_section_moment_share_is_the_strip_formula(drawing: BladeDrawing) -> None:
    # rho c^2 W^2 (R^3 - r0^3) cm/6 a blade, two blades, 150 mm arm and 5 to 1 at the handle; strip theory, elementary
    speed, cm = 500.0 * math.pi / 30.0, section_flow(drawing).moment
    per_blade = 1.225 * 0.2**2 * speed**2 * (3.55**3 - 0.45**3) / 6.0 * cm
    shares = named(hover_case(drawing))
    assert shares["section moment"] == pytest.approx(-2.0 * per_blade / (0.15 * 5.0), rel=1e-6)
    assert shares["section moment"] > 0.0  # this section still pulls its nose down: heavy


def test_propeller_share_of_a_uniform_untwisted_blade(drawing: BladeDrawing) -> None:
    # W^2 m L (k_c^2 - k_n^2) sin p cos p nose-down; Johnson 1980 (from memory)
    flat = tuple(station.model_copy(update={"twist": 0.0}) for station in drawing.planform.stations)
    straight = drawing.model_copy(update={"planform": drawing.planform.model_copy(update={"stations": flat})})
    shares = named(hover_case(straight, mass=uniform_mass()))
    p, speed = math.radians(shares["collective"]), 500.0 * math.pi / 30.0
    down = speed**2 * 2.9 * 3.3 * (0.0021 - 2.5e-5) * math.sin(p) * math.cos(p)
    assert shares["propeller moment"] == pytest.approx(2.0 * down / 0.75, rel=1e-6)


def test_mass_behind_the_axis_lightens_and_the_parts_add_up_to_the_whole_coning(drawing: BladeDrawing) -> None:
    shares = named(hover_case(drawing, mass=uniform_mass(0.002)))
    speed, beta = 500.0 * math.pi / 30.0, math.radians(shares["free coning"])
    whole = 2.0 * speed**2 * 2.9 * 0.002 * beta * (3.55**2 - 0.25**2) / 2.0 / 0.75
    parts = shares["mass offset times tilt of the feathering axis"] + shares["mass offset times coning less precone"]
    assert parts == pytest.approx(-whole, rel=0.01)  # cos p along the twisted blade is left out of the hand sum
    assert parts < 0.0


def test_senses_and_spring(drawing: BladeDrawing) -> None:
    drawing = changed(drawing, trim_spring=40.0)
    up = hover_case(drawing, mass=uniform_mass())
    down = hover_case(changed(drawing, lever_up_is="nose down"), mass=uniform_mass())
    for name, value in named(up).items():
        if name == "trim spring":
            assert value == named(down)[name] == -40.0
        elif name in {part.name for part in up.contributions}:
            assert named(down)[name] == pytest.approx(-value, rel=1e-12)


def test_spring_rate_counts_from_the_lowest_collective(drawing: BladeDrawing) -> None:
    sprung = changed(drawing, trim_spring=40.0, trim_spring_rate=100.0)
    low = named(collective_handle_force(sprung, math.radians(1.5)))
    high = named(collective_handle_force(sprung, math.radians(5.5)))
    assert low["trim spring"] == pytest.approx(-40.0)
    assert high["trim spring"] == pytest.approx(-40.0 + 100.0 * math.radians(4.0) * 0.15 * 5.0)


def test_spring_rate_without_a_lowest_collective_gives_no_total(drawing: BladeDrawing) -> None:
    sprung = changed(drawing, trim_spring=40.0, trim_spring_rate=100.0)
    assert sprung.rotor is not None
    rotor = sprung.rotor.model_copy(update={"collective_least": None})
    answer = hover_case(sprung.model_copy(update={"rotor": rotor}), mass=uniform_mass())
    assert answer.total is None
    assert answer.missing[0].needs == ("rotor.collective_least",)


def test_counterweights_help_the_nose_up(drawing: BladeDrawing) -> None:
    weighted = changed(drawing, counterweight=20.0)
    shares = named(collective_handle_force(weighted, math.radians(5.0), 540.0 * math.pi / 30.0))
    expected = 20.0 * (540.0 / 500.0) ** 2 * math.sin(math.radians(10.0))
    assert shares["counterweights"] == pytest.approx(-2.0 * expected / 0.75, rel=1e-9)


def test_trim_tab_up_lightens_by_the_strip_sum(drawing: BladeDrawing) -> None:
    tab = drawing.trim.model_copy(
        update={"tab_inner": 2.0, "tab_outer": 2.3, "tab_chord": 0.02, "tab_angle": math.radians(2.0)}
    )
    shares = named(hover_case(drawing.model_copy(update={"trim": tab})))
    speed = 500.0 * math.pi / 30.0
    moment = 1.225 * 0.2**2 * speed**2 * (2.3**3 - 2.0**3) / 6.0 * flap_derivatives(0.1).moment * math.radians(2.0)
    assert shares["trim tab"] == pytest.approx(-2.0 * moment / 0.75, rel=1e-7)


def test_half_described_tab_names_what_is_missing(drawing: BladeDrawing) -> None:
    tab = drawing.trim.model_copy(update={"tab_inner": 2.0, "tab_outer": 2.3})
    answer = hover_case(drawing.model_copy(update={"trim": tab}), mass=uniform_mass())
    assert answer.total is None
    assert [gap.needs for gap in answer.missing] == [("trim.tab_chord", "trim.tab_angle")]


def test_feathering_axis_ahead_of_the_quarter_chord_makes_lift_heavy(drawing: BladeDrawing) -> None:
    ahead = drawing.model_copy(update={"planform": drawing.planform.model_copy(update={"feathering_axis": 0.24})})
    shares = named(hover_case(ahead))
    # all lift 1 % of the chord behind the axis: weight x 2 mm over 0.75 m of handle
    assert shares["lift offset"] == pytest.approx(480.0 * 9.80665 * 0.002 / 0.75, rel=1e-9)


@pytest.mark.parametrize(
    ("cut", "needs"),
    [("rotor", ("rotor",)), ("control", ("rotor.control",)), ("friction", ("rotor.control.friction",))],
)
def test_what_is_not_entered_is_named_and_never_guessed(
    drawing: BladeDrawing, cut: str, needs: tuple[str, ...]
) -> None:
    if cut == "rotor":
        poorer = drawing.model_copy(update={"rotor": None})
    elif cut == "control":
        assert drawing.rotor is not None
        poorer = drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"control": None})})
    else:
        poorer = changed(drawing, friction=None)
    answer = hover_case(poorer, mass=uniform_mass())
    assert needs in [gap.needs for gap in answer.missing]
    assert (answer.total is None) == (cut != "friction")
    assert "section moment coefficient" in named(answer)


def test_no_total_without_the_blades_own_inertia(drawing: BladeDrawing) -> None:
    answer = hover_case(drawing.model_copy(update={"spar": None}))
    assert answer.total is None
    assert answer.missing[0].needs == ("spar",)


def test_the_drawing_s_own_mass_is_used_unless_another_is_given(drawing: BladeDrawing) -> None:
    own = hover_case(drawing)
    assert own.total is not None
    assert own == hover_case(drawing, mass=span_mass(drawing))
    assert own.total != hover_case(drawing, mass=uniform_mass()).total


def test_lowest_collective_case_needs_its_two_limits(drawing: BladeDrawing) -> None:
    assert drawing.rotor is not None
    speeds = drawing.rotor.speeds.model_copy(update={"power_off_greatest": None})
    rotor = drawing.rotor.model_copy(update={"speeds": speeds, "collective_least": None})
    answer = lowest_collective_case(drawing.model_copy(update={"rotor": rotor}))
    assert answer.total is None
    assert answer.missing[0].needs == ("rotor.collective_least", "rotor.speeds.power_off_greatest")


def test_a_lever_that_rises_beyond_its_friction_says_so(drawing: BladeDrawing) -> None:
    drawing = changed(drawing, trim_spring=40.0)
    light = hover_case(drawing, mass=uniform_mass())
    assert light.rises_by_itself is True  # 40 N of spring on a blade that asks for less
    held = hover_case(changed(drawing, friction=80.0), mass=uniform_mass())
    assert held.rises_by_itself is False
    assert hover_case(drawing.model_copy(update={"spar": None})).rises_by_itself is None


def test_bad_rotor_speed_is_refused(drawing: BladeDrawing) -> None:
    with pytest.raises(BadInput) as caught:
        collective_handle_force(drawing, rotor_speed=0.0)
    assert (caught.value.field, caught.value.allowed) == ("rotor_speed", "more than 0 rad/s")


def test_unsourced_material_marks_only_what_the_mass_pulls(drawing: BladeDrawing) -> None:
    marked = {figure.name for figure in hover_case(drawing).contributions if not figure.validated}
    assert marked == {
        "propeller moment",
        "mass offset times tilt of the feathering axis",
        "mass offset times coning less precone",
        "drag times coning less precone",
        "turning of the coned section",
        "weight times mass offset",
    }


def test_unsourced_material_marks_the_total_unvalidated(drawing: BladeDrawing) -> None:
    total = hover_case(drawing, mass=uniform_mass()).total
    assert total is not None
    assert not total.validated  # the film has no source
