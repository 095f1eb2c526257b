"""Figures that cannot both be right are refused by their table: a wrong unit shows between two of them."""

from pathlib import Path

import pytest

from bladewright.design import flutter_cases
from bladewright.drawing.file import parse_drawing
from bladewright.drawing.limits import STATES
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("written", "instead", "field", "allowed"),
    [
        ('"600 N m/rad"', '"-600 N m/rad"', "rotor.control.stiffness_low", "at least 0"),
        ('"600 N m/rad"', '"6000 N m/rad"', "rotor.control", "at or above stiffness_low"),
        ('collective_least = "1.5 deg"', 'collective_least = "15 deg"', "rotor", "at or above collective_least"),
        ('least = "-2 lbf"', 'least = "20 lbf"', "rotor.handle_band", "at or above least"),
        ('precone = "2.5 deg"', 'precone = "2.5 rad"', "rotor.precone", "-10 deg to 10 deg"),
        ('flap_stop = "9 deg"', 'flap_stop = "9 rad"', "rotor.flap_stop", "-30 deg to 30 deg"),
        ('backlash = "0.15 deg"', 'backlash = "1.5 rad"', "rotor.control.backlash", "-30 deg to 30 deg"),
        ('flap_amplitude = "3.0 deg"', 'flap_amplitude = "3.0 rad"', "flight_profile.manoeuvres.5.flap_amplitude",
         "-30 deg to 30 deg"),
        ('part = "spar"\nradius = "0.39 m"', 'part = "doubler"\nradius = "0.7 m"', "fatigue.spar-bolt-hole.radius",
         "0.25 m to 0.62 m"),
        ('yield_strength = "47 ksi"', 'yield_strength = "0 ksi"', "materials.skin-sheet.yield_strength", "more than 0"),
        ('ultimate_strength = "64 ksi"', 'ultimate_strength = "-64 ksi"', "materials.skin-sheet.ultimate_strength",
         "more than 0"),
        ('yield_strength = "47 ksi"', 'yield_strength = "470 ksi"', "materials.skin-sheet",
         "at or above yield_strength"),
        ('ultimate_strength = "64 ksi"', 'ultimate_strength = "64e3 ksi"', "materials.skin-sheet",
         "at most 0.1 of youngs_modulus"),
        ('shear_modulus = "4.0e6 psi"', 'shear_modulus = "4.0e6 kPa"', "materials.skin-sheet",
         "E = 2 G (1 + nu) within 20 %"),
        ('youngs_modulus = "10.5e6 psi"', 'youngs_modulus = "10.5e6 kPa"', "materials.skin-sheet",
         "E = 2 G (1 + nu) within 20 %"),
    ],
)  # fmt: skip
def test_two_figures_that_cannot_both_be_right_are_refused(
    written: str, instead: str, field: str, allowed: str
) -> None:
    assert FM31.count(written) >= 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(written, instead, 1).encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert (error.file, error.field, error.allowed) == ("fm31.toml", field, allowed)


BOLT = '{ radius = "0.345 m", chordwise = "-2 mm", diameter = "9.53 mm", place_tolerance = "0.1 mm" },'


@pytest.mark.parametrize(
    ("instead", "field", "allowed"),
    [
        (BOLT + BOLT, "doubler.bolts.3", "more than 9.53 mm between their centres"),
        (BOLT + BOLT.replace("0.345", "0.350"), "doubler.bolts.3", "more than 9.53 mm between their centres"),
        (BOLT.replace("9.53", "45").replace("-2 mm", "1 mm").replace("0.345", "0.346"), "doubler.bolts.2.diameter",
         "less than 42 mm together"),
    ],
)  # fmt: skip
def test_holes_in_each_other_or_over_the_whole_width_are_refused(instead: str, field: str, allowed: str) -> None:
    assert FM31.count(BOLT) == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(BOLT, instead).encode(), "fm31.toml")
    assert (field, allowed) in [(error.field, error.allowed) for error in caught.value.errors]


def test_a_teetering_hub_carries_two_blades() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace("blades = 2", "blades = 3").encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert (error.field, error.allowed) == ("rotor.blades", "2 with a teetering hub")


@pytest.mark.parametrize(
    ("written", "instead", "field"),
    [
        ('name = "erosion tape"', 'name = "tip weight lost"', "limits.flutter"),  # that state is asked for less
        ('name = "erosion tape"', 'name = "a second coat of paint"', "limits.flutter"),
        ('name = "spar bond"', 'name = "root"', "limits.damage"),
        ('name = "flare"', 'name = "hover"', "flight_profile"),
        ('name = "corrosion"', 'name = ""', "flight_profile"),
        ('detail = "skin at the doubler\'s end"', 'detail = "bolt hole in the spar"', "fatigue.doubler-end.detail"),
    ],
)
def test_rows_of_one_name_would_hide_each_other(written: str, instead: str, field: str) -> None:
    assert FM31.count(written) == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(written, instead).encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert error.field == field
    assert "own for each" in (error.allowed or "")


def test_the_names_kept_for_flutter_are_those_it_uses() -> None:
    assert {flutter_cases.AS_DRAWN, flutter_cases.LOST, flutter_cases.FAST} <= set(STATES)


@pytest.mark.parametrize(
    ("written", "instead", "field"),
    [
        ('bondline_least = "0.003 in"', 'bondline_least = "0 in"', "adhesive.bondline_least"),
        ('bondline_least = "0.003 in"', 'bondline_least = "0.003 m"', "adhesive"),
        ('bondline_greatest = "0.005 in"', 'bondline_greatest = "0.003 in"', "adhesive"),
        ('fillable_gap = "0.010 in"', 'fillable_gap = "0.010 mm"', "adhesive"),
        ('youngs_modulus = "2.2 GPa"', 'youngs_modulus = "2200 GPa"', "materials.film-epoxy.youngs_modulus"),
        ('density = "8500 kg/m^3"', 'density = "8500 g/cm^3"', "materials.brass.density"),
        ("intercept = 11.1", "intercept = 1e19", "fatigue.doubler-end.intercept"),
        ("slope = 3.97", "slope = 1e300", "fatigue.doubler-end.slope"),
        ('"2200 N m/rad"', '"1e19 N m/rad"', "rotor.control.stiffness_high"),
    ],
)
def test_what_no_film_metal_or_curve_is_stands_no_chance(written: str, instead: str, field: str) -> None:
    assert FM31.count(written) == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(written, instead).encode(), "fm31.toml")
    assert field in [error.field for error in caught.value.errors]
