"""What the invented shop keeps about itself while the second batch is built: its rolls, the oven, a caliper back."""

import datetime
import shutil
from pathlib import Path

from examples.fennmark import people
from examples.fennmark.second_batch import BLADES, BLADES_PER_ROLL, ROLLS
from examples.fennmark.shelf import HERE, Kept, freezer_log, gauge_file, roll_text, used_roll, wall, written

FORGOTTEN = wall("2026-05-27", 15, 30)  # a roll went out and nobody put it back
WATCHED = (wall("2026-04-20", 7, 30), wall("2026-05-25", 7))
CHECKED, DUE = datetime.date(2026, 4, 27), datetime.date(2026, 5, 27)  # the mould sensors, before the batch
READ = (249.8, 250.4, 249.7, 250.6, 249.5, 250.2)  # [degF] beside a check sensor at 250


def write_second_shelf(folder: Path) -> tuple[Kept, ...]:
    """Writes the files beside those of the first batch: the same bytes every time."""
    folder.mkdir(parents=True, exist_ok=True)
    logger, freezer = (
        Path(shutil.copyfile(HERE / name, folder / name)) for name in ("logger.toml", "freezer-logger.toml")
    )
    checks = "".join(
        f'\n[[checks]]\nchannel = "Mould {zone}"\ndone_on = {CHECKED}\ndue = {DUE}\nworking = "{read:.1f} degF"\n'
        f'check = "250.0 degF"\nby = "{people.INSPECTOR}"\n'
        for zone, read in enumerate(READ, 1)
    )
    oven = written(folder / "oven-2026-04.toml", (HERE / "oven.toml").read_text(encoding="utf-8") + checks)
    log = written(folder / "freezer-2026-05.csv", freezer_log(*WATCHED))
    caliper = gauge_file(folder, "caliper C-9", "chord and thickness", "2026-04-14", "2027-04-14")
    first, second, third = ROLLS
    last = BLADES[2 * BLADES_PER_ROLL :]
    begun = written(folder / f"roll-{third.lot}.toml", roll_text(third, last, out_since=FORGOTTEN))
    return (
        Kept(datetime.date(2026, 4, 22), 10, people.INSPECTOR, "gauge", caliper),
        Kept(CHECKED, 17, people.INSPECTOR, "oven", oven, logger),
        Kept(datetime.date(2026, 5, 25), 8, people.RECEIVER, "freezer log", log, freezer),
        used_roll(folder, first, BLADES[:BLADES_PER_ROLL]),
        used_roll(folder, second, BLADES[BLADES_PER_ROLL : 2 * BLADES_PER_ROLL]),
        Kept(datetime.date(2026, 5, 27), 19, people.RECEIVER, "adhesive roll", begun),
    )
