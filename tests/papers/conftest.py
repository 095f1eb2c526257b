"""What the papers are printed from, made once."""

import pytest

from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.evidence.records import CureLog, PullCurve
from bladewright.papers.blade import blade_record
from bladewright.papers.records import BladeRecordPaper
from tests.papers.invented_papers import FM31, a_cure_log, a_pull_curve, everything


@pytest.fixture(scope="session")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


@pytest.fixture(scope="session")
def cure_log() -> CureLog:
    return a_cure_log()


@pytest.fixture(scope="session")
def pull_curve() -> PullCurve:
    return a_pull_curve()


@pytest.fixture(scope="session")
def full() -> BladeRecordPaper:
    return everything()


@pytest.fixture(scope="session")
def full_pdf(full: BladeRecordPaper) -> bytes:
    return blade_record(full)
