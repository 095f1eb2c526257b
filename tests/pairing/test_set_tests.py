"""The two tests of a set, worked by hand."""

import math

import pytest

from bladewright.figures import Outcome
from bladewright.pairing.handle import LOWEST, force_of_set
from bladewright.pairing.judging import judged
from bladewright.pairing.quantities import limit_figures
from bladewright.pairing.terms import Places
from tests.pairing.invented_blades import BALANCE, LIMITS, blade, finding, outcomes, terms

TERMS = terms(Places())  # no pocket: no trim weight


def test_alike_blades_pass_every_test() -> None:
    one = judged((blade("A"), blade("B")), TERMS)
    assert set(outcomes(one).values()) == {Outcome.PASS}
    assert one.cost == 0.0


@pytest.mark.parametrize(
    ("difference", "outcome"),
    [
        (0.0, Outcome.PASS),
        (0.0071, Outcome.PASS),  # 0.0071 + 0.0028 is inside 0.010
        (0.0073, Outcome.REFER),  # inside by less than U
        (6.4120 - 6.4020, Outcome.REFER),  # on the limit, though 0.01000000000000156 in binary
        (0.0101, Outcome.FAIL),
    ],
)
def test_span_moment_against_its_limit(difference: float, outcome: Outcome) -> None:
    one = judged((blade("A", span_moment=difference), blade("B")), TERMS)
    found = finding(one, "mates: span moment")
    assert found.outcome is outcome
    assert found.worst is not None
    # two of 0.002 kg m, combined as independent
    assert found.worst.uncertainty == pytest.approx(0.0028284, rel=1e-4)
    assert (found.limit, found.limit_source) == ("0.01 kg m", "invented drawing")


def test_a_difference_below_its_uncertainty_is_said_to_be_unresolved() -> None:
    near = finding(judged((blade("A", span_moment=0.002), blade("B")), TERMS), "mates: span moment")
    far = finding(judged((blade("A", span_moment=0.004), blade("B")), TERMS), "mates: span moment")
    assert "(not resolved)" in near.sentence
    assert "(resolved)" in far.sentence


def test_uncertainty_that_was_never_said_is_referred() -> None:
    one = judged((blade("A", effective_pitch_uncertainty=None), blade("B")), TERMS)
    assert outcomes(one)["mates: effective pitch"] is Outcome.REFER


@pytest.mark.parametrize(
    ("field", "rule"),
    [
        ("chordwise_centre", "mates: chordwise centre"),
        ("section_moment", "mates: section moment"),
        ("effective_pitch", "mates: effective pitch"),
        ("handle_force", "set: handle force"),
        ("handle_force_lowest", "set: handle force at lowest collective"),
    ],
)
def test_what_is_not_known_is_missing_not_passed(field: str, rule: str) -> None:
    one = judged((blade("A", **{field: None}), blade("B")), TERMS)
    assert finding(one, rule).outcome is Outcome.MISSING
    assert not finding(one, rule).deviable
    assert "A" in finding(one, rule).sentence


def test_a_limit_that_is_not_entered_is_missing() -> None:
    bare = LIMITS.model_copy(update={"section_moment": None, "effective_pitch": None})
    found = outcomes(judged((blade("A"), blade("B")), terms(limits=bare, handle_band=None)))
    assert found["mates: section moment"] is found["mates: effective pitch"] is Outcome.MISSING
    assert found["set: handle force"] is found["set: handle force at lowest collective"] is Outcome.MISSING


def test_a_known_fail_in_three_is_not_hidden_by_an_unknown() -> None:
    one = judged((blade("A", section_moment=0.002), blade("B"), blade("C", section_moment=None)), TERMS)
    assert outcomes(one)["mates: section moment"] is Outcome.FAIL


def test_a_certain_fail_is_not_hidden_by_a_pair_of_unknown_uncertainty() -> None:
    three = (
        blade("A", section_moment=0.0),
        blade("B", section_moment=0.0011),
        blade("C", section_moment=0.0005, section_moment_uncertainty=None),
    )
    assert outcomes(judged(three, TERMS))["mates: section moment"] is Outcome.FAIL


@pytest.mark.parametrize(
    ("shares", "outcome"),
    [
        ((4.0, 4.0), Outcome.PASS),
        ((10.0, 10.8), Outcome.PASS),  # 20.8 + 1.0 below 22
        ((10.7, 10.7), Outcome.REFER),  # 21.4 + 1.0 above
        ((11.5, 11.0), Outcome.FAIL),
        ((-4.2, -4.2), Outcome.REFER),
        ((-5.0, -4.5), Outcome.FAIL),
    ],
)
def test_the_sum_at_the_handle_against_the_band(shares: tuple[float, float], outcome: Outcome) -> None:
    one = judged(tuple(blade(n, handle_force=s) for n, s in zip("AB", shares, strict=True)), TERMS)
    assert outcomes(one)["set: handle force"] is outcome
    assert one.handle_force is not None
    assert one.handle_force.value == pytest.approx(sum(shares))
    # the shares rest on one model: 0.5 + 0.5, not the root of squares
    assert one.handle_force.uncertainty == pytest.approx(1.0)


def test_mates_can_pass_while_their_sum_fails() -> None:
    one = judged((blade("A", handle_force=12.0), blade("B", handle_force=12.0)), TERMS)
    assert outcomes(one)["mates: handle force, one blade's share"] is Outcome.PASS
    assert outcomes(one)["set: handle force"] is Outcome.FAIL


@pytest.mark.parametrize(
    ("friction", "outcome"), [(8.0, Outcome.PASS), (6.2, Outcome.REFER), (5.0, Outcome.FAIL), (None, Outcome.FAIL)]
)
def test_a_lever_that_rises_by_itself_fails_unless_friction_holds_it(friction: float | None, outcome: Outcome) -> None:
    # -6 N in all, inside the band of -9 N: only friction keeps the lever down when the hand is off
    light = tuple(blade(name, handle_force_lowest=-3.0) for name in "AB")
    assert outcomes(judged(light, terms(friction=friction)))["set: handle force at lowest collective"] is outcome


def test_a_model_without_uncertainty_refers_the_sum_but_not_the_difference() -> None:
    pair = tuple(blade(name, handle_force_model_uncertainty=None) for name in "AB")
    found = outcomes(judged(pair, TERMS))
    assert found["set: handle force"] is Outcome.REFER
    assert found["mates: handle force, one blade's share"] is Outcome.PASS
    force = force_of_set(pair, LOWEST)
    assert force is not None
    assert force.uncertainty is None


def test_what_is_shown_has_the_units_of_the_limits_it_is_drawn_beside() -> None:
    one = judged((blade("A", effective_pitch=math.radians(0.05)), blade("B")), TERMS)
    shown = {figure.name: figure for figure in one.differences}
    limits = {figure.name: figure for figure in limit_figures(LIMITS)}
    assert {name: f.unit for name, f in shown.items()} == {name: f.unit for name, f in limits.items()}
    assert shown["effective pitch"].value == pytest.approx(0.05)
    assert limits["chordwise centre"].value == pytest.approx(0.4)


def test_a_difference_in_mass_says_what_it_comes_to_at_the_hub() -> None:
    # 0.008 kg m at 50 rad/s is 20 N, its 0.00283 kg m are 7.1 N; 12 kg times 0.1 mm is 3 N
    pair = (blade("A", span_moment=0.008, chordwise_centre=1e-4), blade("B"))
    told = judged(pair, terms(Places(balance=BALANCE)))
    assert "20 N +/- 7.1 N once a revolution" in finding(told, "mates: span moment").sentence
    assert "3 N +/-" in finding(told, "mates: chordwise centre").sentence
    assert "hub" not in finding(told, "mates: effective pitch").sentence
    silent = judged(pair, terms(Places(balance=BALANCE), rotor_speed=None))
    assert "once a revolution" not in finding(silent, "mates: span moment").sentence


def test_one_share_without_a_source_marks_the_force_of_the_set_and_the_difference() -> None:
    one = judged((blade("A"), blade("B", handle_force_validated=False)), TERMS)
    assert one.handle_force is not None
    assert not one.handle_force.validated
    marked = {figure.name for figure in one.differences if not figure.validated}
    assert marked == {"handle force, one blade's share"}
