"""Entries that frequencies and flutter rest on: each refused by its field, each known by name when left out."""

from pathlib import Path

import pytest

from bladewright.drawing.editing import with_values
from bladewright.drawing.file import parse_drawing
from bladewright.drawing.missing import what_is_missing
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("rotor.frequency_margin", "0 %"),
        ("rotor.frequency_margin", "60 %"),
        ("rotor.structural_damping", "-1 %"),
        ("rotor.structural_damping", "100 %"),
        ("rotor.control.backlash", "-0.1 deg"),
        ("rotor.droop_stop", "-2 deg"),
        ("rotor.flap_stop", "0 deg"),
        ("rotor.droop_stop", "4"),
        ("rotor.frequency_margin", "10 mm"),
        ("limits.flutter.speed_factor", 0.9),
        ("limits.flutter.centre_margin", "-1 mm"),
        ("limits.flutter.changes.1.area_density", "-3 g/m^2"),
        ("limits.flutter.changes.1.back", "120 %"),
    ],
)
def test_what_cannot_be_is_refused_by_field(field: str, value: str | float) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(with_values(FM31, {field: value}), "fm31.toml")
    (error,) = caught.value.errors
    assert error.field == field
    assert error.allowed


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"limits.flutter.changes.2.back": "80 %"}, "limits.flutter.changes.2"),
        ({"limits.flutter.changes.3.outer": "1.2 m"}, "limits.flutter.changes.3"),
        ({"rotor.speeds.power_on_least": "520 rpm"}, "rotor.speeds"),
        ({"rotor.speeds.power_off_least": "541 rpm"}, "rotor.speeds"),
    ],
)
def test_ends_in_the_wrong_order_are_refused(changes: dict[str, str | float | bool], field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(with_values(FM31, changes), "fm31.toml")
    (error,) = caught.value.errors
    assert error.field == field
    assert error.allowed
    assert error.fix


@pytest.mark.parametrize(
    ("entry", "answer"),
    [
        ("frequency_margin", "margin a mode keeps from a harmonic, other than the usual 10 %"),
        ("structural_damping", "response to the air's harmonics"),
        ("droop_stop", "droop at rest against its stop"),
        ("flap_stop", "coning against the flap stop"),
    ],
)
def test_each_entry_left_out_is_named(entry: str, answer: str) -> None:
    drawing = parse_drawing(FM31, "fm31.toml")
    assert drawing.rotor is not None
    bare = drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={entry: None})})
    assert [(item.name, item.needs) for item in what_is_missing(bare)] == [(answer, (f"rotor.{entry}",))]


def test_a_drawing_without_flutter_limits_says_what_waits_for_them() -> None:
    drawing = parse_drawing(FM31, "fm31.toml")
    bare = drawing.model_copy(update={"limits": drawing.limits.model_copy(update={"flutter": None})})
    assert [(item.name, item.needs) for item in what_is_missing(bare)] == [
        ("judgement of flutter and divergence", ("limits.flutter",))
    ]
