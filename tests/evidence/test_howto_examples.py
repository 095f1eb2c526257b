"""Every example in the how-to pages of this room is read as it stands there."""

import re
from pathlib import Path

import numpy as np
import pytest

from bladewright.drawing.counting_rule import parse_counting_rule
from bladewright.evidence.calibration import read_calibration
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description, parse_pull_description
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.freezer_log import read_freezer_log
from bladewright.evidence.outlined import read_outlined
from bladewright.evidence.oven_file import read_oven
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.void_map import read_void_map
from bladewright.evidence.weighing import read_weighing
from tests.evidence.test_outlined import png

PAGES = Path(__file__).parents[2] / "docs" / "howto"


def _blocks(page: str) -> list[bytes]:
    text = (PAGES / page).read_text(encoding="utf-8")
    return [block.encode() for block in re.findall(r"^ *```(?:toml|text)\n(.*?)^ *```", text, re.DOTALL | re.MULTILINE)]


def test_the_logger_description() -> None:
    log, description, pull = _blocks("logger-description.md")
    read = read_cure_log(log, parse_logger_description(description, "tool-2.toml"), "run-031.csv")
    assert read.time_of(0) == "2026-03-02T13:00:00Z"
    assert read.rows.tolist() == [4, 5, 6]
    assert [channel.role for channel in read.channels] == ["mould", "mould", "heater", "pressure"]
    # 70.4 degF is 64/3 degC
    assert read.values[0, 0] == pytest.approx(273.15 + 64.0 / 3.0)
    assert np.isnan(read.values[1, 2])
    assert parse_pull_description(pull, "peel.toml").force.unit == "lbf"


def test_the_shop_files() -> None:
    coupon, sheet, weighing, signed, voids = _blocks("shop-files.md")
    assert read_coupon(coupon).width == pytest.approx(0.0254)
    assert len(read_dimension_sheet(sheet).rows) == 2
    weighed = read_weighing(weighing)
    assert weighed.span_moment_difference == pytest.approx(0.011, abs=0.001)
    assert weighed.chordwise_difference == pytest.approx(0.00028, abs=0.00002)
    assert read_signed_record(signed).proof == "surface treatment"
    assert read_void_map(voids).voids[0].station == pytest.approx(2.66)


def test_the_outlined_photograph() -> None:
    (outlines,) = _blocks("coupons.md")
    read = read_outlined(outlines, png(1029, 212), "root-top.toml", "root-top.jpg")
    assert [(area.mode, len(area.corners)) for area in read.areas] == [("CF", 4), ("SCF", 5)]
    assert read.marks[0].length == pytest.approx(0.0254)


def test_the_calibration() -> None:
    (calibration,) = _blocks("sensor-found-off.md")
    read = read_calibration(calibration)
    assert (read.sensor, read.channel, read.uncertainty) == ("TC-12", "M4", pytest.approx(0.3))
    assert read.corrections == pytest.approx((-0.5, -1.0))


def test_the_counting_rule_and_the_freezer_log() -> None:
    rule, log = _blocks("adhesive-rolls.md")
    counting = parse_counting_rule(rule, "film.toml")
    assert counting.limit == 200.0 * 3600.0
    assert counting.acceptance is not None
    assert (counting.acceptance.coupons_least, counting.acceptance.shear_mean_least) == (5, 30e6)
    roll = read_freezer_log(log)
    assert (roll.number, roll.before_receipt, len(roll.entries), len(roll.unlogged)) == ("F-70", 9.0 * 3600.0, 2, 1)
    assert roll.entries[0].at.isoformat() == "2026-06-03T08:00:00-04:00"
    assert [(test.lot, len(test.shear), len(test.peel)) for test in roll.acceptance] == [("L-900", 2, 1)]


def test_the_oven() -> None:
    (oven,) = _blocks("oven-checks.md")
    read = read_oven(oven)
    assert (read.name, read.survey_limits.soak, len(read.surveys), len(read.checks)) == ("blade oven", 1800.0, 1, 1)
    assert read.checks[0].working - read.checks[0].check == pytest.approx(-0.8 / 1.8)
