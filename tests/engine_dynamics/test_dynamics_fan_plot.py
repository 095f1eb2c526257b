"""Modes over the rotor speed: followed by shape, named, and near which harmonic."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.dynamics.blade_beam import Root
from bladewright.engine.dynamics.blade_matrices import blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.engine.dynamics.fan_plot import fan_plot
from bladewright.engine.dynamics.harmonics import closeness, excited_harmonics
from bladewright.errors import BadInput, OutsideValidity
from tests.engine_dynamics.plain_beam import likely_blade, plain_beam

TEETERING = Root("teetering", 500.0)
SPEEDS = np.linspace(0.0, 65.0, 30)


def test_a_fan_is_the_modes_of_each_speed() -> None:
    fan = fan_plot(likely_blade(), TEETERING, "cyclic", SPEEDS, 0.1, 10)
    assert fan.frequencies.shape == (30, 10)
    for at in (0, 3, 17, 29):
        alone = blade_modes(blade_matrices(likely_blade(), TEETERING, "cyclic", 0.1), SPEEDS[at], 10)
        assert np.sort(fan.frequencies[at]) == pytest.approx(alone.frequencies, rel=2e-8, abs=1e-3)


def test_modes_that_cross_keep_their_names() -> None:
    """Uncoupled flap and chordwise bending cross exactly: each squared goes its own way with the speed."""
    beam = plain_beam(chordwise=60.0, torsion=1e6)
    fan = fan_plot(beam, Root("clamped", np.inf), "collective", np.sqrt(np.linspace(0.0, 144.0, 25)), count=6)
    assert len(set(fan.names)) == 6
    by_name = dict(zip(fan.names, fan.frequencies.T, strict=True))
    for name, mode in by_name.items():
        field = ("flap", "chordwise", "torsion").index(name.split()[1])
        assert fan.share[:, fan.names.index(name), field] == pytest.approx(1.0, abs=1e-6)
        assert np.abs(np.diff(mode**2, 2)).max() < 0.03 * np.diff(mode**2).max(), "no kink: it stays one curve"
    flap, aft = by_name["second flap"], by_name["first chordwise"]
    assert flap[0] < aft[0]
    assert flap[-1] > aft[-1]


def test_a_seesaw_blade_flaps_once_a_revolution() -> None:
    fan = fan_plot(likely_blade(), TEETERING, "cyclic", SPEEDS[1:], 0.0, 6)
    first = fan.per_rev()[:, fan.names.index("first flap")]
    assert first == pytest.approx(1.0, abs=2e-3)


def test_a_fan_refuses_what_is_no_range_of_speeds() -> None:
    beam, root = plain_beam(), Root("clamped", np.inf)
    for speeds, row in ((np.array([1.0, 1.0]), 2), (np.array([-1.0, 1.0]), 1), (np.array([]), None)):
        with pytest.raises(BadInput) as caught:
            fan_plot(beam, root, "collective", speeds)
        assert (caught.value.field, caught.value.row) == ("rotor_speeds", row)
    with pytest.raises(BadInput) as caught:
        fan_plot(beam, root, "collective", np.array([0.0, 1.0])).per_rev()
    assert (caught.value.field, caught.value.value) == ("rotor_speeds", 0.0)
    with pytest.raises(BadInput) as caught:
        fan_plot(beam, root, "collective", np.array([0.0, 1.0]), count=0)
    assert caught.value.field == "count"
    overturning = plain_beam(chordwise_inertia=1e-6, normal_inertia=0.01, flapwise=100.0)
    with pytest.raises(OutsideValidity) as caught:
        fan_plot(overturning, Root("clamped", 0.0), "collective", np.array([1.0, 10.0]))
    assert caught.value.field == "rotor_speed"


def test_two_blades_part_even_and_odd() -> None:
    assert excited_harmonics("collective", 2, 8) == (2, 4, 6, 8)
    assert excited_harmonics("cyclic", 2, 8) == (1, 3, 5, 7)
    assert excited_harmonics("collective", 3, 8) == (3, 6)
    with pytest.raises(BadInput) as caught:
        excited_harmonics("cyclic", 1, 8)
    assert caught.value.field == "blades"
    with pytest.raises(BadInput) as caught:
        excited_harmonics("alike", 2, 8)  # type: ignore[arg-type]
    assert caught.value.field == "pattern"


@given(st.integers(2, 6), st.integers(1, 20))
def test_every_harmonic_excites_one_pattern(blades: int, highest: int) -> None:
    alike, others = (set(excited_harmonics(pattern, blades, highest)) for pattern in ("collective", "cyclic"))  # type: ignore[arg-type]
    assert alike | others == set(range(1, highest + 1))
    assert not alike & others


def test_a_mode_of_southwells_form_meets_a_harmonic_where_the_hand_says() -> None:
    """``w**2 = 100 + 2 W**2`` meets 3 per rev at ``W**2 = 100/7`` and nears 2 per rev most at the fastest."""
    speeds = np.array([0.0, 2.0, 5.0, 8.0])
    frequencies = np.sqrt(100.0 + 2.0 * speeds**2)
    near = {one.harmonic: one for one in closeness(speeds, frequencies, (1, 2, 3), 3.0, 7.0)}
    assert near[3].crosses
    assert near[3].gap == 0.0
    assert near[3].rotor_speed == pytest.approx(np.sqrt(100.0 / 7.0), rel=1e-12)
    assert near[3].frequency == pytest.approx(3.0 * np.sqrt(100.0 / 7.0), rel=1e-12)
    assert not near[2].crosses
    assert near[2].rotor_speed == 7.0
    assert near[2].gap == pytest.approx(np.sqrt(198.0) / 14.0 - 1.0, rel=1e-12)
    order = [one.harmonic for one in closeness(speeds, frequencies, (1, 2, 3), 3.0, 7.0)]
    assert order == [3, 2, 1]


def test_a_range_that_does_not_turn_or_is_not_covered_is_refused() -> None:
    speeds, one = np.array([0.0, 5.0]), np.ones(2)
    for low, high, field in ((0.0, 4.0, "slowest"), (3.0, 2.0, "slowest"), (3.0, 6.0, "rotor_speeds")):
        with pytest.raises(BadInput) as caught:
            closeness(speeds, one, (1,), low, high)
        assert caught.value.field == field
