"""What each dimension does to an answer, against closed forms; the ranking; and slopes that two steps disagree on."""

import math
from pathlib import Path

import pytest

from bladewright.design.sensitivity import BONDLINE, Ranking, Step, _sensitivity, sensitivities, steps
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.figures import Figure

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
LOWEST = "handle force, lowest collective, greatest power-off speed, all blades alike"


@pytest.fixture(scope="module")
def drawing(_thin_sections: None) -> BladeDrawing:
    return read_drawing(FM31)


@pytest.fixture(scope="module")
def rankings(drawing: BladeDrawing) -> dict[str, Ranking]:
    return {ranking.answer.name: ranking for ranking in sensitivities(drawing).rankings}


def slope(ranking: Ranking, field: str) -> float:
    (found,) = (row.slope for row in ranking.rows if row.step.field == field)
    return found


def test_reflex_has_the_slope_of_half_a_flap_in_strip_theory(drawing: BladeDrawing) -> None:
    # Glauert 1927; on a hinged hub no bent blade answers too; two blades, 0.75 m of handle for a radian
    assert drawing.rotor is not None
    hinged = drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"hub": "hinged"})})
    rankings = {ranking.answer.name: ranking for ranking in sensitivities(hinged).rankings}
    per_radian = 0.5 * flap_derivatives(0.1).moment
    speed = 540.0 * math.pi / 30.0
    moment = 1.225 * 0.2**2 * speed**2 * (3.55**3 - 0.45**3) / 6.0 * per_radian
    # 3 % for what lift, changed with it, does to the coning and so to the mass offset
    assert slope(rankings[LOWEST], "reflex.angle") == pytest.approx(-2.0 * moment / 0.75, rel=0.03)


def test_twist_weighs_in_the_effective_pitch_by_radius_squared(rankings: dict[str, Ranking]) -> None:
    # integral of y^2 (y - 0.25)/3.3 over integral of y^2, from 0.45 to 3.55 m, constant chord
    squares, cubes = ((3.55**n - 0.45**n) / n for n in (3, 4))
    share = (cubes - 0.25 * squares) / 3.3 / squares
    assert slope(rankings["effective pitch (track)"], "planform.stations.2.twist") == pytest.approx(
        math.degrees(1.0) * share, rel=1e-6
    )


def test_the_strongest_comes_first_and_each_moves_by_its_own_tolerance(rankings: dict[str, Ranking]) -> None:
    for ranking in rankings.values():
        effects = [abs(row.effect.value) for row in ranking.rows]
        assert effects == sorted(effects, reverse=True)
    steps_taken = {row.step.field: row.step for row in rankings[LOWEST].rows}
    assert steps_taken["reflex.angle"].by == pytest.approx(math.radians(0.2))
    assert steps_taken["reflex.angle"].entered
    assert steps_taken["tip_weight.mass"].by == pytest.approx(0.009)  # no tolerance: 1 % of 0.9 kg, and it says so
    assert not steps_taken["tip_weight.mass"].entered
    assert steps_taken[BONDLINE].by == pytest.approx(0.5 * 0.002 * 0.0254)


def test_together_counts_entered_tolerances_only(rankings: dict[str, Ranking]) -> None:
    ranking = rankings[LOWEST]
    entered = [row.effect.value for row in ranking.rows if row.step.entered]
    assert 0 < len(entered) < len(ranking.rows)
    assert ranking.together.value == pytest.approx(math.sqrt(sum(value**2 for value in entered)))


def test_only_dimensions_of_the_blade_are_moved(drawing: BladeDrawing) -> None:
    fields = [step.field for step in steps(drawing)]
    assert {"reflex.angle", "skin.top_thickness", "doubler.bolts.1.chordwise", "finish.area_density"} <= set(fields)
    assert not [field for field in fields if field.startswith(("rotor", "materials", "limits"))]
    assert not [field for field in fields if "tolerance" in field or "mould" in field or "loose" in field]


def test_two_slopes_that_disagree_are_marked_not_smooth() -> None:
    answer = Figure("force", 10.0, "N")
    step = Step("reflex.angle", "angle", 0.03, 0.003, True, "its tolerance")
    kinked = _sensitivity(answer, step, whole=100.0, half=90.0)
    assert not kinked.smooth
    assert kinked.disagreement == pytest.approx(0.1)
    assert not kinked.effect.inside_validity
    assert _sensitivity(answer, step, whole=100.0, half=98.0).smooth


def test_without_a_rotor_only_track_is_ranked(drawing: BladeDrawing) -> None:
    found = sensitivities(drawing.model_copy(update={"rotor": None}))
    assert [ranking.answer.name for ranking in found.rankings] == ["effective pitch (track)"]
