"""How each person wants to see things: units and light. Not part of the history, so beside the book and not in it."""

import json
import threading
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path

from bladewright.records.book import opened
from bladewright.records.placing import put
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.elsewhere import inside

SYSTEMS: Final = {"metric": "metric", "inch": "inch"}
THEMES: Final = {"": "as the screen", "light": "light", "dark": "dark"}


@dataclass(frozen=True, slots=True)
class Chosen:
    """One person's choice."""

    system: str = "metric"
    theme: str = ""


class ChoiceForm(forms.Form):
    """Both choices at once."""

    system = forms.ChoiceField(choices=SYSTEMS.items())
    theme = forms.ChoiceField(choices=THEMES.items(), required=False)


_lock = threading.Lock()
_known: dict[Path, dict[str, Chosen]] = {}


def of(person: str) -> Chosen:
    """What a person chose; metric and the screen's own light until they do."""
    return _all().get(person, Chosen())


def choose(person: str, chosen: Chosen) -> None:
    """Remember it, on the disk as well."""
    with _lock:
        known = _all() | {person: chosen}
        place = _place()
        place.parent.mkdir(parents=True, exist_ok=True)
        put(place, json.dumps({name: asdict(one) for name, one in known.items()}, indent=1).encode())
        _known[place] = known


def _all() -> dict[str, Chosen]:
    place = _place()
    if place not in _known:
        _known[place] = _read(place)
    return _known[place]


def _read(place: Path) -> dict[str, Chosen]:
    """What was chosen before; a lost or torn file costs everybody one choice and nothing else."""
    try:
        return {name: Chosen(**one) for name, one in json.loads(place.read_text(encoding="utf-8")).items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def _place() -> Path:
    return desk_folder(opened().folder).joinpath("preferences.json")


def desk_folder(book: Path) -> Path:
    """What the desk keeps for itself, beside the book: its key and these choices. None of it is history."""
    return book.with_name(book.name + ".desk")


@door(writes=())
def choose_view(request: DeskRequest) -> HttpResponse:
    """Take a person's choice and go back to where they were."""
    form = ChoiceForm(request.POST)
    if form.is_valid():
        choose(request.person, Chosen(**form.cleaned_data))
    return redirect(inside(request, request.POST.get("back", "")))


urls = [path("preferences/", choose_view, name="preferences")]
