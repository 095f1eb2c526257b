"""Modes of the drawn blade over the rotor speed, and where each comes nearest to a harmonic; not yet judged."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.control_runs import SpeedRange
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import Pattern
from bladewright.engine.dynamics.harmonics import closeness

#: the first flap mode tilts the disc, or cones it with all blades alike: once per rev it is meant to answer
STEERED = ("first flap", 1)


@dataclass(frozen=True, slots=True)
class Fan:
    """The modes of one pattern with one control run at one pitch."""

    pattern: Pattern
    control: str
    pitch: float  # [rad]
    speeds: Floats  # (s,) increasing [rad/s]
    frequencies: Floats  # (s, k) [rad/s]
    names: tuple[str, ...]  # (k,)

    def at(self, speed: float) -> Floats:
        """Every mode's frequency at a rotor speed [rad/s]. (k,) [rad/s]"""
        return np.array([np.interp(speed, self.speeds, mode) for mode in self.frequencies.T])


@dataclass(frozen=True, slots=True)
class Approach:
    """Where a mode comes nearest to a harmonic inside the ranges of rotor speed."""

    pattern: Pattern
    mode: str
    control: str
    harmonic: int
    gap: float  # of the harmonic's frequency; nought where they meet [1]
    speed: float  # [rad/s]
    frequency: float  # of the mode there [rad/s]
    range: SpeedRange


def nearest_approaches(
    fans: Sequence[Fan], ranges: Sequence[SpeedRange], harmonics: Mapping[Pattern, Sequence[int]], margin: float
) -> tuple[Approach, ...]:
    """Of each pattern and mode every harmonic nearer than the margin [1], or the nearest if none is; nearest first.

    The worst of every range, control run and pitch speaks for each.
    """
    found: dict[tuple[Pattern, str, int], Approach] = {}
    for approach in _approaches(fans, ranges, harmonics):
        key = (approach.pattern, approach.mode, approach.harmonic)
        if key not in found or approach.gap < found[key].gap:
            found[key] = approach
    ordered = sorted(found.values(), key=lambda approach: approach.gap)
    told: dict[tuple[Pattern, str], list[Approach]] = {}
    for approach in ordered:
        one = told.setdefault((approach.pattern, approach.mode), [])
        if approach.gap < margin or not one:
            one.append(approach)
    return tuple(sorted((one for many in told.values() for one in many), key=lambda approach: approach.gap))


def _approaches(
    fans: Sequence[Fan], ranges: Sequence[SpeedRange], harmonics: Mapping[Pattern, Sequence[int]]
) -> Iterator[Approach]:
    for fan in fans:
        for name, mode in zip(fan.names, fan.frequencies.T, strict=True):
            judged = tuple(harmonic for harmonic in harmonics[fan.pattern] if (name, harmonic) != STEERED)
            for within in ranges if judged else ():
                for one in closeness(fan.speeds, mode, judged, within.least, within.greatest):
                    yield Approach(
                        fan.pattern, name, fan.control, one.harmonic, one.gap, one.rotor_speed, one.frequency, within
                    )
