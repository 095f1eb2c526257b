"""What is written as a number without a unit is a number: not "nan", not endless."""

from pathlib import Path

import pytest

from bladewright.drawing.file import parse_drawing
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_text(encoding="utf-8")
PLAIN = "section_moment = 0.0010"


@pytest.mark.parametrize("word", ["nan", "inf", "-inf", "1e400"])
def test_a_number_that_is_none_is_refused(word: str) -> None:
    assert PLAIN in FM31
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(PLAIN, f"section_moment = {word}").encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert (error.file, str(error.field).rpartition(".")[2]) == ("fm31.toml", "section_moment")
