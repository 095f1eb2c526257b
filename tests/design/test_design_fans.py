"""Where a mode comes nearest to a harmonic, by straight and level lines solved by hand. Closed forms."""

import numpy as np
import pytest

from bladewright.design.control_runs import SpeedRange
from bladewright.design.fans import Fan, nearest_approaches

SPEEDS = np.linspace(0.0, 60.0, 13)
POWER_OFF = SpeedRange("power off", 45.0, 55.0)
POWER_ON = SpeedRange("power on", 49.0, 52.0)


def fan(*modes: tuple[str, float, float], control: str = "soft control run") -> Fan:
    """Straight lines: name, frequency at rest and slope."""
    lines = np.stack([start + slope * SPEEDS for _, start, slope in modes], axis=-1)
    return Fan("collective", control, 0.0, SPEEDS, lines, tuple(name for name, _, _ in modes))


def test_a_level_mode_is_nearest_at_the_end_of_the_range_it_lies_beyond() -> None:
    # 240 rad/s against 4 per rev: 4 x 55 = 220 at the fastest, so 240/220 - 1 = 1/11
    (found,) = nearest_approaches(
        [fan(("second flap", 240.0, 0.0))], [POWER_OFF, POWER_ON], {"collective": (2, 4)}, 0.1
    )
    assert found.gap == pytest.approx(1.0 / 11.0)
    assert found.speed == pytest.approx(55.0)
    assert found.harmonic == 4
    assert found.range == POWER_OFF


def test_a_crossing_inside_a_range_is_no_gap_at_all_even_between_two_speeds() -> None:
    # 4 W = 203.3 at W = 50.825, between two of the speeds looked at
    (found,) = nearest_approaches([fan(("second flap", 203.3, 0.0))], [POWER_OFF], {"collective": (2, 4)}, 0.1)
    assert found.gap == 0.0
    assert found.speed == pytest.approx(50.825, rel=1e-9)


def test_only_harmonics_of_the_pattern_count() -> None:
    mode = ("second flap", 150.0, 0.0)  # on 3 per rev at 50
    (even,) = nearest_approaches([fan(mode)], [POWER_OFF], {"collective": (2, 4)}, 0.1)
    (odd,) = nearest_approaches([fan(mode)], [POWER_OFF], {"collective": (1, 3)}, 0.1)
    assert odd.gap == 0.0
    assert even.gap == pytest.approx(150.0 / 180.0 - 1.0, abs=1e-12) or even.gap == pytest.approx(1.0 - 150.0 / 180.0)


def test_the_worst_control_run_speaks_for_a_mode_and_the_nearest_mode_comes_first() -> None:
    flap = ("second flap", 0.0, 2.6)
    soft = fan(("first torsion", 300.0, 0.0), flap)
    stiff = fan(("first torsion", 180.0, 0.0), flap, control="stiff control run")
    found = nearest_approaches([soft, stiff], [POWER_OFF], {"collective": (2, 4)}, 0.1)
    assert [approach.mode for approach in found] == ["first torsion", "second flap"]
    assert found[0].control == "stiff control run"  # 4 x 45 = 180: it meets the harmonic at the slow end
    assert found[1].gap == pytest.approx(0.3)  # 2.6 against 2


def test_every_harmonic_nearer_than_the_margin_is_told_and_of_the_others_only_the_nearest() -> None:
    # a soft run at 150 meets 3 per rev, a stiff one at 250 meets 5 per rev, neither comes near 1 per rev
    runs = [fan(("first torsion", 150.0, 0.0)), fan(("first torsion", 250.0, 0.0), control="stiff control run")]
    found = nearest_approaches(runs, [POWER_OFF], {"collective": (1, 3, 5)}, 0.1)
    told = [(approach.harmonic, approach.control) for approach in found]
    assert told == [(3, "soft control run"), (5, "stiff control run")]
    narrow = nearest_approaches([fan(("second flap", 0.0, 3.2))], [POWER_OFF], {"collective": (1, 3, 5)}, 0.05)
    assert [approach.harmonic for approach in narrow] == [3]


def test_the_disc_s_own_tilt_is_not_held_against_once_per_rev() -> None:
    teeter = ("first flap", 0.0, 1.0)
    (found,) = nearest_approaches([fan(teeter)], [POWER_OFF], {"collective": (1, 3)}, 0.1)
    assert found.harmonic == 3
    assert found.gap == pytest.approx(2.0 / 3.0)
