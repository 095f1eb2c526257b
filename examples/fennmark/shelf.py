"""What the invented shop keeps about itself: rolls, the freezer's log, gauges, calibrations, the oven, a plan."""

import datetime
import shutil
import zoneinfo
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from examples.fennmark import people
from examples.fennmark.lots import BLADES_PER_ROLL, ROLLS, Lot
from examples.fennmark.signed import HOURS_A_BLADE, HOURS_ALREADY
from examples.fennmark.story import BLADES

HERE = Path(__file__).parent
ZONE = zoneinfo.ZoneInfo("Europe/London")
SEED = 118


def _wall(day: str, hour: int, minute: int = 0) -> datetime.datetime:
    """A time as the clock on the shop's wall shows it."""
    return datetime.datetime.combine(datetime.date.fromisoformat(day), datetime.time(hour, minute))


WARMED = datetime.timedelta(hours=4, minutes=30)  # sealed, before a lay-up begins
STEP = datetime.timedelta(minutes=30)  # of the freezer's log
WATCHED = (_wall("2026-02-01", 0), _wall("2026-04-20", 7))  # by the clock on the wall
OPEN = (_wall("2026-04-14", 12), _wall("2026-04-14", 15))  # while it was moved
FORGOTTEN = _wall("2026-04-20", 15, 30)  # a roll went out and nobody put it back
#: name, what it measures, calibrated, due
GAUGES = (
    ("caliper C-9", "chord and thickness", "2025-04-15", "2026-04-15"),
    ("micrometer C-4", "skin thickness", "2025-09-08", "2026-09-08"),
    ("moment rig W-1", "span moment and chordwise centre", "2025-11-03", "2026-11-03"),
    ("protractor P-2", "twist and loose skins", "2025-11-10", "2026-05-10"),
    ("reflex block D-5", "reflex of the finished blade", "2025-11-10", "2026-11-10"),
    ("tape T-1", "length", "2025-06-02", "2027-06-02"),
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
    log = _written(folder / "freezer.csv", _freezer_log())
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
    """The first roll is used up; the second lies on a bench since yesterday; the third is not begun."""
    first, second, _ = ROLLS
    built = [BLADES[:BLADES_PER_ROLL], BLADES[BLADES_PER_ROLL:]]
    for roll, blades, kept_on in ((first, built[0], (2026, 3, 27)), (second, built[1], (2026, 4, 20))):
        trips = [datetime.datetime.combine(blade.cured_on, blade.started) - WARMED for blade in blades]
        last = "used_up = 2026-03-27\n" if roll is first else ""
        text = _roll_text(roll, trips, blades[0].cured_on, last)
        text += "" if roll is first else _move("out", FORGOTTEN, people.MAKER)
        path = _written(folder / f"roll-{roll.lot}.toml", text)
        yield Kept(datetime.date(*kept_on), 19, people.RECEIVER, "adhesive roll", path)
    third = Path(shutil.copyfile(HERE / "roll-R-124.toml", folder / "roll-R-124.toml"))
    yield Kept(datetime.date(2026, 4, 15), 9, people.RECEIVER, "adhesive roll", third)


def _roll_text(roll: Lot, trips: list[datetime.datetime], first_used: datetime.date, last: str) -> str:
    """A freezer log: 9 h out for each blade, all of them logged."""
    came = datetime.datetime.combine(roll.received_on, datetime.time(10, 15))
    hours = datetime.timedelta(hours=HOURS_A_BLADE)
    head = (
        f'# The freezer log of roll {roll.lot}. Invented.\nformat = 1\nroll = "{roll.lot}"\nlot = "{roll.maker_lot}"\n'
        f'received = {_stamp(came)}\nbefore_receipt = "{HOURS_ALREADY} h"\nexpires = {roll.expires_on}\n'
        f"first_used = {first_used}\n{last}"
    )
    moves = "".join(
        _move("out", out, people.MAKER) + _move("in", out + hours, people.MAKER, "71 degF") for out in trips
    )
    return head + moves + _acceptance(roll)


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


def _freezer_log() -> str:
    """Every half hour, a little below zero Fahrenheit, warm only while it was moved."""
    rng = np.random.default_rng([SEED, 1])
    lines = ["Freezer logger,film store", "Date,Clock,Air", ",,degF"]
    at = WATCHED[0]
    while at <= WATCHED[1]:
        warm = 14.0 if OPEN[0] < at < OPEN[1] else -6.0
        lines.append(f"{at:%d/%m/%Y},{at:%H:%M:%S},{warm + rng.uniform(-2.0, 2.0):.1f}")
        at += STEP
        if at == _wall("2026-03-29", 1):  # the clocks went forward: this hour was not on the wall
            at += datetime.timedelta(hours=1)
    return "\n".join(lines) + "\n"


def _gauges(folder: Path, begun: datetime.date) -> Iterator[Kept]:
    for name, measures, done, due in GAUGES:
        text = (
            f'format = 1\ngauge = "{name}"\nmeasures = "{measures}"\n\n[calibrated]\non = {done}\ndue = {due}\n'
            f'by = "{people.INSPECTOR}"\nfound = "within its limits"\n'
        )
        path = _written(folder / "gauges" / f"{name.replace(' ', '-')}.toml", text)
        yield Kept(begun, 10, people.INSPECTOR, "gauge", path)


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
        path = _written(folder / "calibrations" / f"TC-{zone}.toml", text)
        yield Kept(datetime.date(2026, 1, 19), 15, people.INSPECTOR, "calibration", path)


def _stamp(wall: datetime.datetime) -> str:
    return wall.replace(tzinfo=ZONE).isoformat()


def _written(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
    return path
