"""Standard air against U.S. Standard Atmosphere, 1976, and ISO 2533:1975 (recomputed from their constants)."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.atmosphere import density_height, standard_air
from bladewright.errors import OutsideValidity

TABLE = [
    (0, 288.15, 101325.0, 1.225000, 340.2940, 1.789380),
    (1000, 281.65, 89874.6, 1.111643, 336.4340, 1.757845),
    (1500, 278.40, 84556.0, 1.058067, 334.4873, 1.741948),
    (2000, 275.15, 79495.2, 1.006490, 332.5292, 1.725961),
    (3000, 268.65, 70108.5, 0.909122, 328.5779, 1.693719),
    (4000, 262.15, 61640.2, 0.819129, 324.5786, 1.661108),
    (5000, 255.65, 54019.9, 0.736116, 320.5294, 1.628118),
]


@pytest.mark.parametrize(("height", "temperature", "pressure", "density", "sound", "viscosity"), TABLE)
def test_table(
    height: float, temperature: float, pressure: float, density: float, sound: float, viscosity: float
) -> None:
    air = standard_air(height)
    assert air.temperature == pytest.approx(temperature, abs=5e-3)
    assert air.pressure == pytest.approx(pressure, abs=0.051)
    assert air.density == pytest.approx(density, abs=6e-7)
    assert air.sound_speed == pytest.approx(sound, abs=6e-5)
    assert air.viscosity * 1e5 == pytest.approx(viscosity, abs=6e-7)


def test_warm_day() -> None:
    air = standard_air(1500.0, 20.0)
    assert (air.temperature, air.density, air.sound_speed) == pytest.approx((298.4, 0.98715122, 346.2935), rel=1e-7)
    assert density_height(air.density) == pytest.approx(2192.533, abs=0.1)
    hot = standard_air(600.0, 308.15 - (288.15 - 0.0065 * 600.0))
    assert hot.density == pytest.approx(1.0663198, rel=1e-7)
    assert density_height(hot.density) == pytest.approx(1421.739, abs=0.1)


@settings(max_examples=20)
@given(st.floats(-1900.0, 10900.0))
def test_density_height_undoes_standard_air(height: float) -> None:
    assert density_height(standard_air(height).density) == pytest.approx(height, abs=1e-5)


@pytest.mark.parametrize(("height", "warmer", "field"), [(12000.0, 0.0, "height"), (0.0, -200.0, "warmer")])
def test_air_outside_the_layer_is_refused(height: float, warmer: float, field: str) -> None:
    with pytest.raises(OutsideValidity) as caught:
        standard_air(height, warmer)
    assert caught.value.field == field


@pytest.mark.parametrize("density", [0.0, 5.0, float("nan")])
def test_no_height_has_such_a_density(density: float) -> None:
    with pytest.raises(OutsideValidity) as caught:
        density_height(density)
    assert caught.value.field == "density"
