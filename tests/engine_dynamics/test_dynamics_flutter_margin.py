"""A bending blade's flutter margin against the stiff blade's closed one, and by what must hold of any."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.changed_mass import AddedMass, mass_added, mass_shifted, span_weighted_offset
from bladewright.engine.dynamics.flutter_curve import flutter_curve
from bladewright.engine.dynamics.flutter_margin import LOOSE, ControlRun, FlutterMargin, flutter_margin
from bladewright.engine.dynamics.pitch_flap import pitch_flap_divergence, pitch_flap_flutter
from bladewright.engine.dynamics.stiff_blade import as_stiff_blade
from bladewright.engine.dynamics.strip_air import Effects
from bladewright.errors import BadInput
from tests.engine_dynamics.even_blade import even_air, even_blade

SPEED = 560.0 * np.pi / 30.0
HINGED = Root("hinged", 0.0)
SOFT, STIFF = ControlRun("soft", 1500.0), ControlRun("stiff", 6000.0)
FULL = Effects()


def margin(beam=None, run=SOFT, **changed) -> FlutterMargin:  # type: ignore[no-untyped-def]
    asked = {
        "root": HINGED,
        "air": even_air(effects=FULL, drag=0.009),
        "control_runs": [run],
        "rotor_speeds": np.array([0.6 * SPEED, SPEED]),
        "factor": 1.1,
        "patterns": ("cyclic",),
    } | changed
    return flutter_margin(beam or even_blade(), **asked)


def of_run(found: FlutterMargin, name: str) -> float:
    return found.on_run(name).margin


def closed_shift(blade: BladeBeam, stiffness: float) -> float:
    """Where the stiff model flutters; its inertia grows with the shift, so it is found where it meets itself. [m]"""
    shift = 0.0
    for _ in range(60):
        model, offset = as_stiff_blade(mass_shifted(blade, shift), even_air(), stiffness, SPEED)
        told = pitch_flap_flutter(model)
        assert told is not None
        _, further = as_stiff_blade(mass_shifted(blade, shift + 1e-3), even_air(), stiffness, SPEED)
        shift += (told - offset) / (further - offset) * 1e-3
    return shift


@pytest.mark.parametrize("stiffness", [150.0, 300.0])
def test_a_blade_made_stiffer_comes_to_the_closed_flutter_in_step(stiffness: float) -> None:
    left = []
    for stiffer in (1e2, 1e3, 1e4):
        blade = even_blade(stiffer=stiffer, inner=0.01, thick=1e-6)
        shift = closed_shift(blade, stiffness)
        at = mass_shifted(blade, shift)
        told = flutter_curve(at, Root("hinged", stiffness), "cyclic", even_air(), np.array([SPEED]))
        left.append(float(told.damping.min()))
        run = ControlRun("run", stiffness)
        found = margin(blade, run, air=even_air(), rotor_speeds=np.array([SPEED]), factor=1.0)
    # what bending and twisting still do goes with one over the stiffness
    assert left[0] / left[1] == pytest.approx(10.0, rel=0.15)
    assert left[1] / left[2] == pytest.approx(10.0, rel=0.15)
    assert abs(left[2]) < 1e-4
    assert of_run(found, "run") == pytest.approx(shift, abs=3e-5)  # what is all but neutral is not called flutter


def test_a_stiff_blade_let_loose_diverges_where_the_closed_one_does() -> None:
    blade = even_blade(stiffer=1e4, inner=0.01, thick=1e-6)
    found = margin(blade, air=even_air(), rotor_speeds=np.array([SPEED]), factor=1.0)
    worst = found.worst
    assert worst.control_run == LOOSE.name
    assert worst.goes == "divergence"
    model, offset = as_stiff_blade(mass_shifted(blade, worst.margin), even_air(), 0.0, SPEED)
    assert offset == pytest.approx(pitch_flap_divergence(model), rel=0.005)


def test_softer_is_worse_and_loose_is_worst() -> None:
    found = margin(control_runs=[SOFT, STIFF])
    assert of_run(found, "loose") < of_run(found, "soft") < of_run(found, "stiff")
    assert found.margin == of_run(found, "loose")


def test_what_was_moved_already_is_no_longer_to_be_had() -> None:
    here, there = margin(even_blade()), margin(even_blade(aft=0.004))
    assert of_run(here, "soft") - of_run(there, "soft") == pytest.approx(0.004, abs=1e-5)
    assert there.offset == pytest.approx(0.004)


def test_a_blade_beyond_it_is_told_how_far_back_it_must_come() -> None:
    lost = margin(even_blade(aft=0.02))
    assert of_run(lost, "soft") < 0.0
    assert of_run(lost, "soft") == pytest.approx(of_run(margin(), "soft") - 0.02, abs=1e-4)


def test_nose_weight_helps_and_paint_aft_of_the_axis_does_not() -> None:
    plain = even_blade()
    weighted = replace(plain, masses=(PointMass(2.9, 0.4, -0.04, 0.0),))
    painted = mass_added(plain, [AddedMass(0.5, 3.0, 0.08, 0.06)])
    assert span_weighted_offset(weighted) < 0.0 < span_weighted_offset(painted)
    assert of_run(margin(painted), "soft") < of_run(margin(plain), "soft") < of_run(margin(weighted), "soft")


def test_lift_ahead_of_the_axis_is_worse_and_is_asked_by_itself() -> None:
    whole = margin(moved="lift")
    part = margin(moved="lift", air=even_air(centre=-0.004, effects=FULL, drag=0.009))
    assert whole.moved == "lift"
    assert of_run(whole, "soft") - of_run(part, "soft") == pytest.approx(0.004, abs=1e-5)


def test_a_blade_that_feathers_freely_leans_with_its_rotor_and_does_not_flutter_for_it() -> None:
    found = margin(even_blade(aft=-0.005), patterns=("cyclic",))
    assert of_run(found, "loose") > 0.0


def test_none_within_what_was_looked_through() -> None:
    found = margin(run=ControlRun("run", 2e5), limit=0.002, control_runs=[ControlRun("run", 2e5), LOOSE])
    held = [onset for onset in found.every if onset.control_run == "run"]
    assert all(onset.margin == np.inf and onset.goes == "nothing" and onset.moves is None for onset in held)
    assert found.looked_through == 0.002


def test_the_worst_speed_is_within_the_factor_and_told() -> None:
    found = margin(factor=1.2)
    soft = min((o for o in found.every if o.control_run == "soft"), key=lambda onset: onset.margin)
    assert soft.rotor_speed == pytest.approx(1.2 * SPEED)
    assert (soft.goes, soft.moves) in (("flutter", "flap"), ("flutter", "torsion"))
    assert SPEED < soft.frequency < 6.0 * SPEED


def test_forward_speed_as_a_screen_is_never_kinder() -> None:
    assert of_run(margin(forward_speed=50.0), "soft") < of_run(margin(), "soft")


@pytest.mark.parametrize("stiffness", [-1.0, np.nan, np.inf])
def test_a_control_run_has_a_stiffness(stiffness: float) -> None:
    with pytest.raises(BadInput) as refused:
        ControlRun("run", stiffness)
    assert refused.value.field == "stiffness"


@pytest.mark.parametrize(
    ("field", "changed"),
    [
        ("rotor_speeds", {"rotor_speeds": np.array([])}),
        ("rotor_speeds", {"rotor_speeds": np.array([30.0, 0.0])}),
        ("rotor_speeds", {"rotor_speeds": np.array([30.0, np.nan])}),
        ("factor", {"factor": 0.9}),
        ("factor", {"factor": np.nan}),
        ("limit", {"limit": 0.0}),
        ("control_runs", {"control_runs": []}),
        ("patterns", {"patterns": ()}),
        ("forward_speed", {"forward_speed": -1.0}),
        ("forward_speed", {"forward_speed": np.nan}),
        ("pitch", {"pitch": np.nan}),
    ],
)
def test_what_cannot_be_asked_is_refused_by_name(field: str, changed: dict[str, object]) -> None:
    with pytest.raises(BadInput) as refused:
        margin(**changed)
    assert refused.value.field == field
