"""An entry of a kind that is not asked for is refused with what is allowed, never read as the nearest thing."""

from pathlib import Path

import pytest

from bladewright.drawing.file import parse_drawing
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_text(encoding="utf-8")
NUMBER = "a number without a unit and without quotes, like 1.5"
WHOLE = "a whole number, without a unit and without quotes"
TRUE = "what is asked, written out"


@pytest.mark.parametrize(
    ("written", "instead", "field", "allowed"),
    [
        ("limit_load_factor = 1.8", "limit_load_factor = true", "loads.limit_load_factor", TRUE),
        ("ultimate_factor = 1.5", "ultimate_factor = true", "loads.ultimate_factor", TRUE),
        ("speed_factor = 1.15", "speed_factor = true", "limits.flutter.speed_factor", TRUE),
        ("factor = 1.3", "factor = true", "flight_profile.knock_downs.1.factor", TRUE),
        ("planes = 2\ngrip", "planes = true\ngrip", "doubler.bolt.planes", TRUE),
        ("limit_load_factor = 1.8", 'limit_load_factor = "1,8"', "loads.limit_load_factor", NUMBER),
        ("limit_load_factor = 1.8", 'limit_load_factor = "180 %"', "loads.limit_load_factor", NUMBER),
        ("deviation = 0.20", "deviation = nan", "fatigue.spar-bolt-hole.deviation",
         "a number that is neither nan nor endless"),
        ("count = 18", "count = 18.5", "fatigue.spar-bolt-hole.count", WHOLE),
        ("count = 18", 'count = "many"', "fatigue.spar-bolt-hole.count", WHOLE),
        ("other_skin_follows = false", 'other_skin_follows = "perhaps"', "reflex.other_skin_follows",
         "true or false, without quotes"),
        ('detail = "bolt hole in the spar"', "detail = 5", "fatigue.spar-bolt-hole.detail",
         'a text in quotes, like "FM-31"'),
    ],
)  # fmt: skip
def test_what_is_not_of_the_kind_asked_for_is_refused(written: str, instead: str, field: str, allowed: str) -> None:
    assert FM31.count(written) >= 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(written, instead, 1).encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert (error.file, error.field, error.allowed) == ("fm31.toml", field, allowed)
    assert error.fix
