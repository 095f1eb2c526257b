"""Loads and margins against hand tables: a bar whose stress is P/A, a bolt group, loads at rest, pull by speed squared.

Closed forms; no source needed.
"""

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.blade_beam import blade_beam
from bladewright.design.bolt_margins import face_forces
from bladewright.design.bond_strength import BondStrength, bond_strength
from bladewright.design.inner_loads import InnerLoads, arm_moment, at_rest, in_flight
from bladewright.design.load_cases import LoadCase, air_loads, load_cases
from bladewright.design.margins import WAVING, Margin, worst
from bladewright.design.strength_case import LoadedBlade, StrengthCase, loaded_blade, strength_case
from bladewright.design.stressed_points import StressedBlade, stressed_blade
from bladewright.drawing.allowables import BondStrength as Entered
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.figures import Missing, Outcome

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")
CASE = LoadCase("by hand", "a test", 50.0)
GRAVITY = 9.80665  # [m/s^2] standard


@pytest.fixture(scope="module", name="beam")
def _beam() -> BladeBeam:
    return blade_beam(FM31)


@pytest.fixture(scope="module", name="blade")
def _blade(beam: BladeBeam) -> StressedBlade:
    return stressed_blade(FM31, beam)


@pytest.fixture(scope="module", name="answer")
def _answer() -> StrengthCase:
    return strength_case(FM31)


def loads(beam: BladeBeam, **known: np.ndarray | float) -> InnerLoads:
    """Nothing but what is told."""
    none = np.zeros_like(beam.y)
    names = ("tension", "flap_moment", "chord_moment", "torque", "flap_shear", "chord_shear")
    return InnerLoads(CASE, beam.y, **{name: none + known.get(name, 0.0) for name in names})


def changed(drawing: BladeDrawing, table: str, **entries: object) -> BladeDrawing:
    return drawing.model_copy(update={table: getattr(drawing, table).model_copy(update=entries)})


def margin(check: str, answer: StrengthCase) -> Margin:
    return next(one for one in answer.margins if one.check == check)


def test_pull_alone_strains_every_fibre_alike(beam: BladeBeam, blade: StressedBlade) -> None:
    pulled = loads(beam, tension=1e-3 * beam.axial)
    for point in blade.points:
        np.testing.assert_allclose(blade.strain(pulled, point.x, point.z), 1e-3, rtol=1e-9)


def test_bending_strains_in_proportion_to_the_distance_from_the_elastic_centre(
    beam: BladeBeam, blade: StressedBlade
) -> None:
    # k up and h aft of stretch per metre: M_flap = -(EI_zz k + EI_xz h), M_chord = -(EI_xz k + EI_xx h)
    k, h = 0.02, -0.01
    bent = loads(
        beam,
        flap_moment=-(beam.flapwise * k + beam.bending_product * h),
        chord_moment=-(beam.bending_product * k + beam.chordwise * h),
    )
    for point in blade.points:
        x, z = point.x - blade.at(beam.elastic_x), point.z - blade.at(beam.elastic_z)
        np.testing.assert_allclose(blade.strain(bent, point.x, point.z), k * z + h * x, atol=1e-12)


def test_lift_presses_the_top_and_drag_pulls_the_leading_edge(beam: BladeBeam, blade: StressedBlade) -> None:
    by_name = {point.name: point for point in blade.points}
    up, aft = loads(beam, flap_moment=100.0), loads(beam, chord_moment=100.0)
    assert blade.stress(up, by_name["skin, top, highest"], 70e9).max() < 0.0
    assert blade.stress(up, by_name["skin, bottom, lowest"], 70e9).min() > 0.0
    assert blade.stress(aft, by_name["skin, leading edge"], 70e9).min() > 0.0
    assert blade.stress(aft, by_name["skin, trailing edge"], 70e9).max() < 0.0


def test_pull_goes_with_the_speed_squared(beam: BladeBeam) -> None:
    air = air_loads(FM31, beam)
    assert not isinstance(air, Missing)
    assert FM31.rotor is not None
    slow, fast = (
        in_flight(dataclasses.replace(CASE, rotor_speed=speed), beam, air, FM31.rotor) for speed in (50.0, 60.0)
    )
    np.testing.assert_allclose(fast.tension, slow.tension * (60.0 / 50.0) ** 2, rtol=1e-12)
    assert slow.tension[0] == pytest.approx(2500.0 * np.trapezoid(beam.mass_per_length * beam.y, beam.y), rel=1e-3)


def test_a_blade_on_its_stop_bears_its_weights_arm(beam: BladeBeam) -> None:
    hit = at_rest(LoadCase("droop-stop", "", 0.0, 0.0, weight_factor=3.0), beam)
    flat = dataclasses.replace(beam, twist=0.0 * beam.twist)
    level = at_rest(LoadCase("droop-stop", "", 0.0, 0.0, weight_factor=3.0), flat)
    arm = float(np.trapezoid(beam.mass_per_length * (beam.y - beam.y[0]), beam.y))
    assert level.flap_moment[0] == pytest.approx(-3.0 * GRAVITY * arm, rel=2e-3)
    assert level.chord_moment[0] == pytest.approx(0.0, abs=1e-12)
    assert math.hypot(hit.flap_moment[0], hit.chord_moment[0]) == pytest.approx(-level.flap_moment[0])


def test_torque_at_rest_is_what_the_masses_resist(beam: BladeBeam) -> None:
    # about the rotor axis the resisting forces make exactly the torque: M(root) + root radius times their sum
    flat = dataclasses.replace(beam, twist=0.0 * beam.twist)
    turned = at_rest(LoadCase("start-up", "", 0.0, 0.0, torque=125.0, weight_factor=0.0), flat)
    back = beam.mass_per_length * beam.y * 125.0 / np.trapezoid(beam.mass_per_length * beam.y**2, beam.y)
    total = turned.chord_moment[0] + beam.y[0] * np.trapezoid(back, beam.y)
    assert total == pytest.approx(125.0, rel=2e-3)


def test_an_even_load_has_the_arm_of_half_its_length_squared() -> None:
    y = np.linspace(1.0, 3.0, 401)
    np.testing.assert_allclose(arm_moment(np.full_like(y, 10.0), y), 5.0 * (3.0 - y) ** 2, atol=1e-3)


def test_a_bolt_group_solved_by_hand(beam: BladeBeam, blade: StressedBlade) -> None:
    # three like bolts, 30 kN of pull half to each face, acting at x = e; middle of the group at (x_m, y_m)
    assert FM31.doubler is not None
    shared = face_forces(blade, loads(beam, tension=30e3), FM31.doubler, planes=2)
    x = np.array([-0.016, -0.002, -0.009])
    y = np.array([0.300, 0.345, 0.390])
    pull, dx, dy = 15e3, x - x.mean(), y - y.mean()
    e = float(np.interp(0.300, beam.y, beam.elastic_x))
    turning = (e - x.mean()) * pull / float((dx**2 + dy**2).sum())
    np.testing.assert_allclose(shared[:, 0], -turning * dy, rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(shared[:, 1], pull / 3.0 + turning * dx, rtol=1e-9)
    np.testing.assert_allclose(shared.sum(axis=0), (0.0, pull), atol=1e-6)


def test_flapping_loads_one_face_more_by_its_couple(beam: BladeBeam, blade: StressedBlade) -> None:
    assert FM31.doubler is not None
    top, bottom = (next(p for p in blade.points if p.name == f"doubler, {side}") for side in
                   ("top, highest", "bottom, lowest"))  # fmt: skip
    arm = float(np.interp(0.300, blade.y, top.z - bottom.z))
    bent = face_forces(blade, loads(beam, flap_moment=300.0), FM31.doubler, planes=2)
    assert bent[:, 1].sum() == pytest.approx(300.0 / arm, rel=1e-9)


def test_tip_weight_by_its_bolts_alone_by_hand(answer: StrengthCase) -> None:
    speed = 1.10 * 540.0 * 2.0 * math.pi / 60.0
    force = 0.900 * speed**2 * 0.5 * (3.25 + 3.51)
    found = margin("tip weight by its bolts alone: shear of the bolts", answer)
    shear = force / 4.0 / (2.0 * math.pi * 4.83e-3**2 / 4.0)
    assert found.case == "overspeed"
    assert found.applied == pytest.approx(shear, rel=1e-9)
    assert found.value == pytest.approx(95e3 * 6894.757 / (1.5 * shear) - 1.0, rel=1e-6)


def test_tip_weights_bond_and_bolts_are_each_shown(answer: StrengthCase) -> None:
    checks = {one.check for one in answer.margins}
    assert "tip weight by its bond alone" in checks
    assert any(check.startswith("tip weight by its bolts alone") for check in checks)


def test_the_least_margin_comes_first_and_governs(answer: StrengthCase) -> None:
    values = [one.value for one in answer.margins]
    assert values == sorted(values)
    assert answer.governing is answer.margins[0]
    assert answer.figures[0].value == values[0]
    assert all(finding.limit_source for finding in answer.findings)


def test_every_kind_of_check_is_in_the_table(answer: StrengthCase) -> None:
    told = " / ".join(one.check for one in answer.margins)
    for words in (
        "skin, top, highest: yield", "spar, nose: ultimate", "doubler's end, shear", "doubler's end, peel",
        "skin to spar bond", "seam film", "spar film",
        "spar, pull and shear together", "bearing in the blade", "shear-out of the blade",
        "net section of the spar", "shear of the bolt",
    ):  # fmt: skip
        assert words in told


def _margin(**changes: object) -> Margin:
    plain = Margin("a check", "a case", "here", 100e6, 200e6, 1.5, "a source", "a method", "a validity")
    return dataclasses.replace(plain, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "outcome"),
    [
        ({}, Outcome.PASS),
        ({"source": None}, Outcome.REFER),
        ({"inside": False}, Outcome.REFER),
        ({"refer": "room-temperature data alone"}, Outcome.REFER),
        ({"applied": 140e6}, Outcome.FAIL),
        ({"applied": 140e6, "source": None, "refer": "room-temperature data alone"}, Outcome.FAIL),
        ({"allowable": 0.0}, Outcome.FAIL),
    ],
)
def test_a_negative_margin_fails_and_doubt_never_passes(changes: dict[str, object], outcome: Outcome) -> None:
    found = _margin(**changes)
    assert found.outcome is outcome
    assert found.finding.outcome is outcome
    assert not found.finding.deviable
    assert found.figure.validated is bool(found.source)


def test_margin_by_hand() -> None:
    assert _margin().value == pytest.approx(200.0 / 150.0 - 1.0)
    assert worst([_margin(), _margin(applied=120e6), _margin(check="other")])[0].applied == 120e6


def test_bond_allowables_are_the_worst_state_of_each() -> None:
    found = bond_strength(FM31)
    assert isinstance(found, BondStrength)
    assert (found.shear_state, found.shear) == ("sustained", 90e6)
    assert (found.peel_state, found.peel) == ("sustained", 75e6)
    assert found.shear_source is None  # left out on purpose
    assert found.refer == ""


def _with_states(**states: Entered | None) -> BladeDrawing:
    assert FM31.adhesive is not None
    assert FM31.adhesive.allowables is not None
    return changed(FM31, "adhesive", allowables=FM31.adhesive.allowables.model_copy(update=states))


def test_room_temperature_data_alone_is_referred() -> None:
    found = bond_strength(_with_states(hot_wet=None, cold=None, sustained=None))
    assert isinstance(found, BondStrength)
    assert found.refer == "room-temperature data alone; no allowable entered for hot-wet, cold, sustained"
    answer = strength_case(_with_states(hot_wet=None, cold=None, sustained=None))
    bond = margin("skin to spar bond, shear at its edges", answer)
    assert bond.value > 0.0
    assert bond.outcome is Outcome.REFER


def test_a_state_that_is_missing_is_never_taken_for_good() -> None:
    found = bond_strength(_with_states(sustained=None))
    assert isinstance(found, BondStrength)
    assert found.refer == "no allowable entered for sustained"
    assert found.shear == 95e6


def test_no_allowables_at_all_is_missing() -> None:
    found = bond_strength(changed(FM31, "adhesive", allowables=None))
    assert isinstance(found, Missing)
    assert found.needs == ("adhesive.allowables",)


@pytest.mark.parametrize(
    ("entries", "name", "need"),
    [
        ({"overspeed_factor": None}, "overspeed case", "loads.overspeed_factor"),
        ({"gust_speed": None}, "gust case", "loads.gust_speed"),
        ({"flare_factor": None}, "autorotation flare case", "loads.flare_factor"),
        ({"start_torque": None}, "start-up case", "loads.start_torque"),
        ({"droop_stop_factor": None}, "droop-stop case", "loads.droop_stop_factor"),
    ],
)
def test_a_case_that_waits_for_an_entry_is_named(entries: dict[str, None], name: str, need: str) -> None:
    cases, missing = load_cases(changed(FM31, "loads", **entries))
    assert len(cases) == 5
    assert [(gap.name, gap.needs) for gap in missing] == [(name, (need,))]


def test_without_loads_there_is_no_margin_and_it_says_why() -> None:
    answer = strength_case(FM31.model_copy(update={"loads": None}))
    assert answer.margins == ()
    assert answer.governing is None
    assert answer.missing[0].needs == ("loads",)


def test_all_six_cases_are_asked() -> None:
    loaded = loaded_blade(FM31)
    assert isinstance(loaded, LoadedBlade)
    names = {one.case.name for one in loaded.loads}
    assert names == {"pull-up", "overspeed", "gust", "autorotation flare", "start-up", "droop-stop"}


def test_a_bolt_behind_the_spar_bears_on_doubler_and_skin_alone() -> None:
    assert FM31.doubler is not None
    moved = FM31.doubler.bolts[1].model_copy(update={"chordwise": 0.014})
    bolts = (FM31.doubler.bolts[0], moved, FM31.doubler.bolts[2])
    aft = strength_case(changed(FM31, "doubler", bolts=bolts))
    here = strength_case(FM31)
    check = "grip bolts, bearing in the blade: ultimate"
    assert margin(check, aft).value < margin(check, here).value


def test_loads_without_a_source_are_never_more_than_referred() -> None:
    answer = strength_case(changed(FM31, "loads", source=None))
    assert {one.outcome for one in answer.margins} == {Outcome.REFER}
    assert "no source entered for the loads" in answer.findings[0].sentence


def test_pull_and_shear_together_are_never_less_than_the_pull_alone(answer: StrengthCase) -> None:
    together = margin("spar, pull and shear together: yield", answer)
    alone = margin("spar, bottom of the web: yield", answer)
    assert together.value <= alone.value + 0.02  # asked a millimetre further out


def test_screens_of_the_skins_are_referred_and_never_failed(answer: StrengthCase) -> None:
    assert len(answer.screens) == 4
    for finding in answer.screens:
        assert "screening, not substantiation" in finding.rule
        assert finding.outcome in (Outcome.PASS, Outcome.REFER)
        assert finding.worst is not None
        assert (finding.worst.value <= 1.0) == (finding.outcome is Outcome.PASS)


def test_a_stress_that_counts_on_a_skin_that_buckles_is_never_passed(answer: StrengthCase) -> None:
    # FM-31 has no filler behind its spar: its skins wave wherever lift or weight bends it
    counting = [one for one in answer.margins if one.refer == WAVING]
    assert {one.case for one in counting} == {"pull-up", "gust", "droop-stop"}
    assert all(one.outcome is not Outcome.PASS for one in counting)
    assert all("skin" in one.finding.would_change for one in counting if one.value >= 0.0 and one.source)
    assert not any("bolt" in one.check for one in counting)  # bearing does not hang on the skin's stiffness


def test_together_it_is_no_better_than_its_worst_and_than_what_is_missing(answer: StrengthCase) -> None:
    assert answer.outcome is Outcome.MISSING
    known = dataclasses.replace(answer, missing=())
    assert known.outcome is Outcome.REFER
    sound = tuple(one for one in answer.margins if one.outcome is Outcome.PASS)
    assert dataclasses.replace(known, margins=sound, screens=()).outcome is Outcome.PASS
    failed = dataclasses.replace(answer, margins=(_margin(applied=1e9), *answer.margins))
    assert failed.outcome is Outcome.FAIL
    assert StrengthCase((), (), (), ()).outcome is Outcome.MISSING
