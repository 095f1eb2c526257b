"""A growing log followed for many people at once: what is said of it, and what it may cost. No outside source."""

import dataclasses
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bladewright.evidence.description import read_logger_description
from bladewright.proof import cure_following
from bladewright.proof.cure_following import Following
from bladewright.proof.watched_dwell import Stage
from examples.fennmark.evidence import write_evidence
from tests.proof.invented_blade import DRAWING

HOW = read_logger_description(Path(__file__).parents[2] / "examples" / "fennmark" / "logger.toml")
LIMITS = DRAWING.limits.cure
assert LIMITS is not None
HEAD = 3


@dataclasses.dataclass
class Hand:
    """A clock that a test sets."""

    at: float = 0.0

    def __call__(self) -> float:
        return self.at


@pytest.fixture(scope="module", name="lines")
def _lines(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    cure = write_evidence(tmp_path_factory.mktemp("floor")).blades[1].cure
    return cure.read_bytes().splitlines(keepends=True)


def test_the_state_follows_the_file_from_nothing_to_release(tmp_path: Path, lines: list[bytes]) -> None:
    path, hand = tmp_path / "now.csv", Hand()
    following = Following(path, HOW, LIMITS, hand)
    assert "not there" in following.now().notes[0]
    seen = []
    for rows in range(0, len(lines) - HEAD, 20):
        path.write_bytes(b"".join(lines[: HEAD + rows + 1]))
        hand.at += 60.0
        found = following.now()
        assert found.rows == rows + 1
        assert found.watch is not None
        seen.append(found.watch.stage)
    assert Stage.HEATING in seen
    assert Stage.SHORT in seen  # zone 4's sensor is lost 40 min into the dwell


def test_between_two_looks_the_last_state_is_given_without_work(tmp_path: Path, lines: list[bytes]) -> None:
    path, hand = tmp_path / "now.csv", Hand()
    path.write_bytes(b"".join(lines[:40]))
    following = Following(path, HOW, LIMITS, hand, pause=5.0)
    first = following.now()
    path.write_bytes(b"".join(lines[:60]))
    hand.at = 4.9
    assert following.now() is first
    hand.at = 5.0
    assert following.now().rows == 60 - HEAD


def test_a_slow_look_is_followed_by_a_rest_a_hundred_times_as_long(
    tmp_path: Path, lines: list[bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    path, hand = tmp_path / "now.csv", Hand()
    path.write_bytes(b"".join(lines[:40]))
    watched = cure_following.watch_cure

    def slow(*asked: object) -> object:
        hand.at += 0.5
        return watched(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr(cure_following, "watch_cure", slow)
    following = Following(path, HOW, LIMITS, hand)
    first = following.now()
    hand.at = 49.9
    assert following.now() is first
    hand.at = 50.1
    assert following.now() is not first


def test_many_who_ask_at_once_are_all_answered(tmp_path: Path, lines: list[bytes]) -> None:
    path, hand = tmp_path / "now.csv", Hand()
    path.write_bytes(b"".join(lines[:100]))
    following = Following(path, HOW, LIMITS, hand)
    with ThreadPoolExecutor(16) as many:
        found = list(many.map(lambda _: following.now(), range(64)))
    assert {one.rows for one in found} == {100 - HEAD}


def test_a_silent_logger_is_said_and_so_is_a_cut_file(tmp_path: Path, lines: list[bytes]) -> None:
    path, hand = tmp_path / "now.csv", Hand()
    path.write_bytes(b"".join(lines[:60]))
    following = Following(path, HOW, LIMITS, hand)
    following.now()
    hand.at = 600.0
    silent = following.now()
    assert silent.silent == 600.0
    assert silent.watch is not None
    assert any("No new row for 10.0 min" in warned.sentence for warned in silent.watch.warnings)
    path.write_bytes(b"".join(lines[:20]))
    hand.at = 700.0
    assert any("begun anew" in note for note in following.now().notes)


def test_a_file_that_is_something_else_is_said_and_never_raised(tmp_path: Path) -> None:
    path = tmp_path / "now.csv"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8)
    found = Following(path, HOW, LIMITS, Hand()).now()
    assert found.watch is None
    assert found.notes[0].startswith("Waiting: what stands there is not as described")


def test_a_file_that_may_not_be_read_is_waited_for(tmp_path: Path) -> None:
    (tmp_path / "now.csv").mkdir()  # as near to a file that another program holds as any system comes
    assert Following(tmp_path / "now.csv", HOW, LIMITS, Hand()).now().notes[0].startswith("Waiting:")
