"""Bolts in rows and patterns: closed forms, statics, and a row of many bolts against a film that is all bolts."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.fastener_share import (
    InPlane,
    bolt_flexibility,
    outside_plate,
    pattern_loads,
    row_shares,
)
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.errors import BadInput, MissingInput

PLATE = 72e9 * 0.016 * 0.05  # [N]


def row(count: int, flexibility: float, first: float = PLATE, second: float = PLATE) -> np.ndarray:  # type: ignore[type-arg]
    return row_shares(52000.0, np.full(count - 1, 0.04), np.full(count, flexibility), first, second)


def test_bolts_between_plates_that_do_not_stretch_share_alike() -> None:
    assert row(4, 1e-8, math.inf, math.inf) == pytest.approx(np.full(4, 13000.0), rel=1e-12)


def test_two_bolts_that_give_nothing_are_the_plates_alone() -> None:
    # between them each plate carries by its stiffness: the first bolt hands over the second plate's share
    found = row_shares(1.0, np.array([0.04]), np.zeros(2), 3.0, 1.0)
    assert found == pytest.approx([0.25, 0.75], rel=1e-12)


def test_three_like_bolts_by_hand() -> None:
    # like plates: middle R2 = R1 - s/(k f) (1/2)(P1 - P2)..., by symmetry R1 = R3, so with q = s / (k f):
    # R2 - R1 = q (R1 - (P - R1)) = q (2 R1 - P) and 2 R1 + R2 = P  ->  R1 = P (1 + q) / (3 + 2 q)
    flexibility, pitch = 2e-9, 0.04
    q = pitch / (PLATE * flexibility)
    found = row(3, flexibility)
    assert found[0] == pytest.approx(52000.0 * (1.0 + q) / (3.0 + 2.0 * q), rel=1e-12)
    assert found[1] == pytest.approx(52000.0 / (3.0 + 2.0 * q), rel=1e-12)


@given(
    count=st.integers(2, 12),
    flexibility=st.floats(1e-11, 1e-6), first=st.floats(1e5, 1e10), second=st.floats(1e5, 1e10)
)  # fmt: skip
def test_the_shares_add_to_the_load_and_turn_round_with_the_plates(
    count: int, flexibility: float, first: float, second: float
) -> None:
    one, other = row(count, flexibility, first, second), row(count, flexibility, second, first)
    assert one.sum() == pytest.approx(52000.0, rel=1e-9)
    assert one == pytest.approx(other[::-1], rel=1e-6, abs=1e-3)
    assert max(one[0], one[-1]) >= one.max() * (1.0 - 1e-9)  # an end bolt carries most


@pytest.mark.outside
def test_ever_more_bolts_become_a_film_with_an_error_that_falls_by_four() -> None:
    first, second, film = Sheet(72e9, 0.0008, 0.33), Sheet(72e9, 0.003, 0.33), Film(7.5e8, 2e9, 0.00015)
    overlap, load = 0.025, 1e4
    exact = lap_shear(load, overlap, first, second, film)
    decay = film.shear_decay(first.axial, second.axial)
    share = first.axial / (first.axial + second.axial)
    errors = []
    for count in (40, 80, 160):
        pitch = overlap / count
        flexibility = np.full(count, film.thickness / (film.shear_modulus * pitch))
        found = row_shares(load, np.full(count - 1, pitch), flexibility, first.axial, second.axial)
        # what the film bears over the first pitch, from Volkersen's own pull in the first sheet
        left = load * share + load * (
            (1.0 - share) * math.sinh(decay * (overlap - pitch)) - share * math.sinh(decay * pitch)
        ) / math.sinh(decay * overlap)
        errors.append(abs(found[0] - (load - left)) / (load - left))
        assert exact.first_end > found[0] / pitch > exact.mean
    assert errors[0] / errors[1] == pytest.approx(4.0, abs=0.4)
    assert errors[1] / errors[2] == pytest.approx(4.0, abs=0.2)


@pytest.mark.outside
def test_flexibility_of_a_bolt_worked_by_hand() -> None:
    # Huth's formula (from memory): t = d/2 each, all of one modulus: 3 (1/2)**0.4 (2/t)(1.5)/E = 9 (1/2)**0.4 / (t E)
    assert bolt_flexibility(0.01, 0.005, 0.005, 70e9, 70e9) == pytest.approx(9.0 * 0.5**0.4 / (0.005 * 70e9), rel=1e-12)


places = st.lists(st.tuples(st.floats(-0.1, 0.1), st.floats(0.0, 0.4), st.floats(0.1, 10.0)), min_size=2, max_size=9)


@given(
    bolts=places, force_x=st.floats(-1e4, 1e4), force_y=st.floats(-1e5, 1e5), moment=st.floats(-1e3, 1e3),
    at=st.tuples(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0)),
)  # fmt: skip
def test_a_pattern_bears_the_force_and_the_moment(
    bolts: list[tuple[float, float, float]], force_x: float, force_y: float, moment: float, at: tuple[float, float]
) -> None:
    x, y, stiffness = np.array(bolts).T
    if max(np.ptp(x), np.ptp(y)) < 1e-3:
        return
    load = InPlane(force_x, force_y, moment, *at)
    found = pattern_loads(load, x, y, stiffness)
    size = 1.0 + np.abs(found.size).sum()
    assert found.force_x.sum() == pytest.approx(force_x, abs=1e-9 * size)
    assert found.force_y.sum() == pytest.approx(force_y, abs=1e-9 * size)
    turned = (x * found.force_y - y * found.force_x).sum()
    assert turned == pytest.approx(moment + at[0] * force_y - at[1] * force_x, abs=1e-8 * size)


def test_four_bolts_on_a_square_by_hand() -> None:
    # half side h, moment M: each bears M / (4 h sqrt 2) square to its arm
    h, moment = 0.03, 120.0
    x, y = h * np.array([1.0, -1.0, -1.0, 1.0]), h * np.array([1.0, 1.0, -1.0, -1.0])
    found = pattern_loads(InPlane(0.0, 4000.0, moment, 0.0, 0.0), x, y, np.ones(4))
    assert found.force_x == pytest.approx(-moment / (8.0 * h**2) * y, rel=1e-12)
    assert found.force_y == pytest.approx(1000.0 + moment / (8.0 * h**2) * x, rel=1e-12)


def test_a_stiffer_bolt_moves_the_middle_to_itself() -> None:
    found = pattern_loads(InPlane(0.0, 300.0, 0.0, 0.02, 0.0), np.array([0.0, 0.03]), np.zeros(2), np.array([1.0, 2.0]))
    assert found.centre_x == pytest.approx(0.02)
    assert found.force_y == pytest.approx([100.0, 200.0])


def test_one_bolt_bears_a_force_through_it_and_no_moment() -> None:
    one = np.array([0.01]), np.array([0.3]), np.ones(1)
    assert pattern_loads(InPlane(3.0, 4.0, 0.0, 0.01, 0.3), *one).size == pytest.approx([5.0])
    with pytest.raises(BadInput) as caught:
        pattern_loads(InPlane(3.0, 4.0, 1.0, 0.01, 0.3), *one)
    assert (caught.value.field, caught.value.allowed) == ("x", "two bolts apart")


def test_a_bolt_off_the_plate_is_found() -> None:
    x, y, diameter = np.array([0.0, 0.0, 0.028]), np.array([0.30, 0.38, 0.46]), np.full(3, 0.0095)
    assert outside_plate(x[:2], y[:2], diameter[:2], (-0.03, 0.03, 0.25, 0.62)) is None
    assert outside_plate(x, y, diameter, (-0.03, 0.03, 0.25, 0.62)) == 2


def test_what_is_missing_or_wrong_is_named() -> None:
    none = np.array([])
    with pytest.raises(MissingInput) as missing:
        row_shares(1.0, none, none, 1.0, 1.0)
    assert missing.value.field == "flexibility"
    with pytest.raises(MissingInput) as missing:
        pattern_loads(InPlane(1.0, 0.0, 0.0, 0.0, 0.0), none, none, none)
    assert missing.value.field == "x"
    for field, pitch, flexibility, first in (
        ("pitch", np.array([0.04, 0.04]), np.ones(2), 1.0),
        ("pitch", np.array([0.0]), np.ones(2), 1.0),
        ("flexibility", np.array([0.04]), -np.ones(2), 1.0),
        ("first", np.array([0.04]), np.ones(2), 0.0),
        ("flexibility", np.array([0.04]), np.zeros(2), math.inf),
    ):
        with pytest.raises(BadInput) as caught:
            row_shares(1.0, pitch, flexibility, first, math.inf)
        assert caught.value.field == field
    with pytest.raises(BadInput) as caught:
        pattern_loads(InPlane(1.0, 0.0, 0.0, 0.0, 0.0), np.zeros(2), np.arange(2.0), np.array([1.0, 0.0]))
    assert (caught.value.field, caught.value.row) == ("stiffness", 2)
