"""Every file of the demo is one the evidence readers take, and the same bytes come out every time."""

from pathlib import Path

import pytest

from bladewright.drawing.file import read_drawing
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description, read_pull_description
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.weighing import read_weighing
from examples.fennmark.evidence import Evidence, write_evidence


@pytest.fixture(name="batch", scope="module")
def _batch(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("batch"))


def test_every_file_is_read(batch: Evidence) -> None:
    logger, pull = read_logger_description(batch.logger), read_pull_description(batch.pull)
    for blade in batch.blades:
        assert len(read_cure_log(blade.cure, logger).with_role("mould")) == 6
        coupon = read_coupon(blade.coupon)
        assert coupon.pull_curve == blade.pull_curve.name
        read_pull_curve(blade.pull_curve, pull)
        serials = {coupon.serial, read_dimension_sheet(blade.dimensions).serial}
        serials |= {read_signed_record(path).serial for path in blade.signed}
        if blade.weighing is not None:
            serials.add(read_weighing(blade.weighing).serial)
        assert serials == {blade.serial}


def test_every_required_proof_is_on_file_but_one_weighing(batch: Evidence) -> None:
    required = set(read_drawing(batch.drawing).required_proofs)
    read_from_instruments = {"cure", "coupon", "dimensions", "weighing"}
    for blade in batch.blades:
        assert {read_signed_record(path).proof for path in blade.signed} == required - read_from_instruments
    assert [blade.serial for blade in batch.blades if blade.weighing is None] == ["FM31-0113"]


def test_the_same_bytes_every_time(batch: Evidence, tmp_path: Path) -> None:
    again = write_evidence(tmp_path)
    first = batch.drawing.parent
    files = sorted(path.relative_to(first) for path in first.rglob("*") if path.is_file())
    assert files == sorted(path.relative_to(tmp_path) for path in tmp_path.rglob("*") if path.is_file())
    assert all((first / path).read_bytes() == (tmp_path / path).read_bytes() for path in files)
    assert again.drawing.parent == tmp_path
