"""Nodes on an outline: breaks kept, spacing smooth, as many as asked."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.panelling import panel_nodes, ring_nodes
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import FourDigitLine, designated_mean_line
from bladewright.engine.geometry.measures import area_properties
from bladewright.engine.geometry.mending import mended_ring
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.reflex import reflexed
from bladewright.errors import BadInput

FM31 = designated_outline(designated_mean_line("23012"), 0.12, "open")


def nearest(nodes: np.ndarray, point: np.ndarray) -> float:
    return float(np.hypot(*(nodes - point).T).min())


@settings(max_examples=25, deadline=None)
@given(st.integers(15, 120), st.floats(0.7, 0.97), st.floats(0.2, 4.0))
def test_the_kink_of_a_reflex_is_a_node_and_the_count_is_kept(half: int, start: float, degrees: float) -> None:
    bent = reflexed(FM31, "top", start, math.radians(degrees), False)
    nodes = panel_nodes(bent, 2 * half)
    assert nodes.shape == (2 * half + 1, 2)
    for at in bent.breaks:
        assert nearest(nodes, bent.top[at]) < 1e-12
        assert nearest(nodes, bent.bottom[at]) < 1e-12
    assert nodes[0] == pytest.approx(bent.top[-1], abs=1e-15)
    assert nodes[-1] == pytest.approx(bent.bottom[-1], abs=1e-15)
    assert nearest(nodes, bent.top[0]) < 1e-12


@settings(max_examples=25, deadline=None)
@given(st.integers(30, 120), st.floats(0.1, 0.8), st.floats(3e-4, 4e-3))
def test_panels_grow_slowly_away_from_a_step(half: int, place: float, height: float) -> None:
    at = int(np.argmin(np.abs(FM31.top[:, 0] - place)))
    lowered = FM31.top.copy()
    lowered[at + 1 :, 1] -= height * (1.0 - lowered[at + 1 :, 0]) / (1.0 - lowered[at, 0])
    stepped = Outline(
        np.insert(lowered, at + 1, FM31.top[at] - [0.0, height], axis=0),
        np.insert(FM31.bottom, at + 1, FM31.bottom[at], axis=0),
        (*(b if b <= at else b + 1 for b in FM31.breaks), at, at + 1),
    )
    nodes = panel_nodes(stepped, 2 * half)
    assert nodes.shape == (2 * half + 1, 2)
    step = int(np.argmin(np.hypot(*(nodes - FM31.top[at]).T)))
    length = np.hypot(*np.diff(nodes, axis=0).T)
    assert length[step - 1] == pytest.approx(height, rel=1e-6)  # the riser, one panel
    assert length[step - 2] < 4.0 * height
    assert length[step] < 4.0 * height


def test_the_area_of_the_panels_tends_to_the_outlines_with_the_square() -> None:
    fine = area_properties(panel_nodes(FM31, 3200)).area
    first, second = (abs(area_properties(panel_nodes(FM31, n)).area - fine) for n in (100, 200))
    assert math.log2(first / second) == pytest.approx(2.0, abs=0.1)


def test_smooth_parts_have_the_spacing_of_the_cosine() -> None:
    plain = designated_outline(FourDigitLine(0.0, 0.4), 0.12, "closed")
    length = np.hypot(*np.diff(panel_nodes(plain, 100), axis=0).T)
    arc = length[50:].sum()
    place = 0.5 * (1.0 - np.cos(np.linspace(0.0, math.pi, 51))) * arc
    assert length[50:] == pytest.approx(np.diff(place), rel=5e-3)  # panels are chords of the arc
    assert length[:50] == pytest.approx(length[:49:-1], rel=1e-9)


@pytest.mark.parametrize("turned", [False, True])
def test_a_measured_ring_has_the_nodes_of_the_drawn_outline(turned: bool) -> None:
    plain = designated_outline(FourDigitLine(0.0, 0.4), 0.12, "closed")
    measured = np.concatenate((plain.top[::-1], plain.bottom[1:]))
    mended = mended_ring(measured[::-1] if turned else measured)
    assert ring_nodes(mended.points, 100) == pytest.approx(panel_nodes(plain, 100), abs=1e-12)
    assert bool(mended.said) == turned


@pytest.mark.parametrize("count", [101, 8, 0])
def test_a_count_that_cannot_be_is_refused(count: int) -> None:
    with pytest.raises(BadInput) as refused:
        panel_nodes(FM31, count)
    assert refused.value.field == "panels"
    assert refused.value.value == count
