"""One box for a scanner or a hand: whatever the shop has a name for leads to its page."""

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import NoReverseMatch, path, reverse

from bladewright.records.finding import Found, look_up
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.showing import page

#: kind -> name of the address that shows it
PAGE_OF = {
    "blade": "blade",
    "set": "set",
    "lot": "lot",
    "drawing": "drawing",
    "file": "trace",
    "person": "trace",
    "aircraft": "trace",
    "owner": "trace",
}


def address_of(found: Found) -> str:
    """Where a thing is shown."""
    name = PAGE_OF[found.kind]
    try:
        return reverse(name, args=found.names)
    except NoReverseMatch:
        return reverse("trace", query={"of": found.names[0]})


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
