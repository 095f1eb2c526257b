"""Track between mates: pitch and section moment by hand, and when it is not known which blade flies high."""

import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.design.track import TrackModel, track_model
from bladewright.drawing.file import read_drawing
from bladewright.figures import Outcome
from bladewright.pairing.judging import judged
from bladewright.pairing.match import best_sets
from tests.pairing.invented_blades import BALANCE, BAND, LIMITS, blade, finding, terms

FM31 = Path(__file__).resolve().parents[2] / "examples/fennmark/fm31.toml"
RULE = "mates: track"


def test_pitch_alone_by_hand() -> None:
    # 1.2 m/rad times 0.0015 rad is 1.8 mm; each end is known to 1.2 (0.0002 + 1.6e-4) = 0.432 mm when soft
    found = finding(judged((blade("A", effective_pitch=0.0015), blade("B")), terms()), RULE)
    assert found.outcome is Outcome.PASS
    assert found.worst is not None
    assert found.worst.value == pytest.approx(1.8)
    assert found.worst.uncertainty == pytest.approx(0.432 * math.sqrt(2.0))
    assert found.sentence.startswith("A and B")


def test_section_moment_winds_up_the_soft_control_run() -> None:
    # 1.2 (0.0015 + 1.6 x 0.0009) = 3.53 mm when soft, 2.23 mm when stiff: the soft one counts
    found = finding(judged((blade("A", effective_pitch=0.0015, section_moment=0.0009), blade("B")), terms()), RULE)
    assert found.outcome is Outcome.FAIL
    assert found.worst is not None
    assert found.worst.value == pytest.approx(3.528)


def test_stiffness_that_turns_the_sign_leaves_the_direction_open() -> None:
    # soft: 1.2 (-0.0009 + 1.6 x 0.00095) = +0.744 mm; stiff: 1.2 (-0.0009 + 0.4 x 0.00095) = -0.624 mm
    known = {"effective_pitch_uncertainty": 1e-5, "section_moment_uncertainty": 1e-5}
    pair = (blade("A", effective_pitch=-0.0009, section_moment=0.00095, **known), blade("B", **known))
    found = finding(judged(pair, terms()), RULE)
    assert found.outcome is Outcome.PASS
    assert "direction not determined" in found.sentence


@pytest.mark.parametrize("field", ["effective_pitch", "section_moment"])
def test_what_it_rests_on_must_be_known(field: str) -> None:
    assert finding(judged((blade("A", **{field: None}), blade("B")), terms()), RULE).outcome is Outcome.MISSING


def test_without_a_model_or_a_limit_it_is_missing() -> None:
    pair = (blade("A"), blade("B"))
    assert finding(judged(pair, terms(track=None)), RULE).outcome is Outcome.MISSING
    unlimited = LIMITS.model_copy(update={"track": None})
    assert finding(judged(pair, terms(limits=unlimited)), RULE).outcome is Outcome.MISSING


def test_mates_out_of_track_are_never_formed() -> None:
    far = blade("C", effective_pitch=0.0016, section_moment=0.0009)
    found = best_sets((blade("A"), far), LIMITS, handle_band=BAND, balance=BALANCE, track=TrackModel(1.2, 1.6, 0.4))
    assert found.sets == ()
    assert "track" in found.leftovers[0].reason


def test_the_drawings_own_model_is_the_uniform_blade_worked_by_hand() -> None:
    drawing = read_drawing(FM31)
    model = track_model(drawing)
    assert model is not None
    # M = rho c^2 W^2 (R^3 - r^3) / 6 with 0.45 to 3.55 m, 0.2 m chord, 500 rpm, over 600 and 2200 N m/rad
    moment = 1.225 * 0.04 * (500.0 * math.pi / 30.0) ** 2 * (3.55**3 - 0.45**3) / 6.0
    # and the blade flattens its own pitch: W^2 times its chordwise less its normal inertia, some 50 N m/rad more
    mass = span_mass(drawing)
    assert mass is not None
    spread = np.trapezoid(mass.chordwise_inertia - mass.normal_inertia, mass.y)
    flattening = (500.0 * math.pi / 30.0) ** 2 * float(spread)
    assert model.windup_soft == pytest.approx(moment / (600.0 + flattening), rel=1e-4)
    assert model.windup_stiff == pytest.approx(moment / (2200.0 + flattening), rel=1e-4)
    # R (rho a c / 2) int y^3 dy / I: R gamma/8 of a blade that lifts from 0.45 m on
    slope = section_flow(drawing).lift_slope
    by_hand = 3.55 * 0.5 * 1.225 * slope * 0.2 * (3.55**4 - 0.45**4) / 4.0 / mass.flap_inertia
    assert model.per_pitch == pytest.approx(by_hand, rel=1e-3)


def test_a_drawing_that_leaves_something_out_has_no_model() -> None:
    drawing = read_drawing(FM31)
    assert drawing.rotor is not None
    rigid = drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"hub": "rigid"})})
    loose = drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"control": None})})
    assert track_model(rigid) is None
    assert track_model(loose) is None
    assert track_model(drawing.model_copy(update={"rotor": None})) is None
