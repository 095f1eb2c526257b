"""Names that mislead, texts that hide, dates that have not come: refused with their field, and nothing is written."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.records.acts import Scope
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.drawings import file_drawing
from bladewright.records.evidence import file_coupon, file_cure, file_dimensions, file_weighing, sign
from bladewright.records.lots import receive_lot
from bladewright.records.naming import LONGEST, refuse_look_alike, refuse_name
from bladewright.records.opening import create_book
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.people import add_person, authorise
from bladewright.records.ready import models
from bladewright.records.sets import form_set
from examples.fennmark.evidence import Evidence
from tests.records.cast import (
    AT,
    BEGUN,
    DRAUGHTSMAN,
    INSPECTOR,
    MAKER,
    MATCHER,
    OFFICE,
    RECEIVER,
    RELEASER,
    by,
)
from tests.records.conftest import DRAWING, SERIALS, weighed_again

pytestmark = pytest.mark.book

HIDES = {
    "zero-width space": "B-01\u200b07",
    "joiner": "B-01\u200d07",
    "right-to-left override": "B-\u202e7010",
    "isolate": "B-\u20660107\u2069",
    "byte order mark": "\ufeffB-0107",
    "soft hyphen": "B\u00ad-0107",
    "no-break space": "B\u00a00107",
    "zero": "B-0107\0",
    "line end": "B-0107\nB-0108",
    "escape": "\x1b[31mB-0107",
    "filler": "B\u3164-0107",
    "blank pattern": "B\u2800-0107",
    "variation": "B-0107\ufe0f",
}
SHAPES = {
    "empty": "",
    "blank": "   ",
    "blank before": " B-0107",
    "blank after": "B-0107 ",
    "marks only": "-./_",
    "too long": "B" * (LONGEST + 1),
    "loose accent": "Bo\u0308rge",
}


@pytest.mark.parametrize("name", [*HIDES.values(), *SHAPES.values()], ids=[*HIDES, *SHAPES])
def test_a_name_that_misleads_is_refused(name: str) -> None:
    with pytest.raises(BadInput) as caught:
        refuse_name(name, "serial")
    assert (caught.value.field, caught.value.value) == ("serial", name)
    assert str(caught.value).replace("\n", "").isprintable()


@pytest.mark.parametrize("name", ["0107", "B", "B" * LONGEST, "Åsa Öberg", "Ян Ё.", "李 明", "0107+0112", "R-118/b"])
def test_a_plain_name_in_any_script_is_a_name(name: str) -> None:
    refuse_name(name, "name")


@pytest.mark.parametrize(
    ("there", "new"),
    [
        ("FM31-0107", "FM31-O107"),  # letter for digit
        ("FM31-0107", "fm31-o107"),
        ("FM31-0107", "FМ31-0107"),  # Cyrillic
        ("FM31-0107", "ＦＭ３１－０１０７"),  # full width
        ("FM31-0107", "FM31–0107"),  # a longer dash
        ("FM31-0107", "FM3l-0107"),
        ("Bo Lind", "Во Lind"),
        ("Bo Lind", "BO LIND"),
        ("Bo Lind", "Bo  Lind"),
        ("Νina", "Nina"),  # the first is Greek
    ],
)
def test_a_name_that_passes_for_another_is_refused(there: str, new: str) -> None:
    for old, name in ((there, new), (new, there)):
        with pytest.raises(BadInput) as caught:
            refuse_look_alike(name, "serial", ["Z-1", old])
        assert (caught.value.field, caught.value.value) == ("serial", name)


@pytest.mark.parametrize(("one", "other"), [("L-9", "1-9"), ("B-0107", "B-0108"), ("R-1", "R-11"), ("Bo", "Bó")])
def test_names_that_can_be_told_apart_are_two(one: str, other: str) -> None:
    refuse_look_alike(one, "lot", [other, one])


@pytest.mark.usefixtures("batch")
@pytest.mark.parametrize("name", ["X\u202e1", "X\n1", "\x00"])
def test_every_service_that_names_something_refuses_what_hides(name: str) -> None:
    acts: dict[str, Callable[[], object]] = {
        "name": lambda: add_person(by(OFFICE), name),
        "name of owner": lambda: add_owner(by(RELEASER), name, "hangar 2"),
        "name of set": lambda: form_set(by(MATCHER), name, SERIALS[:2]),
        "contact": lambda: add_owner(by(RELEASER), "Corvane", name),
        "mark": lambda: add_aircraft(by(RELEASER), name, "Corvane"),
        "serial": lambda: start_blade(by(MAKER), name, "FM-31", "A"),
        "part": lambda: use_lot(by(MAKER), SERIALS[0], name, "R-1"),
        "lot": lambda: receive_lot(by(RECEIVER), name, "film-epoxy"),
        "material": lambda: receive_lot(by(RECEIVER), "R-1", name),
        "maker": lambda: receive_lot(by(RECEIVER), "R-1", "film-epoxy", maker=name),
        "maker_lot": lambda: receive_lot(by(RECEIVER), "R-1", "film-epoxy", maker_lot=name),
        "revision": lambda: file_drawing(by(DRAUGHTSMAN), DRAWING, name),
        "by": lambda: add_person(by(name), "Tess New"),
        "reason": lambda: add_person(by(OFFICE, f"because {name}"), "Tess New"),
    }
    before = models.Event.objects.count()
    for field, act in acts.items():
        with pytest.raises(BadInput) as caught:
            act()
        assert caught.value.field == field.split(" of ")[0]
    assert models.Event.objects.count() == before


def test_a_shop_has_a_plain_name_too(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        create_book(tmp_path / "book", shop="Fennmark\u202e", zone="Europe/London", at=BEGUN)
    assert caught.value.field == "shop"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("batch")
def test_every_service_refuses_what_passes_for_what_is_there() -> None:
    receive_lot(by(RECEIVER), "R-10", "film-epoxy")
    add_owner(by(RELEASER), "Corvane", "hangar 2")
    add_aircraft(by(RELEASER), "X-A0", "Corvane")
    acts: dict[str, Callable[[], object]] = {
        "serial": lambda: start_blade(by(MAKER), "B-O101", "FM-31", "A"),
        "lot": lambda: receive_lot(by(RECEIVER), "R-1O", "film-epoxy"),
        "name": lambda: add_person(by(OFFICE), MAKER.replace("o", "о")),  # Cyrillic
        "name of owner": lambda: add_owner(by(RELEASER), "CORVANE", "hangar 2"),
        "mark": lambda: add_aircraft(by(RELEASER), "X-AO", "Corvane"),
    }
    before = models.Event.objects.count()
    for field, act in acts.items():
        with pytest.raises(BadInput) as caught:
            act()
        assert caught.value.field == field.split(" of ")[0]
    assert models.Event.objects.count() == before


@pytest.mark.usefixtures("batch")
@pytest.mark.parametrize("hidden", ["\\u202e", "\\u0000", "\\n", "\\u001b[2J"])
def test_a_signed_sentence_reads_as_it_shows(signed_file: Callable[..., Path], hidden: str) -> None:
    path = signed_file(SERIALS[0])
    path.write_text(path.read_text(encoding="utf-8").replace("as drawn", f"as {hidden}drawn"), encoding="utf-8")
    with pytest.raises(SeveralBadInputs) as caught:
        sign(by(INSPECTOR), path)
    (error,) = caught.value.errors
    assert (error.file, error.field) == (path.name, "statement")
    assert not models.Evidence.objects.exists()


@pytest.mark.usefixtures("batch")
def test_a_cell_and_a_file_name_read_as_they_show(tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    head = "serial,feature,station,value,uncertainty,gauge,measured_by,measured_on\n"
    sheet.write_text(f"{head}{SERIALS[0]},reflex.angle,,2 deg,,P\u200b-1,{INSPECTOR},2026-03-20\n", encoding="utf-8")
    with pytest.raises(SeveralBadInputs) as caught:
        file_dimensions(by(INSPECTOR), sheet)
    (error,) = caught.value.errors
    assert (error.row, error.column) == (2, "gauge")
    with pytest.raises(BadInput) as named:
        file_dimensions(by(INSPECTOR), sheet.rename(tmp_path / "she\u202eet.csv"))
    assert named.value.field == "file"


@pytest.mark.usefixtures("batch")
def test_nothing_was_done_after_the_moment_it_is_filed_at(
    files: Evidence, tmp_path: Path, signed_file: Callable[..., Path]
) -> None:
    early = BEGUN + datetime.timedelta(days=1)
    blade = files.blades[0]
    first = Path(signed_file(SERIALS[0]))
    acts: dict[str, Callable[[], object]] = {
        "signed_on": lambda: sign(by(INSPECTOR, at=early), first),
        "weighed_on": lambda: file_weighing(by(MAKER, at=early), weighed_again(tmp_path, SERIALS[0], 0.0, 0.0)),
        "torn_on": lambda: file_coupon(by(INSPECTOR, at=early), blade.coupon, blade.pull_curve, files.pull),
        "measured_on": lambda: file_dimensions(by(INSPECTOR, at=early), blade.dimensions),
        "time": lambda: file_cure(by(MAKER, at=early), SERIALS[:1], blade.cure, files.logger),
    }
    for field, act in acts.items():
        with pytest.raises(BadInput) as caught:
            act()
        assert (caught.value.what, caught.value.field) == ("lies in the future", field)
    assert not models.Evidence.objects.exists()


@pytest.mark.usefixtures("full")
def test_a_set_is_entered_when_it_is_on_and_a_permission_may_begin_later() -> None:
    tomorrow = AT.date() + datetime.timedelta(days=1)
    for act in (
        lambda: install(by(RELEASER), "S-1", "X-AAAA", tomorrow),
        lambda: remove(by(RELEASER), "S-1", tomorrow),
    ):
        with pytest.raises(BadInput) as caught:
            act()
        assert (caught.value.field, caught.value.value) == ("on", tomorrow.isoformat())
    assert not authorise(by(OFFICE), MAKER, Scope.INSPECT, tomorrow).already
