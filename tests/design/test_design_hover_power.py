"""Power of the hover against momentum theory, the engine's margin by hand, and what is missing or too heavy."""

import math
from pathlib import Path

import pytest

from bladewright.design.hover_power import HIGH_AND_WARM, SEA_LEVEL, HoverPower, hover_power, hover_time
from bladewright.design.spanwise import spanwise
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.figures import Figure, Missing

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def fm31(changes: dict[str, str] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31.read_bytes(), changes or {}), "fm31.toml")


def named(found: HoverPower) -> dict[str, float]:
    return {figure.name.removesuffix(f", {found.place.words}"): figure.value for figure in found.figures}


@pytest.mark.parametrize("place", [SEA_LEVEL, HIGH_AND_WARM])
def test_induced_power_is_somewhat_more_than_the_ideal_and_the_parts_are_all(place: object) -> None:
    assert place in (SEA_LEVEL, HIGH_AND_WARM)
    found = hover_power(fm31(), SEA_LEVEL if place is SEA_LEVEL else HIGH_AND_WARM)
    power, weight = named(found), 480.0 * 9.80665
    ideal = weight * math.sqrt(weight / (2.0 * found.place.air.density * math.pi * 3.55**2))
    # 1.05 to 1.25 of the ideal: W. Johnson, Helicopter Theory, 1980, ch. 2 (from memory)
    assert 1.05 < power["induced power"] / ideal < 1.25
    assert power["induced power"] + power["profile power"] == pytest.approx(power["power of the hover"])
    assert power["figure of merit"] == pytest.approx(ideal / power["power of the hover"], rel=1e-6)


def test_an_aspirated_engine_has_less_left_where_the_air_is_thin_and_a_held_one_has_not() -> None:
    ratio = HIGH_AND_WARM.air.density / standard_air().density
    falls = named(hover_power(fm31(), HIGH_AND_WARM))
    assert falls["power available"] == pytest.approx(78e3 * (1.132 * ratio - 0.132))  # Gagg, Farrar 1934
    assert falls["power margin"] == pytest.approx(falls["power available"] - falls["power of the hover"])
    held = named(hover_power(fm31({"rotor.power_with_height": "held"}), HIGH_AND_WARM))
    assert held["power available"] == pytest.approx(78e3)


def test_what_the_engine_does_is_never_guessed() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    for field, place in (("power_available", SEA_LEVEL), ("power_with_height", HIGH_AND_WARM)):
        found = hover_power(drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={field: None})}), place)
        assert "power margin" not in named(found)
        assert [gap.needs for gap in found.missing] == [(f"rotor.{field}",)]


def test_hover_time_is_the_energy_of_the_blades_over_the_power() -> None:
    drawing = fm31()
    energy = 0.5 * 2.0 * spanwise(drawing).flap_inertia * (500.0 * math.pi / 30.0) ** 2
    found = hover_time(drawing)
    assert isinstance(found, Figure)
    assert found.value == pytest.approx(energy / hover_power(drawing).figures[0].value)
    assert "energy" in found.method


def test_hover_time_waits_for_the_mass_and_the_rotor() -> None:
    for cut in ("spar", "rotor"):
        found = hover_time(fm31().model_copy(update={cut: None}))
        assert isinstance(found, Missing)
        assert cut in found.needs
