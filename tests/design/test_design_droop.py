"""Droop and coning of a uniform bar against beam theory in closed form; the drawn blade against its stops."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.droop import at_rest, droop
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.figures import Outcome

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()
LENGTH, MASS, STIFF = 4.0, 2.0, 3000.0  # [m], [kg/m], [N m^2]


def fm31(changes: dict[str, str | float | bool] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31, changes or {}), "fm31.toml")


def bar() -> BladeBeam:
    """Alike all along, from the rotor axis to the tip, every centre on the feathering axis."""
    one = np.ones(2)
    none = 0.0 * one
    return BladeBeam(
        y=np.array([0.0, LENGTH]), twist=none, mass_per_length=MASS * one, mass_x=none, mass_z=none,
        chordwise_inertia=4e-3 * one, normal_inertia=1e-4 * one, product_of_inertia=none, axial=3e7 * one,
        flapwise=STIFF * one, chordwise=40.0 * STIFF * one, bending_product=none, elastic_x=none, elastic_z=none,
        torsion=3e3 * one, shear_x=none, shear_z=none, gyration_squared=1e-3 * one,
    )  # fmt: skip


def rotor(hub: str = "teetering", cone: float = 0.0) -> Rotor:
    drawn = fm31().rotor
    assert drawn is not None
    return drawn.model_copy(update={"hub": hub, "precone": cone, "collective_least": 0.0})


@pytest.mark.outside
def test_a_clamped_bar_hangs_as_beam_theory_says() -> None:
    # w L^4/(8 E I) at the tip; any text on the strength of materials
    by_hand = 9.80665 * MASS * LENGTH**3 / (8.0 * STIFF)
    assert at_rest(bar(), rotor()) == pytest.approx(-by_hand, rel=1e-6)
    assert at_rest(bar(), rotor(cone=0.04)) == pytest.approx(0.04 - by_hand, rel=1e-6)


def test_a_hinged_bar_lies_on_its_droop_stop_and_bends_below_it() -> None:
    by_hand = 9.80665 * MASS * LENGTH**3 / (8.0 * STIFF)
    assert at_rest(bar(), rotor("hinged")) == pytest.approx(-np.radians(4.0) - by_hand, rel=1e-6)


def test_a_hinged_blade_is_not_judged_for_lying_on_its_stop() -> None:
    found = droop(fm31({"rotor.hub": "hinged"}))
    assert [one.rule for one in found.findings] == ["coning in the hover against its stop"]


def test_the_drawn_blade_clears_its_stops() -> None:
    found = droop(fm31())
    assert [one.outcome for one in found.findings] == [Outcome.PASS, Outcome.PASS]
    assert [one.limit for one in found.findings] == ["short of 4 deg below level", "short of 9 deg above level"]
    assert found.missing == ()


def test_a_blade_on_its_stop_fails_and_one_near_it_is_for_a_person() -> None:
    level = {"rotor.precone": "0 deg"}
    hanging = -np.radians(next(f.value for f in droop(fm31(level)).figures if f.unit == "deg"))
    for share, outcome in ((0.99, Outcome.FAIL), (1.1, Outcome.REFER), (1.5, Outcome.PASS)):
        stop = f"{np.degrees(share * hanging):.6f} deg"
        assert droop(fm31(level | {"rotor.droop_stop": stop})).findings[0].outcome is outcome


@pytest.mark.parametrize("entry", ["droop_stop", "flap_stop"])
def test_a_stop_that_is_not_entered_is_named(entry: str) -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    found = droop(drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={entry: None})}))
    assert [gap.needs for gap in found.missing] == [(f"rotor.{entry}",)]
    assert len(found.findings) == 1


def test_a_rotor_that_cannot_carry_its_weight_leaves_coning_unknown() -> None:
    found = droop(fm31({"rotor.gross_mass": "1900 kg"}))
    assert [gap.name for gap in found.missing] == ["coning in the hover"]
