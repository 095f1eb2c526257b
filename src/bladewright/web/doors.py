"""Who may come in, said at each view: everybody, whoever is signed in, or those with an authorisation."""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse, HttpResponseNotAllowed

from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.web import addresses as addresses  # each view's addresses are made of its kinds
from bladewright.web import clock
from bladewright.web.asking import DeskRequest

View = Callable[..., HttpResponse]


@dataclass(frozen=True, slots=True)
class Door:
    """``writes``: what is sent here needs one of these; None: nothing is sent here. Empty: any signed-in person."""

    public: bool = False
    writes: tuple[Scope, ...] | None = None


def door(*, writes: tuple[Scope, ...] | None = None, public: bool = False) -> Callable[[View], View]:
    """Let nobody in who may not: without a person to the door, without the authorisation no further."""

    def hang(view: View) -> View:
        @functools.wraps(view)
        def guarded(request: DeskRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            asked = ("POST",) if writes is not None else ("GET", "HEAD", "POST") if public else ("GET", "HEAD")
            if request.method not in asked:
                return HttpResponseNotAllowed(asked)
            if not public and not request.person:
                from bladewright.web.entering import ask

                return ask(request)
            if writes:
                require(Act(request.person, clock.now()), *writes)
            return view(request, *args, **kwargs)

        guarded.door = Door(public, writes)  # type: ignore[attr-defined]
        return guarded

    return hang
