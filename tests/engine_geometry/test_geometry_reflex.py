"""The reflex bend: what turns, how far, and that no skin is stretched. Geometry; no source needed."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.engine.geometry.measures import arc_length
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.reflex import reflexed, with_point
from bladewright.errors import BadInput

PLAIN = designated_outline(designated_mean_line("23012"), 0.12, "open")


def slopes_aft(line: np.ndarray, start: float) -> np.ndarray:
    aft = line[line[:, 0] > start + 0.005]
    return np.arctan2(*np.diff(aft, axis=0).T[::-1])


@settings(max_examples=25)
@given(st.floats(0.0, 6.0), st.floats(0.80, 0.96), st.sampled_from(["top", "bottom"]), st.booleans())
def test_no_skin_is_stretched(degrees: float, start: float, side: str, follows: bool) -> None:
    angle = math.radians(degrees if side == "top" or follows else -degrees)  # a lone bottom skin may only go down
    opened, at = with_point(PLAIN, start, side)
    bent = reflexed(PLAIN, side, start, angle, follows)
    for before, after in ((opened.top, bent.top), (opened.bottom, bent.bottom)):
        assert arc_length(after) == pytest.approx(arc_length(before), abs=1e-14)
        assert after[:at] == pytest.approx(before[:at], abs=0.0)


def test_both_skins_turn_the_mean_line_by_the_whole_angle() -> None:
    opened, _ = with_point(PLAIN, 0.9, "top")
    turned = slopes_aft(reflexed(PLAIN, "top", 0.9, math.radians(2.0), True).mean_line, 0.9)
    assert turned - slopes_aft(opened.mean_line, 0.9) == pytest.approx(math.radians(2.0), abs=1e-12)


@pytest.mark.parametrize("degrees", [0.1, 0.3, 2.0])
def test_one_skin_turns_the_mean_line_by_half_to_first_order(degrees: float) -> None:
    opened, _ = with_point(PLAIN, 0.9, "top")
    turned = slopes_aft(reflexed(PLAIN, "top", 0.9, math.radians(degrees), False).mean_line, 0.9)
    change = np.degrees(turned - slopes_aft(opened.mean_line, 0.9))
    # the mean slope is half the sum of the surfaces' slopes, which differ by 2 x 0.14 at the tail of this section:
    # the half is good to their product with the angle, under 1 % here
    assert change == pytest.approx(0.5 * degrees, rel=0.01)


def test_an_added_point_lies_on_the_section() -> None:
    line = designated_mean_line("23012")
    opened, at = with_point(PLAIN, 0.87654, "top")
    fine = designated_outline(line, 0.12, "open", 8001)
    assert opened.top[at, 1] == pytest.approx(np.interp(0.87654, fine.top[:, 0], fine.top[:, 1]), abs=2e-8)
    assert len(opened.top) == len(PLAIN.top) + 1
    assert opened.breaks == (PLAIN.breaks[0], at)


def test_breaks_behind_an_added_point_keep_their_places() -> None:
    two = Outline(PLAIN.top, PLAIN.bottom, (40, 120))
    opened, at = with_point(two, 0.5, "bottom")
    assert opened.breaks == (40, at, 121)
    assert opened.top[121] == pytest.approx(PLAIN.top[120])


@pytest.mark.parametrize(
    ("side", "start", "degrees", "field"),
    [
        ("top", 1.2, 1.0, "reflex.start"),
        ("top", 0.9, 115.0, "reflex.angle"),
        ("top", 0.9, math.nan, "reflex.angle"),
        ("bottom", 0.9, 4.0, "reflex.angle"),  # a lone bottom skin turned up runs through the top
    ],
)
def test_impossible_bends_are_refused(side: str, start: float, degrees: float, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        reflexed(PLAIN, side, start, math.radians(degrees), False)
    assert caught.value.field == field
    assert caught.value.allowed
