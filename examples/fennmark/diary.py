"""What the invented shop's people entered in the book, in the order of the days they did it."""

import datetime
import zoneinfo
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from bladewright.evidence.signed_record import read_signed_record
from bladewright.figures import digest
from bladewright.pairing.records import TrimWeight
from bladewright.records import blades, deviations, drawings, evidence, judging, lots, ownership, people, sets
from bladewright.records.acts import Act, Scope
from bladewright.records.shop_files import history, keep_shop_file
from examples.fennmark import people as staff
from examples.fennmark.evidence import BladeFiles, Evidence
from examples.fennmark.lots import Lot
from examples.fennmark.shelf import Kept, write_shelf
from examples.fennmark.story import BLADES
from examples.fennmark.trimmed import weighed_after_trim

ZONE = "Europe/London"
BEGUN = datetime.date(2025, 11, 17)
REVISION = "A"
MATCHED, SIGNED_OUT, INSTALLED = (datetime.date(2026, 4, day) for day in (20, 21, 28))
REFERRED = "Best sets of the batch; what the tests refer is looked at again on the first track and balance flight."
FLOWN_BY = "Harrow Vale Flying School (invented)"


@dataclass(frozen=True, slots=True)
class Page:
    """One thing somebody did: when, who, and the service they called."""

    day: datetime.date
    hour: int
    by: str
    does: Callable[[Act], bool]  # True when it was in the book already
    reason: str = ""

    @property
    def act(self) -> Act:
        """Who, when and why, as every service wants to know."""
        at = datetime.datetime.combine(self.day, datetime.time(self.hour), zoneinfo.ZoneInfo(ZONE))
        return Act(self.by, at.astimezone(datetime.UTC), self.reason)


def pages(files: Evidence) -> list[Page]:
    """The whole story, in the order it happened."""
    told = [*_shop(files), *_stores(files), *keeping_pages(write_shelf(files.drawing.parent / "shop"))]
    for story, blade in zip(BLADES, files.blades, strict=True):
        told += blade_pages(files, blade, story.cured_on)
    return sorted([*told, *_judgement(files.drawing.parent)], key=lambda page: (page.day, page.hour))


def _shop(files: Evidence) -> Iterator[Page]:
    """People, what they may do, and the drawing: one files it, another approves it."""
    for name in staff.PEOPLE:  # the office first: whoever begins the book lets the others in
        yield Page(BEGUN, 8, staff.OFFICE, lambda act, name=name: people.add_person(act, name).already)
    for name, scopes in staff.PEOPLE.items():
        for scope in scopes:
            yield Page(BEGUN, 9, staff.OFFICE, _letting(name, Scope(scope)))
    yield Page(BEGUN, 10, staff.OFFICE, lambda act: drawings.file_drawing(act, files.drawing, REVISION).already)
    yield Page(BEGUN, 14, staff.DESIGN_AUTHORITY, lambda act: drawings.approve_drawing(act, "FM-31", REVISION).already)


def _letting(name: str, scope: Scope) -> Callable[[Act], bool]:
    return lambda act: people.authorise(act, name, scope, BEGUN).already


def _stores(files: Evidence) -> Iterator[Page]:
    for lot, certificate in files.certificates:
        yield Page(lot.received_on, 11, staff.RECEIVER, receiving(lot, certificate))


def keeping_pages(shelf: Iterable[Kept]) -> Iterator[Page]:
    """What the shop keeps about itself."""
    for kept in shelf:
        yield Page(kept.day, kept.hour, kept.by, _keeping(kept))


def _keeping(kept: Kept) -> Callable[[Act], bool]:
    """What was kept once is not kept again, also where a newer file of its name holds now."""

    def keeping(act: Act) -> bool:
        before = {line.sha256 for line in history(kept.kind)}
        return (
            digest(kept.path.read_bytes()) in before or keep_shop_file(act, kept.kind, kept.path, kept.beside).already
        )

    return keeping


def receiving(lot: Lot, certificate: Path) -> Callable[[Act], bool]:
    """One lot taken in, with its certificate."""
    return lambda act: (
        lots.receive_lot(
            act,
            lot.lot,
            lot.material,
            maker=lot.maker,
            maker_lot=lot.maker_lot,
            expires_on=lot.expires_on,
            certificate=certificate,
        ).already
    )


def blade_pages(files: Evidence, blade: BladeFiles, cured_on: datetime.date) -> Iterator[Page]:
    """One blade from its first entry to its last."""
    serial = blade.serial
    signed = [(path, read_signed_record(path)) for path in blade.signed]
    begun = min(record.signed_on for _, record in signed)
    yield Page(begun, 8, staff.MAKER, lambda act: blades.start_blade(act, serial, "FM-31", REVISION).already)
    for use in blade.lots:
        yield Page(begun, 9, staff.MAKER, lambda act, use=use: blades.use_lot(act, serial, use.part, use.lot).already)
    yield Page(
        cured_on, 17, staff.MAKER, lambda act: evidence.file_cure(act, (serial,), blade.cure, files.logger).already
    )
    for path, record in signed:
        yield Page(record.signed_on, 16, record.signed_by, lambda act, path=path: evidence.sign(act, path).already)
    yield Page(
        blade.torn_on, 15, staff.INSPECTOR,
        lambda act: evidence.file_coupon(act, blade.coupon, blade.pull_curve, files.pull).already,
    )  # fmt: skip
    for outlines, picture in blade.photographs:
        yield Page(
            blade.torn_on, 16, staff.INSPECTOR,
            lambda act, o=outlines, p=picture: evidence.file_photograph(act, o, p).already,
        )  # fmt: skip
    yield Page(
        blade.measured_on, 16, staff.INSPECTOR, lambda act: evidence.file_dimensions(act, blade.dimensions).already
    )
    if (weighing := blade.weighing) is not None:
        yield Page(blade.weighed_on, 14, staff.SECOND_MAKER, lambda act: evidence.file_weighing(act, weighing).already)
    yield Page(blade.finished_on, 18, staff.INSPECTOR, lambda act: judging.judge(act, serial).already)


def _judgement(folder: Path) -> Iterator[Page]:
    """The reflexed blade's deviation, the sets with their trim weight weighed, and the aircraft they go to."""
    serial, mate = "FM31-0110", "FM31-0115"
    yield Page(
        MATCHED, 9, staff.DESIGN_AUTHORITY,
        lambda act: deviations.accept_deviation(act, serial, _reflex_rule(serial), (mate,)).already,
        "Lighter at the handle by less than half a pound; its mate shares it in part. One pair only.",
    )  # fmt: skip
    yield Page(MATCHED, 10, staff.INSPECTOR, lambda act: judging.judge(act, serial).already)
    yield Page(MATCHED, 11, staff.OFFICE, _form_sets, REFERRED)
    yield Page(MATCHED, 15, staff.SECOND_MAKER, lambda act: _weigh_trimmed(act, folder))
    yield Page(MATCHED, 17, staff.INSPECTOR, _judge_trimmed)
    yield Page(SIGNED_OUT, 9, staff.OFFICE, _sign_all_out)
    yield Page(
        SIGNED_OUT, 10, staff.OFFICE, lambda act: ownership.add_owner(act, FLOWN_BY, "hangar 2, Harrow Vale").already
    )
    yield Page(SIGNED_OUT, 11, staff.OFFICE, lambda act: ownership.add_aircraft(act, "FV-001", FLOWN_BY).already)
    yield Page(INSTALLED, 9, staff.OFFICE, lambda act: ownership.install(act, "0107+0112", "FV-001", INSTALLED).already)


def _reflex_rule(serial: str) -> str:
    """The rule that found the reflex out, as the first verdict named it."""
    first = judging.all_verdicts(serial)[0].verdict
    return next(f.rule for f in first.findings if "reflex.angle" in f.rule)


def _form_sets(act: Act) -> bool:
    formed = sets.propose_sets(2).sets
    for found in formed:
        name = "+".join(serial.removeprefix("FM31-") for serial in found.serials)
        sets.form_set(act, name, found.serials)
    return not formed


def _trim_weights() -> dict[str, list[TrimWeight]]:
    """What went into each blade that took trim weight."""
    taken: dict[str, list[TrimWeight]] = {}
    for line in sets.all_sets():
        for weight in sets.match_of(sets.set_named(line.name)).trim:
            taken.setdefault(weight.serial, []).append(weight)
    return taken


def _weigh_trimmed(act: Act, folder: Path) -> bool:
    """Each blade that took trim weight goes back on the rig."""
    already = [
        evidence.file_weighing(act, weighed_after_trim(folder, serial, weights, MATCHED)).already
        for serial, weights in _trim_weights().items()
    ]
    return all(already)


def _judge_trimmed(act: Act) -> bool:
    already = [judging.judge(act, serial).already for serial in _trim_weights()]
    return all(already)


def _sign_all_out(act: Act) -> bool:
    already = [sets.sign_out(act, line.name).already for line in sets.all_sets()]
    return all(already)
