"""The oven: what runs in it now, what ran, and whether it may be used. The desk reads logs and commands no heater."""

from django.http import HttpResponse
from django.urls import path

from bladewright.figures import Outcome
from bladewright.proof.oven_ready import PRACTICE
from bladewright.records.cures import filed_cures
from bladewright.records.oven_on_file import oven_on_file
from bladewright.web import clock, following
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.showing import page


@door()
def oven(request: DeskRequest) -> HttpResponse:
    """Everything about the oven at a glance."""
    asked = request.GET.get("asked", "").strip()
    older = request.GET.get("older", "")
    files = following.files()
    ovens = oven_on_file(clock.now())
    context = {
        "here": "oven",
        "folder": following.folder(),
        "running": following.running(),
        "ovens": ovens,
        "unfit": [one for one in ovens if one.outcome is not Outcome.PASS],
        "at_rest": [file for file in files if not following.is_growing(file)][:10],
        "cures": filed_cures(int(older) if older.isdecimal() and len(older) < 18 else None, asked=asked),
        "asked": asked,
        "practice": PRACTICE,
    }
    return page(request, "desk/oven.html", context)


urls = [path("oven/", oven, name="oven")]
