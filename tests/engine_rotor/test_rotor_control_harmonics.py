"""From one blade round the disc to the hands: sums over blades done the long way. No source needed."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.control_harmonics import CyclicLinkage, handle_loads, harmonics, sum_of_blades
from bladewright.engine.rotor.control_loads import Linkage, handle_force, pitch_link_force
from bladewright.errors import BadInput

AZIMUTH = 2.0 * math.pi * np.arange(72) / 72
LINKAGE = Linkage(0.15, 5.0, "nose up", "nose up")


def invented(coefficients: list[float]) -> np.ndarray:
    """A moment with harmonics to the fifth."""
    return sum(c * np.cos(k * AZIMUTH + 0.3 * k**2) for k, c in enumerate(coefficients))


@settings(max_examples=30)
@given(st.lists(st.floats(-10.0, 10.0), min_size=6, max_size=6), st.sampled_from([2, 3, 4]))
def test_the_sum_over_blades_is_that_of_blades_one_behind_the_other(coefficients: list[float], blades: int) -> None:
    moment = invented(coefficients)
    step = 72 // blades
    added = sum(np.roll(moment, -k * step) for k in range(blades))
    found = sum_of_blades(moment, blades, 2)
    again = found.steady + sum(
        c * np.cos(k * AZIMUTH) + s * np.sin(k * AZIMUTH)
        for k, c, s in zip(found.orders, found.cosine, found.sine, strict=True)
    )
    assert again == pytest.approx(added, abs=1e-9)
    assert found.orders.tolist() == [blades, 2 * blades]


@settings(max_examples=20)
@given(st.lists(st.floats(-10.0, 10.0), min_size=6, max_size=6))
def test_two_blades_shake_the_collective_from_even_and_the_cyclic_from_odd(coefficients: list[float]) -> None:
    even = invented([c if k % 2 == 0 else 0.0 for k, c in enumerate(coefficients)])
    odd = invented([c if k % 2 else 0.0 for k, c in enumerate(coefficients)])
    cyclic = CyclicLinkage(-2.0, 1.5)
    of_even, of_odd = (handle_loads(moment, AZIMUTH, 2, LINKAGE, cyclic) for moment in (even, odd))
    assert of_odd.collective.steady == pytest.approx(0.0, abs=1e-9)
    assert of_odd.collective.amplitude == pytest.approx([0.0, 0.0], abs=1e-9)
    assert of_even.fore_aft is not None
    assert of_even.fore_aft.steady == pytest.approx(0.0, abs=1e-9)
    assert of_even.fore_aft.amplitude == pytest.approx([0.0, 0.0], abs=1e-9)
    assert of_even.collective.steady == pytest.approx(handle_force(2.0 * coefficients[0], LINKAGE))
    assert of_even.pitch_link.steady == pytest.approx(pitch_link_force(coefficients[0], LINKAGE))
    assert of_even.pitch_link.amplitude[1] == pytest.approx(abs(coefficients[2]) / 0.15, abs=1e-9)


def test_the_stick_holds_the_first_harmonic_by_virtual_work() -> None:
    # M = m sin(psi): moving sine pitch by d turns each blade by d sin(psi); work of N blades is N m d/2
    loads = handle_loads(3.0 * np.sin(AZIMUTH), AZIMUTH, 4, LINKAGE, CyclicLinkage(-2.0, 1.5))
    assert loads.fore_aft is not None
    assert loads.lateral is not None
    assert loads.fore_aft.steady == pytest.approx(4.0 * 3.0 / 2.0 * 2.0)
    assert loads.lateral.steady == pytest.approx(0.0, abs=1e-12)


def test_without_a_stick_there_are_no_stick_loads_and_coarse_rings_are_refused() -> None:
    assert handle_loads(np.ones(72), AZIMUTH, 2, LINKAGE).fore_aft is None
    with pytest.raises(BadInput) as few:
        harmonics(np.ones(8), 4)
    assert few.value.field == "values"
