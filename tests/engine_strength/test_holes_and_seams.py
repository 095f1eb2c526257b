"""Lugs, tip weights, seams, nicks, dents, bond lines and margins: hand-worked, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp
from scipy.optimize import minimize_scalar

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.bondline import BondlineLimits, ThicknessCurve, bondline_strength
from bladewright.engine.strength.lap_joint import transfer
from bladewright.engine.strength.lug import Lug, bolt_shear, lug_stress
from bladewright.engine.strength.margins import Share, combined_margin, margin_of_safety, von_mises
from bladewright.engine.strength.notch import (
    dent_factor,
    fatigue_factor,
    neuber_fatigue_factor,
    nick_factor,
    worst_nick_factor,
)
from bladewright.engine.strength.peel import EdgeLoad, edge_peel
from bladewright.engine.strength.retention import by_bolts_alone, by_bond_alone, centrifugal_force
from bladewright.engine.strength.seam import mismatch_on_edge, pressure_on_edge, seam_peel, seam_shear
from bladewright.errors import BadInput, MissingInput

FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
SKIN, WALL = Sheet(72e9, 0.000635, 0.33), Sheet(68e9, 0.0028, 0.33)
LUG = Lug(diameter=0.008, thickness=0.0028, width=0.03, edge_distance=0.016)
LIMITS = BondlineLimits(least=76e-6, greatest=127e-6, fillable=254e-6)
CURVE = ThicknessCurve(np.array([50e-6, 100e-6, 200e-6]), np.array([1.1, 1.0, 0.6]))


@given(load=st.floats(1.0, 1e6), edge=st.floats(0.0041, 0.1), width=st.floats(0.0081, 0.2))
def test_the_angled_shear_out_is_the_worse_and_a_wider_plate_the_better(load: float, edge: float, width: float) -> None:
    stress = lug_stress(load, Lug(0.008, 0.0028, width, edge))
    assert stress.shear_out_angled > stress.shear_out
    assert stress.bearing * 0.008 == pytest.approx(stress.net_section * (width - 0.008), rel=1e-9)
    assert 2.0 < stress.open_hole_factor < 3.0


@pytest.mark.parametrize(
    ("field", "values"),
    [
        ("edge_distance", (0.008, 0.0028, 0.03, 0.0039)),
        ("width", (0.008, 0.0028, 0.008, 0.016)),
        ("thickness", (0.008, -0.0028, 0.03, 0.016)),
        ("diameter", (math.nan, 0.0028, 0.03, 0.016)),
    ],
)
def test_a_hole_that_is_not_in_its_plate_is_named(field: str, values: tuple[float, float, float, float]) -> None:
    with pytest.raises(BadInput) as caught:
        Lug(*values)
    assert caught.value.field == field
    assert caught.value.allowed


def test_a_bolt_without_a_shear_plane_is_named() -> None:
    assert bolt_shear(100.0, 0.01, 2) == pytest.approx(0.5 * bolt_shear(100.0, 0.01, 1))
    with pytest.raises(BadInput) as caught:
        bolt_shear(100.0, 0.01, 0)
    assert (caught.value.field, caught.value.value) == ("planes", 0)


def test_a_tip_weight_by_hand_held_by_either_alone() -> None:
    force = centrifugal_force(0.9, 3.38, 52.36)
    assert force == pytest.approx(0.9 * 52.36**2 * 3.38, rel=1e-12)
    bond = by_bond_alone(force, 0.26, 0.05, 0.2, Sheet(97e9, 0.004, 0.34), WALL, FILM)
    assert bond.mean_shear == pytest.approx(force / (0.26 * 0.05 * 0.8), rel=1e-12)
    assert bond.peak_shear > bond.mean_shear
    bolts = by_bolts_alone(force, 2, 2, LUG, Lug(0.008, 0.0056, 0.05, 0.02))
    assert bolts.per_bolt == pytest.approx(force / 2)
    assert bolts.shear == pytest.approx(force / 4 / (math.pi * 0.004**2), rel=1e-12)
    assert bolts.in_weight.bearing == pytest.approx(force / 2 / (0.008 * 0.0028), rel=1e-12)
    assert bolts.in_wall.bearing == pytest.approx(force / 2 / (0.008 * 0.0056), rel=1e-12)


def test_a_weight_that_nothing_holds_is_said() -> None:
    with pytest.raises(MissingInput) as missing:
        by_bolts_alone(1e4, 0, 2, LUG, LUG)
    assert missing.value.field == "count"
    with pytest.raises(MissingInput) as missing:
        by_bond_alone(1e4, 0.26, 0.05, 1.0, WALL, WALL, FILM)
    assert missing.value.field == "unbonded"
    with pytest.raises(BadInput) as caught:
        centrifugal_force(0.9, 3.38, 0.0)
    assert caught.value.field == "rotor_speed"


@pytest.mark.outside
def test_a_flow_along_a_seam_runs_across_it_as_its_equation_says() -> None:
    # G_1 t_1 u_1'' = tau, G_2 t_2 u_2'' = -tau with u along the blade, tau = G_a (u_2 - u_1) / t_a, q in wall 1
    first, second, flow, width = 27e9 * 0.000635, 26e9 * 0.0028, 4e4, 0.02

    def slope(_: Floats, state: Floats) -> Floats:
        carried, slip = state
        shear = FILM.shear_modulus / FILM.thickness * slip * 1e-6
        return np.array([-shear, 1e6 * ((flow - carried) / second - carried / first)])

    def ends(a: Floats, b: Floats) -> Floats:
        return np.array([a[0] - flow, b[0]])

    x = np.linspace(0.0, width, 400)
    solved = solve_bvp(slope, ends, x, np.array([flow * (1.0 - x / width), 0.0 * x]), tol=1e-8, max_nodes=50000)
    assert solved.success
    seam = seam_shear(flow, width, first, second, FILM)
    assert seam.mean == pytest.approx(flow / width)
    assert seam.peak == pytest.approx(FILM.shear_modulus / FILM.thickness * 1e-6 * solved.sol(0.0)[1], rel=1e-5)
    assert seam.peak == pytest.approx(transfer(flow, width, second, first, FILM).peak, rel=1e-12)


def test_no_flow_is_no_shear_and_no_width_is_refused() -> None:
    assert seam_shear(0.0, 0.01, 1e7, 1e7, FILM).peak == 0.0
    with pytest.raises(BadInput) as caught:
        seam_shear(1e3, 0.0, 1e7, 1e7, FILM)
    assert caught.value.field == "width"


def test_what_pulls_at_a_seam_adds_and_a_stiff_partner_is_kinder() -> None:
    loads = (pressure_on_edge(2000.0, 0.12), mismatch_on_edge(-0.0004, 0.12, SKIN))
    assert loads[0] == EdgeLoad(force=120.0, moment=pytest.approx(2.4))
    assert loads[1].force == pytest.approx(12.0 * SKIN.bending * 0.0004 / 0.12**3, rel=1e-12)
    stiff = seam_peel(loads, 0.014, SKIN, FILM, both_bend=False)
    assert stiff == pytest.approx(sum(edge_peel(load, SKIN, FILM) for load in loads), rel=1e-12)
    force, moment = (EdgeLoad(1.0, 0.0),), (EdgeLoad(0.0, 1.0),)
    for load, power in ((force, 0.25), (moment, 0.5)):  # a spring twice as stiff: beta times 2**(1/4)
        like = seam_peel(load, 0.014, SKIN, FILM, both_bend=True)
        assert like == pytest.approx(2.0**power * seam_peel(load, 0.014, SKIN, FILM, both_bend=False), rel=1e-12)
    with pytest.raises(BadInput) as caught:
        seam_peel(loads, 0.001, SKIN, FILM, both_bend=False)
    assert caught.value.field == "width"


@given(depth=st.floats(1e-6, 1e-2), length=st.floats(1e-6, 1e-2))
def test_the_worst_nick_is_the_worst_of_all_radii(depth: float, length: float) -> None:
    worst = minimize_scalar(
        lambda log: -fatigue_factor(nick_factor(depth, math.exp(log)), math.exp(log), length),
        bounds=(math.log(length) - 8.0, math.log(length) + 8.0), method="bounded",
    )  # fmt: skip
    assert worst_nick_factor(depth, length) == pytest.approx(-worst.fun, rel=1e-6)


def test_known_notches() -> None:
    assert nick_factor(0.001, 0.001) == 3.0  # a half circle, as a hole; G. Kirsch, 1898
    assert nick_factor(0.0, 0.001) == 1.0
    assert fatigue_factor(3.0, 0.001, 0.0) == neuber_fatigue_factor(3.0, 0.001, 0.0) == 3.0
    assert fatigue_factor(3.0, 0.001, 0.001) == neuber_fatigue_factor(3.0, 0.001, 0.001) == 2.0
    assert dent_factor(0.0001, 0.0006) == pytest.approx(2.0)
    for ask in (lambda: nick_factor(-1e-4, 1e-4), lambda: dent_factor(-1e-4, 1e-3)):
        with pytest.raises(BadInput) as caught:
            ask()
        assert caught.value.field == "depth"


@pytest.mark.parametrize(
    ("thickness", "curve", "fraction", "basis"),
    [
        (100e-6, None, 1.0, "within its limits"),
        (76e-6, CURVE, 1.0, "within its limits"),
        (60e-6, CURVE, 1.0, "by the entered curve"),  # the curve says 1.08 there: never above nominal
        (178e-6, CURVE, 0.688, "by the entered curve"),
        (178e-6, None, None, "no curve"),
        (220e-6, CURVE, None, "beyond the curve"),
        (40e-6, CURVE, None, "beyond the curve"),
        (255e-6, CURVE, 0.0, "unfilled"),
        (255e-6, None, 0.0, "unfilled"),
    ],
)
def test_a_bond_line_scores_what_was_tested_and_never_above_nominal(
    thickness: float, curve: ThicknessCurve | None, fraction: float | None, basis: str
) -> None:
    found = bondline_strength(thickness, LIMITS, curve)
    assert found.basis == basis
    assert found.fraction == (None if fraction is None else pytest.approx(fraction))


def test_a_curve_that_is_none_and_limits_the_wrong_way_are_named() -> None:
    with pytest.raises(BadInput) as caught:
        ThicknessCurve(np.array([1e-4]), np.array([1.0]))
    assert caught.value.field == "fraction"
    with pytest.raises(BadInput) as caught:
        ThicknessCurve(np.array([2e-4, 1e-4]), np.array([1.0, 1.0]))
    assert caught.value.field == "thickness"
    with pytest.raises(BadInput) as caught:
        BondlineLimits(2e-4, 1e-4, 3e-4)
    assert caught.value.field == "greatest"
    with pytest.raises(BadInput) as caught:
        bondline_strength(-1e-6, LIMITS, None)
    assert caught.value.field == "thickness"


def test_margins_by_hand() -> None:
    assert margin_of_safety(300e6, 100e6, 1.5) == pytest.approx(1.0)
    assert margin_of_safety(0.0, 0.0, 1.5) == -1.0
    assert margin_of_safety(1.0, 0.0, 1.5) == math.inf
    with pytest.raises(BadInput) as caught:
        margin_of_safety(1.0, 1.0, 0.9)
    assert (caught.value.field, caught.value.allowed) == ("factor", "1 or more")
    # two that add: 1 / (a + b) - 1; two square to each other: 1 / hypot - 1
    assert combined_margin([Share(0.3, 1.0), Share(0.2, 1.0)]) == pytest.approx(1.0, rel=1e-12)
    assert combined_margin([Share(0.3, 2.0), Share(0.4, 2.0)]) == pytest.approx(1.0, rel=1e-12)
    assert combined_margin([]) == math.inf
    assert von_mises(3.0, 0.0) == 3.0
    assert von_mises(0.0, 1.0) == pytest.approx(math.sqrt(3.0))


@given(ratios=st.lists(st.tuples(st.floats(0.0, 3.0), st.floats(0.5, 3.0)), min_size=1, max_size=4))
def test_together_is_never_better_than_the_worst_alone(ratios: list[tuple[float, float]]) -> None:
    shares = [Share(*both) for both in ratios]
    worst = max(share.ratio for share in shares)
    alone = 1.0 / worst if worst > 0.0 else math.inf
    assert combined_margin(shares) + 1.0 <= alone * (1.0 + 1e-9)
