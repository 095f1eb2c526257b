"""Waiting work: each thing under the one reason it waits for, with who may do it and the one next action."""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bladewright.figures import Outcome, canonical
from bladewright.pairing.records import BladeSet, TrimWeight
from bladewright.proof.verdict import missing_proofs
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import blade_named, start_blade
from bladewright.records.deviations import accept_deviation
from bladewright.records.drawings import file_drawing
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import (
    file_coupon,
    file_cure,
    file_dimensions,
    file_weighing,
    filed_for,
    read_filed,
    sign,
)
from bladewright.records.judging import judge
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book
from bladewright.records.people import add_person, authorise
from bladewright.records.ready import models
from bladewright.records.shop_files import keep_shop_file
from bladewright.records.shop_kinds import GAUGE, OVEN, ROLL, RULE
from bladewright.records.waiting import CureRunning, waiting_work
from bladewright.records.waiting_lines import Group, Place
from bladewright.records.writing import writing
from examples.fennmark import people as staff
from examples.fennmark.evidence import Evidence
from tests.records.cast import (
    APPROVER,
    AT,
    DRAUGHTSMAN,
    ENGINEER,
    INSPECTOR,
    MAKER,
    MATCHER,
    OFFICE,
    RECEIVER,
    RELEASER,
    by,
)
from tests.records.conftest import SERIALS, Judged, signed_at, weighed_again

pytestmark = pytest.mark.book

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"
ONE, TWO = SERIALS[:2]
RULE_OF_ONE = "cure: dwell"


def groups(now: datetime.datetime = AT) -> dict[str, Group]:
    return {group.title: group for group in waiting_work(now).groups}


def waits(title: str, now: datetime.datetime = AT) -> dict[str, tuple[str, tuple[str, ...]]]:
    """What waits under a title: its next action and who may do it."""
    group = groups(now).get(title)
    return {line.what: (line.next_action, line.who) for line in group.lines} if group else {}


def test_in_a_new_book_nothing_waits_and_what_is_not_kept_is_said(book: Book) -> None:  # noqa: ARG001
    work = waiting_work(AT)
    assert (work.groups, work.count, work.first) == ((), 0, None)
    assert work.not_kept == ("oven", "calibration", "counting rule", "adhesive roll", "gauge")


def test_a_drawing_waits_for_another_person_than_its_filer(book: Book, wide_drawing: Path) -> None:  # noqa: ARG001
    authorise(by(OFFICE), DRAUGHTSMAN, Scope.APPROVE, AT.date())
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    assert waits("Drawings to approve") == {"FM-31 revision A": ("Approve it", (APPROVER,))}


@pytest.mark.usefixtures("batch")
def test_a_started_blade_is_short_of_its_first_proof() -> None:
    found = groups()["Blades short of a proof"]
    assert found.count == len(SERIALS)
    first = found.lines[0]
    assert first.place == Place("blade", ONE)
    assert first.why.startswith("Short of material lots, adhesive out-time, surface treatment")
    assert (first.next_action, first.who) == ("File the material lots", tuple(sorted((INSPECTOR, MAKER))))
    assert first.since == AT


def test_what_a_blade_is_short_of_is_what_judging_it_would_find(shop: Book, files: Evidence) -> None:  # noqa: ARG001
    """At every step from the first record to the last, by the tables alone."""
    blade = files.blades[0]
    start_blade(by(MAKER), blade.serial, "FM-31", "A")
    _let_in(staff.MAKER, staff.SECOND_MAKER, staff.INSPECTOR, staff.RECEIVER)
    assert blade.weighing is not None
    steps: list[Callable[[], object]] = [
        lambda: file_cure(by(MAKER), (blade.serial,), blade.cure, files.logger),
        lambda: file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull),
        *(lambda path=path: sign(_by_signer(path), path) for path in blade.signed if "final" not in path.name),
        lambda: file_dimensions(by(INSPECTOR), blade.dimensions),
        lambda: file_weighing(by(MAKER), blade.weighing),  # type: ignore[arg-type]
        *(lambda path=path: sign(_by_signer(path), path) for path in blade.signed if "final" in path.name),
    ]
    required = read_drawing(blade_named(blade.serial).drawing).required_proofs
    for step in steps:
        step()
        missing = missing_proofs(required, read_filed(filed_for(blade_named(blade.serial))))
        found = groups()
        if missing:
            (line,) = found["Blades short of a proof"].lines
            assert line.why == f"Short of {', '.join(missing)}."
            assert "Blades to judge" not in found
        else:
            assert "Blades short of a proof" not in found
    (line,) = groups()["Blades to judge"].lines
    assert (line.what, line.next_action) == (blade.serial, "Judge it")
    assert line.who == (INSPECTOR, staff.RECEIVER, staff.INSPECTOR)  # by name
    (run,) = groups()["Cures not yet judged"].lines
    assert (run.what, run.place.kind, run.next_action) == (blade.cure.name, "run", f"Judge {blade.serial}")
    judge(by(INSPECTOR), blade.serial)
    assert set(groups()) == {"Blades waiting for a mate"}


def _let_in(*names: str) -> None:
    for name in names:
        add_person(by(OFFICE), name)
        for scope in staff.PEOPLE[name]:
            authorise(by(OFFICE), name, Scope(scope), AT.date())


def _by_signer(path: Path) -> Act:
    signer = next(name for name in staff.PEOPLE if name in path.read_text(encoding="utf-8"))
    return by(signer)


@pytest.mark.usefixtures("batch")
@pytest.mark.parametrize(
    ("outcome", "title", "action", "who"),
    [
        (Outcome.REFER, "Blades held", "", (ENGINEER,)),
        (
            Outcome.FAIL,
            "Blades rejected",
            "Ask for a deviation where one is allowed; else mutilate it before a witness",
            (ENGINEER, INSPECTOR),
        ),
        (Outcome.MISSING, "Blades short of a proof", "", (INSPECTOR, MAKER)),
    ],
)
def test_a_judged_blade_waits_by_its_word(
    findings_are: Judged, outcome: Outcome, title: str, action: str, who: tuple[str, ...]
) -> None:
    findings_are((RULE_OF_ONE, outcome))
    judge(by(INSPECTOR), ONE)
    told = waits(title)[ONE]
    assert told[0].startswith(action)
    assert told[1] == who
    assert sum(ONE in waits(other) for other in groups()) == 1


@pytest.mark.usefixtures("batch")
def test_accepted_blades_of_a_drawing_wait_together(findings_are: Judged) -> None:
    findings_are((RULE_OF_ONE, Outcome.PASS))
    judge(by(INSPECTOR), ONE)
    assert waits("Blades waiting for a mate") == {"1 blade of FM-31 A": ("It waits for a second blade", (MATCHER,))}
    judge(by(INSPECTOR), TWO)
    assert waits("Blades waiting for a mate") == {"2 blades of FM-31 A": ("Match them", (MATCHER,))}
    group = groups()["Blades waiting for a mate"]
    assert (group.count, group.more) == (2, 0)
    assert waiting_work(AT).of(MATCHER).count == 2


@pytest.mark.usefixtures("batch")
def test_what_is_filed_or_accepted_after_a_verdict_waits_to_be_judged(
    findings_are: Judged, signed_file: Callable[..., Path]
) -> None:
    findings_are((RULE_OF_ONE, Outcome.FAIL))
    for serial in (ONE, TWO):
        judge(by(INSPECTOR), serial)
    sign(by(INSPECTOR), signed_file(ONE))
    accept_deviation(by(ENGINEER, "tested"), TWO, RULE_OF_ONE)
    lines = {line.what: line for line in groups()["Blades to judge"].lines}
    assert lines[ONE].why == "Its verdict (rejected) does not know everything: evidence was filed since."
    assert lines[TWO].why == "Its verdict (rejected) does not know everything: a deviation was accepted since."
    assert {line.who for line in lines.values()} == {(INSPECTOR,)}
    assert "Blades rejected" not in groups()


@pytest.mark.usefixtures("batch")
def test_a_rejected_blade_whose_serial_is_closed_waits_for_nothing(findings_are: Judged, tmp_path: Path) -> None:
    findings_are((RULE_OF_ONE, Outcome.FAIL))
    judge(by(INSPECTOR), ONE)
    sign(by(INSPECTOR), signed_at(tmp_path, ONE, proof="serial closed", note="sawn through before R. Vane"))
    assert not [title for title, group in groups().items() if ONE in {line.what for line in group.lines}]
    judge(by(INSPECTOR), ONE)  # closed is closed, judged again or not
    assert not [title for title, group in groups().items() if ONE in {line.what for line in group.lines}]


@pytest.mark.usefixtures("batch")
def test_closing_closes_nothing_that_was_not_rejected(findings_are: Judged, tmp_path: Path) -> None:
    sign(by(INSPECTOR), signed_at(tmp_path, ONE, proof="serial closed", note="too early"))
    assert ONE in waits("Blades short of a proof")
    findings_are((RULE_OF_ONE, Outcome.REFER))
    judge(by(INSPECTOR), ONE)
    assert ONE in waits("Blades held")


@pytest.mark.usefixtures("unreleased_set")
def test_a_formed_set_waits_to_be_signed_out() -> None:
    assert waits("Sets to sign out") == {"S-3": ("Sign it out", (RELEASER,))}


@pytest.mark.usefixtures("unreleased_set")
def test_a_set_with_a_blade_that_must_be_judged_again_waits_for_that(signed_file: Callable[..., Path]) -> None:
    sign(by(INSPECTOR), signed_file(SERIALS[4]))
    assert waits("Sets to sign out") == {"S-3": ("Judge its blades again", (INSPECTOR,))}


@pytest.mark.usefixtures("batch")
def test_a_set_that_took_trim_weight_is_weighed_again_first(findings_are: Judged, tmp_path: Path) -> None:
    findings_are((RULE_OF_ONE, Outcome.PASS))
    verdicts = {serial: judge(by(INSPECTOR), serial) for serial in (ONE, TWO)}
    match = BladeSet((ONE, TWO), 0.0, (), (), (TrimWeight(ONE, "tip", 3.3, 0.004),), None, ())
    with writing(by(MATCHER), "set formed", "S-9", Scope.MATCH) as entry:
        row = entry.add(models.Set(name="S-9", match=canonical(match).decode(), method="for a test"))
        for serial in verdicts:
            blade = models.Blade.objects.get(serial=serial)
            entry.add(models.SetBlade(set=row, blade=blade, verdict=models.Verdict.objects.get(blade=blade)))
    assert waits("Sets to weigh again")["S-9"][0] == f"Fit the weight, weigh {ONE} and file it"
    file_weighing(by(MAKER), weighed_again(tmp_path, ONE, 0.001, 0.0))
    assert "Sets to weigh again" not in groups()
    assert waits("Sets to sign out")["S-9"][0] == "Judge its blades again"


def test_a_blade_signed_out_waits_no_more(signed_out_set: Callable[..., None]) -> None:
    signed_out_set("S-1", ONE, TWO)
    everything = {line.what for group in waiting_work(AT).groups for line in group.lines}
    assert not everything & {ONE, TWO}


def test_what_falls_due_in_the_shop_waits(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    keep_shop_file(by(INSPECTOR), OVEN, FENNMARK / "oven.toml", FENNMARK / "logger.toml")
    keep_shop_file(by(INSPECTOR), GAUGE, _gauge(tmp_path, "C-9", "2026-05-03"))
    keep_shop_file(by(INSPECTOR), GAUGE, _gauge(tmp_path, "C-8", "2026-05-20"))
    keep_shop_file(by(INSPECTOR), GAUGE, _gauge(tmp_path, "C-7", "2026-09-01"))
    stops = waits("The oven may not be used")
    assert set(stops) == {"blade oven: sensor check", "blade oven: calibration"}  # checks overdue, none calibrated
    assert stops["blade oven: sensor check"] == ("Do the sensor check and enter it; do not cure before", (INSPECTOR,))
    lines = {line.what: line for line in groups()["The oven may not be used"].lines}
    assert lines["blade oven: sensor check"].why.startswith("Mould 1, Mould 2, Mould 3, Mould 4, Mould 5, Mould 6:")
    assert waits("Gauges not to be used") == {"C-9": ("Calibrate it, or set it aside", (INSPECTOR, RECEIVER))}
    soon = {line.what: line for line in groups()["Due soon"].lines}
    assert set(soon) == {"C-8"}
    assert soon["C-8"].until == datetime.datetime(2026, 5, 20, 23, tzinfo=datetime.UTC)  # midnight in London
    july = datetime.datetime(2026, 7, 27, 8, tzinfo=datetime.UTC)
    assert "blade oven: zone survey" in waits("The oven may not be used", july)


def _gauge(folder: Path, name: str, due: str) -> Path:
    path = folder / f"{name}.toml"
    path.write_text(
        f'format = 1\ngauge = "{name}"\nmeasures = "chord"\n[calibrated]\non = 2025-11-03\ndue = {due}\n'
        f'by = "{INSPECTOR}"\nfound = "within its limits"\n'
    )
    return path


def test_adhesive_that_runs_out_or_may_not_be_used_waits(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    receive_lot(by(RECEIVER), "F-70", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))
    receive_lot(by(RECEIVER), "F-71", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))
    roll = tmp_path / "F-70.toml"
    roll.write_text(
        'format = 1\nroll = "F-70"\nlot = "L-900"\nreceived = 2026-04-01T08:00:00+01:00\nbefore_receipt = "9 h"\n'
        'expires = 2026-09-01\n[[entries]]\nmove = "out"\nat = 2026-05-03T09:00:00+01:00\nby = "Mott Bench"\n'
    )
    keep_shop_file(by(MAKER), ROLL, roll)
    lines = {line.what: line for line in groups()["Adhesive"].lines}
    assert lines["F-70"].why.startswith("No counting rule of this film is on file")
    assert (lines["F-71"].next_action, lines["F-71"].place.kind) == ("Keep its log", "lot")
    keep_shop_file(by(ENGINEER), RULE, _rule(tmp_path))
    line = {line.what: line for line in groups()["Adhesive"].lines}["F-70"]
    assert line.why == "Out of the freezer since 2026-05-03 09:00, 207.0 h left; its out-time ends first."
    assert line.until == AT + datetime.timedelta(hours=207)
    assert line.who == (MAKER, RECEIVER)


def _rule(folder: Path) -> Path:
    path = folder / "film.toml"
    path.write_text(
        'format = 1\n[counting]\nfilm = "FM film"\nmaker_limit = "240 h"\nmaker_warmest = "75 degF"\n'
        'warm_up_least = "4 h"\nsource = "sheet 7"\n'
    )
    return path


def test_other_material_and_authorisations_that_end_wait(book: Book) -> None:  # noqa: ARG001
    for name, day in (("P-1", 20), ("P-2", 1)):
        receive_lot(by(RECEIVER), name, "primer", expires_on=datetime.date(2026, 5, day))
    receive_lot(by(RECEIVER), "P-3", "primer", expires_on=datetime.date(2026, 9, 1))
    assert {what: told[0] for what, told in waits("Other material going out of date").items()} == {
        "P-2": "Keep it apart: it is not built in",
        "P-1": "Use it up first, or order another",
    }
    authorise(by(OFFICE), MAKER, Scope.RELEASE, AT.date(), datetime.date(2026, 5, 20))
    authorise(by(OFFICE), MATCHER, Scope.RELEASE, AT.date(), datetime.date(2026, 5, 20))
    authorise(by(OFFICE), MATCHER, Scope.RELEASE, AT.date(), datetime.date(2027, 5, 20))
    (line,) = groups()["Authorisations that end"].lines
    assert (line.what, line.why, line.who) == (MAKER, '"release" ends on 2026-05-20.', (OFFICE,))


def test_a_running_cure_stands_first(batch: Book) -> None:  # noqa: ARG001
    running = CureRunning("run-090.csv", "Zone 4 is 6 degF behind.", "Look at heater 4", until=AT)
    first = waiting_work(AT, [running]).first
    assert first is not None
    assert (first.place, first.next_action, first.who) == (
        Place("growing", "run-090.csv"),
        "Look at heater 4",
        (MAKER,),
    )


def test_a_file_no_reader_takes_any_more_is_said_and_breaks_nothing(full: Book) -> None:  # noqa: ARG001
    lines = groups()["Files nobody can read any more"].lines
    assert [line.place for line in lines] == [Place("shelf", "oven", "oven")]


def test_the_questions_asked_of_the_book_do_not_grow_with_it(batch: Book, django_assert_max_num_queries: Any) -> None:
    with django_assert_max_num_queries(16):
        assert waiting_work(AT).count == len(SERIALS)
    for number in range(40):
        start_blade(by(MAKER), f"C-{number:04d}", "FM-31", "A")
    with django_assert_max_num_queries(16):
        assert waiting_work(AT).count == len(SERIALS) + 40
    assert batch.writable
