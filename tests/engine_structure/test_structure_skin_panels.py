"""Skins between supports: buckling coefficients solved anew, combined loads, and the air that pulls."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.structure.plate_buckling import (
    COMPRESSION,
    buckling_reserve,
    compression_limit,
    plate_stiffness,
    shear_limit,
)
from bladewright.engine.structure.skin_in_flow import bulging_pressure, flow_pressure
from bladewright.errors import BadInput, OutsideValidity

ALUMINIUM = (72e9, 0.33)


def test_the_coefficients_of_a_long_plate_solve_its_equation() -> None:
    # w'''' - 2 k^2 w'' + k^4 w = s t k^2 / D w across the width, least over all wave numbers k: by finite differences
    n, h = 200, 1.0 / 200

    def least(held: bool) -> float:
        second = (np.diag(np.full(n - 2, 1.0), 1) + np.diag(np.full(n - 2, 1.0), -1) - 2.0 * np.eye(n - 1)) / h**2
        fourth = second @ second
        if held:  # the mirrored node outside: w(-1) = w(1), against -w(1) where the edge turns
            fourth[0, 0] += 2.0 / h**4
            fourth[-1, -1] += 2.0 / h**4
        found = []
        for k in np.pi * np.linspace(0.8, 2.0, 61):
            matrix = fourth - 2.0 * k**2 * second + k**4 * np.eye(n - 1)
            found.append(np.linalg.eigvalsh(matrix)[0] / (k**2 * np.pi**2))
        return float(min(found))

    assert COMPRESSION["turning"] == pytest.approx(least(held=False), rel=2e-3)
    assert COMPRESSION["held"] == pytest.approx(least(held=True), rel=5e-3)


@given(st.floats(-0.99, 5.0), st.floats(-5.0, 5.0))
def test_grown_by_the_reserve_the_loads_lie_on_the_curve(pressed: float, sheared: float) -> None:
    reserve = float(buckling_reserve(pressed * 3e6, sheared * 5e6, 3e6, 5e6))
    if np.isinf(reserve) or reserve > 1e6:
        return
    assert reserve * pressed + (reserve * sheared) ** 2 == pytest.approx(1.0, rel=1e-6)


def test_either_load_alone_has_its_own_limit_and_pull_none() -> None:
    found = buckling_reserve(np.array([1.0, 0.0, -1.0, 0.0]), np.array([0.0, 1.0, 0.0, 0.0]), 2.0, 4.0)
    assert found.tolist() == [2.0, 4.0, np.inf, np.inf]


def test_curvature_only_helps_and_a_knock_down_takes_it_away() -> None:
    flat, curved, knocked = (
        compression_limit(*ALUMINIUM, 0.6e-3, 0.1, "turning", curvature, share)
        for curvature, share in ((0.0, 1.0), (2.0, 1.0), (-2.0, 0.0))
    )
    assert curved > flat == knocked
    assert flat == pytest.approx(4.0 * np.pi**2 * plate_stiffness(*ALUMINIUM, 0.6e-3) / (0.6e-3 * 0.1**2))
    assert shear_limit(*ALUMINIUM, 0.6e-3, 0.1, "held") > shear_limit(*ALUMINIUM, 0.6e-3, 0.1, "turning")


def test_a_flat_skin_bulges_in_one_half_wave_and_an_arched_one_in_two() -> None:
    flat, little, arched = (bulging_pressure(*ALUMINIUM, 0.6e-3, 0.1, rise) for rise in (0.0, 0.3e-3, 5e-3))
    assert little / flat == pytest.approx(1.0 + 6.0 * 0.25)
    assert arched / flat == 8.0
    # halving the width makes it eight times as stiff against the air
    assert bulging_pressure(*ALUMINIUM, 0.6e-3, 0.05, 0.0) / flat == pytest.approx(8.0)


def test_the_arch_by_its_own_energy() -> None:
    # a sine of height w on a sine of rise h shortens the span by pi^2 h w / (2 b^2), held edges: N = E' t times that
    # over b, and N (h + w) pushes back by pi^2 / b^2; linear in w. Energy by hand against the factor above
    young, poisson, t, b, h = 72e9, 0.0, 0.6e-3, 0.1, 0.2e-3
    strain_per_height = np.pi**2 * h / (2.0 * b**2)
    spring = (
        young * t * strain_per_height * h * (np.pi / b) ** 2 + plate_stiffness(young, poisson, t) * (np.pi / b) ** 4
    )
    assert bulging_pressure(young, poisson, t, b, h) * np.pi / b == pytest.approx(spring, rel=1e-12)


def test_what_is_no_plate_or_too_fast_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        plate_stiffness(72e9, 0.7, 1e-3)
    assert refused.value.field == "poisson"
    with pytest.raises(BadInput) as refused:
        compression_limit(72e9, 0.3, 1e-3, 0.0, "turning", 0.0, 1.0)
    assert refused.value.field == "width"
    with pytest.raises(BadInput) as refused:
        compression_limit(72e9, 0.3, 1e-3, 0.1, "turning", 0.0, 2.0)
    assert refused.value.field == "knock_down"
    with pytest.raises(BadInput) as refused:
        bulging_pressure(72e9, 0.3, 1e-3, -0.1, 0.0)
    assert refused.value.field == "width"
    assert flow_pressure(1.225, 100.0, 0.6) == pytest.approx(1.225e4 / 0.8)
    with pytest.raises(OutsideValidity) as far:
        flow_pressure(1.225, 330.0, 0.97)
    assert far.value.field == "mach"
