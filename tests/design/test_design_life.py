"""Life: a design estimate, never a limit. What must hold whatever the curve says; closed forms, no source."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.crack_interval import CrackInterval
from bladewright.design.life import ESTIMATE, SHORTEST, STARTING, UNGUARDED, DetailLife, Life, life, unguarded
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.drawing.loads import KnockDown
from bladewright.figures import Outcome

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")
HOLE = "spar-bolt-hole"


@pytest.fixture(scope="module", name="answer")
def _answer() -> Life:
    return life(FM31)


def detail(name: str, answer: Life) -> DetailLife:
    return next(one for one in answer.details if one.name == name)


def profile(**changes: object) -> BladeDrawing:
    assert FM31.flight_profile is not None
    return FM31.model_copy(update={"flight_profile": FM31.flight_profile.model_copy(update=changes)})


def record(**changes: object) -> BladeDrawing:
    return FM31.model_copy(update={"fatigue": {HOLE: FM31.fatigue[HOLE].model_copy(update=changes)}})


def test_every_life_is_labelled_an_estimate_and_every_interval_screening(answer: Life) -> None:
    assert ESTIMATE == "design estimate, not a life limit"
    assert answer.figures
    for figure in answer.figures:
        assert (ESTIMATE in figure.name) != ("screening" in figure.name)
    for finding in answer.findings:
        assert finding.outcome is Outcome.REFER
        assert finding.sentence.startswith(ESTIMATE)
        assert not finding.deviable


def test_the_start_and_stop_is_counted_for_each_start(answer: Life) -> None:
    one = detail(HOLE, answer)
    assert one.blocks[-1] == STARTING
    assert one.cycles.per_hour[-1] == 1.5
    assert one.found.starts == pytest.approx(1.5 * one.found.hours)
    low, high = one.cycles.mean[-1] - one.cycles.amplitude[-1], one.cycles.mean[-1] + one.cycles.amplitude[-1]
    assert low <= (one.cycles.mean - one.cycles.amplitude).min() + 1.0
    assert high >= (one.cycles.mean + one.cycles.amplitude).max() - 1.0


def test_cycles_an_hour_are_the_rotors_turns_times_harmonic_and_share(answer: Life) -> None:
    one = detail(HOLE, answer)
    np.testing.assert_allclose(one.cycles.per_hour[:2], (510.0 * 60.0 * 0.30, 2.0 * 510.0 * 60.0 * 0.52), rtol=1e-9)


def test_the_shortest_lived_detail_comes_first(answer: Life) -> None:
    hours = [one.found.hours for one in answer.details]
    assert hours == sorted(hours)


def test_a_knock_down_on_life_divides_it_and_one_on_stress_does_as_the_curve_says(answer: Life) -> None:
    before = detail(HOLE, answer).found.hours
    halved = profile(knock_downs=(*FM31.flight_profile.knock_downs, KnockDown(  # type: ignore[union-attr]
        name="more", acts_on="life", factor=2.0, source="test")))  # fmt: skip
    assert detail(HOLE, life(halved)).found.hours == pytest.approx(0.5 * before)
    raised = profile(knock_downs=(*FM31.flight_profile.knock_downs, KnockDown(  # type: ignore[union-attr]
        name="more", acts_on="stress", factor=1.1, source="test")))  # fmt: skip
    assert detail(HOLE, life(raised)).found.hours == pytest.approx(before * 1.1 ** (-1.0 / 0.105), rel=1e-9)


def test_more_reliability_is_less_life(answer: Life) -> None:
    surer = detail(HOLE, life(profile(reliability=0.9999))).found.hours
    assert surer < detail(HOLE, answer).found.hours


def test_more_starts_and_harder_turns_are_less_life(answer: Life) -> None:
    before = detail(HOLE, answer).found.hours
    assert detail(HOLE, life(profile(starts_per_hour=6.0))).found.hours < before
    assert FM31.flight_profile is not None
    harder = tuple(
        one.model_copy(update={"load_factor": 1.2 * one.load_factor}) for one in FM31.flight_profile.manoeuvres
    )
    assert detail(HOLE, life(profile(manoeuvres=harder))).found.hours < before


def test_what_has_no_source_is_said(answer: Life) -> None:
    assert "knock-down corrosion" in detail(HOLE, answer).unsourced
    assert "unvalidated: knock-down corrosion" in answer.findings[0].sentence
    bare = life(record(source=None))
    assert f"fatigue.{HOLE}" in bare.details[0].unsourced
    assert not any(figure.validated for figure in bare.figures)


def test_beyond_what_was_tested_is_said() -> None:
    short = life(record(greatest=65e6, least=60e6))
    assert not short.details[0].found.trusted
    assert "cycles beyond what was tested" in short.findings[0].sentence
    assert not any(figure.inside_validity for figure in short.figures)


def test_a_curve_that_says_never_is_not_told_as_for_ever() -> None:
    never = FM31.fatigue["doubler-end"].model_copy(update={"shift": 900e6, "greatest": 1e9})
    answer = life(FM31.model_copy(update={"fatigue": {"end": never}}))
    assert "not to say for ever" in answer.findings[0].sentence
    assert not any(figure.name.startswith("life") for figure in answer.figures)
    assert answer.findings[0].outcome is Outcome.REFER


@pytest.mark.parametrize(
    ("drawing", "needs"),
    [
        (FM31.model_copy(update={"flight_profile": None}), ("flight_profile",)),
        (FM31.model_copy(update={"fatigue": {}}), ("fatigue",)),
        (FM31.model_copy(update={"flight_profile": None, "fatigue": {}}), ("flight_profile", "fatigue")),
    ],
)
def test_what_is_not_entered_is_named(drawing: BladeDrawing, needs: tuple[str, ...]) -> None:
    answer = life(drawing)
    assert answer.details == ()
    assert answer.missing[0].needs == needs


def test_without_loads_there_is_no_life() -> None:
    answer = life(FM31.model_copy(update={"loads": None}))
    assert answer.figures == ()
    assert answer.missing[0].needs == ("loads",)


def test_an_inspection_interval_waits_for_what_can_be_found() -> None:
    assert FM31.limits.damage is not None
    blind = FM31.limits.damage.model_copy(update={"detectable_crack": None})
    drawing = FM31.model_copy(update={"limits": FM31.limits.model_copy(update={"damage": blind})})
    needs = {need for gap in life(drawing).missing for need in gap.needs}
    assert needs == {"limits.damage.detectable_crack"}


def test_a_longer_findable_crack_or_more_looks_leave_less_time(answer: Life) -> None:
    def interval(found: Life) -> float:
        return next(f.value for f in found.figures if f.name.startswith("inspection interval"))

    assert FM31.limits.damage is not None
    for change in ({"detectable_crack": 8e-3}, {"interval_factor": 6.0}):
        limits = FM31.limits.damage.model_copy(update=change)
        other = life(FM31.model_copy(update={"limits": FM31.limits.model_copy(update={"damage": limits})}))
        assert interval(other) < interval(answer)


def test_an_undersling_takes_what_swings_in_the_plane_away() -> None:
    # the force aft is 2 W**2 a m (b y - u): nought for a short blade all at b y = u, less for ours at its own 80 mm
    def swinging(undersling: float) -> float:
        assert FM31.rotor is not None
        rotor = FM31.rotor.model_copy(update={"teeter_undersling": undersling})
        return float(detail("doubler-end", life(FM31.model_copy(update={"rotor": rotor}))).cycles.amplitude[1])

    assert swinging(0.080) < 0.7 * swinging(0.0)


def test_an_interval_nobody_can_keep_is_said_where_the_life_is(answer: Life) -> None:
    for one, finding in zip(answer.details, answer.findings, strict=True):
        fast = isinstance(one.crack, CrackInterval) and one.crack.hours < SHORTEST
        assert (UNGUARDED in finding.sentence) is fast
        assert (one.record.detail in unguarded(answer)) is fast


def test_shares_of_the_damage_add_to_all_of_it(answer: Life) -> None:
    for one in answer.details:
        assert sum(float(row[-1].removesuffix(" %")) for row in one.table) == pytest.approx(100.0, abs=0.3)
