"""Invented blades to match: all alike unless told otherwise, every quantity known."""

import dataclasses
from typing import Any

from bladewright.drawing.blade import TrimPocket
from bladewright.drawing.limits import MatchLimits, WeighLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.figures import Finding, Outcome
from bladewright.pairing.records import Balance, BladeSet, Candidate
from bladewright.pairing.terms import Places, Terms
from bladewright.pairing.track import TrackModel

LIMITS = MatchLimits(
    span_moment="0.010 kg m",
    chordwise_centre="0.4 mm",
    section_moment=0.0010,
    effective_pitch="0.10 deg",
    track="3 mm",
    handle_force="2 N",
    source="invented drawing",
)
BAND = HandleBand(least="-9 N", greatest="22 N")
POCKETS = (
    TrimPocket(name="tip forward", radius="3.5 m", chordwise="12 %", greatest="60 g"),
    TrimPocket(name="tip aft", radius="3.5 m", chordwise="42 %", greatest="40 g"),
)
BALANCE = Balance(mass=12.0, centre=0.0, chord=0.2, feathering_axis=0.25)
WEIGHING = WeighLimits(span_moment="0.060 kg m", chordwise_centre="1.0 mm")

TRACK = TrackModel(per_pitch=1.2, windup_soft=1.6, windup_stiff=0.4)
PLACES = Places(POCKETS, BALANCE, WEIGHING)


def terms(places: Places = PLACES, **more: Any) -> Terms:
    """All that the tests of a set are made with, but for what is said."""
    return dataclasses.replace(Terms(LIMITS, BAND, 8.0, places, 50.0, TRACK), **more)


_MEAN = Candidate(
    serial="", span_moment=0.0, span_moment_uncertainty=0.002, chordwise_centre=0.0, chordwise_uncertainty=5e-5,
    section_moment=0.0, section_moment_uncertainty=1e-4, effective_pitch=0.0, effective_pitch_uncertainty=2e-4,
    handle_force=4.0, handle_force_uncertainty=0.5, handle_force_lowest=1.0, handle_force_lowest_uncertainty=0.5,
)  # fmt: skip


def blade(serial: str, **more: Any) -> Candidate:
    """A blade like the drawing's, but for what is said."""
    return dataclasses.replace(_MEAN, serial=serial, **more)


def finding(one: BladeSet, rule: str) -> Finding:
    """The one finding of a rule."""
    (found,) = [f for f in one.findings if f.rule == rule]
    return found


def outcomes(one: BladeSet) -> dict[str, Outcome]:
    """Each rule and what it says."""
    return {f.rule: f.outcome for f in one.findings}
