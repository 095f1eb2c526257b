"""Void maps judged: coverage worked by hand, and Question 6 of the shop. The limits are the invented drawing's own."""

import dataclasses
import datetime
import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.design.bondlines import Bondline, bondlines
from bladewright.evidence.records import LookedAt, Source, Void, VoidMap
from bladewright.figures import Finding, Outcome
from bladewright.proof.records import BladeEvidence
from bladewright.proof.verdict import judge_blade, missing_proofs
from bladewright.proof.void_map import gaps_of, judge_void_maps, unplaced
from tests.proof.invented_blade import DRAWING, SERIAL

TIP = DRAWING.planform.tip
SPAR, SEAM = "spar to top skin", "trailing-edge seam"
WHOLE = tuple(LookedAt(line.name, line.inner, line.outer) for line in bondlines(DRAWING))
DAY = datetime.date(2026, 3, 5)


def a_map(*voids: Void, looked_at: tuple[LookedAt, ...] = WHOLE, uncertainty: float | None = 0.001) -> VoidMap:
    source = Source("map.toml", "1" * 64)
    return VoidMap(source, SERIAL, "R. Vane", DAY, "tapped on a grid of 1 in", uncertainty, looked_at, voids)


def a_void(along: float, across: float, station: float = 0.9, chordwise: float | None = 0.2) -> Void:
    return Void(1, SPAR, station * TIP, along, across, chordwise)


def the_void(*maps: VoidMap) -> Finding:
    (found,) = (finding for finding in judge_void_maps(DRAWING, maps) if ": void " in finding.rule)
    return found


def test_the_drawn_blade_has_a_bond_on_each_face_of_spar_and_doubler_and_the_seam() -> None:
    assert [line.name for line in bondlines(DRAWING)] == [
        *("spar to top skin", "spar to bottom skin", "doubler to top skin", "doubler to bottom skin"),
        "trailing-edge seam",
    ]


def test_question_six_a_void_of_12_by_40_mm_at_nine_tenths_radius_is_outside() -> None:
    """The drawing allows 25 mm by 8 mm in the spar bond: both are exceeded."""
    found = the_void(a_map(a_void(0.040, 0.012)))
    assert found.outcome is Outcome.FAIL
    assert "outside: out of service until a named person decides" in found.sentence
    assert "until a named person decides" in found.next_step
    assert found.limit_source == "Fennmark damage chart FD-2, invented"
    assert found.worst is not None
    assert found.worst.uncertainty is not None


def test_a_small_void_is_within_and_the_same_one_is_referred_where_nobody_said_how_well_it_is_known() -> None:
    assert the_void(a_map(a_void(0.015, 0.005))).outcome is Outcome.PASS
    unsure = the_void(a_map(a_void(0.015, 0.005), uncertainty=None))
    assert unsure.outcome is Outcome.REFER
    assert "not entered" in unsure.sentence


def test_inside_by_less_than_the_uncertainty_is_outside() -> None:
    assert the_void(a_map(a_void(0.0245, 0.005))).outcome is Outcome.FAIL


def test_a_zone_without_a_limit_allows_no_void_and_nobody_may_accept_it() -> None:
    found = the_void(a_map(a_void(0.005, 0.002, chordwise=0.6)))
    assert found.outcome is Outcome.MISSING
    assert "no limit entered: out of service" in found.sentence
    assert not found.deviable


def test_a_place_nobody_told_is_judged_by_every_zone_there() -> None:
    """The seam and the skin behind the spar allow less than the spar bond."""
    told, untold = the_void(a_map(a_void(0.02, 0.006))), the_void(a_map(a_void(0.02, 0.006, chordwise=None)))
    assert told.outcome is Outcome.PASS
    assert untold.outcome is Outcome.FAIL


def test_whatever_was_not_looked_at_is_missing() -> None:
    short = tuple(
        dataclasses.replace(one, outer=3.0) if one.bondline == SPAR else one for one in WHOLE if one.bondline != SEAM
    )
    found = {finding.rule: finding for finding in judge_void_maps(DRAWING, [a_map(looked_at=short)])}
    spar, seam = found[f"void map: {SPAR}, whole span"], found[f"void map: {SEAM}, whole span"]
    assert (spar.outcome, seam.outcome) == (Outcome.MISSING, Outcome.MISSING)
    assert "3.000 m to 3.550 m" in spar.sentence
    assert "0.250 m to 3.550 m" in seam.sentence
    assert found["void map: spar to bottom skin, whole span"].outcome is Outcome.PASS


def test_maps_of_several_days_add_up() -> None:
    inner = tuple(dataclasses.replace(one, outer=min(one.outer, 2.0)) for one in WHOLE)
    outer = tuple(dataclasses.replace(one, inner=1.9) for one in WHOLE if one.outer > 2.0)
    both = judge_void_maps(DRAWING, [a_map(looked_at=outer), a_map(looked_at=inner)])
    assert {finding.outcome for finding in both} == {Outcome.PASS}


def test_a_signature_does_not_stand_for_what_a_map_did_not_see() -> None:
    """With a map on file the map's own coverage is judged, whatever was signed."""
    evidence = BladeEvidence(void_maps=(a_map(looked_at=WHOLE[:1]),))
    verdict = judge_blade(DRAWING, "0" * 64, SERIAL, evidence, (), "test")
    assert any(f.outcome is Outcome.MISSING and f.proof == "void map" for f in verdict.findings)
    assert "void map" not in missing_proofs(DRAWING.required_proofs, evidence)
    assert ("void map", "1" * 64) in verdict.evidence


def test_no_map_no_finding() -> None:
    assert judge_void_maps(DRAWING, ()) == ()


@pytest.mark.parametrize(
    ("void", "field"),
    [
        (Void(1, "spar to the moon", 2.0, 0.01, 0.01, 0.2), "voids.1.bondline"),
        (Void(1, SPAR, 4.0, 0.01, 0.01, 0.2), "voids.1.station"),
        (Void(1, SPAR, 2.0, 9.0, 0.01, 0.2), "voids.1.along"),
        (Void(1, SPAR, 2.0, 0.01, 0.9, 0.2), "voids.1.across"),
    ],
)
def test_what_the_drawn_blade_does_not_have_is_named(void: Void, field: str) -> None:
    (wrong,) = unplaced(DRAWING, a_map(void))
    assert (wrong.file, wrong.field) == ("map.toml", field)
    assert wrong.allowed


@given(st.lists(st.tuples(st.integers(0, 20), st.integers(1, 10)), max_size=8))
def test_gaps_are_what_no_stretch_covers(stretches: list[tuple[int, int]]) -> None:
    """Against every tenth of a metre looked up one by one."""
    line = Bondline("b", 0.5, 1.5, 0.0, 1.0)
    looked = tuple(LookedAt("b", start / 10, (start + length) / 10) for start, length in stretches)
    gaps = gaps_of(line, [a_map(looked_at=looked)])
    for middle in (0.55 + 0.1 * n for n in range(10)):
        seen = any(one.inner <= middle <= one.outer for one in looked)
        assert seen is not any(inner <= middle <= outer for inner, outer in gaps)
    assert all(inner < outer for inner, outer in gaps)
    assert all(a[1] < b[0] for a, b in itertools.pairwise(gaps))
