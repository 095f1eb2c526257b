"""Failure modes on a photograph, worked by hand on a face of 400 by 100 pixels, an inch high."""

import dataclasses
import datetime

import pytest

from bladewright.drawing.limits import PeelLimits
from bladewright.errors import SeveralBadInputs
from bladewright.evidence.outlined import Corner, Mark, Outline, OutlinedPhotograph
from bladewright.evidence.photograph import Photograph
from bladewright.evidence.records import Coupon, FailureMode, Source, TornFace
from bladewright.figures import Finding, Outcome
from bladewright.proof.outlined import judge_photographs, measured_face, refuse_unclear
from bladewright.proof.verdict import judge_blade
from tests.proof import invented_blade

LIMITS = PeelLimits.model_validate(
    {
        "mean_least": "15 lbf/in", "skip": "1 in", "length": "5 in", "adhesion_greatest": "0 %", "void_greatest": "5 %",
        "uncertainty": "3 %", "source": "sheet, invented",
    }
)  # fmt: skip
DAY = datetime.date(2026, 3, 5)
WHOLE: tuple[Corner, ...] = ((0, 0), (400, 0), (400, 100), (0, 100))
PICTURE = Photograph(Source("root-top.png", "a" * 64), "png", 400, 100)
SQUARE = 1e6 * (0.0254 / 100) ** 2  # [mm^2] of a pixel


def box(left: float, top: float, right: float, bottom: float) -> tuple[Corner, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def outlined(*areas: tuple[FailureMode, tuple[Corner, ...]], placing: float = 0.5) -> OutlinedPhotograph:
    marks = (Mark(0.0254, (10, 0), (10, 100)),)
    drawn = tuple(Outline(mode, corners) for mode, corners in areas)
    return OutlinedPhotograph(
        Source("root-top.toml", "b" * 64), PICTURE, "0007", "root", "top", "root-top.png", "R. Vane", DAY, placing,
        WHOLE, marks, drawn,
    )  # fmt: skip


def coupon(adhesion: float = 0.0, film: float = 0.0, void: float = 0.0) -> Coupon:
    """Read areas in square pixels, of 40,000."""
    left = 40_000 - adhesion - film - void
    areas = (("CF", left), ("SCF", film), ("AF", adhesion), ("void", void))
    face = tuple((mode, area * SQUARE / 1e6) for mode, area in areas)
    return Coupon(
        Source("root.toml", "c" * 64), "0007", "root", 0.0254,
        (TornFace("top", face), TornFace("bottom", face)), "R. Vane", DAY,
    )  # fmt: skip


def judged(photos: list[OutlinedPhotograph], read: Coupon | None = None) -> dict[str, Finding]:
    found = judge_photographs([read or coupon()], photos, LIMITS)
    return {finding.rule.rpartition(": ")[2]: finding for finding in found}


ALL_COHESIVE = ("CF", WHOLE)


def test_shares_and_areas_by_hand() -> None:
    """A void of 2,000, a thin film of 3,800 on the remaining 38,000: 5 % of the whole and 10 % of the bonded."""
    found = measured_face(outlined(ALL_COHESIVE, ("void", box(0, 0, 20, 100)), ("SCF", box(100, 0, 138, 100))))
    assert found is not None
    told = {mode: figure.value for mode, figure in found.shares}
    assert told == pytest.approx({"AF": 0.0, "void": 5.0, "SCF": 10.0, "CF": 90.0})
    assert {mode: figure.value for mode, figure in found.areas}["SCF"] == pytest.approx(3800 * SQUARE)
    assert found.whole is not None
    assert found.whole.value == pytest.approx(40_000 * SQUARE)


def test_the_scale_alone_by_hand() -> None:
    """100 px to an inch, each end within 0.5 px: twice sqrt(2) 0.5 / 100 on a length, twice that on an area, k = 2."""
    found = measured_face(outlined(ALL_COHESIVE))
    assert found is not None
    assert found.whole is not None
    assert (found.whole.uncertainty or 0.0) / found.whole.value >= 2 * 2 * 2**0.5 * 0.5 / 100


def test_a_clean_face_passes_and_agrees() -> None:
    found = judged([outlined(ALL_COHESIVE)])
    assert {rule: finding.outcome for rule, finding in found.items()} == {
        "adhesion failure": Outcome.PASS, "void": Outcome.PASS, "agrees with the reading": Outcome.PASS,
    }  # fmt: skip


def test_any_adhesion_failure_outlined_fails_and_nobody_may_accept_it() -> None:
    found = judged([outlined(ALL_COHESIVE, ("AF", box(0, 0, 5, 5)))], coupon(adhesion=25))["adhesion failure"]
    assert (found.outcome, found.deviable) == (Outcome.FAIL, False)


def test_what_nobody_outlined_counts_as_adhesion_failure_until_somebody_does() -> None:
    half = outlined(("CF", box(0, 0, 200, 100)))
    found = judged([half])["adhesion failure"]
    assert found.outcome is Outcome.MISSING
    assert "50 %" in found.sentence
    both = judged([half, outlined(ALL_COHESIVE)])["adhesion failure"]
    assert both.outcome is Outcome.PASS, "outlined since, on the same photograph"


def test_a_second_outline_never_takes_adhesion_failure_back() -> None:
    seen = outlined(ALL_COHESIVE, ("AF", box(0, 0, 40, 50)))
    assert judged([seen, outlined(ALL_COHESIVE)])["adhesion failure"].outcome is Outcome.FAIL


def test_a_photograph_nobody_outlined_is_missing_not_a_pass() -> None:
    bare = dataclasses.replace(outlined(), outline=(), marks=(), placing=None)
    assert {finding.outcome for finding in judge_photographs([coupon()], [bare], LIMITS)} == {Outcome.MISSING}


def test_an_overlap_is_the_worse_of_both() -> None:
    found = measured_face(outlined(ALL_COHESIVE, ("AF", box(0, 0, 20, 100))))
    assert found is not None
    assert found.share("AF").value == pytest.approx(5.0)
    assert found.share("CF").value == pytest.approx(95.0)


def test_photograph_and_reading_that_differ_are_for_a_person() -> None:
    film = ("SCF", box(0, 0, 60, 100))
    assert judged([outlined(ALL_COHESIVE, film)], coupon(film=6000))["agrees with the reading"].outcome is Outcome.PASS
    found = judged([outlined(ALL_COHESIVE, film)], coupon(film=2000))["agrees with the reading"]
    assert found.outcome is Outcome.REFER
    assert "15" in found.sentence


def test_a_reading_of_another_size_is_found_by_the_marked_length() -> None:
    small = coupon()
    shrunk = tuple(TornFace(face.face, tuple((mode, 0.8 * area) for mode, area in face.areas)) for face in small.faces)
    found = judged([outlined(ALL_COHESIVE)], dataclasses.replace(small, faces=shrunk))["agrees with the reading"]
    assert (found.outcome, "the whole face" in found.sentence) == (Outcome.REFER, True)


def test_two_persons_outlines_widen_the_uncertainty_by_their_own_scatter() -> None:
    first, second = (outlined(ALL_COHESIVE, ("SCF", box(0, 0, right, 100))) for right in (60, 80))
    alone = judged([first], coupon(film=7000))["agrees with the reading"]
    both = judged([first, second], coupon(film=7000))["agrees with the reading"]
    assert (alone.outcome, both.outcome) == (Outcome.REFER, Outcome.PASS)


def test_void_near_its_limit_is_for_a_person_and_over_it_fails() -> None:
    for right, outcome in ((10, Outcome.PASS), (20, Outcome.REFER), (24, Outcome.FAIL)):
        void = ("void", box(0, 0, right, 100))
        assert judged([outlined(ALL_COHESIVE, void)], coupon(void=100 * right))["void"].outcome is outcome


def test_outlines_that_cross_are_refused_and_one_in_another_is_not() -> None:
    refuse_unclear(outlined(ALL_COHESIVE, ("AF", box(10, 10, 30, 30)), ("void", box(30, 10, 60, 30))))
    with pytest.raises(SeveralBadInputs) as caught:
        refuse_unclear(outlined(ALL_COHESIVE, ("AF", box(10, 10, 30, 30)), ("void", box(20, 20, 60, 50))))
    assert [(error.field, error.value) for error in caught.value.errors] == [("areas.3", "void")]


def test_no_limits_is_not_a_pass() -> None:
    found = judge_photographs([coupon()], [outlined(ALL_COHESIVE)], None)
    assert found[0].outcome is Outcome.MISSING


def test_a_photograph_without_its_coupon_is_held_to_nothing_and_says_so() -> None:
    found = judge_photographs([], [outlined(ALL_COHESIVE)], LIMITS)
    assert found[-1].outcome is Outcome.MISSING


def test_a_blade_is_judged_by_its_photographs_too() -> None:
    good = invented_blade.everything()
    photo = dataclasses.replace(
        outlined(ALL_COHESIVE, ("AF", box(0, 0, 40, 100))), serial=invented_blade.SERIAL, label=good.coupons[0][0].label
    )
    verdict = judge_blade(
        invented_blade.DRAWING,
        "0" * 64,
        invented_blade.SERIAL,
        dataclasses.replace(good, photographs=(photo,)),
        (),
        "0",
    )
    assert verdict.word == "rejected"
    assert ("b" * 64) in {sha for _, sha in verdict.evidence}
