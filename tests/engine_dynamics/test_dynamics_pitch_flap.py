"""A stiff blade's flutter by what must hold of any such blade; its published figures stand in selfcheck."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.dynamics.pitch_flap import (
    PitchFlap,
    pitch_flap_divergence,
    pitch_flap_flutter,
    pitch_flap_roots,
    strip_pitch_damping,
)
from bladewright.errors import BadInput, OutsideValidity

BLADE = PitchFlap(5.0, 1.0, 0.0007, strip_pitch_damping(5.0, 0.06), 3.0)


@st.composite
def blades(draw: st.DrawFn) -> PitchFlap:
    lock_number = draw(st.floats(1.0, 12.0))
    return PitchFlap(
        lock_number=lock_number,
        flap_frequency=draw(st.floats(1.0, 1.3)),
        pitch_inertia=draw(st.floats(2e-4, 2e-3)),
        pitch_damping=strip_pitch_damping(lock_number, draw(st.floats(0.03, 0.1))),
        control_frequency=draw(st.floats(0.0, 8.0)),
    )


def growth(blade: PitchFlap, offset: float) -> float:
    return float(pitch_flap_roots(blade, offset).real.max())


@given(blades())
def test_balanced_or_nose_heavy_is_stable(blade: PitchFlap) -> None:
    for share in (0.0, 0.1, 0.3):
        assert growth(blade, -share * blade.greatest_offset) < 0.0


@given(blades())
def test_the_first_offset_that_is_unstable_is_the_lesser_of_the_two_closed_ones(blade: PitchFlap) -> None:
    flutter, divergence = pitch_flap_flutter(blade), pitch_flap_divergence(blade)
    first = min(divergence, np.inf if flutter is None else flutter)
    if first < 0.99 * blade.greatest_offset:
        assert growth(blade, 0.999 * first) < 0.0
        assert growth(blade, 1.001 * first) > 0.0
    else:
        assert growth(blade, 0.98 * blade.greatest_offset) < 0.0


@given(blades(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_mass_ahead_is_never_worse(blade: PitchFlap, one: float, other: float) -> None:
    # stable at an offset, stable at every offset further ahead, back to where the blade is balanced
    further, nearer = max(one, other), min(one, other)
    bound = 0.98 * blade.greatest_offset
    if growth(blade, further * bound) < 0.0:
        assert growth(blade, nearer * bound) < 1e-12


@given(blades(), st.floats(0.1, 4.0))
def test_a_softer_control_run_lets_the_blade_diverge_sooner(blade: PitchFlap, stiffer: float) -> None:
    held = replace(blade, control_frequency=blade.control_frequency + stiffer)
    assert pitch_flap_divergence(held) > pitch_flap_divergence(blade)


@pytest.mark.parametrize(("soft", "stiff"), [(2.0, 3.0), (3.0, 4.0)])
def test_and_flutter_sooner(soft: float, stiff: float) -> None:
    offsets = [pitch_flap_flutter(replace(BLADE, control_frequency=one)) for one in (soft, stiff)]
    assert offsets[0] is not None
    assert offsets[1] is not None
    assert offsets[0] < offsets[1]


def test_without_air_nothing_grows_or_dies() -> None:
    # the least air a record takes; the growth goes with it
    still = PitchFlap(1e-9, 1.0, 0.0007, 0.0, 3.0)
    assert np.abs(pitch_flap_roots(still, 0.0).real).max() < 1e-9
    assert pitch_flap_roots(still, 0.0).imag.max() == pytest.approx(np.sqrt(10.0), rel=1e-9)


def test_no_mass_helps_where_the_lift_is_far_ahead() -> None:
    ahead = replace(BLADE, aerodynamic_centre=-1.0)
    assert pitch_flap_divergence(ahead) == -np.inf


def test_more_offset_than_a_blade_can_have_is_refused() -> None:
    with pytest.raises(OutsideValidity) as refused:
        pitch_flap_roots(BLADE, 0.03)
    assert refused.value.field == "mass_offset"
    assert refused.value.value == 0.03


@pytest.mark.parametrize(
    ("field", "value"), [("lock_number", 0.0), ("pitch_inertia", -1.0), ("control_frequency", np.nan)]
)
def test_what_no_blade_has_is_refused(field: str, value: float) -> None:
    with pytest.raises(BadInput) as refused:
        replace(BLADE, **{field: value})
    assert refused.value.field == field
