"""A blade twisted off by steady air, against what can be solved by hand; a wing's closed form stands in selfcheck."""

import numpy as np
import pytest

from bladewright.engine.dynamics.divergence import divergence_factor
from bladewright.errors import BadInput


def test_a_spring_against_a_lift_on_an_arm() -> None:
    assert divergence_factor(np.array([[120.0]]), np.array([[-40.0]])) == pytest.approx(3.0, rel=1e-12)


def test_lift_behind_the_axis_never_does_it() -> None:
    assert divergence_factor(np.array([[120.0]]), np.array([[40.0]])) == np.inf


def test_heave_takes_no_part_where_lift_does_not_follow_it() -> None:
    springs, air = np.diag([7.0, 120.0]), np.array([[0.0, -500.0], [0.0, -60.0]])
    assert divergence_factor(springs, air) == pytest.approx(2.0, rel=1e-12)


def test_stiffness_that_is_no_number_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        divergence_factor(np.array([[np.nan]]), np.eye(1))
    assert refused.value.field == "stiffness"
