"""Every feature with a tolerance of its own has words; a shop's own dimension keeps its name."""

import pytest

from bladewright.drawing.tolerances import TOLERANCE_OF
from bladewright.drawing.words import in_words


@pytest.mark.parametrize("field", [*TOLERANCE_OF, "adhesive.bondline", "doubler.bolts.2.radius"])
def test_a_field_of_the_drawing_is_never_read_out_as_a_field(field: str) -> None:
    assert "." not in in_words(field)
    assert "_" not in in_words(field)


def test_a_hole_keeps_its_number_and_a_named_dimension_its_name() -> None:
    assert in_words("doubler.bolts.2.chordwise") == "chordwise place of bolt hole 2"
    assert in_words("length root to tip") == "length root to tip"
