"""Runs that the entries leave possible: ovens, sensors and lots drawn, and the film of each of the six zones.

Seeded, so that the same drawing gives the same answer.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import COVERAGE, oven_known
from bladewright.drawing.cure_entries import CureKinetics, OvenEntries
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import Schedule
from bladewright.engine.cure.faults import Fault, SensorOffset
from bladewright.engine.cure.identify import drawn_ovens
from bladewright.engine.cure.interior import film_temperature
from bladewright.engine.cure.oven import ZONES, Oven
from bladewright.engine.cure.simulate import Simulated, simulate
from bladewright.errors import OutsideValidity

RUNS = 200  # bounds then rest on the fifth of them, not on the one that is furthest out; 59 is the least (Wilks)
SEED = 31  # any; one and the same, so that an answer can be had again
KEPT = 60.0  # [s] between states that are kept
FINER = (3, 6, 12, 24)  # steps between them: the first that the assumed control of every drawn oven bears


@dataclass(frozen=True, slots=True)
class Draws:
    """What differs from run to run."""

    entered: OvenEntries
    ovens: Oven  # (runs, ...)
    misread: Floats  # (runs, 6) what each mould sensor reads too much [K]
    missed: Floats  # (runs, 6, 1) what the model misses at each zone's film [K]
    pace: Floats  # (runs, 1) of the lot, over the entered rate [1]

    def run(self, schedule: Schedule, faults: tuple[Fault, ...] = (), duration: float | None = None) -> Simulated:
        """Every run of a schedule, its sensors misreading as drawn. [s]"""
        misread = tuple(SensorOffset(zone + 1, self.misread[:, zone]) for zone in range(ZONES))
        for steps in FINER:
            try:
                return simulate(
                    self.ovens, schedule, self.entered.control, (*misread, *faults), duration, KEPT / steps, steps
                )
            except OutsideValidity as error:
                if error.field != "step":
                    raise
        raise OutsideValidity(
            "the assumed control is too quick for the ovens its scatter allows", field="oven.assumed_gain",
            value=self.entered.assumed_gain[0], allowed="a lower gain, or a longer reset",
            fix="assume a gentler control; it is the simulation's, not the shop's",
        )  # fmt: skip

    def film(self, mould: Floats, bondline: Floats) -> Floats:
        """The film under each zone, from the true mould (runs, 6, t) and bondline (runs, 3, t). (runs, 6, t) [K]"""
        return film_temperature(mould, bondline, self.entered.film_share) + self.missed

    def shown(self, run: Simulated) -> Floats:
        """What the mould sensors show. (runs, 6, t) [K]"""
        return run.mould + self.misread[..., None]


def drawn(oven: OvenEntries, sensor: float, kinetics: CureKinetics | None, runs: int = RUNS) -> Draws:
    """So many runs; ``sensor`` is a mould sensor's expanded uncertainty [K]."""
    generator = np.random.default_rng(SEED)
    known = oven_known(oven)
    lot = 0.0 if kinetics is None else kinetics.lot_scatter or 0.0
    return Draws(
        entered=oven,
        ovens=drawn_ovens(known, runs, generator),
        misread=generator.normal(0.0, sensor / COVERAGE, (runs, ZONES)),
        missed=generator.normal(0.0, 1.0, (runs, ZONES, 1)) * known.misfit,
        pace=generator.lognormal(0.0, lot, (runs, 1)),
    )
