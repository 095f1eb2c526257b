"""Traces worked by hand in a small shop: six blades, two of them flying; every answer counted from what was entered."""

from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bladewright.errors import MissingInput
from bladewright.records import tracing
from bladewright.records.acts import Scope
from bladewright.records.blades import use_lot
from bladewright.records.evidence import DIMENSIONS, Ready, file_cure, file_dimensions, file_ready, file_weighing
from bladewright.records.holding import Handed
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.resting import rests_on
from bladewright.records.tracing import owners_to_tell, senses, trace
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, RECEIVER, RELEASER, by
from tests.records.conftest import SERIALS

pytestmark = pytest.mark.book
OWNER, MARK = "Corvane Flying School", "X-AAAA"
SHEET = "serial,feature,station,value,uncertainty,gauge,measured_by,measured_on\n"


def a_sheet(folder: Path, serial: str, *gauges: str) -> Path:
    path = folder / f"{serial}.csv"
    rows = [f"{serial},planform.chord,{1 + n} m,200 mm,0.3 mm,{g},{INSPECTOR},2026-03-30" for n, g in enumerate(gauges)]
    path.write_text(SHEET + "\n".join(rows) + "\n", encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def _shop_with_two_flying(batch: Book, signed_out_set: Callable[..., None], tmp_path: Path) -> None:  # noqa: ARG001
    paper = tmp_path / "R-1.txt"
    paper.write_text("an invented maker's words", encoding="utf-8")
    receive_lot(by(RECEIVER), "R-1", "film-epoxy", maker="Films, invented", maker_lot="L-900", certificate=paper)
    for serial in SERIALS[:3]:
        use_lot(by(MAKER), serial, "adhesive", "R-1")
    file_dimensions(by(INSPECTOR), a_sheet(tmp_path, SERIALS[0], "caliper C-9", "tape T-1"))
    file_dimensions(by(INSPECTOR), a_sheet(tmp_path, SERIALS[4], "tape T-1", "tape T-11"))
    signed_out_set("S-1", *SERIALS[:2])
    add_owner(by(RELEASER), OWNER, "hangar 2")
    add_aircraft(by(RELEASER), MARK, OWNER)
    install(by(RELEASER), "S-1", MARK, AT.date())


def serials(of: str, kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(place.serial for place in trace(of, kind).places))


@pytest.mark.parametrize(
    ("of", "kind", "found"),
    [
        ("R-1", "lot", SERIALS[:3]),
        ("L-900", "lot", SERIALS[:3]),
        ("R-1.txt", "file", SERIALS[:3]),
        (f"{SERIALS[0]}.csv", "file", SERIALS[:1]),
        ("fm31.toml", "file", SERIALS),
        ("FM-31", "drawing", SERIALS),
        ("FM-31 revision A", "drawing", SERIALS),
        ("FM-31 A", "drawing", SERIALS),
        ("caliper C-9", "instrument", SERIALS[:1]),
        ("tape T-1", "instrument", (SERIALS[0], SERIALS[4])),
        ("tape T-11", "instrument", (SERIALS[4],)),
        (MAKER, "person", SERIALS),
        (INSPECTOR, "person", (SERIALS[0], SERIALS[1], SERIALS[4])),
        ("S-1", "set", SERIALS[:2]),
        (MARK, "aircraft", SERIALS[:2]),
        (OWNER, "owner", SERIALS[:2]),
    ],
)
def test_a_name_leads_to_every_serial_it_touched(of: str, kind: str, found: tuple[str, ...]) -> None:
    assert senses(of) == (kind,)
    assert serials(of, kind) == found


def test_whoever_must_be_told_stands_with_aircraft_and_serials() -> None:
    (told,) = trace("R-1", "lot").owners
    assert (told.owner, told.contact, told.aircraft, told.serials) == (OWNER, "hangar 2", (MARK,), SERIALS[:2])


def test_a_run_is_traced_by_its_log_and_by_what_read_it(files: Evidence) -> None:
    run = files.blades[0].cure
    filed = file_cure(by(MAKER), SERIALS[2:4], run, files.logger)
    for of in (run.name, filed.sha256, files.logger.name):
        assert serials(of, "file") == SERIALS[2:4]
    assert serials("blade oven logger", "instrument") == SERIALS[2:4]


def test_a_rig_is_an_instrument(tmp_path: Path) -> None:
    path = tmp_path / "w.toml"
    spans = '{ master = "17.05 kg m" }, { blade = "17.06 kg m" },' * 4
    path.write_text(
        f'format = 1\nserial = "{SERIALS[5]}"\nrig = "rig W-1"\nmaster = "M-1"\nweighed_by = "{MAKER}"\n'
        f'weighed_on = 2026-04-20\n[span_moment]\nrig_uncertainty = "4 g m"\nreadings = [{spans}]\n',
        encoding="utf-8",
    )
    file_weighing(by(MAKER), path)
    assert serials("rig W-1", "instrument") == (SERIALS[5],)


def test_a_sheet_filed_before_gauges_were_written_down_is_read(tmp_path: Path) -> None:
    path = a_sheet(tmp_path, SERIALS[3], "protractor P-2")
    given = Handed(path.name, path.read_bytes())
    file_ready(by(INSPECTOR), Ready(DIMENSIONS, "", (SERIALS[3],), given, (Scope.INSPECT,)))
    assert serials("protractor P-2", "instrument") == (SERIALS[3],)


def test_a_set_taken_off_is_on_no_aircraft_and_somebody_has_it() -> None:
    remove(by(RELEASER), "S-1", AT.date())
    went = trace("R-1", "lot")
    assert went.owners == ()
    assert went.unplaced == SERIALS[:2]
    assert serials(MARK, "aircraft") == SERIALS[:2], "it once was there"


def test_a_name_that_is_two_things_is_two_traces() -> None:
    receive_lot(by(RECEIVER), MAKER, "brass")
    assert senses(MAKER) == ("lot", "person")
    assert trace(MAKER, "lot").places == ()


def test_pages_hold_every_place_once_and_owners_are_asked_for_all(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tracing, "PAGE", 2)
    seen, after = [], ""
    while True:
        went = trace("FM-31", "drawing", after)
        assert (went.count, went.whole) == (6, False)
        seen += [place.serial for place in went.places]
        after = went.after
        if not after:
            break
    assert seen == list(SERIALS)
    (told,) = owners_to_tell("FM-31", "drawing")
    assert (told.owner, told.aircraft, told.blades, told.serials) == (OWNER, (MARK,), 2, ())


def test_a_name_nobody_knows_is_an_error_and_not_an_empty_answer() -> None:
    assert senses("R-404") == ()
    with pytest.raises(MissingInput) as caught:
        trace("R-404", "lot")
    assert (caught.value.field, caught.value.value) == ("of", "R-404")
    with pytest.raises(MissingInput):
        trace("R-1", "nothing of ours")


def test_the_number_of_queries_does_not_grow() -> None:
    def asked(of: str, kind: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            trace(of, kind)
        return len(queries)

    assert asked("S-1", "set") == asked("FM-31", "drawing") - 1  # the drawing is looked up once more
    assert asked("R-1", "lot") <= 6


def test_a_serial_rests_on_all_of_it() -> None:
    rests = rests_on(SERIALS[0])
    assert [(lot.part, lot.lot, lot.maker_lot, lot.certificate) for lot in rests.lots] == [
        ("adhesive", "R-1", "L-900", "R-1.txt")
    ]
    assert (rests.drawing, rests.revision) == ("FM-31", "A")
    assert [(item.kind, item.instruments) for item in rests.evidence] == [("dimensions", ("caliper C-9", "tape T-1"))]
    assert rests.mates == (SERIALS[1],)
    assert (rests.place.aircraft, rests.place.owner) == (MARK, OWNER)
    assert {name for name, _ in rests.people} >= {MAKER, INSPECTOR}
    with pytest.raises(MissingInput):
        rests_on("B-9999")


def test_everything_a_serial_rests_on_leads_back_to_it() -> None:
    rests = rests_on(SERIALS[0])
    asked = [(lot.lot, "lot") for lot in rests.lots]
    asked += [(item.sha256, "file") for item in rests.evidence]
    asked += [(name, "instrument") for item in rests.evidence for name in item.instruments]
    asked += [(name, "person") for name, _ in rests.people]
    asked += [(f"{rests.drawing} revision {rests.revision}", "drawing"), (rests.place.set_name, "set")]
    for of, kind in asked:
        assert SERIALS[0] in serials(of, kind), (of, kind)
