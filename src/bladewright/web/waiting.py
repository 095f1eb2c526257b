"""The first page: what waits for whom, and the one next action of each."""

from dataclasses import dataclass

from django.http import HttpResponse
from django.urls import path

from bladewright.records.waiting import WaitingWork, waiting_work
from bladewright.records.waiting_lines import Group, Place, Waiting
from bladewright.web import clock, following
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.links import to_place
from bladewright.web.showing import page


@dataclass(frozen=True, slots=True)
class Line:
    """A line with where it leads."""

    told: Waiting
    address: str
    mine: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """A group with where its lines lead."""

    group: Group
    lines: tuple[Line, ...]


def _address(place: Place) -> str:
    return to_place(place.kind, place.name, place.part) if place.part else to_place(place.kind, place.name)


@door()
def waiting(request: DeskRequest) -> HttpResponse:
    """Everything that waits, or what waits for whoever looks."""
    everything = waiting_work(clock.now(), following.cures_running())
    mine = everything.of(request.person)
    only_mine = request.GET.get("for") == "me"
    return page(
        request,
        "desk/waiting.html",
        {
            "here": "waiting",
            "work": everything,
            "mine": mine,
            "only_mine": only_mine,
            "first": None if mine.first is None else Line(mine.first, _address(mine.first.place), mine=True),
            "groups": _shown(mine if only_mine else everything, request.person),
        },
    )


def _shown(work: WaitingWork, person: str) -> list[Shown]:
    return [
        Shown(group, tuple(Line(line, _address(line.place), person in line.who) for line in group.lines))
        for group in work.groups
    ]


urls = [path("", waiting, name="waiting")]
