"""Files of a fitted oven and the schedule: what is refused, by field."""

from pathlib import Path

import pytest

from bladewright.drawing.editing import with_values
from bladewright.drawing.file import parse_drawing, read_drawing
from bladewright.drawing.missing import what_is_missing
from bladewright.drawing.oven import oven_file, parse_oven
from bladewright.errors import BadInput, SeveralBadInputs

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
FIT = """
[ovens.x.fit]
survey = "survey.csv"
survey_sha256 = "ab"
unknowns = ["mould_loss 1", "along"]
coverage = 2.0
misfit = "0.1 K"
covariance = COVARIANCE
"""


def oven_bytes(covariance: str = "[[0.01, 0.0], [0.0, 0.02]]") -> bytes:
    oven = read_drawing(FM31).oven
    assert oven is not None
    return oven_file("x", oven) + FIT.replace("COVARIANCE", covariance).encode()


def test_an_oven_and_its_fit_come_back_as_they_were_written() -> None:
    oven = parse_oven(oven_bytes(), "oven.toml")
    assert oven.fit is not None
    assert oven.fit.covariance == ((0.01, 0.0), (0.0, 0.02))
    assert parse_oven(oven_file("x", oven), "again.toml") == oven


@pytest.mark.parametrize(
    "covariance", ["[[0.01]]", "[[0.01, 0.0], [0.0]]", "[[0.01, 0.5], [0.5, 0.01]]", "[[0.01, 0.2], [0.0, 0.9]]", "[]"]
)
def test_what_is_no_covariance_is_refused(covariance: str) -> None:
    with pytest.raises(SeveralBadInputs) as refused:
        parse_oven(oven_bytes(covariance), "oven.toml")
    (error,) = refused.value.errors
    assert (error.field, error.allowed) == ("ovens.x.fit", "2 rows of 2, symmetric, not negative")


def test_a_file_of_two_ovens_or_none_is_refused() -> None:
    oven = read_drawing(FM31).oven
    assert oven is not None
    two = oven_file("x", oven) + oven_file("y", oven).partition(b"format = 1")[2]
    for data, count in ((two, 2), (b"format = 1\n", 0)):
        with pytest.raises(BadInput) as refused:
            parse_oven(data, "oven.toml")
        assert (refused.value.field, refused.value.value) == ("ovens", count)


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("oven.room", "70", "oven.room"),
        ("oven.scatter", "120 %", "oven.scatter"),
        ("adhesive.kinetics.lot_scatter", "10 K", "adhesive.kinetics.lot_scatter"),
        ("schedule.dwell", "85 degF", "schedule.dwell"),
        ("schedule.ramp", "0 degF/min", "schedule.ramp"),
        ("limits.cure.degree_of_cure_least", "100 %", "limits.cure.degree_of_cure_least"),
        ("limits.cure.hold.least", "0 min", "limits.cure.hold.least"),
    ],
)
def test_entries_that_cannot_be_are_refused_by_field(field: str, value: str, named: str) -> None:
    with pytest.raises(SeveralBadInputs) as refused:
        parse_drawing(with_values(FM31.read_bytes(), {field: value}), "x")
    assert named in [error.field for error in refused.value.errors]


def test_what_a_drawing_without_them_cannot_answer_is_named() -> None:
    drawing = read_drawing(FM31)
    assert not [gap for gap in what_is_missing(drawing) if "cure" in gap.name or "dwell" in gap.name]
    bare = drawing.model_copy(update={"oven": None, "schedule": None})
    gaps = {gap.name: gap.needs for gap in what_is_missing(bare)}
    assert gaps["plan of a cure"] == ("oven",)
    assert gaps["what a fault in the cure took"] == ("oven", "schedule")
