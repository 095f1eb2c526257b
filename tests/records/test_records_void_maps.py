"""Filing a void map: who may, what is refused before it is filed, and that the blade is judged on it."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BadInput, NotAuthorised, SeveralBadInputs
from bladewright.evidence.void_map import VoidMapEntries, void_map_bytes
from bladewright.records.blades import about
from bladewright.records.evidence import file_void_map
from bladewright.records.judging import judge
from tests.records.cast import AT, INSPECTOR, MAKER, by, everybody_but

pytestmark = pytest.mark.book

SERIAL = "B-0101"
SEAM = {"bondline": "trailing-edge seam", "inner": "0.25 m", "outer": "3.55 m"}
VOID = {"bondline": "trailing-edge seam", "station": "2 m", "chordwise": "96 %", "along": "9 mm", "across": "3 mm"}
Written = Callable[..., Path]


@pytest.fixture(name="void_map")
def _void_map(tmp_path: Path) -> Written:
    def written(found_by: str = INSPECTOR, found_on: str = "2026-03-20", void: dict[str, str] | None = None) -> Path:
        path = tmp_path / "map.toml"
        entries = VoidMapEntries(SERIAL, found_by, found_on, "tapped", "1 mm", [SEAM], [VOID | (void or {})])
        path.write_bytes(void_map_bytes(entries))
        return path

    return written


@pytest.mark.usefixtures("batch")
def test_a_map_on_file_is_judged_with_the_blade(void_map: Written) -> None:
    filed = file_void_map(by(INSPECTOR), void_map())
    assert (filed.kind, filed.serials, filed.already) == ("void map", (SERIAL,), False)
    assert file_void_map(by(INSPECTOR), void_map()).already
    verdict = judge(by(INSPECTOR), SERIAL).verdict
    assert "void map" not in verdict.missing_proofs
    rules = [finding.rule for finding in verdict.findings]
    assert "void map: void 1, trailing-edge seam, 2.000 m, 96 % chord" in rules
    assert "void map: spar to top skin, whole span" in rules
    assert [item.kind for item in about(SERIAL).evidence] == ["void map"]


@pytest.mark.usefixtures("batch")
@pytest.mark.parametrize("who", everybody_but(INSPECTOR))
def test_only_who_inspects_files_a_map(void_map: Written, who: str) -> None:
    with pytest.raises(NotAuthorised):
        file_void_map(by(who), void_map(found_by=who))
    assert about(SERIAL).evidence == ()


@pytest.mark.usefixtures("batch")
def test_nobody_maps_for_another(void_map: Written) -> None:
    with pytest.raises(NotAuthorised) as caught:
        file_void_map(by(INSPECTOR), void_map(found_by=MAKER))
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("found_by", MAKER, INSPECTOR)


@pytest.mark.usefixtures("batch")
def test_a_map_from_the_future_is_refused(void_map: Written) -> None:
    tomorrow = AT.date() + datetime.timedelta(days=1)
    with pytest.raises(BadInput) as caught:
        file_void_map(by(INSPECTOR), void_map(found_on=tomorrow.isoformat()))
    assert caught.value.field == "found_on"


@pytest.mark.usefixtures("batch")
def test_what_the_drawn_blade_does_not_have_is_all_named_at_once(void_map: Written) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        file_void_map(by(INSPECTOR), void_map(void={"bondline": "keel", "station": "5 m"}))
    assert [error.field for error in caught.value.errors] == ["voids.1.bondline", "voids.1.station"]
    assert about(SERIAL).evidence == ()
