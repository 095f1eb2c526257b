"""Filing evidence: whole or not at all, known again by its hash, nobody signs for another."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.errors import BadInput, NotAuthorised
from bladewright.records.blades import about, blade_named, start_blade
from bladewright.records.evidence import (
    file_coupon,
    file_cure,
    file_dimensions,
    file_weighing,
    filed_for,
    read_filed,
)
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, by, everybody_but

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
