"""A chart of plain data as the figure one static script draws; never inside a page."""

from django.http import HttpResponse, JsonResponse

from bladewright.figures import Bars, Chart
from bladewright.papers.screen_chart import screen_bars, screen_chart


def chart_answer(chart: Chart | Bars) -> HttpResponse:
    """The figure of a chart, from an address of its own."""
    figure = screen_bars(chart) if isinstance(chart, Bars) else screen_chart(chart)
    return JsonResponse({"title": chart.title, "note": chart.note, **figure})
