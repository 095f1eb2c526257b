"""A polar reads back what was put in, says where it was left, and goes all round the circle past stall.

Past stall: L. A. Viterna, R. D. Corrigan, NASA CP-2230, 1982; centre of pressure: Rayleigh, 1876 (from memory).
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.past_stall import extended
from bladewright.engine.flow.polar import Polar, look_up, straight_polar
from bladewright.errors import BadInput, OutsideValidity, StationOrder

ANGLE = np.deg2rad(np.linspace(-12.0, 14.0, 27))


def invented(mach: tuple[float, ...] = (0.0, 0.3, 0.5)) -> Polar:
    """Lift in the angle, drag in log Reynolds number, moment in Mach number: linear interpolation is exact."""
    a, r, m = np.meshgrid(ANGLE, [1e6, 2e6, 4e6], mach, indexing="ij")
    return Polar(
        ANGLE, np.array([1e6, 2e6, 4e6]), np.array(mach), lift=6.0 * a + 0.1, drag=0.03 - 0.001 * np.log(r),
        moment=-0.01 - 0.02 * m, computed=np.ones(a.shape, dtype=np.bool_),
    )  # fmt: skip


@settings(max_examples=50)
@given(st.floats(-0.2, 0.24), st.floats(1e6, 4e6), st.floats(0.0, 0.5), st.integers(-2, 2))
def test_a_table_linear_in_its_own_scales_is_read_exactly(
    angle: float, reynolds: float, mach: float, turns: int
) -> None:
    found = look_up(invented(), np.array([angle + 2.0 * math.pi * turns]), np.array([reynolds]), np.array([mach]))
    assert found.lift[0] == pytest.approx(6.0 * angle + 0.1, abs=1e-12)
    assert found.drag[0] == pytest.approx(0.03 - 0.001 * math.log(reynolds), abs=1e-12)
    assert found.moment[0] == pytest.approx(-0.01 - 0.02 * mach, abs=1e-12)
    assert found.computed.all()


def test_outside_in_reynolds_or_mach_number_the_edge_is_used_and_said() -> None:
    ones = np.full(4, 0.05)
    found = look_up(invented(), ones, np.array([5e5, 8e6, 2e6, 2e6]), np.array([0.2, 0.2, 0.7, 0.2]))
    assert found.computed.tolist() == [False, False, False, True]
    assert found.drag[:2] == pytest.approx([0.03 - 0.001 * math.log(edge) for edge in (1e6, 4e6)])
    assert found.moment[2] == pytest.approx(-0.02)


def test_an_angle_outside_is_refused_until_the_polar_is_extended() -> None:
    asked = (np.array([0.5, -3.0]), np.full(2, 2e6), np.full(2, 0.1))
    with pytest.raises(OutsideValidity) as left:
        look_up(invented(), *asked)
    assert (left.value.field, left.value.value, left.value.fix) == ("angle", 0.5, "extend the polar past stall")
    found = look_up(extended(invented(), 15.0), *asked)
    assert not found.computed.any()
    assert np.isfinite([found.lift, found.drag, found.moment]).all()


def test_the_extension_keeps_what_is_known_meets_it_and_is_a_plate_at_right_angles() -> None:
    polar = invented()
    whole = extended(polar, 15.0)
    kept = np.searchsorted(whole.angle, polar.angle)
    for name in ("lift", "drag", "moment"):
        assert np.array_equal(getattr(whole, name)[kept], getattr(polar, name))
    assert whole.computed.sum() == polar.computed.sum()
    assert (whole.angle[0], whole.angle[-1]) == (-math.pi, math.pi)
    flow = (np.full(1, 2e6), np.full(1, 0.1))
    for end in (ANGLE[0], ANGLE[-1]):
        before, after = (look_up(whole, np.array([end + step]), *flow) for step in (0.0, math.copysign(1e-9, end)))
        assert after.lift == pytest.approx(before.lift, abs=1e-6)
        assert after.drag == pytest.approx(before.drag, abs=1e-6)
        assert after.moment == pytest.approx(before.moment, abs=1e-6)
    upright = look_up(whole, np.array([math.pi / 2.0, -math.pi / 2.0]), *flow)
    highest = 1.11 + 0.018 * 15.0
    assert upright.drag == pytest.approx([highest, highest], rel=2e-3)
    assert upright.lift == pytest.approx([0.0, 0.0], abs=5e-3)
    assert upright.moment == pytest.approx([-highest / 4.0, highest / 4.0], rel=1e-2)  # force at mid-chord
    assert (whole.drag > 0.0).all()


def test_the_rule_at_thirty_degrees_by_hand() -> None:
    # one condition, stall at 14 deg, cl 1.5661, cd 0.0155: K_l = (cl - D/2 sin 28) sin 14/cos^2 14
    top, end = invented(), math.radians(14.0)
    found = extended(top, 10.0)
    at = int(np.argmin(np.abs(found.angle - math.radians(44.0))))
    a, highest = found.angle[at], 1.29
    lift, drag = 6.0 * end + 0.1, float(top.drag[-1, 0, 0])
    kept = (lift - highest / 2.0 * math.sin(2.0 * end)) * math.sin(end) / math.cos(end) ** 2
    assert found.lift[at, 0, 0] == pytest.approx(highest / 2 * math.sin(2 * a) + kept * math.cos(a) ** 2 / math.sin(a))
    rest = (drag - highest * math.sin(end) ** 2) / math.cos(end)
    assert found.drag[at, 0, 0] == pytest.approx(highest * math.sin(a) ** 2 + rest * math.cos(a))


def test_gaps_are_bridged_from_where_something_is_known_and_stay_marked() -> None:
    polar = invented()
    lift, computed = polar.lift.copy(), polar.computed.copy()
    lift[:, :, 2], computed[:, :, 2] = np.nan, False  # nothing at the highest Mach number
    lift[-9:-2, 0, 0], computed[-9:-2, 0, 0] = np.nan, False  # a wide hole: what lies beyond is not trusted
    lift[12:15, 2, 0], computed[12:15, 2, 0] = np.nan, False  # a narrow one about zero is bridged
    whole = extended(Polar(polar.angle, polar.reynolds, polar.mach, lift, polar.drag, polar.moment, computed), 15.0)
    assert np.isfinite([whole.lift, whole.drag, whole.moment]).all()
    assert not whole.computed[:, :, 2].any()
    assert whole.lift[:, 1, 2] == pytest.approx(whole.lift[:, 1, 1])
    last = np.searchsorted(whole.angle, polar.angle[-1])
    assert not whole.computed[last, 0, 0]
    assert whole.computed[last, 1, 0]
    bridged = slice(np.searchsorted(whole.angle, polar.angle[12]), np.searchsorted(whole.angle, polar.angle[15]))
    assert whole.lift[bridged, 2, 0] == pytest.approx(6.0 * polar.angle[12:15] + 0.1)
    assert not whole.computed[bridged, 2, 0].any()


def test_a_straight_polar_is_straight() -> None:
    angle = np.linspace(-1.5, 1.5, 7)
    found = look_up(straight_polar(5.73, -0.02, 0.01, 0.003), angle, np.full(7, 1e6), np.full(7, 0.4))
    assert found.lift == pytest.approx(5.73 * (angle + 0.02), abs=1e-12)
    behind = look_up(straight_polar(5.73, -0.02, 0.01, 0.003), angle + math.pi, np.full(7, 1e6), np.full(7, 0.4))
    assert behind.lift == pytest.approx(found.lift, abs=1e-12)
    assert found.drag == pytest.approx(np.full(7, 0.01))
    assert found.moment == pytest.approx(np.full(7, 0.003))
    assert found.computed.all()


def test_bad_tables_are_refused() -> None:
    good = invented()
    with pytest.raises(StationOrder) as order:
        Polar(good.angle[::-1].copy(), good.reynolds, good.mach, good.lift, good.drag, good.moment, good.computed)
    assert order.value.field == "angle"
    with pytest.raises(BadInput) as shape:
        Polar(good.angle, good.reynolds, good.mach, good.lift[1:], good.drag, good.moment, good.computed)
    assert shape.value.field == "lift"
    with pytest.raises(BadInput) as finite:
        Polar(good.angle, good.reynolds, good.mach, good.lift * np.nan, good.drag, good.moment, good.computed)
    assert finite.value.field == "computed"
    with pytest.raises(BadInput) as aspect:
        extended(good, 0.0)
    assert aspect.value.field == "aspect_ratio"
    onesided = slice(20, 27)
    with pytest.raises(BadInput) as sides:
        extended(
            Polar(
                good.angle[onesided], good.reynolds, good.mach, good.lift[onesided], good.drag[onesided],
                good.moment[onesided], good.computed[onesided],
            ), 15.0,
        )  # fmt: skip
    assert sides.value.field == "angle"
