"""Who may sign which proof, and that who made a blade does not look at it last, in whichever order it is tried."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import NotAuthorised
from bladewright.figures import Outcome
from bladewright.records.acts import Scope
from bladewright.records.blades import about, blade_named, start_blade, use_lot
from bladewright.records.deviations import accept_deviation
from bladewright.records.evidence import file_cure, sign
from bladewright.records.hands import makers_of, may_sign
from bladewright.records.judging import judge
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book
from bladewright.records.people import add_person, authorise, withdraw
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, OFFICE, RECEIVER, by, everybody_but
from tests.records.conftest import Judged

SERIAL, OTHER = "B-0101", "B-0102"
NEW = "Tess New"
Signed = Callable[..., Path]
pytestmark = [pytest.mark.book, pytest.mark.usefixtures("batch")]

#: written out again on purpose: what a shop would say, common practice, no source
ALLOWED = {
    "surface treatment": {Scope.BOND},
    "lay-up": {Scope.BOND},
    "pressure": {Scope.CURE},
    "void map": {Scope.INSPECT},
    "final inspection": {Scope.LOOK_LAST},
    "retained coupon": {Scope.MAKE, Scope.INSPECT},
    "hole positions": {Scope.MAKE, Scope.INSPECT},
    "something the drawing asks for": {Scope.MAKE, Scope.INSPECT},
}


@pytest.mark.parametrize("scope", list(Scope))
def test_each_proof_is_signed_by_who_is_authorised_for_that_work(scope: Scope, signed_file: Signed) -> None:
    add_person(by(OFFICE), NEW)
    authorise(by(OFFICE), NEW, scope, AT.date())
    for proof, scopes in ALLOWED.items():
        path = signed_file(SERIAL, signed_by=NEW, proof=proof)
        if scope in scopes:
            assert not sign(by(NEW), path).already
            continue
        with pytest.raises(NotAuthorised) as caught:
            sign(by(NEW), path)
        assert (caught.value.field, caught.value.value) == ("by", NEW)
        assert all(f'"{need}"' in str(caught.value.allowed) for need in may_sign(proof))


@pytest.mark.parametrize("proof", ["surface treatment", "final inspection", "hole positions"])
@pytest.mark.parametrize("who", everybody_but(INSPECTOR, MAKER))
def test_nobody_else_of_the_shop_signs(who: str, proof: str, signed_file: Signed) -> None:
    with pytest.raises(NotAuthorised):
        sign(by(who), signed_file(SERIAL, signed_by=who, proof=proof))


@pytest.mark.parametrize("who", everybody_but(MAKER))
def test_a_cure_is_filed_by_who_is_authorised_for_cures(who: str, files: Evidence) -> None:
    with pytest.raises(NotAuthorised) as caught:
        file_cure(by(who), [SERIAL], files.blades[0].cure, files.logger)
    assert caught.value.allowed == 'a person authorised for "cure"'


def test_who_only_makes_neither_bonds_nor_cures(files: Evidence, signed_file: Signed) -> None:
    withdraw(by(OFFICE), MAKER, Scope.BOND)
    withdraw(by(OFFICE), MAKER, Scope.CURE)
    for act in (
        lambda: file_cure(by(MAKER), [SERIAL], files.blades[0].cure, files.logger),
        lambda: sign(by(MAKER), signed_file(SERIAL, signed_by=MAKER, proof="lay-up")),
    ):
        with pytest.raises(NotAuthorised) as caught:
            act()
        assert f"withdrawn by {OFFICE} on 2026-05-04" in caught.value.what
    assert not start_blade(by(MAKER), "B-0199", "FM-31", "A").already


def _opened_it(files: Evidence, signed_file: Signed) -> None:  # noqa: ARG001
    authorise(by(OFFICE), NEW, Scope.MAKE, AT.date())
    start_blade(by(NEW), SERIAL + "N", "FM-31", "A")


def _built_a_lot_in(files: Evidence, signed_file: Signed) -> None:  # noqa: ARG001
    authorise(by(OFFICE), NEW, Scope.MAKE, AT.date())
    receive_lot(by(RECEIVER), "R-1", "film-epoxy")
    use_lot(by(NEW), SERIAL + "N", "adhesive", "R-1")


def _cured_it(files: Evidence, signed_file: Signed) -> None:  # noqa: ARG001
    authorise(by(OFFICE), NEW, Scope.CURE, AT.date())
    file_cure(by(NEW), [SERIAL + "N"], files.blades[0].cure, files.logger)


def _laid_it_up(files: Evidence, signed_file: Signed) -> None:  # noqa: ARG001
    authorise(by(OFFICE), NEW, Scope.BOND, AT.date())
    sign(by(NEW), signed_file(SERIAL + "N", signed_by=NEW, proof="lay-up"))


def _looked_last(signed_file: Signed) -> None:
    sign(by(NEW), signed_file(SERIAL + "N", signed_by=NEW, proof="final inspection"))


@pytest.fixture(name="newcomer")
def _newcomer(batch: Book) -> None:  # noqa: ARG001
    add_person(by(OFFICE), NEW)
    authorise(by(OFFICE), NEW, Scope.LOOK_LAST, AT.date())


@pytest.mark.usefixtures("newcomer")
@pytest.mark.parametrize("made", [_opened_it, _built_a_lot_in, _cured_it, _laid_it_up])
def test_who_made_it_does_not_look_last(
    made: Callable[[Evidence, Signed], None], files: Evidence, signed_file: Signed
) -> None:
    if made is not _opened_it:
        start_blade(by(MAKER), SERIAL + "N", "FM-31", "A")
    made(files, signed_file)
    assert NEW in makers_of(blade_named(SERIAL + "N"))
    with pytest.raises(NotAuthorised) as caught:
        _looked_last(signed_file)
    assert (caught.value.field, caught.value.value) == ("by", NEW)
    assert caught.value.what == f"{NEW} made this blade"
    assert "final inspection" not in {line.about for line in about(SERIAL + "N").evidence}


@pytest.mark.usefixtures("newcomer")
@pytest.mark.parametrize("made", [_built_a_lot_in, _cured_it, _laid_it_up])
def test_who_looked_last_does_no_work_on_it_afterwards(
    made: Callable[[Evidence, Signed], None], files: Evidence, signed_file: Signed
) -> None:
    start_blade(by(MAKER), SERIAL + "N", "FM-31", "A")
    _looked_last(signed_file)
    with pytest.raises(NotAuthorised) as caught:
        made(files, signed_file)
    assert (caught.value.field, caught.value.what) == ("by", f"{NEW} signed its final inspection")
    assert NEW not in makers_of(blade_named(SERIAL + "N"))


def test_who_accepted_a_finding_does_no_work_on_it_afterwards(findings_are: Judged, files: Evidence) -> None:
    findings_are(("cure: dwell", Outcome.FAIL))
    judge(by(INSPECTOR), SERIAL)
    accept_deviation(by(ENGINEER, "coupons tested sound"), SERIAL, "cure: dwell")
    authorise(by(OFFICE), ENGINEER, Scope.CURE, AT.date())
    with pytest.raises(NotAuthorised) as caught:
        file_cure(by(ENGINEER), [SERIAL], files.blades[0].cure, files.logger)
    assert caught.value.what == f"{ENGINEER} accepted its deviation D-1"
    assert not file_cure(by(ENGINEER), [OTHER], files.blades[0].cure, files.logger).already  # another blade is open


@pytest.mark.usefixtures("newcomer")
def test_a_maker_of_one_blade_may_look_last_at_another(files: Evidence, signed_file: Signed) -> None:
    start_blade(by(MAKER), SERIAL + "N", "FM-31", "A")
    authorise(by(OFFICE), NEW, Scope.CURE, AT.date())
    file_cure(by(NEW), [OTHER], files.blades[0].cure, files.logger)
    _looked_last(signed_file)


@pytest.mark.usefixtures("newcomer")
@pytest.mark.parametrize(
    ("from_", "until", "said"),
    [
        ("2026-01-01", "2026-05-03", f'{NEW} was authorised for "bonding" until 2026-05-03'),
        ("2026-05-05", None, f'{NEW} is authorised for "bonding" from 2026-05-05'),
    ],
)
def test_an_authorisation_that_does_not_hold_says_whose_and_since_when(
    from_: str, until: str | None, said: str, signed_file: Signed
) -> None:
    day = datetime.date.fromisoformat
    authorise(by(OFFICE), NEW, Scope.BOND, day(from_), day(until) if until else None)
    with pytest.raises(NotAuthorised) as caught:
        sign(by(NEW), signed_file(SERIAL, signed_by=NEW, proof="lay-up"))
    wrong = caught.value
    assert (wrong.what, wrong.field, wrong.value) == (said, "by", NEW)
    assert wrong.allowed == 'a person authorised for "bonding"'
    assert wrong.fix == 'somebody with "administer book" authorises them, or an authorised person does it'


@pytest.mark.usefixtures("newcomer")
def test_the_latest_end_and_the_next_beginning_are_both_told(signed_file: Signed) -> None:
    day = datetime.date
    for from_, until in (
        (day(2026, 1, 1), day(2026, 2, 1)),
        (day(2026, 2, 2), day(2026, 4, 30)),
        (day(2026, 7, 1), None),
    ):
        authorise(by(OFFICE), NEW, Scope.BOND, from_, until)
    with pytest.raises(NotAuthorised) as caught:
        sign(by(NEW), signed_file(SERIAL, signed_by=NEW, proof="lay-up"))
    assert caught.value.what == (
        f'{NEW} was authorised for "bonding" until 2026-04-30 and is authorised for "bonding" from 2026-07-01'
    )
