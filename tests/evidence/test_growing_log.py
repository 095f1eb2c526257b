"""A log followed while it grows: wherever it is cut, the rows in the end are those of the finished file."""

import contextlib
import itertools
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription, read_logger_description
from bladewright.evidence.growing_log import GrowingLog, Look
from bladewright.evidence.records import CureLog

Describe = Callable[..., LoggerDescription]
LOG = b"time,Z1,Z2\n" + b"".join(
    b"2026-03-02 08:%02d,%.1f,%.1f\n" % (minute, 20.0 + minute, 21.0 + minute) for minute in range(12)
)
DESCRIPTIONS = Path(__file__).parent / "descriptions"


def same(one: CureLog | None, other: CureLog) -> None:
    assert one is not None
    assert one.start == other.start
    assert np.array_equal(one.seconds, other.seconds)
    assert np.array_equal(one.values, other.values, equal_nan=True)
    assert np.array_equal(one.rows, other.rows)
    assert one.channels == other.channels
    assert one.order_certain == other.order_certain
    assert one.source == other.source


def written_in_parts(path: Path, data: bytes, cuts: list[int], how: LoggerDescription) -> Look:
    """The file grown cut by cut, looked at after each."""
    path.write_bytes(b"")
    growing = GrowingLog(path, how)
    rows = 0
    for start, stop in itertools.pairwise(sorted({0, *cuts, len(data)})):
        with path.open("ab") as file:
            file.write(data[start:stop])
        look = growing.look()
        rows += look.added
        assert rows == (0 if look.log is None else len(look.log.rows))
    return look


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cuts=st.lists(st.integers(0, 4 * len(LOG)), max_size=12))
@pytest.mark.parametrize(
    ("coding", "end"), [("utf-8", b"\n"), ("utf-8", b"\r\n"), ("utf-8", b"\r"), ("utf-16", b"\n"), ("utf-16", b"\r\n")]
)
def test_cut_anywhere_it_is_the_same_in_the_end(
    tmp_path: Path, describe: Describe, cuts: list[int], coding: str, end: bytes
) -> None:
    data = LOG.replace(b"\n", end).decode().encode(coding)
    how = describe(**{"file.encoding": coding})
    if end == b"\r":  # a return alone may be half of an end until more follows
        data += b"2026-03-02 08:59,1.0,1.0"
        look = written_in_parts(tmp_path / "cure.csv", data, [cut % len(data) for cut in cuts], how)
        whole = read_cure_log(data[: data.rindex(b"\r") + 1], how, "cure.csv")
    else:
        look = written_in_parts(tmp_path / "cure.csv", data, [cut % len(data) for cut in cuts], how)
        whole = read_cure_log(data, how, "cure.csv")
    assert look.left_out == ()
    same(look.log, whole)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cuts=st.lists(st.integers(0, 300), max_size=6))
def test_a_clock_put_back_is_settled_as_in_the_finished_log(
    tmp_path: Path, describe: Describe, cuts: list[int]
) -> None:
    stamps = [
        "00:40",
        "00:55",
        "01:10",
        "01:25",
        "01:40",
        "01:55",
        "01:10",
        "01:25",
        "01:40",
        "01:55",
        "02:10",
        "02:25",
    ]
    data = b"time,Z1,Z2\n" + b"".join(b"2026-11-01 %s,20.0,21.0\n" % stamp.encode() for stamp in stamps)
    look = written_in_parts(tmp_path / "cure.csv", data, [cut % len(data) for cut in cuts], describe())
    same(look.log, read_cure_log(data, describe(), "cure.csv"))


def test_half_a_line_waits(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG[:-3])
    growing = GrowingLog(path, describe())
    assert growing.look().added == 11
    with path.open("ab") as file:
        file.write(LOG[-3:])
    assert growing.look().added == 1
    assert growing.look().added == 0


def test_a_bad_row_is_told_with_its_place_and_blinds_nobody(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    growing = GrowingLog(path, describe())
    growing.look()
    with path.open("ab") as file:
        file.write(b"2026-03-02 08:12,xx,33.0\n2026-03-02 08:13,33.0\n2026-03-02 08:14,34.0,\xff\n")
        file.write(b"2026-03-02 08:15,35.0,36.0\n")
    look = growing.look()
    assert look.added == 1
    assert look.log is not None
    assert look.log.rows[-1] == 17
    assert {(error.row, error.file) for error in look.left_out} == {(row, "cure.csv") for row in (14, 15, 16)}
    assert next(error for error in look.left_out if error.row == 14).column == "Z1"
    with pytest.raises(BadInput):
        read_cure_log(path, describe())


def test_a_file_that_is_not_as_described_is_refused_by_field(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    with pytest.raises(BadInput) as caught:
        GrowingLog(path, describe(**{"time.columns": ["clock"]})).look()
    assert (caught.value.field, caught.value.value) == ("time.columns", "clock")


def test_a_rotated_file_goes_on_and_nothing_between_is_lost(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    lines = LOG.splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:6]))
    growing = GrowingLog(path, describe())
    assert growing.look().added == 5
    with path.open("ab") as file:
        file.write(lines[6])  # not yet seen when the logger renames the file
    path.rename(tmp_path / "cure-1.csv")
    assert growing.look().waiting == "the file is not there"
    path.write_bytes(lines[0] + b"".join(lines[7:]))
    look = growing.look()
    assert look.log is not None
    assert np.array_equal(look.log.seconds, read_cure_log(LOG, describe()).seconds)
    assert len(look.told) == 1


def test_a_file_cut_and_begun_anew_goes_on(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    lines = LOG.splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:8]))
    growing = GrowingLog(path, describe())
    growing.look()
    path.write_bytes(lines[0] + lines[8])
    look = growing.look()
    assert look.log is not None
    assert look.log.seconds[-1] == 420.0


def test_the_next_days_run_under_the_same_name_stands_alone(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    growing = GrowingLog(path, describe())
    growing.look()
    path.write_bytes(LOG.replace(b"2026-03-02", b"2026-03-03"))
    look = growing.look()
    same(look.log, read_cure_log(path, describe()))
    assert "is another run" in look.told[-1]


def test_the_same_rows_written_anew_replace_what_was_read(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    growing = GrowingLog(path, describe())
    growing.look()
    path.write_bytes(LOG.replace(b"20.0", b"20.5"))
    look = growing.look()
    same(look.log, read_cure_log(path, describe()))
    assert "left out" in look.told[-1]


def test_a_new_file_that_is_not_as_described_does_not_end_a_watch(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    growing = GrowingLog(path, describe())
    growing.look()
    path.write_bytes(LOG.replace(b"time,Z1", b"clock,Z1"))
    look = growing.look()
    assert look.log is not None
    assert len(look.log.rows) == 12
    assert "not as described: time.columns" in look.waiting
    assert any("not as described" in note for note in look.notes)


def test_a_locked_file_is_waited_for(tmp_path: Path, describe: Describe, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    growing = GrowingLog(path, describe())
    opened = Path.open

    def refused(self: Path, *arguments: object, **others: object) -> object:
        if self == path:
            raise PermissionError(13, "another program holds it")
        return opened(self, *arguments, **others)  # type: ignore[call-overload]

    with monkeypatch.context() as locked:
        locked.setattr(Path, "open", refused)
        look = growing.look()
        assert (look.log, look.waiting) == (None, "the file cannot be read just now: another program holds it")
    assert growing.look().added == 12


def test_the_file_is_never_changed_nor_held(tmp_path: Path, describe: Describe) -> None:
    path = tmp_path / "cure.csv"
    path.write_bytes(LOG)
    path.chmod(0o444)
    before = path.stat()
    GrowingLog(path, describe()).look()
    after = path.stat()
    assert (after.st_mtime_ns, after.st_size, path.read_bytes()) == (before.st_mtime_ns, before.st_size, LOG)
    if Path("/proc/self/fd").is_dir():
        held = [str(place.readlink()) for place in Path("/proc/self/fd").iterdir() if place.is_symlink()]
        assert str(path) not in held


@pytest.mark.parametrize("name", sorted(path.stem for path in DESCRIPTIONS.glob("*.toml")))
def test_other_peoples_logs_grow_as_they_are_read_whole(shared: Path, tmp_path: Path, name: str) -> None:
    found = sorted((shared / "data" / "temperature").glob(f"{name}.*"))
    if not found:
        pytest.skip("this description is of a pull curve")
    data = found[0].read_bytes()
    how = read_logger_description(DESCRIPTIONS / f"{name}.toml")
    path = tmp_path / found[0].name
    cuts = [len(data) * part // 7 + part for part in range(1, 7)]
    look = written_in_parts(path, data, cuts, how)
    whole = read_cure_log(found[0], how)
    assert look.log is not None
    assert look.left_out == ()
    count = len(look.log.rows)
    assert len(whole.rows) - count <= (0 if data.endswith((b"\n", b"\n\0", b"\0\n")) else 1)
    assert np.array_equal(look.log.seconds, whole.seconds[:count])
    assert np.array_equal(look.log.values, whole.values[:count], equal_nan=True)
    assert np.array_equal(look.log.rows, whole.rows[:count])


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    changes=st.lists(st.tuples(st.integers(0, len(LOG) - 1), st.integers(0, 255)), min_size=1, max_size=6),
    cuts=st.lists(st.integers(0, len(LOG)), max_size=4),
)
def test_damaged_bytes_are_told_and_never_read_as_another_number(
    tmp_path: Path, describe: Describe, changes: list[tuple[int, int]], cuts: list[int]
) -> None:
    data = bytearray(LOG)
    for place, byte in changes:
        data[place] = byte
    path = tmp_path / "cure.csv"
    try:
        look = written_in_parts(path, bytes(data), cuts, describe())
    except BadInput:
        return  # its head is not what the description says
    try:
        whole = read_cure_log(bytes(data), describe(), "cure.csv")
    except BadInput:
        return  # the finished log is refused; what was shown meanwhile was told with its rows left out
    if look.log is not None and not look.left_out and data.endswith(b"\n"):
        assert np.array_equal(look.log.values, whole.values, equal_nan=True)
        assert np.array_equal(look.log.seconds, whole.seconds)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(parts=st.lists(st.one_of(st.binary(max_size=60), st.just(LOG)), max_size=6))
def test_whatever_a_file_becomes_the_follower_only_ever_refuses(
    tmp_path: Path, describe: Describe, parts: list[bytes]
) -> None:
    path = tmp_path / "cure.csv"
    growing = GrowingLog(path, describe())
    for part in parts:
        path.write_bytes(part)  # each time another file stands there
        with contextlib.suppress(BadInput):
            growing.look()
