"""Charts draw what the numbers are: the log's gaps, extremes kept when thinned, typed names taken literally."""

import dataclasses

import numpy as np
import pytest

from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.records import Channel, CureLog, PullCurve
from bladewright.papers.cure_chart import cure_chart, cure_words, open_gaps
from bladewright.papers.pictures import Pictures, cure_picture, pull_picture
from bladewright.papers.planform_chart import planform_chart, planform_words
from bladewright.papers.pull_chart import pull_chart, pull_words
from bladewright.papers.records import CureChart, PullChart


def test_an_open_sensor_is_found_with_its_first_and_last_missing_reading(cure_log: CureLog) -> None:
    assert open_gaps(cure_log) == [("M4", 96.0 * 60.0, 107.0 * 60.0)]


def test_a_gap_is_told_to_those_who_cannot_see_it(cure_log: CureLog, drawing: BladeDrawing) -> None:
    alt, note = cure_words(CureChart(cure_log, drawing.limits.cure))
    for words in (alt, note):
        assert "M4 gives no reading from 96 to 107 min" in words
    assert "245 to 255 °F" in alt


def test_a_log_of_a_hundred_thousand_rows_draws_small(cure_log: CureLog, drawing: BladeDrawing) -> None:
    count = 100_000
    long = dataclasses.replace(
        cure_log,
        seconds=np.arange(count) * 0.1,
        values=np.repeat(cure_log.values, count // len(cure_log.seconds) + 1, axis=0)[:count],
        rows=np.arange(2, count + 2),
    )
    assert len(cure_chart(CureChart(long, drawing.limits.cure))) < 1_500_000


@pytest.mark.parametrize("name", ["$T_1$", "M\\frac{", "日本 😀", "_hidden", "<svg>&amp;"])
def test_a_channel_may_be_called_anything(cure_log: CureLog, drawing: BladeDrawing, name: str) -> None:
    channels = tuple(dataclasses.replace(channel, name=name) for channel in cure_log.channels)
    svg = cure_chart(CureChart(dataclasses.replace(cure_log, channels=channels), drawing.limits.cure))
    assert svg.rstrip().endswith(b"</svg>")


def test_charts_keep_text_as_outlines_and_no_date(cure_log: CureLog, drawing: BladeDrawing) -> None:
    svg = cure_chart(CureChart(cure_log, drawing.limits.cure))
    assert b"<text" not in svg
    assert b"<dc:date>" not in svg


def test_a_cure_with_no_limits_no_dwell_and_no_reading_still_draws(cure_log: CureLog) -> None:
    dead = dataclasses.replace(cure_log, values=np.full_like(cure_log.values, np.nan), start=None)
    item = CureChart(dead)
    assert cure_chart(item).rstrip().endswith(b"</svg>")
    assert "No cure limits entered" in cure_words(item)[1]


def test_a_log_without_mould_sensors_draws(cure_log: CureLog, drawing: BladeDrawing) -> None:
    only_air = dataclasses.replace(cure_log, channels=(Channel("A1", "air"),), values=cure_log.values[:, :1])
    assert cure_chart(CureChart(only_air, drawing.limits.cure)).rstrip().endswith(b"</svg>")


def test_a_log_of_one_row_is_said_and_not_drawn(cure_log: CureLog) -> None:
    one = dataclasses.replace(cure_log, seconds=cure_log.seconds[:1], values=cure_log.values[:1])
    assert "fewer than two rows" in cure_picture(Pictures(), CureChart(one))["note"]


def test_force_per_width_in_words_is_force_over_width(pull_curve: PullCurve) -> None:
    level = dataclasses.replace(pull_curve, force=np.full_like(pull_curve.force, 20.0 * 4.4482216))
    alt, _ = pull_words(PullChart("tip", level, 0.0254))
    assert "least 20.0 and greatest 20.0 pounds-force per inch" in alt  # 20 lbf on one inch of width


def test_a_pull_curve_without_limits_mean_or_judged_part_draws(pull_curve: PullCurve) -> None:
    item = PullChart("tip", pull_curve, 0.0254)
    assert pull_chart(item).rstrip().endswith(b"</svg>")
    note = pull_picture(Pictures(), item)["note"]
    assert "No mean given" in note
    assert "No peel limit entered" in note
    assert "Which part was judged is not given" in note


def test_a_bare_drawing_has_a_planform(drawing: BladeDrawing) -> None:
    bare = drawing.model_copy(update={"spar": None, "reflex": None, "doubler": None, "tip_weight": None})
    assert planform_chart(bare).rstrip().endswith(b"</svg>")
    assert "reflex" not in planform_words(bare)[0]
    assert "reflex of the top skin 2.00° from 90% of chord" in planform_words(drawing)[0]
