"""The strength, life and damage entries: what does not go together is refused, each by its own field."""

import tomllib
from pathlib import Path

import pytest

from bladewright.drawing.editing import with_value
from bladewright.drawing.file import parse_drawing, read_drawing
from bladewright.drawing.missing import what_is_missing
from bladewright.errors import SeveralBadInputs

PATH = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
FM31 = PATH.read_bytes()

#: entry to change, what it is changed to, and the field and the allowed value that are told
WRONG = [
    ("doubler.bolts.1.radius", "0.253 m", "doubler.bolts.1.radius", "between 254.8 mm and 615.2 mm"),
    ("doubler.bolts.3.chordwise", "60 mm", "doubler.bolts.3.chordwise", "between -35.24 mm and 35.24 mm"),
    ("flight_profile.manoeuvres.1.share", "31 %", "flight_profile.manoeuvres", "100 %"),
    ("flight_profile.manoeuvres.1.share", "-3 %", "flight_profile.manoeuvres.1.share", "at least 0"),
    ("flight_profile.knock_downs.1.factor", 0.5, "flight_profile.knock_downs.1.factor", "at least 1"),
    ("fatigue.spar-bolt-hole.radius", "4 m", "fatigue.spar-bolt-hole.radius", "0.25 m to 3.55 m"),
    ("fatigue.spar-bolt-hole.exponent", 1.5, "fatigue.spar-bolt-hole.exponent", "less than 1"),
    ("limits.damage.zones.1.nick_depth", "-0.1 mm", "limits.damage.zones.1.nick_depth", "at least 0"),
    ("limits.damage.zones.1.nick_depth", "3 %", "limits.damage.zones.1.nick_depth", 'a length, like "0.032 in"'),
    ("limits.damage.zones.1.outer", "40 %", "limits.damage.zones.1", "more than inner"),
    ("adhesive.allowables.hot_wet.shear", "95", "adhesive.allowables.hot_wet.shear", "a pressure"),
    ("tip_weight.bolts.edge_distance", "2 mm", "tip_weight.bolts", "more than 2.415 mm"),
    ("doubler.bolt.grip_material", "cheese", "doubler.bolt.grip_material", "brass, film-epoxy"),
    ("materials.skin-sheet.fracture_toughness", "90 MPa", "materials.skin-sheet.fracture_toughness", "a stress int"),
]


@pytest.mark.parametrize(("entry", "value", "field", "allowed"), WRONG)
def test_what_cannot_be_is_refused_by_field(entry: str, value: str | float, field: str, allowed: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        with_value(FM31, entry, value, "fm31.toml")
    told = [(error.field, error.allowed) for error in caught.value.errors]
    assert len(told) == 1, told
    assert told[0][0] == field
    assert str(told[0][1]).startswith(allowed)
    assert caught.value.errors[0].file == "fm31.toml"


def test_a_curve_without_its_constants_names_them() -> None:
    changed = FM31.replace(b'coefficient = "850 MPa"\n', b"")
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(changed, "fm31.toml")
    (error,) = caught.value.errors
    assert (error.field, error.what, error.fix) == (
        "fatigue.spar-bolt-hole",
        "power law needs coefficient",
        "enter coefficient",
    )


def test_thickness_out_of_order_is_refused() -> None:
    changed = FM31.replace(b'["0.003 in", "100 %"]', b'["0.009 in", "100 %"]')
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(changed, "fm31.toml")
    assert [(error.field, error.allowed) for error in caught.value.errors] == [
        ("adhesive.allowables", "increasing thickness")
    ]


def test_a_drawing_without_any_of_it_is_read_and_says_which_answers_wait() -> None:
    whole = read_drawing(PATH)
    bare = whole.model_copy(
        update={
            "loads": None,
            "flight_profile": None,
            "fatigue": {},
            "limits": whole.limits.model_copy(update={"damage": None}),
        }
    )
    waits = {item.name: item.needs for item in what_is_missing(bare)}
    assert waits["limit and ultimate loads"] == ("loads",)
    assert waits["life"] == ("flight_profile", "fatigue")
    assert waits["judgement of a nick, a dent or a void"] == ("limits.damage",)
    assert what_is_missing(whole) == ()


def test_the_invented_drawing_leaves_some_sources_and_one_limit_out_so_that_it_shows() -> None:
    table = tomllib.loads(FM31.decode())
    assert "source" not in table["adhesive"]["allowables"]["sustained"]
    assert any("source" not in zone for zone in table["limits"]["damage"]["zones"])
    drawing = read_drawing(PATH)
    assert drawing.limits.damage is not None
    root = next(zone for zone in drawing.limits.damage.zones if zone.name == "root")
    assert (root.nick_depth, root.dent_depth, root.void_area) == (None, None, None)
