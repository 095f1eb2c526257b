"""One box for a scanner or a hand: whatever the shop has a name for leads to its page."""

from typing import Final

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path

from bladewright.records.finding import Found, look_up
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.links import to_place
from bladewright.web.showing import page

#: what has no page that tells more of it than its trace
_TRACED: Final = ("file", "person", "aircraft", "owner")


def address_of(found: Found) -> str:
    """Where a thing is shown."""
    return to_place("trace" if found.kind in _TRACED else found.kind, *found.names)


@door()
def find(request: DeskRequest) -> HttpResponse:
    """Go to the one thing of that name, or show what there is."""
    text = request.GET.get("text", "").strip()
    found = look_up(text) if text else ()
    if len(found) == 1:
        return redirect(address_of(found[0]))
    lines = [(one, address_of(one)) for one in found]
    return page(request, "desk/find.html", {"text": text, "found": lines})


urls = [path("find/", find, name="find")]
