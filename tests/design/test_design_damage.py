"""Damage: the entered limit's word first, one of three; a calculation may only tighten it. Closed forms; no source."""

import dataclasses
from pathlib import Path

import pytest

from bladewright.design.damage import SIGNER, DamageAnswer, damage_answer
from bladewright.design.damage_limits import Word, against_limits
from bladewright.design.damage_place import Damage, Kind, size_of, station_of
from bladewright.drawing.damage_limits import DamageZone
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.errors import BadInput, MissingInput
from bladewright.figures import Outcome

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")
R = 3.55


def nick(depth: float, chordwise: float | None = 0.0, station: float = 0.75 * R, **more: float) -> Damage:
    return Damage("nick", station, chordwise, depth=depth, **more)


def value(answer: DamageAnswer, name: str) -> float:
    return next(figure.value for figure in answer.figures if figure.name.startswith(name))


def with_zones(*zones: DamageZone) -> BladeDrawing:
    assert FM31.limits.damage is not None
    damage = FM31.limits.damage.model_copy(update={"zones": zones})
    return FM31.model_copy(update={"limits": FM31.limits.model_copy(update={"damage": damage})})


def zone(name: str, nick_depth: str, inner: str = "0 %", outer: str = "100 %", back: str = "100 %") -> DamageZone:
    entered = {"name": name, "inner": inner, "outer": outer, "front": "0 %", "back": back, "source": "test"}
    return DamageZone.model_validate({**entered, "nick_depth": nick_depth})


def with_skin(**changes: float | None) -> BladeDrawing:
    material = FM31.materials["skin-sheet"].model_copy(update=changes)
    return FM31.model_copy(update={"materials": {**FM31.materials, "skin-sheet": material}})


@pytest.mark.parametrize(
    ("damage", "word"),
    [
        (nick(0.25e-3), Word.WITHIN),  # at its limit
        (nick(0.2501e-3), Word.OUTSIDE),
        (nick(0.2e-3, uncertainty=0.04e-3), Word.WITHIN),
        (nick(0.2e-3, uncertainty=0.06e-3), Word.OUTSIDE),  # nearer than the uncertainty is not inside
        (nick(0.0, station=0.10 * R), Word.NO_LIMIT),  # a zone without a limit allows none, not even nothing
        (nick(0.05e-3, chordwise=None), Word.NO_LIMIT),  # place not told: the seam, where no nick has a limit, counts
        (nick(0.4e-3, chordwise=None), Word.OUTSIDE),
        (nick(0.01e-3, chordwise=0.95), Word.NO_LIMIT),
        (Damage("dent", 0.75 * R, 0.5, depth=0.7e-3), Word.WITHIN),
        (Damage("void", 0.9 * R, 0.2, along=18e-3, across=8e-3), Word.WITHIN),
        (Damage("void", 0.9 * R, 0.2, along=20e-3, across=8e-3), Word.OUTSIDE),  # 160 mm^2: each length fits
        (Damage("void", 0.9 * R, 0.2, along=40e-3, across=12e-3), Word.OUTSIDE),
        (Damage("bondline", 2.0, thickness=0.1e-3), Word.WITHIN),
        (Damage("bondline", 2.0, thickness=0.05e-3), Word.OUTSIDE),
        (Damage("bondline", 2.0, thickness=0.007 * 0.0254), Word.OUTSIDE),
    ],
)
def test_the_word_is_the_entered_limits(damage: Damage, word: Word) -> None:
    assert against_limits(damage, FM31).word is word


def test_there_are_three_words_and_no_fourth() -> None:
    assert [word.value for word in Word] == [
        "within the entered limit",
        "outside: out of service until a named person decides",
        "no limit entered: out of service",
    ]


def test_where_zones_lie_over_each_other_the_tighter_holds() -> None:
    wide = zone("wide", "0.5 mm")
    tight = zone("tight", "0.1 mm", "70 %", "80 %", "10 %")
    assert against_limits(nick(0.3e-3), with_zones(wide)).word is Word.WITHIN
    assert against_limits(nick(0.3e-3), with_zones(wide, tight)).word is Word.OUTSIDE


def test_no_zone_at_all_is_no_limit() -> None:
    answer = damage_answer(
        FM31.model_copy(update={"limits": FM31.limits.model_copy(update={"damage": None})}), nick(0.1e-3)
    )
    assert answer.word is Word.NO_LIMIT
    assert answer.outcome is Outcome.MISSING
    assert ("limits.damage.zones",) in [gap.needs for gap in answer.missing]


def test_question_eleven_says_outside_and_how_much_worse() -> None:
    answer = damage_answer(FM31, nick(0.4e-3))
    assert answer.word is Word.OUTSIDE
    assert answer.outcome is Outcome.FAIL
    assert answer.who.endswith(SIGNER)
    assert "--root-radius: the sharpest bottom was taken" in answer.not_told
    assert any("root-radius" in change for change in answer.would_change)
    assert answer.would_change[0] == "leading edge, outer half: depth of the nick: at most 0.25 mm (0.00984 in)"
    clean, nicked = value(answer, "margin of safety, clean"), value(answer, "margin of safety, with the damage")
    left = 1.0 - 0.4 / 0.635  # of a skin of 0.025 in
    assert nicked + 1.0 == pytest.approx((clean + 1.0) * left, rel=1e-9)
    assert value(answer, "stress there") == pytest.approx(1.0 + (0.4 / 0.5) ** 0.5, rel=1e-9)


def test_a_measured_radius_takes_the_place_of_the_sharpest() -> None:
    answer = damage_answer(FM31, nick(0.4e-3, root_radius=1.0e-3))
    sharp = 1.0 + 2.0 * 0.4**0.5
    assert value(answer, "stress there") == pytest.approx(1.0 + (sharp - 1.0) / (1.0 + 0.5), rel=1e-9)


def test_a_nick_of_no_depth_is_a_clean_blade() -> None:
    answer = damage_answer(FM31, nick(0.0))
    assert answer.word is Word.WITHIN
    assert value(answer, "margin of safety, with") == pytest.approx(value(answer, "margin of safety, clean"))


def test_a_nick_through_the_skin_leaves_nothing_and_tightens_a_wide_limit() -> None:
    wide = zone("wide", "2 mm")
    answer = damage_answer(with_zones(wide), nick(0.7e-3))
    assert against_limits(nick(0.7e-3), with_zones(wide)).word is Word.WITHIN
    assert answer.word is Word.OUTSIDE
    assert answer.findings[0].rule == "the calculation"
    assert not answer.findings[0].deviable


def test_a_good_margin_never_turns_outside_into_within() -> None:
    answer = damage_answer(FM31, Damage("bondline", 2.0, thickness=0.007 * 0.0254))
    assert value(answer, "margin of safety, with the damage") > 0.0
    assert answer.word is Word.OUTSIDE


def test_a_thick_bondline_by_the_entered_curve_between_its_points() -> None:
    answer = damage_answer(FM31, Damage("bondline", 2.0, thickness=0.007 * 0.0254))
    left = 1.0 + (0.84 - 1.0) * (7.0 - 5.0) / (8.0 - 5.0)
    assert value(answer, "strength left") == pytest.approx(left, rel=1e-9)
    clean, thick = value(answer, "margin of safety, clean"), value(answer, "margin of safety, with the damage")
    assert thick + 1.0 == pytest.approx(
        left * (clean + 1.0), rel=1e-9
    )  # the thicker film's lower peak counts for nothing


@pytest.mark.parametrize("thickness", [0.0, 0.02e-3, 0.0762e-3, 0.127e-3, 0.2e-3, 0.254e-3])
def test_no_bondline_scores_above_nominal(thickness: float) -> None:
    answer = damage_answer(FM31, Damage("bondline", 2.0, thickness=thickness))
    margins = [f.value for f in answer.figures if f.name == "margin of safety, with the damage"]
    assert all(margin <= value(answer, "margin of safety, clean") * (1.0 + 1e-12) for margin in margins)
    if not margins:
        assert any("thickness_curve" in need for gap in answer.missing for need in gap.needs)


def test_a_gap_the_film_cannot_fill_is_unbonded() -> None:
    answer = damage_answer(FM31, Damage("bondline", 2.0, thickness=0.011 * 0.0254))
    assert value(answer, "strength left") == 0.0
    assert value(answer, "margin of safety, with the damage") == -1.0
    assert answer.findings[0].rule == "the calculation"


def test_the_wider_the_void_the_worse() -> None:
    worse = [
        value(damage_answer(FM31, Damage("void", 0.9 * R, 0.2, along=10e-3, across=across)), "stress there")
        for across in (2e-3, 8e-3, 20e-3, 40e-3)
    ]
    assert worse[0] >= 1.0
    assert worse == sorted(worse)


def test_a_void_as_wide_as_the_bond_leaves_nothing() -> None:
    answer = damage_answer(FM31, Damage("void", 0.9 * R, 0.2, along=10e-3, across=60e-3))
    assert value(answer, "margin of safety, with the damage") == -1.0


def test_a_dent_is_never_better_than_the_strip_beside_it() -> None:
    answer = damage_answer(FM31, Damage("dent", 0.75 * R, 0.5, depth=0.2e-3))
    assert value(answer, "stress there") == pytest.approx(1.0 + 6.0 * 0.2 / 0.635, rel=1e-6)


def test_what_the_calculation_lacks_is_named_and_the_limit_stands() -> None:
    answer = damage_answer(with_skin(ultimate_strength=None), nick(0.1e-3))
    assert answer.word is Word.WITHIN
    assert ("materials.skin-sheet.ultimate_strength",) in [gap.needs for gap in answer.missing]
    tough = damage_answer(with_skin(fracture_toughness=None, notch_length=None), nick(0.1e-3))
    needs = {need for gap in tough.missing for need in gap.needs}
    assert {"materials.skin-sheet.fracture_toughness", "materials.skin-sheet.notch_length"} <= needs


def test_a_limit_without_a_source_is_unvalidated_data() -> None:
    answer = damage_answer(FM31, nick(0.05e-3, chordwise=0.5))
    (finding,) = answer.findings
    assert finding.limit_source == "no source entered: unvalidated data"
    assert finding.worst is not None
    assert not finding.worst.validated


@pytest.mark.parametrize(
    ("damage", "field", "shown", "allowed"),
    [
        (nick(0.1e-3, station=3.6), "station", "3.6 m", "0.25 m to 3.55 m, or 0.0704R to 1R"),
        (nick(0.1e-3, station=0.1), "station", "0.1 m", "0.25 m to 3.55 m, or 0.0704R to 1R"),
        (nick(-0.1e-3), "depth", "-0.1 mm", "0 mm or more"),
        (nick(0.1e-3, chordwise=1.2), "chordwise", "120 %", "0 % to 100 %"),
        (nick(0.1e-3, uncertainty=-1e-3), "uncertainty", "-1 mm", "0 mm or more"),
        (nick(0.1e-3, root_radius=-1e-3), "root_radius", "-1 mm", "more than 0 mm"),
        (Damage("void", 3.0, along=0.0, across=1e-3), "along", "0 mm", "more than 0 mm"),
        (Damage("bondline", 3.0, thickness=-1e-3), "thickness", "-1 mm", "0 mm or more"),
    ],
)
def test_what_cannot_be_is_refused_by_field(damage: Damage, field: str, shown: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        damage_answer(FM31, damage)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == (field, shown, allowed)


@pytest.mark.parametrize(
    ("kind", "field"), [("nick", "depth"), ("dent", "depth"), ("void", "along"), ("bondline", "thickness")]
)
def test_a_size_not_told_is_asked_for(kind: Kind, field: str) -> None:
    with pytest.raises(MissingInput) as caught:
        damage_answer(FM31, Damage(kind, 3.0))
    assert caught.value.field == field
    assert str(caught.value.fix).startswith(f"add --{field}")


@pytest.mark.parametrize(("text", "radius"), [("0.75R", 0.75 * R), ("1 R", R), ("2.5 m", 2.5), ("98.5 in", 2.5019)])
def test_a_station_is_a_radius_or_a_share_of_it(text: str, radius: float) -> None:
    assert station_of(text, FM31) == pytest.approx(radius)


@pytest.mark.parametrize("text", ["75 %", "0.75", "threeR", "", "2.5 deg"])
def test_what_is_no_station_is_refused(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        station_of(text, FM31)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("station", text, '"0.75R" or "2.66 m"')


def test_a_percent_where_a_length_is_wanted_is_refused_by_its_option() -> None:
    with pytest.raises(BadInput) as caught:
        size_of("40 %", "depth")
    assert (caught.value.field, caught.value.value) == ("depth", "40 %")
    assert str(caught.value.allowed).startswith("a length")
    assert size_of("", "depth") is None


def test_the_same_damage_further_in_has_less_margin() -> None:
    outer, inner = (damage_answer(FM31, nick(0.1e-3, station=share * R)) for share in (0.9, 0.4))
    assert value(inner, "margin of safety, with") < value(outer, "margin of safety, with")
    assert dataclasses.is_dataclass(inner)


def test_a_void_in_the_seam_is_asked_of_the_seam() -> None:
    answer = damage_answer(FM31, Damage("void", 0.9 * R, 0.95, along=10e-3, across=3.5e-3))
    assert value(answer, "stress there") == pytest.approx(1.0 / (1.0 - 3.5 / 14.0))  # a seam of 7 % of 200 mm
    clean, void = value(answer, "margin of safety, clean"), value(answer, "margin of safety, with the damage")
    assert void + 1.0 == pytest.approx(0.75 * (clean + 1.0))
    gone = damage_answer(FM31, Damage("void", 0.9 * R, 0.95, along=10e-3, across=14e-3))
    assert value(gone, "margin of safety, with the damage") == -1.0


def test_a_void_nobody_placed_is_asked_of_the_worse_bond() -> None:
    placed = [
        value(damage_answer(FM31, Damage("void", 0.9 * R, place, along=10e-3, across=5e-3)), "margin of safety, with")
        for place in (0.2, 0.95)
    ]
    unplaced = damage_answer(FM31, Damage("void", 0.9 * R, None, along=10e-3, across=5e-3))
    assert value(unplaced, "margin of safety, with") == min(placed)


def test_where_there_is_no_bond_no_margin_is_made_up() -> None:
    answer = damage_answer(FM31, Damage("void", 0.9 * R, 0.5, along=10e-3, across=5e-3))
    assert answer.word is Word.NO_LIMIT
    assert not any(figure.name.startswith("margin") for figure in answer.figures)
    assert ("a bond between web and seam",) in [gap.needs for gap in answer.missing]


def test_a_void_under_the_doubler_says_what_was_not_asked() -> None:
    answer = damage_answer(FM31, Damage("void", 0.5, 0.2, along=10e-3, across=5e-3))
    assert "margin beside a void under the doubler" in [gap.name for gap in answer.missing]


def test_a_nick_shortens_the_skins_life_by_what_its_curve_says() -> None:
    # by a power law alone hours go with the factor to the power -1/b, whatever the cycles
    law = FM31.fatigue["spar-bolt-hole"].model_copy(update={"part": "skin"})
    answer = damage_answer(FM31.model_copy(update={"fatigue": {"skin": law}}), nick(0.4e-3, root_radius=1.0e-3))
    clean, nicked = value(answer, "life there, clean blade"), value(answer, "life there, with the nick")
    factor = 1.0 + 2.0 * 0.4**0.5 / 1.5
    assert nicked / clean == pytest.approx(factor ** (-1.0 / 0.105), rel=1e-6)
    assert all("not a life limit" in figure.name for figure in answer.figures if figure.name.startswith("life"))


def test_a_curve_the_nick_does_not_reach_is_said_so() -> None:
    answer = damage_answer(FM31, nick(0.0))
    assert "life beside the nick" in [gap.name for gap in answer.missing]


VOID = Damage("void", 0.5 * R, 0.2, along=20e-3, across=5e-3)


def void_zone(name: str, inner: str, outer: str, along: str, front: str = "0 %") -> DamageZone:
    sizes = {"void_along": along, "void_across": "10 mm", "source": "test"}
    return DamageZone.model_validate(
        {"name": name, "inner": inner, "outer": outer, "front": front, "back": "100 %", **sizes}
    )


def test_a_void_over_the_edge_of_a_zone_meets_the_limits_of_both() -> None:
    inner, outer = void_zone("inner", "5 %", "49.9 %", "10 mm"), void_zone("outer", "49.9 %", "100 %", "30 mm")
    assert against_limits(VOID, with_zones(inner, outer)).word is Word.OUTSIDE
    further = dataclasses.replace(VOID, station=0.51 * R)
    assert against_limits(further, with_zones(inner, outer)).word is Word.WITHIN


def test_what_lies_partly_in_no_zone_has_no_limit() -> None:
    short = void_zone("short", "5 %", "50.1 %", "30 mm")
    assert against_limits(VOID, with_zones(short)).word is Word.NO_LIMIT
    aft = void_zone("aft", "5 %", "100 %", "30 mm", front="19 %")
    assert against_limits(VOID, with_zones(aft)).word is Word.NO_LIMIT
    nose = zone("nose", "0.5 mm", back="10 %")
    assert against_limits(nick(0.3e-3), with_zones(nose)).word is Word.WITHIN
    assert against_limits(nick(0.3e-3, chordwise=None), with_zones(nose)).word is Word.NO_LIMIT


def test_taking_zones_out_never_makes_it_better() -> None:
    order = (Word.OUTSIDE, Word.NO_LIMIT, Word.WITHIN)
    assert FM31.limits.damage is not None
    zones = FM31.limits.damage.zones
    for damage in (nick(0.2e-3, chordwise=None), nick(0.2e-3), VOID, dataclasses.replace(VOID, chordwise=None)):
        word = order.index(against_limits(damage, FM31).word)
        for one in zones:
            left = against_limits(damage, with_zones(*(other for other in zones if other is not one))).word
            if word < 2:
                assert left is not Word.WITHIN


@pytest.mark.parametrize("gone", ["loads", "rotor", "spar"])
def test_without_what_the_calculation_needs_nothing_passes(gone: str) -> None:
    dent = Damage("dent", 2.0, 0.5, depth=0.5e-3)
    assert damage_answer(FM31, dent).outcome is Outcome.FAIL
    answer = damage_answer(FM31.model_copy(update={gone: None}), dent)
    assert (answer.word, answer.outcome) == (Word.WITHIN, Outcome.MISSING)
    assert answer.findings[0].outcome is Outcome.MISSING
    assert gone in answer.findings[0].sentence


def test_a_crack_nobody_can_ask_about_keeps_a_nick_from_passing() -> None:
    assert damage_answer(FM31, nick(0.2e-3)).outcome is Outcome.PASS
    answer = damage_answer(with_skin(fracture_toughness=None), nick(0.2e-3))
    assert answer.outcome is Outcome.MISSING


@pytest.mark.parametrize(
    ("damage", "field"),
    [
        (nick(1.0), "depth"),
        (nick(0.2e-3, root_radius=1.0), "root_radius"),
        (Damage("void", 2.0, 0.2, along=4.0, across=5e-3), "along"),
        (Damage("void", 2.0, 0.2, along=20e-3, across=0.3), "across"),
        (Damage("bondline", 2.0, thickness=1.0), "thickness"),
    ],
)
def test_damage_larger_than_the_blade_is_refused(damage: Damage, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        damage_answer(FM31, damage)
    assert (caught.value.field, caught.value.fix) == (field, "check its unit")


@pytest.mark.parametrize("state", ["hot_wet", "cold", "sustained"])
def test_a_state_of_the_film_nobody_entered_keeps_a_void_from_passing(state: str) -> None:
    void = Damage("void", 2.0, 0.2, along=20e-3, across=5e-3)
    assert damage_answer(FM31, void).outcome is Outcome.PASS
    assert FM31.adhesive is not None
    assert FM31.adhesive.allowables is not None
    allowables = FM31.adhesive.allowables.model_copy(update={state: None})
    adhesive = FM31.adhesive.model_copy(update={"allowables": allowables})
    answer = damage_answer(FM31.model_copy(update={"adhesive": adhesive}), void)
    assert answer.outcome is Outcome.MISSING
    assert f"adhesive.allowables.{state}" in answer.findings[0].sentence
