"""The flight report answers the shop's questions; a batch that is off does to hand and track what its parts say."""

import math
from pathlib import Path

import pytest

from bladewright.design.batch import off_batch
from bladewright.design.flight_report import FlightReport, flight_report
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.errors import MissingInput
from bladewright.figures import Bars

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
OFF = math.radians(0.3)


def fm31(changes: dict[str, str] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31.read_bytes(), changes or {}), "fm31.toml")


@pytest.fixture(scope="module")
def report(_thin_sections: None) -> FlightReport:
    return flight_report(fm31())


def test_one_mate_is_half_of_both_and_lighter() -> None:
    batch = off_batch(fm31(), OFF)
    for both, one in zip(batch.both, batch.one, strict=True):
        assert one.value == pytest.approx(0.5 * both.value)
        assert both.value < 0.0


def test_track_s_direction_is_not_determined_where_soft_and_stiff_disagree() -> None:
    # F = per_pitch (d_pitch + windup d_cm): less pitch lowers the tip, the nose-up moment winds it up again
    batch = off_batch(fm31(), OFF)
    soft, stiff = (figure.value for figure in batch.track)
    assert soft > 0.0 > stiff
    assert batch.direction_known is False
    hard = off_batch(fm31({"rotor.control.stiffness_low": "2000 N m/rad"}), OFF)
    assert hard.direction_known is True


def test_track_is_missing_without_the_control_run_s_stiffness() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    assert drawing.rotor.control is not None
    run = drawing.rotor.control.model_copy(update={"stiffness_low": None})
    batch = off_batch(drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"control": run})}), OFF)
    assert batch.track == ()
    assert batch.direction_known is None
    assert "rotor.control.stiffness_low" in batch.missing[0].needs


def test_every_question_is_answered_in_words_and_figures(report: FlightReport) -> None:
    assert len(report.answers) >= 5
    for answer in report.answers:
        assert answer.question.endswith("?")
        assert answer.told
        assert answer.figures or answer.missing


def test_every_picture_has_its_own_name_and_something_to_show(report: FlightReport) -> None:
    names = [picture.name for picture in report.pictures]
    assert len(set(names)) == len(names)
    for picture in report.pictures:
        assert picture.rows if isinstance(picture, Bars) else all(curve.x for curve in picture.curves)


def test_contribution_bars_add_up_to_the_total(report: FlightReport) -> None:
    found = [picture for picture in report.pictures if isinstance(picture, Bars) and picture.name.startswith("contrib")]
    assert len(found) == 4
    for bars in found:
        *parts, (last, total) = bars.rows
        assert last == "all together"
        assert total == pytest.approx(sum(value for _, value in parts))


def test_no_report_without_a_reflex() -> None:
    with pytest.raises(MissingInput) as caught:
        flight_report(fm31().model_copy(update={"reflex": None}))
    assert caught.value.field == "reflex"
