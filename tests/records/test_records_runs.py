"""The cures on file reviewed again after a sensor was found off: each with its own serials and limits."""

import datetime

import pytest

from bladewright.errors import BadInput
from bladewright.proof.affected_runs import SensorFound, review_affected_runs
from bladewright.proof.reached_runs import at_shares, known_somewhere
from bladewright.records.evidence import file_cure
from bladewright.records.opening import Book
from bladewright.records.runs import filed_runs
from examples.fennmark.evidence import Evidence
from tests.records.cast import MAKER, by
from tests.records.conftest import SERIALS

pytestmark = pytest.mark.book

UTC = datetime.UTC
FOUND = SensorFound(
    "Mould 2", 4.0, datetime.datetime(2026, 1, 1, tzinfo=UTC), datetime.datetime(2027, 1, 1, tzinfo=UTC)
)


@pytest.fixture(autouse=True)
def _filed(batch: Book, files: Evidence) -> None:  # noqa: ARG001
    """Two runs on file, the second of two blades."""
    file_cure(by(MAKER), SERIALS[:1], files.blades[0].cure, files.logger)
    file_cure(by(MAKER), SERIALS[1:3], files.blades[1].cure, files.logger)


def test_every_filed_cure_is_a_run_with_its_serials() -> None:
    runs, without = filed_runs("Mould 2")
    assert [run.serials for run in runs] == [SERIALS[:1], SERIALS[1:3]]
    assert [run.channel for run in runs] == ["Mould 2", "Mould 2"]
    assert without == ()


def test_the_serials_whose_verdict_gets_worse_are_named(files: Evidence) -> None:
    runs, _ = filed_runs("Mould 2")
    review = review_affected_runs(FOUND, runs)
    assert [run.file for run in review.reviewed] == [files.blades[0].cure.name, files.blades[1].cure.name]
    assert set(review.serials) <= set(SERIALS[:3])
    assert SERIALS[0] in review.serials
    shares = at_shares(FOUND, runs, review)
    assert [one.serials for one in shares] == [run.serials for run in review.reviewed]
    assert [one.outcomes[-1] for one in shares] == [run.after for run in review.reviewed]


def test_a_sensor_with_another_name_sits_on_the_channel_that_is_given() -> None:
    runs, _ = filed_runs("TC-7", "Mould 3")
    assert {run.channel for run in runs} == {"Mould 3"}
    known_somewhere(runs, "Mould 3")
    with pytest.raises(BadInput) as caught:
        known_somewhere(runs, "Mould 9")
    assert (caught.value.field, caught.value.value) == ("channel", "Mould 9")
    assert {run.channel for run in filed_runs("TC-7")[0]} == {None}
