"""Every mode of the drawn blade judged over the whole range of rotor speeds, soft and stiff control run."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_beam import beam_gaps, blade_beam
from bladewright.design.blade_root import PATTERNS, blade_root
from bladewright.design.control_runs import (
    RPM,
    SpeedRange,
    control_runs,
    greatest_speed,
    root_gaps,
    speed_ranges,
    taken_for_want,
)
from bladewright.design.fans import Approach, Fan, nearest_approaches
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import Pattern
from bladewright.engine.dynamics.blade_modes import mode_names
from bladewright.engine.dynamics.fan_plot import FanPlot, fan_plot
from bladewright.engine.dynamics.harmonics import excited_harmonics
from bladewright.figures import Figure, Finding, Missing, Outcome

PROOF = "dimensions"  # the proof that the blade is as its drawing says
ANSWER = "modes over the whole range of rotor speeds"
RESPONSE = "response to the air's harmonics"
BEYOND = 1.1  # of the greatest rotor speed: how far the fan is drawn
SPEEDS = 34  # of the fan
MODES = 7  # followed in each fan
HIGHEST = 8  # harmonic; above it the air's loads are small: common practice, no source
USUAL_MARGIN = 0.10
USUAL_SOURCE = "10 % where none is entered: common practice, no source"
USUAL_COLLECTIVE = float(np.radians(7.0))  # where the drawing gives no range; modes hardly move with it
ALIKE: Mapping[Pattern, str] = {"collective": "all blades alike", "cyclic": "blades in turn"}
METHOD = "turning beam, flap, chord and twist coupled; docs/theory/rotating-beam"
VALIDITY = "small motion about the straight blade; hub taken as rigid; no air"
SOURCE = "J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958 (from memory)"
NEXT = "move the mode (mass, spar, tip weight, control run), keep the rotor off that speed, or measure it in a shake"


@dataclass(frozen=True, slots=True)
class Frequencies:
    """Every fan, what each mode comes near, and the judgement."""

    fans: tuple[Fan, ...]
    nearest: tuple[Approach, ...]  # of each mode and pattern every one nearer than the margin, or the nearest
    margin: float  # a mode keeps from a harmonic, of the harmonic's frequency [1]
    ranges: tuple[SpeedRange, ...]
    harmonics: Mapping[Pattern, tuple[int, ...]]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def frequencies(drawing: BladeDrawing) -> Frequencies:
    """The fans of both patterns at both ends of the collective, and each mode against what can excite it."""
    gaps = (*beam_gaps(drawing), *root_gaps(drawing, ANSWER))
    rotor = drawing.rotor
    if gaps or rotor is None:
        return Frequencies((), (), USUAL_MARGIN, (), {}, (), (), gaps)
    fans, ranges = tuple(_fans(drawing, rotor)), speed_ranges(rotor)
    harmonics = {pattern: excited_harmonics(pattern, rotor.blades, HIGHEST) for pattern in PATTERNS}
    margin = rotor.frequency_margin or USUAL_MARGIN
    nearest = nearest_approaches(fans, ranges, harmonics, margin)
    return Frequencies(
        fans=fans,
        nearest=nearest,
        margin=margin,
        ranges=ranges,
        harmonics=harmonics,
        figures=tuple(_at_normal_speed(drawing, rotor, fans)),
        findings=tuple(_judged(drawing, rotor, approach, margin) for approach in nearest),
        missing=(
            *taken_for_want(rotor, "modes"),
            *(() if rotor.structural_damping is not None else (Missing(RESPONSE, ("rotor.structural_damping",)),)),
        ),
    )


def _fans(drawing: BladeDrawing, rotor: Rotor) -> Iterator[Fan]:
    beam = blade_beam(drawing)
    speeds = np.linspace(0.0, BEYOND * greatest_speed(rotor), SPEEDS)
    for pattern in PATTERNS:
        for run in control_runs(rotor):
            for pitch in _pitches(rotor):
                found = fan_plot(beam, blade_root(rotor, run.stiffness), pattern, speeds, pitch, MODES)
                yield Fan(pattern, run.words, pitch, speeds, found.frequencies, _names(found, rotor.speeds.normal))


def _names(found: FanPlot, normal: float) -> tuple[str, ...]:
    """Each mode by what it mostly is at normal rotor speed [rad/s]: above all ranges it may be another's likeness."""
    at = int(np.abs(found.rotor_speeds - normal).argmin())
    order = np.argsort(found.frequencies[at])
    named = dict(zip(order.tolist(), mode_names(found.share[at][order]), strict=True))
    return tuple(named[place] for place in range(len(named)))


def _pitches(rotor: Rotor) -> tuple[float, ...]:
    """Both ends of the collective; a usual one where they are not entered. [rad]"""
    ends = (rotor.collective_least, rotor.collective_greatest)
    return tuple(end for end in ends if end is not None) or (USUAL_COLLECTIVE,)


def _at_normal_speed(drawing: BladeDrawing, rotor: Rotor, fans: tuple[Fan, ...]) -> Iterator[Figure]:
    """Each mode's frequency at normal rotor speed, at the lowest collective."""
    lowest = min(fan.pitch for fan in fans)
    turning = rotor.speeds.normal
    for fan in fans:
        if fan.pitch != lowest:
            continue
        for name, frequency in zip(fan.names, fan.at(turning), strict=True):
            words = f"{name}, {ALIKE[fan.pattern]}, {fan.control}, {frequency / turning:.2f} per rev"
            yield _figure(drawing, words, float(frequency) / (2.0 * np.pi), "Hz")


def _judged(drawing: BladeDrawing, rotor: Rotor, approach: Approach, margin: float) -> Finding:
    """Outside the margin over the whole range, or for a person to look at."""
    near = approach.gap < margin
    at = f"{RPM * approach.speed:.0f} rpm ({approach.range.words}, {approach.control})"
    hertz = approach.frequency / (2.0 * np.pi)
    told = f"meets {approach.harmonic} per rev"
    if approach.gap > 0.0:
        percent = f"{100.0 * approach.gap:.1f} %"
        told = f"{f'comes within {percent} of' if near else f'stays {percent} from'} {approach.harmonic} per rev"
    answered = ""
    if near and rotor.structural_damping:
        answers = amplification(approach, rotor.structural_damping)
        answered = f": a load swings it {answers:.2g} times as far as a steady one, by structural damping alone"
    mode = f"{approach.mode}, {ALIKE[approach.pattern]}"
    gap = _figure(drawing, f"gap of {mode}, to {approach.harmonic} per rev", 100.0 * approach.gap, "%")
    return Finding(
        f"{approach.mode} against {approach.harmonic} per rev, {ALIKE[approach.pattern]}",
        Outcome.REFER if near else Outcome.PASS,
        f"The {approach.mode} {told} at {at}, {hertz:.1f} Hz{answered}. Asked: {100.0 * margin:.0f} % away.",
        PROOF,
        worst=gap,
        limit=f"at least {100.0 * margin:.0f} % from a harmonic",
        limit_source="rotor.frequency_margin of the drawing; it stands for what is not known of the frequency"
        if rotor.frequency_margin
        else USUAL_SOURCE,
        deviable=False,
        next_step=NEXT if near else "",
        would_change="a measured frequency; another mass or stiffness along the span; another range of rotor speed",
    )


def amplification(approach: Approach, damping: float) -> float:
    """How many times a steady load a mode answers one at its nearest harmonic; damping a share of critical. [1]

    ``1/sqrt((1 - r**2)**2 + (2 z r)**2)``, r the harmonic over the mode; any text on vibration.
    """
    ratio = approach.harmonic * approach.speed / approach.frequency
    return float(1.0 / np.hypot(1.0 - ratio**2, 2.0 * damping * ratio))


def _figure(drawing: BladeDrawing, name: str, value: float, unit: str) -> Figure:
    return Figure(
        name, value, unit, method=METHOD, validity=VALIDITY, source=SOURCE, validated=drawing.materials_validated
    )
