"""What the invented shop keeps about itself: rolls, the freezer's log, gauges, calibrations, the oven, a plan."""

import datetime
import shutil
import zoneinfo
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from examples.fennmark import people
from examples.fennmark.lots import BLADES_PER_ROLL, ROLLS, Lot
from examples.fennmark.signed import HOURS_A_BLADE, HOURS_ALREADY
from examples.fennmark.story import BLADES, Blade

HERE = Path(__file__).parent
ZONE = zoneinfo.ZoneInfo("Europe/London")
SEED = 118


def wall(day: str, hour: int, minute: int = 0) -> datetime.datetime:
    """A time as the clock on the shop's wall shows it."""
    return datetime.datetime.combine(datetime.date.fromisoformat(day), datetime.time(hour, minute))


WARMED = datetime.timedelta(hours=4, minutes=30)  # sealed, before a lay-up begins
STEP = datetime.timedelta(minutes=30)  # of the freezer's log
WATCHED = (wall("2026-02-01", 0), wall("2026-04-20", 7))  # by the clock on the wall
OPEN = (wall("2026-04-14", 12), wall("2026-04-14", 15))  # while it was moved
#: name, what it measures, calibrated, due
GAUGES = (
    ("caliper C-9", "chord and thickness", "2025-04-15", "2026-04-15"),
    ("micrometer C-4", "skin thickness", "2025-09-08", "2026-09-08"),
    ("moment rig W-1", "span moment and chordwise centre", "2025-11-03", "2026-11-03"),
    ("protractor P-2", "twist and loose skins", "2025-11-10", "2026-06-10"),
    ("reflex block D-5", "reflex of the finished blade", "2025-11-10", "2026-11-10"),
    ("tape T-1", "length", "2024-05-26", "2026-05-26"),
)


@dataclass(frozen=True, slots=True)
class Kept:
    """A file somebody kept on a day."""

    day: datetime.date
    hour: int
    by: str
    kind: str
    path: Path
    beside: Path | None = None


def write_shelf(folder: Path) -> tuple[Kept, ...]:
    """Writes the files into a folder, which is made if it is not there: the same bytes every time."""
    folder.mkdir(parents=True, exist_ok=True)
    named = ("film.toml", "oven.toml", "logger.toml", "pull.toml", "freezer-logger.toml", "cure-plan.toml")
    film, oven, logger, pull, freezer, plan = (Path(shutil.copyfile(HERE / name, folder / name)) for name in named)
    begun = datetime.date(2025, 11, 18)
    log = written(folder / "freezer.csv", freezer_log(*WATCHED))
    return (
        Kept(begun, 8, people.DESIGN_AUTHORITY, "counting rule", film),
        Kept(begun, 9, people.INSPECTOR, "logger description", logger),
        Kept(begun, 9, people.INSPECTOR, "pull description", pull),
        Kept(begun, 9, people.INSPECTOR, "logger description", freezer),
        *_gauges(folder, begun),
        *_calibrations(folder),
        Kept(datetime.date(2026, 3, 16), 17, people.INSPECTOR, "oven", oven, logger),
        Kept(datetime.date(2026, 3, 17), 9, people.DESIGN_AUTHORITY, "cure plan", plan),
        Kept(datetime.date(2026, 4, 20), 8, people.RECEIVER, "freezer log", log, freezer),
        *_rolls(folder),
    )


def _rolls(folder: Path) -> Iterator[Kept]:
    """Two rolls are used up; the third is not begun."""
    first, second, _ = ROLLS
    yield used_roll(folder, first, BLADES[:BLADES_PER_ROLL])
    yield used_roll(folder, second, BLADES[BLADES_PER_ROLL:])
    third = Path(shutil.copyfile(HERE / "roll-R-124.toml", folder / "roll-R-124.toml"))
    yield Kept(datetime.date(2026, 4, 15), 9, people.RECEIVER, "adhesive roll", third)


def used_roll(folder: Path, roll: Lot, blades: Sequence[Blade]) -> Kept:
    """The log of a roll that is used up with its last blade."""
    day = blades[-1].cured_on
    path = written(folder / f"roll-{roll.lot}.toml", roll_text(roll, blades, f"used_up = {day}\n"))
    return Kept(day, 19, people.RECEIVER, "adhesive roll", path)


def roll_text(roll: Lot, blades: Sequence[Blade], last: str = "", out_since: datetime.datetime | None = None) -> str:
    """A freezer log: 9 h out for each blade, all of them logged; and perhaps out again."""
    came = datetime.datetime.combine(roll.received_on, datetime.time(10, 15))
    trips = [datetime.datetime.combine(blade.cured_on, blade.started) - WARMED for blade in blades]
    hours = datetime.timedelta(hours=HOURS_A_BLADE)
    head = (
        f'# The freezer log of roll {roll.lot}. Invented.\nformat = 1\nroll = "{roll.lot}"\nlot = "{roll.maker_lot}"\n'
        f'received = {_stamp(came)}\nbefore_receipt = "{HOURS_ALREADY} h"\nexpires = {roll.expires_on}\n'
        f"first_used = {blades[0].cured_on}\n{last}"
    )
    moves = "".join(
        _move("out", out, people.MAKER) + _move("in", out + hours, people.MAKER, "71 degF") for out in trips
    )
    again = "" if out_since is None else _move("out", out_since, people.MAKER)
    return head + moves + again + _acceptance(roll)


def _move(move: str, at: datetime.datetime, by: str, warmest: str = "") -> str:
    room = f'warmest = "{warmest}"\n' if warmest else ""
    return f'\n[[entries]]\nmove = "{move}"\nat = {_stamp(at)}\nby = "{by}"\n{room}'


def _acceptance(roll: Lot) -> str:
    """Five coupons of each kind, torn three days after the lot came."""
    rng = np.random.default_rng([SEED, int(roll.lot[-3:])])
    whole = '{ CF = "100 %", SCF = "0 %", AF = "0 %", void = "0 %" }'
    shear = "".join(f'  {{ strength = "{v:.1f} MPa", modes = {whole} }},\n' for v in rng.normal(33.8, 0.6, 5))
    peel = "".join(f'  {{ mean = "{v:.1f} lbf/in", modes = {whole} }},\n' for v in rng.normal(31.6, 0.5, 5))
    day = roll.received_on + datetime.timedelta(days=3)
    return (
        f'\n[[acceptance]]\nlot = "{roll.maker_lot}"\ndate = {day}\nsigned_by = "{people.RECEIVER}"\n'
        f"shear = [\n{shear}]\npeel = [\n{peel}]\n"
    )


def freezer_log(at: datetime.datetime, until: datetime.datetime) -> str:
    """Every half hour, a little below zero Fahrenheit, warm only while it was moved."""
    rng = np.random.default_rng([SEED, at.toordinal()])
    lines = ["Freezer logger,film store", "Date,Clock,Air", ",,degF"]
    while at <= until:
        warm = 14.0 if OPEN[0] < at < OPEN[1] else -6.0
        lines.append(f"{at:%d/%m/%Y},{at:%H:%M:%S},{warm + rng.uniform(-2.0, 2.0):.1f}")
        at += STEP
        if at == wall("2026-03-29", 1):  # the clocks went forward: this hour was not on the wall
            at += datetime.timedelta(hours=1)
    return "\n".join(lines) + "\n"


def _gauges(folder: Path, begun: datetime.date) -> Iterator[Kept]:
    for name, measures, done, due in GAUGES:
        yield Kept(begun, 10, people.INSPECTOR, "gauge", gauge_file(folder, name, measures, done, due))


def gauge_file(folder: Path, name: str, measures: str, done: str, due: str) -> Path:
    """A gauge with its calibration."""
    text = (
        f'format = 1\ngauge = "{name}"\nmeasures = "{measures}"\n\n[calibrated]\non = {done}\ndue = {due}\n'
        f'by = "{people.INSPECTOR}"\nfound = "within its limits"\n'
    )
    return written(folder / "gauges" / f"{name.replace(' ', '-')}-{done}.toml", text)


def _calibrations(folder: Path) -> Iterator[Kept]:
    """The oven's six mould sensors, at three temperatures."""
    rng = np.random.default_rng([SEED, 2])
    for zone in range(1, 7):
        points = ""
        for true in (120.0, 212.0, 250.0):
            points += f'\n[[points]]\nreading = "{true + rng.uniform(-0.5, 0.5):.1f} degF"\ntrue = "{true:.1f} degF"\n'
        text = (
            f'format = 1\nsensor = "TC-{zone}"\nchannel = "Mould {zone}"\ncalibrated_on = 2026-01-19\n'
            f'due = 2027-01-19\nuncertainty = "0.8 degF"\ncalibrated_by = "{people.INSPECTOR}"\n{points}'
        )
        path = written(folder / "calibrations" / f"TC-{zone}.toml", text)
        yield Kept(datetime.date(2026, 1, 19), 15, people.INSPECTOR, "calibration", path)


def _stamp(wall: datetime.datetime) -> str:
    return wall.replace(tzinfo=ZONE).isoformat()


def written(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
    return path
