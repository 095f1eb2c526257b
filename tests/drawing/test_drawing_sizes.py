"""A size is above zero, and no quantity is beyond all measure: an answer from them would be no answer."""

import re
from pathlib import Path

import pytest

from bladewright.drawing.file import parse_drawing
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("wrong", ["0", "-0.1", "1e308"])
@pytest.mark.parametrize(
    "entry", ["top_thickness", "web", "density", "youngs_modulus", "shear_modulus", "pitch_arm", "gross_mass", "normal"]
)
def test_a_size_that_cannot_be_is_refused(entry: str, wrong: str) -> None:
    changed, found = re.subn(rf'(?m)^{entry} = "\S+ ', f'{entry} = "{wrong} ', FM31, count=1)
    assert found == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(changed.encode(), "fm31.toml")
    assert {str(error.field).rpartition(".")[2] for error in caught.value.errors} == {entry}
    assert all(error.allowed and str(error.value).startswith(wrong) for error in caught.value.errors)


@pytest.mark.parametrize("wrong", ["-1 %", "0 %", "100 %", "9300 %"])
@pytest.mark.parametrize("entry", ["seam_start", "web_place", "start"])
def test_a_place_off_the_chord_is_refused(entry: str, wrong: str) -> None:
    changed, found = re.subn(rf'(?m)^{entry} = ".*?"', f'{entry} = "{wrong}"', FM31, count=1)
    assert found == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(changed.encode(), "fm31.toml")
    assert [str(error.field).rpartition(".")[2] for error in caught.value.errors] == [entry]
