"""Watching a cure, reviewing runs, counting hours, asking the oven: what a person at the oven sees, and exit codes."""

import json
import threading
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.errors import BadInput, BladewrightError, MissingInput
from examples.fennmark.evidence import Evidence, write_evidence

ROLL = """
format = 1
roll = "F-70"
lot = "L-900"
received = 2026-06-01T08:00:00-04:00
before_receipt = "9 h"
expires = 2026-12-01

[[entries]]
move = "out"
at = 2026-06-03T08:00:00-04:00
by = "R. Vane"

[[entries]]
move = "in"
at = 2026-06-04T06:00:00-04:00
by = "R. Vane"
warmest = "72 degF"

[[unlogged]]
start = 2026-06-10T06:00:00-04:00
end = 2026-06-10T09:00:00-04:00
why = "the freezer stood open"
"""
OUT_NOW = """
[[entries]]
move = "out"
at = 2026-06-19T23:00:00-04:00
by = "R. Vane"
"""
RULE = """
format = 1

[counting]
film = "film, invented"
maker_limit = "240 h"
maker_warmest = "24 degC"
shop_limit = "200 h"
warm_up_least = "4 h"
source = "maker's sheet, invented"
"""
NOW = ("--now", "2026-06-20T08:00-04:00")


@pytest.fixture(scope="module", name="files")
def _files(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("floor"))


@pytest.fixture(name="film")
def _film(tmp_path: Path) -> Path:
    """The counting rule and two rolls: one in the freezer, one out of it."""
    (tmp_path / "film.toml").write_text(RULE, encoding="utf-8")
    (tmp_path / "F-70.toml").write_text(ROLL, encoding="utf-8")
    (tmp_path / "F-73.toml").write_text(ROLL.replace("F-70", "F-73") + OUT_NOW, encoding="utf-8")
    return tmp_path


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def cure_of(files: Evidence, serial: str) -> Path:
    return next(blade.cure for blade in files.blades if blade.serial == serial)


def watched(files: Evidence, log: Path, *more: str) -> Result:
    return asked("watch-cure", files.drawing, log, "--logger", files.logger, *more)


def refused(result: Result) -> BladewrightError:
    assert isinstance(result.exception, BladewrightError), result.output
    return result.exception


def test_a_good_run_replayed_says_nothing_is_broken_and_commands_nothing(files: Evidence) -> None:
    done = watched(files, cure_of(files, "FM31-0107"), "--replay", "100000")
    assert done.exit_code == 0, done.output
    assert "COLD ENOUGH TO RELEASE" in done.output
    assert "commands nothing" in done.output
    assert "BROKEN" not in done.output


def test_a_fast_ramp_is_told_and_ends_with_one(files: Evidence) -> None:
    done = watched(files, cure_of(files, "FM31-0111"), "--replay", "100000")
    assert done.exit_code == 1
    assert "!! BROKEN. The fastest rise is 7.06 degF/min" in done.output


def test_a_dwell_that_is_not_in_the_log_ends_with_one(files: Evidence) -> None:
    done = watched(files, cure_of(files, "FM31-0108"), "--once")
    assert done.exit_code == 1
    assert "NOT SHOWN" in done.output
    assert "Mould 4 gives no reading" in done.output


def test_a_replay_takes_as_long_as_it_says(files: Evidence) -> None:
    # run-071 is three hours and some minutes: at 10,000 times about a second
    begun = time.monotonic()
    assert watched(files, cure_of(files, "FM31-0107"), "--replay", "10000").exit_code == 0
    assert 0.5 < time.monotonic() - begun < 30.0


def test_a_growing_log_is_followed_to_its_end(files: Evidence, tmp_path: Path) -> None:
    lines = cure_of(files, "FM31-0107").read_bytes().splitlines(keepends=True)
    path = tmp_path / "live.csv"

    def written() -> None:
        for start in range(0, len(lines), 40):
            with path.open("ab") as file:
                file.write(b"".join(lines[start : start + 40])[:-3])
                file.flush()
                time.sleep(0.05)
                file.write(b"".join(lines[start : start + 40])[-3:])

    writer = threading.Thread(target=written)
    writer.start()
    done = watched(files, path, "--every", "0.05 s")
    writer.join()
    assert done.exit_code == 0, done.output
    assert "COLD ENOUGH TO RELEASE" in done.output


def test_the_last_state_for_programs_has_its_units_beside_its_numbers(files: Evidence) -> None:
    done = watched(files, cure_of(files, "FM31-0107"), "--once", "--json")
    state = json.loads(done.stdout)
    assert state["stage"] == "cold enough to release"
    assert state["dwell"]["counted"]["unit"] == "min"
    assert {channel["reading"]["unit"] for channel in state["channels"]} == {"degF", "psi"}


@pytest.mark.parametrize(
    ("more", "field", "value"),
    [(("--every", "0 s"), "every", "0 s"), (("--every", "soon"), None, "soon"), (("--replay", "-1"), "replay", "-1.0")],
)
def test_a_pace_that_cannot_be_is_refused(files: Evidence, more: tuple[str, ...], field: str, value: str) -> None:
    error = refused(watched(files, cure_of(files, "FM31-0107"), *more))
    assert (error.field, error.value) == (field, value)


def test_a_log_that_is_not_there_yet_is_no_answer(files: Evidence, tmp_path: Path) -> None:
    error = refused(watched(files, tmp_path / "none.csv", "--once"))
    assert (type(error), error.field) == (MissingInput, "log")


def review(files: Evidence, *more: str) -> Result:
    logs = [blade.cure for blade in files.blades]
    return asked("affected-runs", files.drawing, *logs, "--logger", files.logger, "--found", "2026-06-01", *more)


def test_a_sensor_four_degrees_off_changes_verdicts_and_lifts_none(files: Evidence) -> None:
    given = ("--sensor", "Mould 2", "--off", "4 degC", "--last-good", "2026-03-25")
    done = review(files, *given)
    assert done.exit_code == 1
    assert "None gets better by this" in " ".join(done.output.split())
    answer = json.loads(review(files, *given, "--json").stdout)
    worst = {one["file"]: one["outcomes"] for one in answer["at_shares"][0]}
    order = ["pass", "refer", "missing", "fail"]
    assert all([order.index(one) for one in outcomes] == sorted(order.index(one) for one in outcomes)
               for outcomes in worst.values())  # fmt: skip
    assert worst["run-075.csv"] == ["fail", "fail", "fail"]
    assert {file for file, _ in answer["reviews"][0]["not_reached"]} == {"run-071.csv", "run-072.csv"}


def test_off_by_nobody_wrote_which_way_is_reviewed_both_ways(files: Evidence) -> None:
    done = review(files, "--sensor", "Mould 2", "--off", "+/- 4 degC", "--last-good", "2026-04-07", "--json")
    high, low = json.loads(done.stdout)["reviews"]
    assert "high" in high["told"]
    assert "low" in low["told"]


def test_a_tenth_of_a_degree_changes_nothing(files: Evidence) -> None:
    done = review(files, "--sensor", "Mould 2", "--off", "0.05 K", "--last-good", "2026-03-25")
    assert done.exit_code == 0, done.output
    assert "No verdict gets worse" in done.output


def test_a_sensor_whose_channel_is_not_known_is_tried_on_each(files: Evidence) -> None:
    done = review(files, "--sensor", "TC-7", "--off", "1 K", "--last-good", "2026-04-07", "--json")
    (run,) = json.loads(done.stdout)["reviews"][0]["reviewed"]
    assert "each mould sensor was tried" in run["remark"]


@pytest.mark.parametrize(
    ("more", "field", "value"),
    [
        (("--off", "4", "--last-good", "2026-03-25"), None, "4"),
        (("--off", "250 psi"), None, "psi"),
        (("--off", "4 degC", "--last-good", "25/03/2026"), "last_good", "25/03/2026"),
        (("--off", "4 degC", "--last-good", "2026-07-01"), "last_good", "2026-07-01T00:00:00+01:00"),
        (("--off", "4 degC", "--channel", "Mould 9"), "channel", "Mould 9"),
    ],
)
def test_a_review_that_cannot_be_is_refused_by_field(
    files: Evidence, more: tuple[str, ...], field: str | None, value: str
) -> None:
    error = refused(review(files, "--sensor", "Mould 2", *more))
    assert isinstance(error, BadInput)
    assert (error.field, error.value) == (field, value)


def test_a_review_of_nothing_says_what_is_needed(files: Evidence) -> None:
    error = refused(asked("affected-runs", files.drawing, "--sensor", "Mould 2", "--off", "4 degC"))
    assert (type(error), error.field) == (MissingInput, "command line")


def test_suspicions_are_listed_with_what_shows_them(files: Evidence) -> None:
    done = asked("suspect-sensors", files.drawing, cure_of(files, "FM31-0108"), "--logger", files.logger, "--json")
    assert done.exit_code == 1
    (found,) = json.loads(done.stdout)
    assert (found["kind"], found["channels"]) == ("open", ["Mould 4"])
    good = asked("suspect-sensors", files.drawing, cure_of(files, "FM31-0107"), "--logger", files.logger)
    assert good.exit_code == 0


def hours(files: Evidence, film: Path, *more: str | Path) -> Result:
    return asked("adhesive-hours", files.drawing, "--rule", film / "film.toml", *NOW, *more)


def test_31_h_logged_and_3_h_nobody_logged(files: Evidence, film: Path) -> None:
    done = hours(files, film, film / "F-70.toml", "--json")
    answer = json.loads(done.stdout)
    assert answer["answer"]["told"].startswith("Yes, by its log.")
    assert [round(figure["value"], 9) for figure in answer["answer"]["figures"]] == [31.0, 3.0, 0.0, 166.0]
    assert done.exit_code == 1  # it is in the freezer: not yet to be opened


def test_a_roll_that_is_warm_may_be_opened_and_gets_its_label(files: Evidence, film: Path) -> None:
    label = film / "label.pdf"
    room = ("--air", "72 degF", "--humidity", "45 %", "--surface", "70 degF")
    done = hours(files, film, film / "F-73.toml", "--needed", "6 h", *room, "--label", label)
    assert done.exit_code == 0, done.output
    assert label.read_bytes().startswith(b"%PDF-")


def test_the_drawings_own_limit_is_stricter_than_a_kinder_rule(files: Evidence, film: Path) -> None:
    rule = film / "film.toml"
    rule.write_text(RULE.replace('shop_limit = "200 h"\n', "").replace("240 h", "500 h"), encoding="utf-8")
    answer = json.loads(hours(files, film, film / "F-70.toml", "--json").stdout)
    assert answer["answer"]["figures"][-1]["value"] == pytest.approx(240.0 - 34.0)


def test_stock_says_what_is_usable_and_what_ends_soon(files: Evidence, film: Path) -> None:
    (film / "F-72.toml").write_text(ROLL.replace('before_receipt = "9 h"\n', ""), encoding="utf-8")
    done = hours(files, film, film / "F-70.toml", film / "F-73.toml", film / "F-72.toml", "--json")
    assert done.exit_code == 1
    states = [line["state"] for line in json.loads(done.stdout)["rolls"]]
    assert sorted(states) == ["NOT TO BE USED", "usable", "usable, not for long"]


def test_a_roll_that_may_not_be_used_gets_no_label(files: Evidence, film: Path) -> None:
    label = film / "label.pdf"
    (film / "F-72.toml").write_text(ROLL.replace("2026-12-01", "2026-06-19"), encoding="utf-8")
    error = refused(hours(files, film, film / "F-72.toml", "--label", label))
    assert (error.field, error.value, error.exit_code) == ("roll", "F-70", 1)
    assert not label.exists()


@pytest.mark.parametrize(
    ("more", "field"),
    [
        (("--needed", "-1 h"), "needed"),
        (("--air", "72 degF"), "humidity, surface"),
        (("--now", "2026-06-20T08:00"), "now"),
        (("--now", "yesterday"), "now"),
        (("--now", "2026-06-02T08:00-04:00"), "now"),
        (("--freezer", "freezer.csv"), "freezer"),
    ],
)
def test_hours_that_cannot_be_counted_are_refused_by_field(
    files: Evidence, film: Path, more: tuple[str, ...], field: str
) -> None:
    assert refused(hours(files, film, film / "F-70.toml", *more)).field == field


FREEZER = """
format = 1
name = "freezer logger"

[file]
encoding = "utf-8"
delimiter = "comma"
decimal_mark = "point"

[table]
names_row = 1
first_row = 2

[time]
columns = ["time"]
format = "%Y-%m-%d %H:%M"
zone = "America/New_York"
file_order_is_time_order = true

[[columns]]
column = "air"
role = "air"
unit = "degF"
"""


def test_hours_in_which_the_freezer_was_warm_count_as_out(files: Evidence, film: Path) -> None:
    # warm from 12:00 to 14:00, so from the good sample at 11:00 to the one at 15:00: four hours more
    (film / "freezer.toml").write_text(FREEZER, encoding="utf-8")
    rows = [f"2026-06-12 {hour:02d}:00,{20.0 if 12 <= hour <= 14 else -4.0}" for hour in range(8, 20)]
    (film / "freezer.csv").write_text("time,air\n" + "\n".join(rows) + "\n", encoding="utf-8")
    given = ("--freezer", film / "freezer.csv", "--freezer-logger", film / "freezer.toml", "--freezer-interval", "1 h")
    answer = json.loads(hours(files, film, film / "F-70.toml", *given, "--json").stdout)
    assert [round(figure["value"], 9) for figure in answer["answer"]["figures"]] == [31.0, 7.0, 0.0, 162.0]


def test_a_log_out_of_order_says_whose_it_is(files: Evidence, film: Path) -> None:
    spoilt = ROLL.replace("2026-06-04T06:00:00", "2026-06-02T06:00:00")
    (film / "F-74.toml").write_text(spoilt, encoding="utf-8")
    error = refused(hours(files, film, film / "F-70.toml", film / "F-74.toml"))
    assert (error.file, error.field) == ("F-74.toml", "entries.2")


OVEN = """
format = 1
oven = "blade oven"
source = "process sheet, invented"

[survey]
target = "250 degF"
within = "5 degF"
soak = "30 min"
sample_interval = "60 s"

[check]
greatest = "3 degF"

[[surveys]]
done_on = 2026-01-12
due = 2026-07-12
passed = true
by = "R. Vane"
"""


def test_an_overdue_survey_blocks_the_oven(files: Evidence, tmp_path: Path) -> None:
    (tmp_path / "oven.toml").write_text(OVEN, encoding="utf-8")
    on_time, late = (
        json.loads(asked("oven-ready", tmp_path / "oven.toml", "--logger", files.logger, "--on", day, "--json").stdout)
        for day in ("2026-07-12", "2026-07-13")
    )
    assert (on_time[0]["outcome"], late[0]["outcome"]) == ("pass", "fail")
    assert {finding["outcome"] for finding in on_time[1:]} == {"missing"}  # nobody checked or calibrated a sensor
    assert asked("oven-ready", tmp_path / "oven.toml", "--logger", files.logger, "--on", "2026-07-13").exit_code == 1


def test_a_cure_in_an_oven_that_was_overdue_is_no_pass(files: Evidence, tmp_path: Path) -> None:
    (tmp_path / "oven.toml").write_text(OVEN.replace("due = 2026-07-12", "due = 2026-02-12"), encoding="utf-8")
    given = ("judge-log", files.drawing, cure_of(files, "FM31-0107"), "--description", files.logger)
    assert asked(*given).exit_code == 0
    done = asked(*given, "--oven", tmp_path / "oven.toml", "--json")
    assert done.exit_code == 1
    outcomes = {finding["rule"]: finding["outcome"] for finding in json.loads(done.stdout)}
    assert outcomes["oven: zone survey"] == "fail"
    assert outcomes["cure: dwell"] == "pass"


def test_a_run_logged_in_two_parts_is_one_run_with_a_hole(files: Evidence, tmp_path: Path) -> None:
    whole = cure_of(files, "FM31-0107").read_bytes().splitlines(keepends=True)
    half = len(whole) // 2
    head = next(at for at, line in enumerate(whole) if b"Mould 1" in line) + 2  # and the row of units
    first, second = tmp_path / "first.csv", tmp_path / "second.csv"
    first.write_bytes(b"".join(whole[:half]))
    second.write_bytes(b"".join([*whole[:head], *whole[half:]]))
    given = ("--description", files.logger, "--json")
    alone, both = (
        {one["rule"]: one["outcome"] for one in json.loads(asked("judge-log", files.drawing, first, *more).stdout)}
        for more in (given, (*given, "--part", second))
    )
    assert alone["cure: dwell"] == "fail"
    assert both["cure: dwell"] == "pass"
    assert refused(asked("judge-log", files.drawing, first, *given, "--part", first)).field == "start"


def test_of_two_recorders_the_worse_stands_and_they_must_agree(files: Evidence) -> None:
    given = ("judge-log", files.drawing, cure_of(files, "FM31-0107"), "--description", files.logger, "--json")
    other = asked(*given, "--recorder", cure_of(files, "FM31-0108"))  # another run altogether, of a blade that is held
    outcomes = {one["rule"]: one["outcome"] for one in json.loads(other.stdout)}
    assert other.exit_code == 1
    assert outcomes["cure: recorders agree"] == "refer"
    same = asked(*given, "--recorder", cure_of(files, "FM31-0107"))
    assert {one["rule"]: one["outcome"] for one in json.loads(same.stdout)}["cure: recorders agree"] == "pass"
    assert same.exit_code == 0


LOGGER = """
[logger]
accuracy = "0.3 degC"
cold_junction = "0.2 degC"
resolution = "0.1 degF"
wire = "K"
tolerance = "class 1"
source = "data sheet of the logger, invented"
"""
CALIBRATED = """
format = 1
sensor = "TC-2"
channel = "Mould 2"
calibrated_on = 2026-01-12
due = 2026-07-12
uncertainty = "0.3 degC"
calibrated_by = "R. Vane"

[[points]]
reading = "20.0 degC"
true = "{low} degC"

[[points]]
reading = "130.0 degC"
true = "{high} degC"
"""


@pytest.mark.parametrize(("off", "dwell"), [(0.0, "pass"), (4.0, "fail")])
def test_readings_are_corrected_by_the_calibration_of_the_day(
    files: Evidence, tmp_path: Path, off: float, dwell: str
) -> None:
    oven, calibration = tmp_path / "oven.toml", tmp_path / "tc-2.toml"
    oven.write_text(OVEN + LOGGER, encoding="utf-8")
    calibration.write_text(CALIBRATED.format(low=20.0 - off, high=130.0 - off), encoding="utf-8")
    given = ("judge-log", files.drawing, cure_of(files, "FM31-0107"), "--description", files.logger, "--json")
    done = asked(*given, "--oven", oven, "--calibration", calibration)
    outcomes = {finding["rule"]: finding["outcome"] for finding in json.loads(done.stdout)}
    assert outcomes["cure: dwell"] == dwell
    assert "cure: calibration" in outcomes


def test_a_survey_is_judged_by_its_log(files: Evidence, tmp_path: Path) -> None:
    (tmp_path / "oven.toml").write_text(OVEN, encoding="utf-8")
    good = asked("judge-survey", tmp_path / "oven.toml", cure_of(files, "FM31-0107"), "--logger", files.logger)
    assert good.exit_code == 0, good.output
    bad = asked("judge-survey", tmp_path / "oven.toml", cure_of(files, "FM31-0108"), "--logger", files.logger, "--json")
    assert bad.exit_code in (0, 1)
    assert json.loads(bad.stdout)["capability"]["hottest_per_year"] is None
