"""The batch after the first, for the desk: eleven finished blades that no set has yet, and three still in work."""

import dataclasses
import datetime
from collections.abc import Iterator
from datetime import date, time
from pathlib import Path
from typing import Final

from examples.fennmark import people as staff
from examples.fennmark import void_maps
from examples.fennmark.diary import Page, blade_pages, receiving
from examples.fennmark.evidence import Evidence, write_blade, write_certificate
from examples.fennmark.lots import BARS, BOLTS, BRASS, FILMS, SHEETS, Lot, Use
from examples.fennmark.story import Blade

#: the morning the desk is opened on
MORNING: Final = datetime.datetime(2026, 5, 28, 8, 0, tzinfo=datetime.timezone(datetime.timedelta(hours=1)))
FIRST_RUN: Final = 81

#: what peels a little less each time since roll R-127 was opened is for the coupon page to find
BLADES: Final = (
    Blade("FM31-0117", date(2026, 5, 1), time(9, 5), 8.0, chordwise=0.03, reflex=0.02, twist=0.01, peel=23.3),
    Blade("FM31-0118", date(2026, 5, 5), time(9, 12), -14.0, chordwise=-0.04, reflex=-0.03, peel=23.5),
    Blade("FM31-0119", date(2026, 5, 6), time(9, 8), 31.0, chordwise=0.09, reflex=0.08, twist=0.02, peel=23.0),
    Blade("FM31-0120", date(2026, 5, 7), time(9, 15), -27.0, chordwise=-0.10, reflex=-0.06, twist=-0.01, peel=23.4),
    Blade("FM31-0121", date(2026, 5, 8), time(9, 3), 11.0, chordwise=0.05, reflex=0.04, peel=23.2),
    Blade("FM31-0122", date(2026, 5, 11), time(9, 10), 36.0, chordwise=0.12, reflex=0.10, twist=0.01, peel=21.9),
    Blade("FM31-0123", date(2026, 5, 12), time(9, 6), -31.0, chordwise=-0.08, reflex=-0.08, twist=-0.02, peel=21.8),
    Blade("FM31-0124", date(2026, 5, 13), time(9, 14), -9.0, chordwise=0.01, reflex=-0.01, twist=0.01, peel=21.5),
    Blade("FM31-0125", date(2026, 5, 14), time(9, 9), 4.0, chordwise=-0.02, reflex=0.05, peel=21.6),
    Blade("FM31-0126", date(2026, 5, 15), time(9, 2), -42.0, chordwise=-0.13, reflex=-0.12, twist=-0.01, peel=21.3),
    Blade("FM31-0127", date(2026, 5, 18), time(9, 11), 19.0, chordwise=0.07, reflex=0.06, twist=0.02, peel=21.2),
    Blade("FM31-0128", date(2026, 5, 21), time(9, 4), 2.0, chordwise=0.02, reflex=0.01, peel=21.4),
    Blade("FM31-0129", date(2026, 5, 26), time(9, 7), -6.0, chordwise=-0.03, reflex=-0.02, peel=21.3),
    Blade("FM31-0130", date(2026, 5, 27), time(9, 10), 15.0, chordwise=0.04, reflex=0.03, peel=21.2),
)

SKINS = tuple(
    Lot(f"S-06{n}", "skin-sheet", "sheet 0.025 in, 36 in by 144 in", SHEETS, f"AS-7802-{n}", date(2026, 4, 28))
    for n in range(1, 8)
)
DOUBLERS = tuple(
    Lot(f"S-07{n}", "skin-sheet", "sheet 0.063 in, 36 in by 48 in", SHEETS, f"AS-7815-{n}", date(2026, 4, 28))
    for n in range(1, 4)
)
ROLLS = (
    Lot("R-126", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-21040", date(2026, 4, 28), date(2026, 10, 26)),
    Lot("R-127", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-21107", date(2026, 4, 28), date(2026, 11, 2)),
    Lot("R-128", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-21107", date(2026, 4, 28), date(2026, 11, 2)),
)
SPARS = tuple(
    Lot(f"E-07{n}", "spar-extrusion", "nose spar, 6 bars of 3.45 m", BARS, f"VE-56{n}1", date(2026, 4, 28))
    for n in range(7, 10)
)
WEIGHTS = (Lot("B-020", "brass", BRASS.what, BRASS.maker, "HT-361", date(2026, 4, 28)),)
LOTS = (*SKINS, *DOUBLERS, *ROLLS, *SPARS, *WEIGHTS)
BLADES_PER_ROLL, BLADES_PER_SHEET, BLADES_PER_BAR_LOT = 5, 2, 6


def write_second_batch(folder: Path, first: Evidence) -> Evidence:
    """Its files, beside those of the first batch."""
    certificates = tuple((lot, write_certificate(folder, lot)) for lot in LOTS)
    blades = tuple(
        write_blade(folder, blade, FIRST_RUN + count, lots_of(blade.serial, count), count % BLADES_PER_ROLL)
        for count, blade in enumerate(BLADES)
    )
    return dataclasses.replace(first, certificates=certificates, blades=blades)


def lots_of(serial: str, count: int) -> tuple[Use, ...]:
    """What went into the blade that was built as number ``count`` of this batch, from 0."""
    skin, roll, bar = count // BLADES_PER_SHEET, count // BLADES_PER_ROLL, count // BLADES_PER_BAR_LOT
    return (
        Use(serial, "top skin", SKINS[skin].lot),
        Use(serial, "bottom skin", SKINS[skin].lot),
        Use(serial, "spar", SPARS[bar].lot),
        Use(serial, "doubler", DOUBLERS[roll].lot),
        Use(serial, "adhesive", ROLLS[roll].lot),
        Use(serial, "tip weight", WEIGHTS[0].lot),
        Use(serial, "grip bolts", BOLTS.lot),
    )


def second_pages(files: Evidence) -> list[Page]:
    """What was entered of it until the morning the desk is opened on."""
    told = [Page(lot.received_on, 11, staff.RECEIVER, receiving(lot, paper)) for lot, paper in files.certificates]
    for story, blade in zip(BLADES, files.blades, strict=True):
        told += blade_pages(files, blade, story.cured_on)
    told += void_maps.pages(files.drawing.parent)
    return sorted(_until(told, MORNING.date()), key=lambda page: (page.day, page.hour))


def _until(told: list[Page], day: date) -> Iterator[Page]:
    """What lies before a day; what its people would write later is not written yet."""
    yield from (page for page in told if page.day < day)
