"""A thousand drawn ovens, each with a zone that dies at its own time, against scipy's solver one run after another.

Both are held to the same error: the largest of mould and bondline over twenty runs against a solution far more exact.
The solver gets the quickest of its methods and the loosest tolerance that is no worse than ours.
"""

from dataclasses import fields

import numpy as np

from benchmarks.cure_reference import CONTROL, MINUTE, SCHEDULE, USUAL, one_run
from benchmarks.side_by_side import Line, best_of, line, seconds
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.faults import ZoneDead
from bladewright.engine.cure.oven import COUNTS, Oven
from bladewright.engine.cure.simulate import Simulated, simulate

RUNS, SAMPLED, ZONE, ROUNDS = 1000, 20, 4, 5
SCATTER = 0.1  # of every entry of the oven; invented
STEP = 60.0
EXACT = 1e-9
METHODS = ("RK45", "RK23", "LSODA")
TOLERANCES = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6)


def drawn(runs: int, generator: np.random.Generator) -> tuple[Oven, Floats]:
    """Ovens about the usual one, and when a zone dies in each: some time of the dwell."""
    entries = {field.name: getattr(USUAL, field.name) for field in fields(USUAL)}
    ovens = {
        name: np.broadcast_to(entry, (runs, COUNTS[name]))
        * (1.0 if name == "greatest_power" else generator.lognormal(0.0, SCATTER, (runs, COUNTS[name])))
        for name, entry in entries.items()
    }
    return Oven(**ovens), MINUTE * generator.uniform(50.0, 130.0, runs)


def alone(ovens: Oven, number: int) -> Oven:
    """One of many."""
    return Oven(*(getattr(ovens, field.name)[number] for field in fields(ovens)))


def run() -> list[Line]:
    """The comparison, with the error both are held to in its name."""
    ovens, dies = drawn(RUNS, np.random.default_rng(6))

    def ours() -> Simulated:
        return simulate(ovens, SCHEDULE, CONTROL, (ZoneDead(ZONE, dies),), step=STEP, every=1)

    kept = ours()
    alike = [alone(ovens, number) for number in range(SAMPLED)]

    def solved(tolerance: float, method: str) -> Floats:
        both = zip(alike, dies, strict=False)
        return np.stack([one_run(oven, (ZONE, when), kept.seconds, tolerance, method) for oven, when in both])

    exact = solved(EXACT, "RK45")[:, 6:]
    error = float(np.abs(np.concatenate((kept.mould, kept.bondline), axis=1)[:SAMPLED] - exact).max())
    quickest = min(
        ((seconds(lambda m=method, t=tolerance: solved(t, m)), method, tolerance)
         for method in METHODS
         for tolerance in TOLERANCES
         if float(np.abs(solved(tolerance, method)[:, 6:] - exact).max()) <= error),
    )  # fmt: skip
    _, method, tolerance = quickest
    ours_s, sample_s = best_of(ROUNDS, ours, lambda: solved(tolerance, method))
    name = f"{RUNS} cures of six zones at once, against {method} one by one, both within {1e3 * error:.0f} mK"
    return [line(name, ours_s, sample_s * RUNS / SAMPLED, ">= 100")]


if __name__ == "__main__":
    for measured in run():
        print(measured)
