"""The compiled passes give what numpy alone gives, to rounding, and are not needed."""

import sys
from collections.abc import Iterator
from importlib.util import find_spec

import numpy as np
import pytest

from bladewright.engine.flow import fused
from bladewright.engine.flow.influence import vortex_influence
from bladewright.engine.flow.panels import panel_flow
from bladewright.selfcheck.karman_trefftz import CUSPED, mapped_nodes
from tests.conftest import Require


@pytest.fixture(autouse=True)
def _numpy_alone_afterwards() -> Iterator[None]:
    yield
    fused.stop()


def chain_of(nodes: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    chain = nodes[:, 0] + 1j * nodes[:, 1]
    side = np.diff(chain)
    return chain[:-1] + 0.5 * side, side / np.abs(side), chain


@pytest.mark.parametrize("panels", [20, 200])
def test_the_same_table_to_rounding(panels: int, require: Require) -> None:
    require("numba", find_spec("numba") is not None, "pip install 'bladewright[fast]'")
    points, along, chain = chain_of(mapped_nodes(CUSPED, panels))
    alone = vortex_influence(points, along, chain)
    assert fused.start()
    assert fused.in_use()
    assert vortex_influence(points, along, chain) == pytest.approx(alone, abs=1e-12)


def test_the_passes_are_plain_functions_that_run_uncompiled_too() -> None:
    points, along, chain = chain_of(mapped_nodes(CUSPED, 20))
    alone = vortex_influence(points, along, chain)
    fused._running.append(fused._Passes(fused._before, fused._after))
    assert vortex_influence(points, along, chain) == pytest.approx(alone, abs=1e-12)


def test_without_numba_the_answer_is_the_same_and_nothing_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fused, "find_spec", lambda _: None)
    assert not fused.start()
    assert panel_flow(mapped_nodes(CUSPED, 50), np.radians([4.0])).lift[0] == pytest.approx(0.4781, rel=5e-3)


def test_a_single_shape_does_not_load_it() -> None:
    loaded = "numba" in sys.modules
    panel_flow(mapped_nodes(CUSPED, 50), np.zeros(1))
    assert ("numba" in sys.modules) == loaded
    assert not fused.in_use()
