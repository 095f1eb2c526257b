"""Blades that came out alike but not as drawn: what the pilot feels, and which blades may fly together."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bladewright.design.answers import SHARE, whole_name
from bladewright.design.as_built import CHANGE, as_built
from bladewright.design.handle_force import named_cases
from bladewright.design.handle_range import judged_case
from bladewright.design.records import AsBuilt, Departure
from bladewright.design.track import track_model
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import MatchLimits
from bladewright.figures import Figure, Finding, Missing
from bladewright.pairing.differences import spread, values
from bladewright.pairing.quantities import QUANTITIES, SPAN_MOMENT
from bladewright.pairing.records import Candidate
from bladewright.pairing.rules import mates_alike
from bladewright.pairing.track import in_track, track_spreads
from bladewright.units import to_si

DRAWN, ONE, OTHER = "a blade as drawn", "a blade of this batch", "another of this batch"


@dataclass(frozen=True, slots=True)
class Felt:
    """One condition of flight: the change of the handle force, and the whole of it judged."""

    case: str
    all_alike: Figure  # every blade of the set from the batch [N]
    one: Figure | None  # one blade of it among blades as drawn [N]
    judged: tuple[Finding, ...]  # the whole force of a set of the batch, against band and friction

    @property
    def words(self) -> str:
        """Which way the lever changes."""
        return "heavier" if self.all_alike.value > 0.0 else "lighter"

    @property
    def size(self) -> Figure:
        """By how much, without its sign."""
        return replace(self.all_alike, value=abs(self.all_alike.value))


@dataclass(frozen=True, slots=True)
class CameOut:
    """A departure's answer; ``with_drawn`` and ``with_each_other`` are empty where no limits for mates are entered."""

    built: AsBuilt
    felt: tuple[Felt, ...]
    with_drawn: tuple[Finding, ...]
    with_each_other: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def came_out(drawing: BladeDrawing, departures: Sequence[Departure]) -> CameOut:
    """Through ``as_built``; mates are compared by the rules that match measured blades."""
    built = as_built(drawing, departures)
    effects = {figure.name.removeprefix(CHANGE): figure for figure in built.effects}
    limits = drawing.limits.match
    missing = (
        [*built.missing] if limits else [*built.missing, Missing("which blades may fly together", ("limits.match",))]
    )
    if any(departure.uncertainty is None for departure in departures):
        missing.append(Missing("span moment between mates", ("how well the departure is measured",)))
    batch = [_candidate(serial, effects) for serial in (ONE, OTHER)]
    drawn = Candidate(DRAWN, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    return CameOut(
        built=built,
        felt=tuple(_felt(built.drawing, effects)),
        with_drawn=_mates(drawing, (batch[0], drawn), limits) if limits else (),
        with_each_other=_mates(drawing, batch, limits) if limits else (),
        missing=tuple(missing),
    )


def _felt(built: BladeDrawing, effects: Mapping[str, Figure]) -> list[Felt]:
    return [
        Felt(
            case.case,
            effects[whole_name(case.case)],
            effects.get(f"handle force, {case.case}{SHARE}"),
            judged_case(built, case),
        )
        for case in named_cases(built)
        if whole_name(case.case) in effects
    ]


def _mates(drawing: BladeDrawing, blades: Sequence[Candidate], limits: MatchLimits) -> tuple[Finding, ...]:
    weighed = all(math.isfinite(blade.span_moment_uncertainty) for blade in blades)
    quantities = QUANTITIES if weighed else [q for q in QUANTITIES if q is not SPAN_MOMENT]
    apart = [spread(values(blades, q), q, q.limit(limits)) for q in quantities]
    track = in_track(track_spreads(blades, track_model(drawing), limits), limits)
    return (*(mates_alike(one, limits) for one in apart), track)


def _candidate(serial: str, effects: Mapping[str, Figure]) -> Candidate:
    """The batch's differences from the drawing, as matching takes them."""
    span, centre = effects.get("span moment"), effects.get("chordwise centre of mass, aft of the feathering axis")
    pitch, moment = effects.get("effective pitch"), effects.get("section moment coefficient")
    hand = effects.get(f"handle force, hover{SHARE}")
    lowest = effects.get(f"handle force, lowest collective, greatest power-off speed{SHARE}")
    return Candidate(
        serial,
        span.value if span else 0.0,
        math.inf if (known := _known(span)) is None else known,
        *_pair(centre),
        *_pair(moment),
        *_pair(pitch, "deg"),
        *_pair(hand),
        *_pair(lowest),
        handle_force_validated=hand.validated if hand else False,
    )


def _pair(figure: Figure | None, unit: str = "") -> tuple[float | None, float | None]:
    if figure is None:
        return None, None
    known = _known(figure)
    return _si(figure.value, unit), None if known is None else _si(known, unit)


def _known(figure: Figure | None) -> float | None:
    return figure.uncertainty if figure else None


def _si(value: float, unit: str) -> float:
    return to_si(f"{value!r} {unit}", "angle") if unit else value
