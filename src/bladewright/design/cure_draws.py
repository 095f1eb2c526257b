"""Runs that the entries leave possible: ovens, sensors and lots drawn, and what each run's bondline came to.

Seeded, so that the same drawing gives the same answer.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import COVERAGE, oven_known
from bladewright.drawing.adhesive_cure import AdhesiveKinetics
from bladewright.drawing.oven import OvenEntries
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.faults import Fault, SensorOffset
from bladewright.engine.cure.identify import drawn_ovens
from bladewright.engine.cure.oven import STATIONS, ZONES, Oven
from bladewright.engine.cure.simulate import Simulated, simulate

RUNS = 200  # bounds then rest on the fifth of them, not on the one that is furthest out; 59 is the least (Wilks)
SEED = 31  # any; one and the same, so that an answer can be had again
STEP, EVERY = 20.0, 3  # [s] and samples kept: one a minute


@dataclass(frozen=True, slots=True)
class Draws:
    """What differs from run to run."""

    ovens: Oven  # (runs, ...)
    misread: Floats  # (runs, 6) what each mould sensor reads too much [K]
    missed: Floats  # (runs, 3, 1) what the model misses at each station [K]
    pace: Floats  # (runs, 1) of the lot, over the entered rate [1]


def drawn(oven: OvenEntries, sensor: float, kinetics: AdhesiveKinetics | None, runs: int = RUNS) -> Draws:
    """So many runs; ``sensor`` is a mould sensor's expanded uncertainty [K]."""
    generator = np.random.default_rng(SEED)
    known = oven_known(oven)
    lot = 0.0 if kinetics is None else (kinetics.rate_uncertainty or 0.0) / COVERAGE
    return Draws(
        ovens=drawn_ovens(known, runs, generator),
        misread=generator.normal(0.0, sensor / COVERAGE, (runs, ZONES)),
        missed=generator.normal(0.0, 1.0, (runs, STATIONS, 1)) * known.misfit,
        pace=generator.lognormal(0.0, lot, (runs, 1)),
    )


def run_all(
    draws: Draws,
    schedule: Schedule,
    control: AssumedControl,
    faults: tuple[Fault, ...] = (),
    duration: float | None = None,
) -> Simulated:
    """Every drawn run, its sensors misreading as drawn."""
    misread = tuple(SensorOffset(zone + 1, draws.misread[:, zone]) for zone in range(ZONES))
    return simulate(draws.ovens, schedule, control, (*misread, *faults), duration, STEP, EVERY)


def readings(draws: Draws, run: Simulated) -> Floats:
    """What the mould sensors show. (runs, 6, t) [K]"""
    shown: Floats = run.mould + draws.misread[..., None]
    return shown
