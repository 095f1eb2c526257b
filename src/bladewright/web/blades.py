"""Every serial, by the page, and found by a part of its name."""

from django.http import HttpResponse
from django.urls import path

from bladewright.records.blade_list import blades_page
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.links import to_place
from bladewright.web.showing import page


@door()
def blades(request: DeskRequest) -> HttpResponse:
    """Serials in order, with the word of the newest verdict and the set each is in."""
    search = request.GET.get("text", "").strip()[:200]
    only_open = request.GET.get("which") == "open"
    found = blades_page(search=search, after=request.GET.get("after", "")[:200], only_open=only_open)
    lines = [(line, to_place("blade", line.serial), to_place("set", line.set_name)) for line in found.blades]
    return page(
        request,
        "desk/blades.html",
        {"here": "blades", "lines": lines, "after": found.after, "search": search, "only_open": only_open},
    )


urls = [path("blades/", blades, name="blades")]
