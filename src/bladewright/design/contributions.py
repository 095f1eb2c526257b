"""What each measured departure of one blade adds in flight by itself, beside what they come to together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bladewright import units
from bladewright.design.as_built import CHANGE, NOTHING, as_built
from bladewright.design.records import Departure
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Axis, Bars, Figure, Missing

HANDLE = f"{CHANGE}handle force, hover, this blade's share"
PITCH = f"{CHANGE}effective pitch"
SPAN_MOMENT = f"{CHANGE}span moment"
#: told side by side: what the hand feels in the hover, what splits the track, what shakes; each with its unit by system
TOLD: dict[str, tuple[str, str, str]] = {
    HANDLE: ("at the handle", "N", "lbf"),
    PITCH: ("effective pitch", "deg", "deg"),
    SPAN_MOMENT: ("span moment", "kg m", "lb in"),
}
_KINDS = {"lbf": "force", "lb in": "span moment"}


@dataclass(frozen=True, slots=True)
class Contribution:
    """One departure by itself: its words, and its effects by name."""

    words: str
    effects: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class InFlight:
    """Departures together and one by one, and what is not computed."""

    together: tuple[Figure, ...]
    alone: tuple[Contribution, ...]
    missing: tuple[Missing, ...]


def in_flight(drawing: BladeDrawing, departures: Sequence[tuple[str, Departure]]) -> InFlight:
    """Each departure with its words, asked of ``as_built`` together and by itself."""
    together = as_built(drawing, [departure for _, departure in departures])
    alone, missing = [], list(together.missing)
    for words, departure in departures:
        built = as_built(drawing, [departure])
        alone.append(Contribution(words, {effect.name: effect for effect in built.effects}))
        missing += built.missing
    return InFlight(together.effects, tuple(alone), tuple(dict.fromkeys(missing)))


def bars(found: InFlight, effect: str, system: str = "metric") -> Bars:
    """One effect of every departure side by side, and of all together below."""
    words, metric, inch = TOLD[effect]
    unit = inch if system == "inch" else metric
    rows = [
        (one.words, _in(one.effects[effect].value, unit))
        for one in found.alone
        if effect in one.effects and abs(one.effects[effect].value) > NOTHING
    ]
    total = next((figure for figure in found.together if figure.name == effect), None)
    if total is not None:
        rows.append(("all together", _in(total.value, unit)))
    return Bars(
        name=effect.removeprefix(CHANGE).replace(" ", "-").replace(",", "").replace("'", ""),
        title=f"{words[:1].upper()}{words[1:]}, against the drawing",
        axis=Axis(words, unit),
        rows=tuple(rows),
        note="Each as if the others were as drawn; together they need not add up. An estimate until flown.",
    )


def _in(value: float, unit: str) -> float:
    return units.from_si(value, unit, _KINDS[unit]) if unit in _KINDS else value


def told(found: InFlight) -> tuple[Figure, ...]:
    """What they come to together, each named without the words all of them share."""
    return tuple(replace(figure, name=figure.name.removeprefix(CHANGE)) for figure in found.together)
