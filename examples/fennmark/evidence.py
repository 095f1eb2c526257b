"""Writes every file of the invented batch as the shop's people and instruments would have: same bytes every time."""

import datetime
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from examples.fennmark import floor, people
from examples.fennmark.lots import BLADES_PER_ROLL, LOTS, Lot, Use, lots_of
from examples.fennmark.photographs import PHOTOGRAPHED, write_photograph
from examples.fennmark.signed import signed_records
from examples.fennmark.story import BEGUN, BLADES, FINISHED, MEASURED, TORN, WEIGHED, Blade

HERE = Path(__file__).parent
BATCH_NUMBER = 31  # first word of every blade's seed; the second is its serial number
FIRST_RUN = 71  # of the oven, in this batch
TORN_END = "root"  # the tip coupon is kept, which a signed record says
COUPON_AREA = 4100  # [mm^2] one face of a torn coupon, 1 in wide
VOID, SKIN_SIDE = 12, 40  # [mm^2] of it
ROOT, SPAN = 0.25, 3.30  # [m]
DRAWN_TWIST = {0.9: 2.012, 2.1: 0.558, 3.4: -1.018}  # [deg] at each measured radius [m]: 2.8 to -1.2 along the span
MASTER_SPAN_MOMENT, MASTER_CENTRE = 17.050, 47.50  # [kg m], [mm] what the rig reads with the master on it
RIG_SPAN_MOMENT, RIG_CENTRE = "4 g m", "0.10 mm"  # k = 2, from the rig's own check


@dataclass(frozen=True, slots=True)
class BladeFiles:
    """What is on file for one blade, and the lots that went into it."""

    serial: str
    cure: Path
    coupon: Path
    pull_curve: Path
    photographs: tuple[tuple[Path, Path], ...]  # outlines, picture
    dimensions: Path
    weighing: Path | None
    signed: tuple[Path, ...]
    lots: tuple[Use, ...]
    begun_on: datetime.date  # the day its skins were cut
    torn_on: datetime.date
    measured_on: datetime.date
    weighed_on: datetime.date
    finished_on: datetime.date  # the last date on any of its files


@dataclass(frozen=True, slots=True)
class Evidence:
    """All files of the batch."""

    drawing: Path
    logger: Path
    pull: Path
    certificates: tuple[tuple[Lot, Path], ...]
    blades: tuple[BladeFiles, ...]


def write_evidence(folder: Path) -> Evidence:
    """Writes the batch into a folder, which is made if it is not there; files of an earlier writing are replaced."""
    folder.mkdir(parents=True, exist_ok=True)
    drawing, logger, pull = (
        Path(shutil.copyfile(HERE / name, folder / name)) for name in ("fm31.toml", "logger.toml", "pull.toml")
    )
    certificates = tuple((lot, write_certificate(folder, lot)) for lot in LOTS)
    blades = tuple(
        write_blade(folder, blade, FIRST_RUN + count, lots_of(blade.serial, count), count % BLADES_PER_ROLL)
        for count, blade in enumerate(BLADES)
    )
    return Evidence(drawing, logger, pull, certificates, blades)


def write_certificate(folder: Path, lot: Lot) -> Path:
    """What a lot's maker wrote with it."""
    return _written(folder / "certificates" / f"{lot.lot}.txt", lot.certificate())


def write_blade(folder: Path, blade: Blade, run: int, lots: tuple[Use, ...], laid_up_before: int) -> BladeFiles:
    """Every file of one blade, whose cure was this oven run, of these lots; its roll was out for so many before it."""
    rng = np.random.default_rng([BATCH_NUMBER, int(blade.serial[-4:])])
    cure = _written(folder / "cures" / f"run-{run:03d}.csv", _cure_log(rng, blade, run))
    name = f"{blade.serial}-{TORN_END}"
    curve = _written(folder / "coupons" / f"{name}.csv", _pull_curve(rng, blade))
    coupon = _written(folder / "coupons" / f"{name}.toml", _coupon(blade, curve.name))
    photographs = ()
    if blade.serial in PHOTOGRAPHED:
        photographs = (write_photograph(coupon.parent, blade, TORN_END, VOID, SKIN_SIDE),)
    sheet = _written(folder / "dimensions" / f"{blade.serial}.csv", _dimensions(rng, blade))
    weighing = None
    if blade.span_moment is not None:
        text = weighing_text(rng, blade, blade.span_moment, blade.working_day(WEIGHED))
        weighing = _written(folder / "weighings" / f"{blade.serial}.toml", text)
    signed = tuple(
        _written(folder / "signed" / f"{blade.serial}-{proof.replace(' ', '-')}.toml", text)
        for proof, text in signed_records(blade, run, lots, laid_up_before).items()
    )
    return BladeFiles(
        serial=blade.serial,
        cure=cure,
        coupon=coupon,
        pull_curve=curve,
        photographs=photographs,
        dimensions=sheet,
        weighing=weighing,
        signed=signed,
        lots=lots,
        begun_on=blade.working_day(BEGUN),
        torn_on=blade.working_day(TORN),
        measured_on=blade.working_day(MEASURED),
        weighed_on=blade.working_day(WEIGHED),
        finished_on=blade.working_day(FINISHED),
    )


def _written(path: Path, text: str) -> Path:
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def _lines(lines: Iterable[str]) -> str:
    return "\n".join(lines) + "\n"


def _cure_log(rng: np.random.Generator, blade: Blade, run: int) -> str:
    cure = floor.cure(rng, ramp=blade.ramp)
    start = datetime.datetime.combine(blade.cured_on, blade.started)  # the wall's clock, as the logger stamps it
    lost_at = datetime.datetime.combine(blade.cured_on, blade.lost_at)
    lines = [
        f"Blade oven logger,run {run:03d}",
        ",".join(["Date", "Clock", *(f"{part} {z}" for part in ("Mould", "Heater") for z in floor.ZONES), "Bladder"]),
        ",".join(["", "", *["degF"] * (2 * len(floor.ZONES)), "psi"]),
    ]
    for minute, mould, heater, pressure in zip(cure.minutes, cure.mould, cure.heater, cure.pressure, strict=True):
        moment = start + datetime.timedelta(minutes=float(minute))
        readings = [f"{value:.1f}" for value in (*mould, *heater, pressure)]
        if blade.lost_zone and moment >= lost_at:
            readings[blade.lost_zone - 1] = "open"
        lines.append(",".join([f"{moment:%d/%m/%Y},{moment:%H:%M:%S}", *readings]))
    return _lines(lines)


def _pull_curve(rng: np.random.Generator, blade: Blade) -> str:
    travel, force = floor.peel(rng, blade.peel)
    rows = (f"{at:.1f},{pull:.2f}" for at, pull in zip(travel, force, strict=True))
    return _lines(["Crosshead,Load", "mm,lbf", *rows])


def _coupon(blade: Blade, curve: str) -> str:
    adhesion = round(blade.adhesion_failure * COUPON_AREA)
    faces = {"top": adhesion, "bottom": 0}
    lines = [
        "format = 1",
        f'serial = "{blade.serial}"',
        f'label = "{TORN_END}"',
        'width = "1.000 in"',
        f'torn_by = "{people.INSPECTOR}"',
        f"torn_on = {blade.working_day(TORN)}",
        f'pull_curve = "{curve}"',
    ]
    for face, lost in faces.items():
        areas = {"CF": COUPON_AREA - VOID - SKIN_SIDE - lost, "SCF": SKIN_SIDE, "AF": lost, "void": VOID}
        entries = ", ".join(f'{mode} = "{area} mm^2"' for mode, area in areas.items())
        lines += ["", "[[faces]]", f'face = "{face}"', f"areas = {{ {entries} }}"]
    return _lines(lines)


def _dimensions(rng: np.random.Generator, blade: Blade) -> str:
    def near(nominal: float, scatter: float, digits: int) -> str:
        return f"{nominal + rng.uniform(-scatter, scatter):.{digits}f}"

    protractor, micrometer = "protractor P-2", "micrometer C-4"
    rows: list[tuple[str, str, str, str, str]] = [
        ("reflex.angle", "", f"{2.0 + blade.reflex:.2f} deg", "0.03 deg", "reflex block D-5"),
        ("reflex.loose_skin.angle", "", f"{near(2.35, 0.05, 2)} deg", "0.10 deg", protractor),
        ("skin.top_thickness", "", f"{near(0.025, 0.0002, 4)} in", "0.0002 in", micrometer),
        ("skin.bottom_thickness", "", f"{near(0.025, 0.0002, 4)} in", "0.0002 in", micrometer),
        ("length root to tip", "", f"{near(3300.0, 0.4, 1)} mm", "0.3 mm", "tape T-1"),
    ]
    for radius, drawn in DRAWN_TWIST.items():
        twist = drawn + blade.twist * (radius - ROOT) / SPAN
        rows += [
            ("planform.twist", f"{radius} m", f"{twist:.2f} deg", "0.05 deg", protractor),
            ("planform.chord", f"{radius} m", f"{near(200.0, 0.06, 2)} mm", "0.10 mm", "caliper C-9"),
            ("section.thickness", f"{radius} m", f"{near(24.0, 0.05, 2)} mm", "0.03 mm", "caliper C-9"),
        ]
    signature = f"{people.INSPECTOR},{blade.working_day(MEASURED)}"
    return _lines(
        ["serial,feature,station,value,uncertainty,gauge,measured_by,measured_on"]
        + [f"{blade.serial},{','.join(row)},{signature}" for row in rows]
    )


def weighing_text(rng: np.random.Generator, blade: Blade, span_moment: float, weighed_on: datetime.date) -> str:
    """A weighing file of one blade, this much more [g m] than the master."""
    spans = floor.weighing(rng, 0.001 * span_moment, scatter=0.0006)
    centres = floor.weighing(rng, blade.chordwise, scatter=0.012)

    def readings(at: float, pair: tuple[floor.Floats, floor.Floats], unit: str, digits: int) -> list[str]:
        turns = zip(*pair, strict=True)
        return [
            f'  {{ master = "{at + m:.{digits}f} {unit}" }}, {{ blade = "{at + b:.{digits}f} {unit}" }},'
            for m, b in turns
        ]

    return _lines(
        [
            "format = 1",
            f'serial = "{blade.serial}"',
            'rig = "moment rig W-1"',
            'master = "M-1"',
            f'weighed_by = "{people.SECOND_MAKER}"',
            f"weighed_on = {weighed_on}",
            "",
            "[span_moment]",
            f'rig_uncertainty = "{RIG_SPAN_MOMENT}"',
            "readings = [",
            *readings(MASTER_SPAN_MOMENT, spans, "kg m", 4),
            "]",
            "",
            "[chordwise]",
            f'rig_uncertainty = "{RIG_CENTRE}"',
            "readings = [",
            *readings(MASTER_CENTRE, centres, "mm", 2),
            "]",
        ]
    )
