"""Damage against the limits entered for its zone. Three answers and no fourth; the first two tell what was compared."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bladewright.design.damage_place import Damage, length_text
from bladewright.drawing.blade import Adhesive
from bladewright.drawing.damage_limits import DamageZone
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Finding, Missing, Outcome


class Word(StrEnum):
    """What may be said of damage."""

    WITHIN = "within the entered limit"
    OUTSIDE = "outside: out of service until a named person decides"
    NO_LIMIT = "no limit entered: out of service"


#: the worst first
WORST_FIRST = (Word.OUTSIDE, Word.NO_LIMIT, Word.WITHIN)
OUTCOMES = {Word.WITHIN: Outcome.PASS, Word.OUTSIDE: Outcome.FAIL, Word.NO_LIMIT: Outcome.MISSING}
PROOF = "damage"
REST = "the rest of this place, in no zone"


@dataclass(frozen=True, slots=True)
class Compared:
    """One size against one limit of one zone."""

    zone: str
    what: str  # the size, in words
    value: float  # [m], an area [m^2]
    unit: str
    limit: float | None
    lower: bool = False  # whether the limit is a least value
    source: str | None = None

    def word(self, uncertainty: float | None) -> Word:
        """Inside by less than the uncertainty is not inside."""
        if self.limit is None:
            return Word.NO_LIMIT
        room = self.value - self.limit if self.lower else self.limit - self.value
        return Word.WITHIN if room >= (uncertainty or 0.0) else Word.OUTSIDE


@dataclass(frozen=True, slots=True)
class LimitAnswer:
    """The word, every comparison as a finding, and what keeps a limit from being known."""

    word: Word
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def against_limits(damage: Damage, drawing: BladeDrawing) -> LimitAnswer:
    """The worst word of every zone the damage may lie in."""
    compared = _bondline(damage, drawing.adhesive) if damage.kind == "bondline" else _zones(damage, drawing)
    if not compared:
        need = "adhesive" if damage.kind == "bondline" else "limits.damage.zones"
        gap = Missing("a limit for this place", (need,))
        return LimitAnswer(Word.NO_LIMIT, (), (gap,))
    words = [one.word(_of_area(damage, one)) for one in compared]
    findings = tuple(_finding(one, word, damage) for one, word in zip(compared, words, strict=True))
    unlimited = dict.fromkeys(one.zone for one in compared if one.limit is None)
    gaps = tuple(
        Missing(f"limit of a {damage.kind} in zone {zone}", (f"limits.damage.zones, {zone}",)) for zone in unlimited
    )
    return LimitAnswer(min(words, key=WORST_FIRST.index), findings, gaps)


def zones_at(damage: Damage, drawing: BladeDrawing) -> tuple[DamageZone, ...]:
    """Every zone the damage may lie in; all at its station where nobody said where on the chord it is."""
    limits = drawing.limits.damage
    (inner, outer), (front, back) = reach(damage, drawing)
    return tuple(
        zone
        for zone in (limits.zones if limits else ())
        if zone.inner <= outer and inner <= zone.outer and zone.front <= back and front <= zone.back
    )


def reach(damage: Damage, drawing: BladeDrawing) -> tuple[tuple[float, float], tuple[float, float]]:
    """Between which shares of the rotor radius and of the chord it may lie; the whole chord where nobody said where."""
    plan, unsure = drawing.planform, damage.uncertainty or 0.0
    station = damage.station / plan.tip
    half = 0.5 * (damage.along + unsure) / plan.tip if damage.along is not None else 0.0
    span = (max(station - half, plan.root / plan.tip), min(station + half, 1.0))
    if damage.chordwise is None:
        return span, (0.0, 1.0)
    chord = float(np.interp(damage.station, [s.radius for s in plan.stations], [s.chord for s in plan.stations]))
    half = 0.5 * (damage.across + unsure) / chord if damage.across is not None else 0.0
    return span, (max(damage.chordwise - half, 0.0), min(damage.chordwise + half, 1.0))


def _covered(zones: Sequence[DamageZone], span: tuple[float, float], chord: tuple[float, float]) -> bool:
    """Whether every place of a rectangle lies in a zone: the middles between all the zones' edges do."""
    radii = _middles(span, [edge for zone in zones for edge in (zone.inner, zone.outer)])
    places = _middles(chord, [edge for zone in zones for edge in (zone.front, zone.back)])
    return all(
        any(zone.inner <= y <= zone.outer and zone.front <= x <= zone.back for zone in zones)
        for y in radii
        for x in places
    )


def _middles(ends: tuple[float, float], edges: Sequence[float]) -> list[float]:
    least, greatest = ends
    cuts = sorted({least, greatest, *(edge for edge in edges if least < edge < greatest)})
    return [0.5 * (a + b) for a, b in itertools.pairwise(cuts)] or cuts


def _zones(damage: Damage, drawing: BladeDrawing) -> list[Compared]:
    found = []
    zones = zones_at(damage, drawing)
    if zones and not _covered(zones, *reach(damage, drawing)):
        size = damage.along if damage.kind == "void" else damage.depth
        found.append(Compared(REST, f"size of the {damage.kind}", size or 0.0, "m", None))
    for zone in zones:
        source = zone.source
        if damage.kind in ("nick", "dent"):
            limit = zone.nick_depth if damage.kind == "nick" else zone.dent_depth
            found.append(
                Compared(zone.name, f"depth of the {damage.kind}", damage.depth or 0.0, "m", limit, False, source)
            )
        else:
            found += _void(damage, zone)
    return found


def _void(damage: Damage, zone: DamageZone) -> list[Compared]:
    """Along, across and area, as far as entered; an area alone is a limit, one length alone is none."""
    along, across = damage.along or 0.0, damage.across or 0.0
    rows = [
        Compared(zone.name, "void's length along the span", along, "m", zone.void_along, False, zone.source),
        Compared(zone.name, "void's length across the chord", across, "m", zone.void_across, False, zone.source),
        Compared(zone.name, "void's area, as a rectangle", along * across, "m^2", zone.void_area, False, zone.source),
    ]
    entered = [row for row in rows if row.limit is not None]
    if zone.void_area is not None:
        return entered
    return rows[:2]


def _bondline(damage: Damage, adhesive: Adhesive | None) -> list[Compared]:
    if adhesive is None:
        return []
    value, source = damage.thickness or 0.0, adhesive.source
    return [
        Compared("the whole blade", "bondline's thickness", value, "m", adhesive.bondline_greatest, False, source),
        Compared("the whole blade", "bondline's thickness", value, "m", adhesive.bondline_least, True, source),
    ]


def _of_area(damage: Damage, one: Compared) -> float | None:
    """Uncertainty of what is compared; of an area by its two lengths."""
    if damage.uncertainty is None or one.unit == "m":
        return damage.uncertainty
    return damage.uncertainty * ((damage.along or 0.0) + (damage.across or 0.0))


def _finding(one: Compared, word: Word, damage: Damage) -> Finding:
    uncertainty = _of_area(damage, one)

    def shown(value: float) -> str:
        return length_text(value) if one.unit == "m" else f"{1e6 * value:.3g} mm^2"

    side = "at least" if one.lower else "at most"
    limit = "" if one.limit is None else f"{side} {shown(one.limit)}"
    told = f"{one.what} {shown(one.value)}{f'; {limit}' if limit else ''}"
    if word is Word.OUTSIDE and one.limit is not None and _inside(one):
        told += f", which is nearer than the uncertainty of {shown(uncertainty or 0.0)}"
    return Finding(
        rule=f"{one.zone}: {one.what}, {'least' if one.lower else 'greatest'}",
        outcome=OUTCOMES[word],
        sentence=f"{told}: {word.value}",
        proof=PROOF,
        worst=Figure(one.what, one.value, one.unit, uncertainty, method="as told", validated=bool(one.source)),
        limit=limit,
        limit_source=one.source or "no source entered: unvalidated data",
        deviable=False,
        would_change="a measurement with its uncertainty, a limit entered for this zone, or a named person's decision",
    )


def _inside(one: Compared) -> bool:
    return one.word(None) is Word.WITHIN
