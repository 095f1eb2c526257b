"""From a lot, a file, a gauge, a person, a drawing to serials and owners; and back from a serial to all it rests on."""

from typing import Any, Final

from django.http import HttpResponse
from django.urls import path

from bladewright.records.finding import look_up
from bladewright.records.resting import rests_on
from bladewright.records.tracing import owners_to_tell, senses, trace
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.showing import page

#: what a name is called where it stands for several things
_WORDS: Final = {
    "serial": "the blade of that serial",
    "lot": "a lot, ours or its maker's",
    "drawing": "a drawing",
    "person": "a person",
    "set": "a set of blades",
    "aircraft": "an aircraft",
    "owner": "an owner",
    "file": "a file in the book",
    "instrument": "a gauge, a rig or a logger",
}


@door()
def trace_page(request: DeskRequest) -> HttpResponse:
    """What a name leads to; without one, what may be asked."""
    of = request.GET.get("of", "").strip()
    found = senses(of) if of else ()
    asked = request.GET.get("as", "")
    kind = asked if asked in (*found, "instrument") else found[0] if found else ""
    context: dict[str, Any] = {
        "here": "trace", "of": of, "kind": kind, "words": _WORDS.get(kind, ""),
        "senses": [(one, _WORDS[one]) for one in found if one != kind],
    }  # fmt: skip
    if not kind:
        context["near"] = look_up(of) if of else ()
        return page(request, "desk/trace.html", context)
    if kind == "serial":
        return page(request, "desk/rests_on.html", context | {"rests": rests_on(of)})
    went = trace(of, kind, request.GET.get("after", ""))
    owners = went.owners if went.whole else owners_to_tell(of, kind) if request.GET.get("owners") else None
    return page(request, "desk/trace.html", context | {"went": went, "owners": owners})


urls = [path("trace/", trace_page, name="trace")]
