"""The margin with a wake against the one without, and by what a wake must do."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import Root
from bladewright.engine.dynamics.flutter_margin import ControlRun, flutter_margin
from bladewright.engine.dynamics.strip_air import Effects, StripAir
from bladewright.engine.dynamics.wake_margin import margin_with_wake
from bladewright.errors import BadInput
from tests.engine_dynamics.even_blade import even_air, even_blade

SPEED = 560.0 * np.pi / 30.0
HINGED = Root("hinged", 1500.0)
AIR = even_air(effects=Effects(), drag=0.009)


def margin(air: StripAir = AIR, aft: float = 0.0, **changed: object) -> float:
    return margin_with_wake(even_blade(aft=aft), HINGED, "cyclic", air, SPEED, **changed)  # type: ignore[arg-type]


@pytest.mark.parametrize("moved", ["mass", "lift"])
def test_without_wake_it_is_the_margin_of_the_quick_way(moved: str) -> None:
    quick = flutter_margin(
        even_blade(), HINGED, AIR, [ControlRun("soft", 1500.0)], np.array([SPEED]), factor=1.0, patterns=("cyclic",),
        moved=moved,  # type: ignore[arg-type]
    )  # fmt: skip
    # that one keeps the shapes of the blade unshifted
    assert margin(moved=moved) == pytest.approx(quick.on_run("soft").margin, abs=2e-4)


def test_a_blade_beyond_it_comes_back_as_far() -> None:
    assert margin(aft=0.02) == pytest.approx(margin() - 0.02, abs=2e-4)


def test_a_wake_far_below_is_the_blades_own() -> None:
    own = margin(replace(AIR, effects=Effects(wake="shed")))
    far = margin(replace(AIR, effects=Effects(wake="returning"), inflow=1e4))
    assert far == pytest.approx(own, abs=1e-4)
    assert own != pytest.approx(margin(), abs=1e-4)


def test_none_and_nowhere() -> None:
    assert margin(limit=0.001) == np.inf
    assert margin(aft=0.04, limit=0.001) == -np.inf


def test_no_way_to_go_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        margin(limit=np.nan)
    assert refused.value.field == "limit"
