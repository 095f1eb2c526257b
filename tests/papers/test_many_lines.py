"""A chart with lines to compare with and shaded reaches says the same on screen, on paper and in words."""

import plotly.graph_objects as go

from bladewright.figures import Axis, Chart, Curve, Reach
from bladewright.papers.printed_chart import chart_words, printed_chart
from bladewright.papers.screen_chart import screen_chart

FAN = Chart(
    "fan",
    "Frequencies",
    Axis("rotor speed", "rpm"),
    Axis("frequency", "Hz"),
    (
        Curve("2 per rev", (0.0, 600.0), (0.0, 20.0), beside=True),
        Curve("4 per rev", (0.0, 600.0, 660.0), (0.0, 40.0, None), beside=True),
        Curve("first flap", (0.0, 600.0), (1.0, 11.0)),
        Curve("second flap", (0.0, 600.0), (9.0, 27.0)),
    ),
    reaches=(Reach("power off", 450.0, 540.0), Reach("power on", 485.0, 510.0)),
)


def test_lines_to_compare_with_are_named_at_their_end_and_not_in_the_legend() -> None:
    figure = go.Figure(screen_chart(FAN))
    shown = {trace.name: trace.showlegend for trace in figure.data}
    assert shown["2 per rev"] is False
    assert shown["first flap"] is None
    ends = {note.text: (note.x, note.y) for note in figure.layout.annotations if "per rev" in note.text}
    assert ends == {"2 per rev": (600.0, 20.0), "4 per rev": (600.0, 40.0)}  # not where nothing is known


def test_lines_to_compare_with_take_no_stroke_from_the_others() -> None:
    alone = Chart("fan", "", FAN.x, FAN.y, FAN.curves[2:])
    colours = [[t["line"]["color"] for t in screen_chart(one)["data"]][-2:] for one in (FAN, alone)]
    assert colours[0] == colours[1]


def test_reaches_are_shaded_below_the_lines_from_end_to_end() -> None:
    shapes = [shape for shape in go.Figure(screen_chart(FAN)).layout.shapes if shape.type == "rect"]
    assert [(shape.x0, shape.x1, shape.layer) for shape in shapes] == [(450.0, 540.0, "below"), (485.0, 510.0, "below")]


def test_the_printed_chart_is_the_same_bytes_and_its_words_name_the_reaches() -> None:
    assert printed_chart(FAN) == printed_chart(FAN)
    assert "shaded from 450 to 540: power off" in chart_words(FAN)
    assert "2 per rev: 0 at 0, 20 at 600" in chart_words(FAN)
