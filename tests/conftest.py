"""What every room's tests share: needs that this machine may lack, and the count of outside checks at the end of a run.

A missing need is a skip that names its remedy; where BLADEWRIGHT_REQUIRE names the need, it is a failure instead.
"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import hypothesis
import pytest

if TYPE_CHECKING:
    from bladewright.records.book import Kept

os.environ.setdefault("OMP_NUM_THREADS", "1")  # as the command line does, before anything imports the linear algebra

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bladewright.web.settings")  # one process has one: the larger

hypothesis.settings.register_profile("no clock", deadline=None)  # docs/adr/0011: tests know no clock
hypothesis.settings.load_profile("no clock")

ROOT = Path(__file__).resolve().parents[1]
Require = Callable[[str, bool, str], None]


def _require(need: str, present: bool, remedy: str) -> None:
    if present:
        return
    reason = f"{need} is missing; {remedy}"
    if need in os.environ.get("BLADEWRIGHT_REQUIRE", "").split(","):
        pytest.fail(f"{reason} (BLADEWRIGHT_REQUIRE names it)", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session", name="require")
def _require_fixture() -> Require:
    """``require("postgres", found, "sudo apt-get install postgresql")`` skips, or fails, when it is not there."""
    return _require


@pytest.fixture(scope="session")
def root() -> Path:
    """The repository."""
    return ROOT


@pytest.fixture(scope="session")
def shared(require: Require) -> Path:
    """Files of other people's that may not be copied here, in a folder beside the repository."""
    folder = Path(os.environ.get("BLADEWRIGHT_SHARED", ROOT.parent / "shared"))
    require("shared", (folder / "data").is_dir(), f"set BLADEWRIGHT_SHARED to the folder that has data/ (not {folder})")
    return folder


def pytest_configure() -> None:
    """The first process of a run names it; its workers inherit the name, and share one PostgreSQL server."""
    os.environ.setdefault("BLADEWRIGHT_TEST_RUN", str(os.getpid()))


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test marked ``book`` that opens one runs on every database, or on those it names; the others on a file."""
    if "database" in metafunc.fixturenames:
        marked = metafunc.definition.get_closest_marker("book")
        names = (marked.args or ("sqlite", "postgresql")) if marked else ("sqlite",)
        metafunc.parametrize("database", names, scope="session", indirect=True)


@pytest.fixture(scope="session", name="database")
def _database(request: pytest.FixtureRequest, require: Require) -> "Kept":
    """Where this test's books are kept."""
    from bladewright.records.book import Kept

    kept = Kept(request.param)
    if kept is Kept.POSTGRESQL:
        from tests import postgres

        require("postgres", postgres.binaries() is not None, postgres.REMEDY)
        postgres.start()
    return kept


@pytest.fixture(name="kept")
def _kept(database: "Kept", tmp_path_factory: pytest.TempPathFactory) -> "Iterator[Kept]":
    """For ``create_book(kept=...)``: where the book a test begins is kept; on a server, in a new database."""
    from bladewright.records.book import Kept

    if database is not Kept.POSTGRESQL:
        yield database
        return
    from tests import postgres

    with postgres.cleared():
        postgres.make(tmp_path_factory.mktemp("begun") / "book")
        yield database


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how many of the tests that ran compare a number of ours with one from outside the project."""

    def outside(*outcomes: str) -> int:
        reports = [report for outcome in outcomes for report in terminalreporter.stats.get(outcome, [])]
        return sum("outside" in getattr(report, "keywords", ()) for report in reports)

    held, broken, left_out = outside("passed"), outside("failed", "error"), outside("skipped")
    known = outside("xfailed")
    if held + broken + left_out + known:
        missed = f"; {known} are known to disagree (see them with -rx)" if known else ""
        skipped = f"; {left_out} could not run here (see them with -rs)" if left_out else ""
        terminalreporter.write_line(f"outside checks: {held} of {held + broken + known} hold{missed}{skipped}")
