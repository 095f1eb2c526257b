"""Areas outlined on a photograph: squares and triangles by hand, scatter by drawing the corners again and again."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.geometry.outlined_face import outlined_face, photo_scale
from bladewright.errors import BadInput

ORDER = ("AF", "void", "SCF", "CF")


def box(left: float, top: float, right: float, bottom: float) -> Floats:
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)], dtype=np.float64)


FACE = box(0, 0, 400, 100)
HALVES = [("CF", box(0, 0, 250, 100)), ("AF", box(250, 0, 400, 100))]


def test_two_boxes_that_meet_divide_the_face_by_hand() -> None:
    found = outlined_face(FACE, HALVES, ORDER, 1.0)
    assert dict(zip(found.names, found.areas, strict=True)) == pytest.approx(
        {"AF": 15000.0, "void": 0.0, "SCF": 0.0, "CF": 25000.0}
    )
    assert (found.face, found.unoutlined, found.overlap, found.outside) == pytest.approx((40000.0, 0.0, 0.0, 0.0))


def test_corners_that_two_outlines_share_move_together_by_hand() -> None:
    """A box of 100 by 60: u(A)**2 = (4/4) (100**2 + 60**2). Two shared corners: 2 (50 * 50 - 30 * 30) of covariance."""
    pair = [("CF", box(50, 20, 150, 80)), ("AF", box(150, 20, 250, 80))]
    found = outlined_face(FACE, pair, ORDER, 1.0)
    adhesion, cohesive = 0, 3
    assert found.covariance[adhesion, adhesion] == pytest.approx(100.0**2 + 60.0**2)
    assert found.covariance[adhesion, cohesive] == pytest.approx(2 * (50.0**2 - 30.0**2))


def test_overlap_goes_to_the_worse_and_nothing_is_counted_twice() -> None:
    found = outlined_face(FACE, [("CF", FACE), ("AF", box(10, 10, 30, 30)), ("void", box(20, 10, 50, 30))], ORDER, 0.5)
    assert dict(zip(found.names, found.areas, strict=True)) == pytest.approx(
        {"AF": 400.0, "void": 400.0, "SCF": 0.0, "CF": 39200.0}
    )
    assert found.overlap == pytest.approx(200.0 + 800.0)


def test_what_nobody_outlined_and_what_lies_outside_is_told() -> None:
    found = outlined_face(FACE, [("CF", box(-10, 0, 300, 100))], ORDER, 0.5)
    assert (found.unoutlined, found.outside) == pytest.approx((10000.0, 1000.0))


def test_the_scatter_told_is_that_of_drawing_it_again() -> None:
    """Corners drawn anew 2,000 times, those that meet together: the areas scatter as the covariance says."""
    generator = np.random.default_rng(11)
    blot = ("AF", np.array([(40.0, 20.0), (150.0, 30.0), (170.0, 80.0), (60.0, 70.0)]))
    told = outlined_face(FACE, [blot], ORDER, 1.5).covariance[0, 0]
    drawn = []
    for _ in range(2000):
        x, z = (blot[1] + generator.normal(0.0, 1.5, (4, 2))).T
        drawn.append(0.5 * abs(np.dot(x, np.roll(z, -1)) - np.dot(z, np.roll(x, -1))))
    assert np.var(drawn) == pytest.approx(told, rel=4.0 * np.sqrt(2.0 / 2000))


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 380), st.integers(0, 80), st.sampled_from(ORDER)), max_size=5))
def test_all_parts_add_up_to_the_face(boxes: list[tuple[int, int, str]]) -> None:
    patches = [(name, box(x, y, x + 35, y + 30)) for x, y, name in boxes]
    found = outlined_face(FACE, patches, ORDER, 0.7)
    assert found.areas.sum() + found.unoutlined == pytest.approx(found.face)
    total = float(np.ones(5) @ found.covariance @ np.ones(5))
    alone = outlined_face(FACE, [], ORDER, 0.7).covariance[-1, -1]
    assert total == pytest.approx(alone, rel=0.05, abs=1.0)


@pytest.mark.parametrize(
    ("patches", "row"),
    [
        ([("AF", np.array([(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]))], 1),
        ([("CF", FACE), ("AF", np.array([(0.0, 0.0), (10.0, 10.0)]))], 2),
        ([("glue", FACE)], 1),
        ([("CF", np.array([(0.0, 0.0), (10.0, 0.0), (20.0, 0.0)]))], 1),
    ],
)
def test_what_is_no_outline_is_refused_by_its_number(patches: list[tuple[str, Floats]], row: int) -> None:
    with pytest.raises(BadInput) as caught:
        outlined_face(FACE, patches, ORDER, 1.0)
    assert (caught.value.field, caught.value.row) == ("areas", row)


def test_a_placing_of_nothing_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        outlined_face(FACE, HALVES, ORDER, 0.0)
    assert caught.value.field == "placing"


def test_a_scale_by_hand_and_one_that_differs_from_end_to_end() -> None:
    one = photo_scale(np.array([254.0]), np.array([0.0254]), 1.0)
    assert (one.length, one.uneven) == pytest.approx((1e-4, 0.0))
    assert one.deviation / one.length == pytest.approx(np.sqrt(2.0) / 254.0)
    askew = photo_scale(np.array([254.0, 240.0]), np.array([0.0254, 0.0254]), 1.0)
    assert askew.uneven == pytest.approx(0.029, abs=0.002)
    assert askew.deviation > one.deviation
    with pytest.raises(BadInput) as caught:
        photo_scale(np.array([]), np.array([]), 1.0)
    assert caught.value.field == "marks"
