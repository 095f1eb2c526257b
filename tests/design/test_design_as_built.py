"""Departures turned into flight effects, against the closed form of strip theory with Glauert's flap."""

import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.as_built import as_built
from bladewright.design.records import AsBuilt, Departure
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput
from bladewright.figures import Figure

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
LOW_SHARE = "change of handle force, lowest collective, greatest power-off speed, this blade's share"
HOVER_SHARE = "change of handle force, hover, this blade's share"


@pytest.fixture(scope="module")
def drawing(_thin_sections: None) -> BladeDrawing:
    return read_drawing(FM31)


def mass_of(drawing: BladeDrawing) -> SpanMass:
    """A stand-in that lets skin and paint show: uniform, plus their girth of 0.41 m."""
    y = np.linspace(0.25, 3.55, 34)
    one = np.ones_like(y)
    assert drawing.finish is not None
    per_length = 2.0 + 0.41 * (2770.0 * drawing.skin.top_thickness + drawing.finish.area_density)
    return SpanMass(y, per_length * one, 0.0 * one, 0.0 * one, 6e-3 * one, 7e-5 * one, 0.0 * one)


def of_unknown_mass(drawing: BladeDrawing) -> BladeDrawing:
    """Without its spar: what is left is aerodynamics, which the hand sums below are of."""
    return drawing.model_copy(update={"spar": None})


def named(answer: AsBuilt) -> dict[str, Figure]:
    return {figure.name: figure for figure in answer.effects}


def reflex_up(degrees: float, uncertainty: float | None) -> Departure:
    spread = None if uncertainty is None else math.radians(uncertainty)
    return Departure("reflex.angle", math.radians(2.0 + degrees), spread)


def hand_share(degrees: float, rpm: float) -> float:
    """One skin turned: half of Glauert's flap, strip theory, two blades' moment halved again to one blade's share."""
    change = 0.5 * flap_derivatives(0.1).moment * math.radians(degrees)
    speed = rpm * math.pi / 30.0
    return -1.225 * 0.2**2 * speed**2 * (3.55**3 - 0.45**3) / 6.0 * change / (0.15 * 5.0)


def test_reflex_three_tenths_up_lightens_the_collective_by_the_hand_sum(drawing: BladeDrawing) -> None:
    effects = named(as_built(of_unknown_mass(drawing), [reflex_up(0.3, 0.05)]))
    # 1 % for the slope of the surfaces where the skin turns; at a given collective only the section's moment changes
    assert effects[LOW_SHARE].value == pytest.approx(hand_share(0.3, 540.0), rel=0.01)
    assert effects[HOVER_SHARE].value == pytest.approx(hand_share(0.3, 500.0), rel=0.01)
    assert effects[LOW_SHARE].value < 0.0
    assert effects[LOW_SHARE].unit == "N"


def test_uncertainty_is_the_slope_of_the_closed_form_times_the_reading_s(drawing: BladeDrawing) -> None:
    effects = named(as_built(of_unknown_mass(drawing), [reflex_up(0.3, 0.05)]))
    assert effects[LOW_SHARE].uncertainty == pytest.approx(-hand_share(0.05, 540.0), rel=0.01)
    moment = effects["change of section moment coefficient"]
    assert moment.value == pytest.approx(0.5 * 0.54 * math.radians(0.3), rel=0.01)
    assert moment.uncertainty == pytest.approx(0.5 * 0.54 * math.radians(0.05), rel=0.01)


def test_finite_differences_tend_to_the_closed_form_slope(drawing: BladeDrawing) -> None:
    # the difference of the one-sided bend is not linear in the angle; its error shrinks with it, down to the
    # 0.3 % that the slope of the top skin at the bend leaves
    slopes = [
        named(as_built(drawing, [reflex_up(step, None)]))["change of section moment coefficient"].value
        / math.radians(step)
        for step in (0.8, 0.4, 0.2, 0.1)
    ]
    steps = np.abs(np.diff(slopes))
    assert steps[0] / steps[1] == pytest.approx(2.0, abs=0.1)
    assert steps[1] / steps[2] == pytest.approx(2.0, abs=0.1)
    limit = slopes[-1] + (slopes[-1] - slopes[-2])
    assert limit == pytest.approx(0.5 * flap_derivatives(0.1).moment, rel=0.01)


def test_effective_pitch_falls_by_half_the_flap_effectiveness(drawing: BladeDrawing) -> None:
    pitch = named(as_built(drawing, [reflex_up(0.3, 0.05)]))["change of effective pitch"]
    assert pitch.value == pytest.approx(-0.5 * flap_derivatives(0.1).zero_lift_angle * 0.3, rel=0.01)
    assert pitch.unit == "deg"


def test_hover_is_trimmed_again_so_the_propeller_moment_answers(drawing: BladeDrawing) -> None:
    effects = named(as_built(drawing, [reflex_up(0.3, 0.05)], mass_of=mass_of))
    more_pitch = math.radians(0.5 * flap_derivatives(0.1).zero_lift_angle * 0.3)
    speed, pitch = 500.0 * math.pi / 30.0, math.radians(7.0)
    heavier = speed**2 * (6e-3 - 7e-5) * 3.3 * math.cos(2.0 * pitch) * more_pitch / 0.75
    assert effects[HOVER_SHARE].value == pytest.approx(hand_share(0.3, 500.0) + heavier, rel=0.02)


def test_a_blade_s_share_times_the_blades_is_the_whole(drawing: BladeDrawing) -> None:
    effects = named(as_built(drawing, [reflex_up(0.3, 0.05)]))
    whole = effects["change of handle force, hover, all blades alike"]
    assert whole.value == pytest.approx(2.0 * effects[HOVER_SHARE].value, rel=1e-12)
    assert whole.uncertainty == pytest.approx(2.0 * (effects[HOVER_SHARE].uncertainty or 0.0), rel=1e-9)


def test_known_part_without_the_blade_s_inertia_is_marked_outside_validity(drawing: BladeDrawing) -> None:
    answer = as_built(of_unknown_mass(drawing), [reflex_up(0.3, 0.05)])
    assert not named(answer)[HOVER_SHARE].inside_validity
    assert ("spar",) in [gap.needs for gap in answer.missing]
    assert named(as_built(drawing, [reflex_up(0.3, 0.05)]))[HOVER_SHARE].inside_validity


def test_a_thicker_web_is_heavier_by_the_hand_sum_and_moves_the_handle(drawing: BladeDrawing) -> None:
    effects = named(as_built(drawing, [Departure("spar.web", 0.0031, 1e-5)]))
    # its middle stays at 30 % of the chord: half of it fills the hollow, 16.6 mm deep there, half stands behind the
    # spar, 22.2 mm deep; 5 % because depths are read at the middle
    more = 2710.0 * 1e-4 * 0.5 * (0.0166 + 0.0222) * 3.3
    assert effects["change of mass"].value == pytest.approx(more, rel=0.05)
    assert effects["change of mass"].uncertainty == pytest.approx(0.1 * effects["change of mass"].value, rel=1e-3)
    assert effects["change of span moment"].value == pytest.approx(1.9 * effects["change of mass"].value, rel=1e-6)
    assert abs(effects[HOVER_SHARE].value) > 1e-6


def test_unknown_uncertainty_stays_unknown(drawing: BladeDrawing) -> None:
    effects = named(as_built(drawing, [reflex_up(0.3, None), Departure("skin.top_thickness", 8.2e-4, 1e-5)]))
    assert all(figure.uncertainty is None for figure in effects.values())


def test_twist_at_the_tip_station_by_its_number(drawing: BladeDrawing) -> None:
    tenth = math.radians(0.1)
    answer = as_built(drawing, [Departure("planform.stations.2.twist", math.radians(-1.2) + tenth, 0.0)])
    assert answer.drawing.planform.stations[1].twist == pytest.approx(math.radians(-1.1))
    # a straight line from 0 at the root to 0.1 deg at the tip, weighted by radius squared from 0.45 to 3.55 m
    third, fourth = (3.55**3 - 0.45**3) / 3.0, (3.55**4 - 0.45**4) / 4.0
    weighted = (fourth - 0.25 * third) / third / 3.3
    assert named(answer)["change of effective pitch"].value == pytest.approx(0.1 * weighted, rel=1e-6)


def test_twist_measured_at_a_radius_becomes_a_station(drawing: BladeDrawing) -> None:
    built = as_built(drawing, [Departure("planform.twist", math.radians(0.9), 0.0, station=1.9)]).drawing
    assert [station.radius for station in built.planform.stations] == [0.25, 1.9, 3.55]
    assert built.planform.stations[1].twist == pytest.approx(math.radians(0.9))
    assert built.planform.stations[1].chord == pytest.approx(0.2)


def test_a_thicker_skin_is_heavier_by_its_girth_and_the_spar_makes_room(drawing: BladeDrawing) -> None:
    # girth 0.41 m of skin; the spar's face, some 0.06 m of chord above and below and round the nose, moves in with it
    more = 1e-5
    departures = [
        Departure(f"skin.{side}_thickness", drawing.skin.top_thickness + more, 0.0) for side in ("top", "bottom")
    ]
    change = named(as_built(drawing, departures))["change of mass"].value
    face = 2.0 * 0.063 + 0.006
    assert change == pytest.approx(more * 3.3 * (2770.0 * 0.41 - 2710.0 * (face - 2.0 * 0.043)), rel=0.05)


def test_paint_and_skin_change_the_span_moment_by_the_hand_sum(drawing: BladeDrawing) -> None:
    departures = [
        Departure("finish.area_density", 0.160, 0.010),
        Departure("skin.top_thickness", drawing.skin.top_thickness + 2e-5, 5e-6),
    ]
    moment = named(as_built(drawing, departures, mass_of=mass_of))["change of span moment"]
    arm = 0.41 * (3.55**2 - 0.25**2) / 2.0
    assert moment.value == pytest.approx(arm * (0.050 + 2770.0 * 2e-5), rel=1e-9)
    assert moment.uncertainty == pytest.approx(arm * math.hypot(0.010, 2770.0 * 5e-6), rel=1e-9)


def test_several_readings_of_one_field_are_their_mean_and_share_the_gauge_s_error(drawing: BladeDrawing) -> None:
    readings = [
        Departure("reflex.angle", math.radians(degrees), math.radians(0.05), station=y)
        for degrees, y in ((2.2, 1.0), (2.4, 3.0))
    ]
    several, one = named(as_built(drawing, readings)), named(as_built(drawing, [reflex_up(0.3, 0.05)]))
    assert several[LOW_SHARE].value == pytest.approx(one[LOW_SHARE].value, rel=1e-12)
    assert several[LOW_SHARE].uncertainty == pytest.approx(one[LOW_SHARE].uncertainty, rel=1e-12)


def test_dimensions_nobody_has_a_model_for_come_back_as_missing(drawing: BladeDrawing) -> None:
    answer = as_built(drawing, [Departure("length root to tip", 3.3005, 2e-4)], mass_of=mass_of)
    assert answer.missing[0].name == "flight effect of length root to tip"
    assert answer.drawing == drawing
    assert all(figure.value == 0.0 for figure in answer.effects)
    ignored = as_built(drawing, [Departure("spar.web", 0.0031, 1e-5)], mass_of=mass_of)
    assert ignored.missing[0].name == "flight effect of spar.web"  # the stand-in mass does not know the web


def test_no_departure_no_effect(drawing: BladeDrawing) -> None:
    answer = as_built(drawing, [], mass_of=mass_of)
    assert {(figure.value, figure.uncertainty) for figure in answer.effects} == {(0.0, 0.0)}


@pytest.mark.parametrize(
    ("field", "value", "station", "allowed"),
    [
        ("reflex.angel", 0.04, None, "one of angle, loose_skin, loose_to_mould_limit, mould"),
        ("planform.stations.3.twist", 0.0, None, "a number from 1 to 2"),
        ("reflex.side", 0.04, None, "a field with a measured number in it"),
        ("reflex.angle.deg", 0.04, None, "no field below this one"),
        ("planform.twist", 0.0, None, "0.25 m to 3.55 m"),
        ("planform.twist", 0.0, 4.0, "0.25 m to 3.55 m"),
        ("reflex.angle", math.nan, None, "finite numbers, the uncertainty not negative"),
    ],
)
def test_fields_the_drawing_does_not_have_are_refused(
    drawing: BladeDrawing, field: str, value: float, station: float | None, allowed: str
) -> None:
    with pytest.raises(BadInput) as caught:
        as_built(drawing, [Departure(field, value, 0.0, station)])
    assert caught.value.field == field
    assert (caught.value.allowed or "").startswith(allowed)
