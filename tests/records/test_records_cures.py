"""The cures on file, a page at a time and one whole; what the newest verdicts say of them."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.errors import MissingInput
from bladewright.figures import Outcome
from bladewright.proof.cure import judge_cure
from bladewright.records.cure_inputs import cure_drawing, cure_drawings, newest_logger
from bladewright.records.cures import filed_cure, filed_cures
from bladewright.records.evidence import file_cure
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, by
from tests.records.conftest import SERIALS

pytestmark = pytest.mark.book


@pytest.fixture(autouse=True)
def _filed(batch: Book, files: Evidence) -> None:  # noqa: ARG001
    """Three runs on file, the second of two blades."""
    file_cure(by(MAKER), SERIALS[:1], files.blades[0].cure, files.logger)
    file_cure(by(MAKER), SERIALS[1:3], files.blades[1].cure, files.logger)
    file_cure(by(MAKER), SERIALS[3:4], files.blades[2].cure, files.logger)


def test_the_newest_comes_first_and_pages_follow_without_repeating() -> None:
    first = filed_cures(many=2)
    assert [line.serials for line in first.lines] == [SERIALS[3:4], SERIALS[1:3]]
    rest = filed_cures(first.older, many=2)
    assert [line.serials for line in rest.lines] == [SERIALS[:1]]
    assert rest.older is None
    assert {line.by for line in (*first.lines, *rest.lines)} == {MAKER}


def test_a_page_costs_the_same_few_queries_however_many_blades(batch: Book) -> None:  # noqa: ARG001
    with CaptureQueriesContext(
        connection,
    ) as one:
        filed_cures(many=1)
    with CaptureQueriesContext(connection) as three:
        filed_cures(many=3)
    assert len(one) == len(three) <= 5


@pytest.mark.parametrize("by_what", ["serial", "file", "hash"])
def test_a_cure_is_found_by_serial_name_or_hash(by_what: str, files: Evidence) -> None:
    whole = filed_cures(asked=SERIALS[2]).lines
    asked = {"serial": SERIALS[1], "file": files.blades[1].cure.name, "hash": whole[0].sha256}[by_what]
    assert filed_cures(asked=asked).lines == whole
    assert filed_cures(asked="nothing of the kind").lines == ()


def test_a_cure_is_unjudged_until_every_blade_in_it_is() -> None:
    def outcome() -> Outcome | None:
        return filed_cures(asked=SERIALS[1]).lines[0].outcome

    assert outcome() is None
    judge(by(INSPECTOR), SERIALS[1])
    assert outcome() is None
    judge(by(INSPECTOR), SERIALS[2])
    assert outcome() is Outcome.REFER


def test_one_cure_whole_is_judged_as_its_verdict_judges_it() -> None:
    line = filed_cures(asked=SERIALS[1]).lines[0]
    whole = filed_cure(line.sha256)
    (judged,) = whole.judged
    assert judged.serials == SERIALS[1:3]
    assert judged.limits is not None
    assert judged.findings == judge_cure(whole.log, judged.limits)
    assert filed_cure(line.sha256).log is whole.log  # read once
    stored = judge(by(INSPECTOR), SERIALS[1]).verdict
    assert set(judged.findings) <= set(stored.findings)


def test_a_hash_that_is_no_cure_is_refused() -> None:
    with pytest.raises(MissingInput) as caught:
        filed_cure("0" * 64)
    assert (caught.value.field, caught.value.value) == ("sha256", "0" * 64)


def test_drawings_with_limits_and_the_newest_logger_are_at_hand() -> None:
    (one,) = cure_drawings()
    assert (one.name, one.revision) == ("FM-31", "A")
    assert cure_drawing("FM-31", "A").limits == one.limits
    how = newest_logger()
    assert how is not None
    assert how.name == "blade oven logger"
