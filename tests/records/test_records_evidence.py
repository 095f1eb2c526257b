"""Filing evidence: whole or not at all, known again by its hash, nobody signs for another."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from bladewright.errors import BadInput, BladewrightError, MissingInput, NotAuthorised
from bladewright.records.acts import Scope
from bladewright.records.blades import about, blade_named, start_blade
from bladewright.records.evidence import (
    file_coupon,
    file_cure,
    file_dimensions,
    file_weighing,
    filed_for,
    read_filed,
    sign,
)
from bladewright.records.people import authorise
from bladewright.records.ready import models
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, OFFICE, by, everybody_but

pytestmark = pytest.mark.book

SERIAL = "FM31-0107"
OTHER = "FM31-0112"


@pytest.fixture(autouse=True)
def _started(shop: object) -> None:  # noqa: ARG001
    for serial in (SERIAL, OTHER):
        start_blade(by(MAKER), serial, "FM-31", "A")


def test_everything_filed_is_read_back_from_the_kept_bytes(files: Evidence) -> None:
    blade = files.blades[0]
    assert blade.weighing is not None
    filed = (
        file_cure(by(MAKER), [SERIAL], blade.cure, files.logger),
        file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull),
        file_dimensions(by(INSPECTOR), blade.dimensions),
        file_weighing(by(INSPECTOR), blade.weighing),
    )
    assert not any(line.already for line in filed)
    evidence = read_filed(filed_for(blade_named(SERIAL)))
    assert [log.source.sha256 for log in evidence.cures] == [filed[0].sha256]
    coupon, curve = evidence.coupons[0]
    assert coupon.serial == SERIAL
    assert curve is not None
    assert np.all(np.isfinite(curve.force))
    assert (len(evidence.sheets), len(evidence.weighings)) == (1, 1)
    assert [line.kind for line in about(SERIAL).evidence] == ["cure", "coupon", "dimensions", "weighing"]


def test_a_thickness_in_degrees_is_not_filed(tmp_path: Path) -> None:
    head = "serial,feature,station,value,uncertainty,gauge,measured_by,measured_on"
    sheet = tmp_path / "sheet.csv"
    # 0.0465 deg is 0.00081 rad: as a bare number it would pass for a thickness of 0.032 in
    row = f"{SERIAL},skin.top_thickness,,0.0465 deg,0.001 deg,M-1,{INSPECTOR},2026-03-30"
    sheet.write_text(f"{head}\n{row}\n", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        file_dimensions(by(INSPECTOR), sheet)
    found = caught.value
    assert (found.file, found.row, found.value, found.allowed) == ("sheet.csv", 2, "0.0465 deg", "a unit of length")
    assert about(SERIAL).evidence == ()


@pytest.mark.parametrize("who", everybody_but(MAKER))
def test_only_who_makes_files_a_cure(who: str, files: Evidence) -> None:
    with pytest.raises(NotAuthorised):
        file_cure(by(who), [SERIAL], files.blades[0].cure, files.logger)
    assert about(SERIAL).evidence == ()


@pytest.mark.parametrize("who", everybody_but(INSPECTOR))
def test_only_who_inspects_files_coupons_and_dimensions(who: str, files: Evidence) -> None:
    blade = files.blades[0]
    for filing in (
        lambda: file_coupon(by(who), blade.coupon, blade.pull_curve, files.pull),
        lambda: file_dimensions(by(who), blade.dimensions),
    ):
        with pytest.raises(NotAuthorised):
            filing()
    assert about(SERIAL).evidence == ()


@pytest.mark.parametrize("who", everybody_but(INSPECTOR, MAKER))
def test_makers_and_inspectors_weigh(who: str, files: Evidence) -> None:
    weighing = files.blades[0].weighing
    assert weighing is not None
    with pytest.raises(NotAuthorised):
        file_weighing(by(who), weighing)
    assert not file_weighing(by(MAKER), weighing).already


def test_the_same_bytes_are_filed_once(files: Evidence, tmp_path: Path) -> None:
    first = file_cure(by(MAKER), [SERIAL], files.blades[0].cure, files.logger)
    renamed = tmp_path / "another-name.csv"
    renamed.write_bytes(files.blades[0].cure.read_bytes())
    before = models.Event.objects.count()
    again = file_cure(by(MAKER), [SERIAL], renamed, files.logger)
    assert again.already
    assert again.sha256 == first.sha256
    assert models.Event.objects.count() == before


def test_one_blades_cure_does_not_become_anothers(files: Evidence) -> None:
    file_cure(by(MAKER), [SERIAL], files.blades[0].cure, files.logger)
    with pytest.raises(BadInput) as caught:
        file_cure(by(MAKER), [OTHER], files.blades[0].cure, files.logger)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("serials", OTHER, SERIAL)


def test_a_log_is_not_read_another_way_later(files: Evidence, tmp_path: Path) -> None:
    file_cure(by(MAKER), [SERIAL], files.blades[0].cure, files.logger)
    other = tmp_path / "logger.toml"
    other.write_bytes(files.logger.read_bytes() + b"# changed\n")
    with pytest.raises(BadInput) as caught:
        file_cure(by(MAKER), [SERIAL], files.blades[0].cure, other)
    assert caught.value.field == "description"


def test_one_pull_curve_does_not_prove_two_coupons(files: Evidence, tmp_path: Path) -> None:
    blade = files.blades[0]
    file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull)
    second = tmp_path / "second.toml"
    second.write_text(blade.coupon.read_text(encoding="utf-8").replace(SERIAL, OTHER, 1), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        file_coupon(by(INSPECTOR), second, blade.pull_curve, files.pull)
    assert (caught.value.field, caught.value.value) == ("pull_curve", blade.pull_curve.name)


def test_a_coupon_comes_with_the_curve_it_names(files: Evidence) -> None:
    blade, other = files.blades[0], files.blades[1]
    with pytest.raises(MissingInput) as alone:
        file_coupon(by(INSPECTOR), blade.coupon)
    assert alone.value.field == "pull_curve"
    with pytest.raises(BadInput) as wrong:
        file_coupon(by(INSPECTOR), blade.coupon, other.pull_curve, files.pull)
    assert (wrong.value.field, wrong.value.allowed) == ("pull_curve", blade.pull_curve.name)


def test_a_file_with_one_bad_cell_is_not_filed_and_leaves_nothing(files: Evidence, tmp_path: Path) -> None:
    text = files.blades[0].cure.read_text(encoding="utf-8").splitlines()
    text[9] = text[9].replace(",", ",x", 3)
    bad = tmp_path / "bad.csv"
    bad.write_text("\n".join(text) + "\n", encoding="utf-8")
    before = models.Event.objects.count(), models.StoredFile.objects.count()
    with pytest.raises(BladewrightError) as caught:
        file_cure(by(MAKER), [SERIAL], bad, files.logger)
    assert caught.value.file == "bad.csv"
    assert (models.Event.objects.count(), models.StoredFile.objects.count()) == before


def test_a_cure_names_blades_the_book_knows(files: Evidence) -> None:
    with pytest.raises(BadInput) as none:
        file_cure(by(MAKER), [], files.blades[0].cure, files.logger)
    assert none.value.field == "serials"
    with pytest.raises(MissingInput) as unknown:
        file_cure(by(MAKER), [SERIAL, "FM31-9999"], files.blades[0].cure, files.logger)
    assert (unknown.value.field, unknown.value.value) == ("serial", "FM31-9999")
    assert about(SERIAL).evidence == ()


def test_one_run_may_speak_for_several_blades(files: Evidence) -> None:
    line = file_cure(by(MAKER), [OTHER, SERIAL, OTHER], files.blades[0].cure, files.logger)
    assert line.serials == (SERIAL, OTHER)
    assert [row.sha256 for row in about(OTHER).evidence] == [line.sha256]


def test_nobody_signs_for_another(signed_file: Callable[..., Path]) -> None:
    path = signed_file(SERIAL, signed_by=INSPECTOR)
    with pytest.raises(NotAuthorised) as caught:
        sign(by(MAKER), path)
    assert (caught.value.field, caught.value.value) == ("signed_by", INSPECTOR)
    assert [sign(by(INSPECTOR), path).already for _ in range(2)] == [False, True]


@pytest.mark.parametrize("who", everybody_but(INSPECTOR, MAKER))
def test_only_who_makes_or_inspects_signs(who: str, signed_file: Callable[..., Path]) -> None:
    with pytest.raises(NotAuthorised):
        sign(by(who), signed_file(SERIAL, signed_by=who))


def test_the_final_inspection_is_an_inspectors(signed_file: Callable[..., Path]) -> None:
    with pytest.raises(NotAuthorised) as caught:
        sign(by(MAKER), signed_file(SERIAL, signed_by=MAKER, proof="final inspection"))
    assert Scope.INSPECT in str(caught.value.allowed)
    authorise(by(OFFICE), MAKER, Scope.INSPECT, AT.date())
    assert not sign(by(MAKER), signed_file(SERIAL, signed_by=MAKER, proof="final inspection")).already
