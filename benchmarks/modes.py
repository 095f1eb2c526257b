"""Modes of a turning blade: ours against a dense generalised eigen-solution of ordinary elements at equal accuracy.

Equal accuracy: elements of one length, cubic in bending and square in twist, as few as leave the tenth frequency no
further from the exact than ours is; the exact is ours at order 16. Their matrices come from the same energy and are
made beforehand, as ours are, so only shapes and solver differ; the fan counts everything.
"""

from itertools import pairwise

import numpy as np
from scipy.linalg import eigh

from benchmarks.side_by_side import Line, best_of, line
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, blade_matrices
from bladewright.engine.dynamics.blade_modes import blade_modes
from bladewright.engine.dynamics.fan_plot import fan_plot

COUNT = 10
SPEED = 58.0
SPEEDS = np.linspace(0.0, 65.0, 30)
PITCH = 0.1
GROWTH = (5, 10, 20, 40)  # orders
ROOT = Root("teetering", 500.0)
ROUNDS = 5


def blade(stations: int = 41) -> BladeBeam:
    """Tapered and twisted, every centre in its own place, a weight at the tip; invented."""
    y = np.linspace(0.25, 3.0, stations)
    one, out = np.ones(stations), (y - 0.25) / 2.75
    taper = 1.0 - 0.3 * out
    return BladeBeam(
        y=y, twist=-0.14 * out, mass_per_length=2.9 * taper, mass_x=0.005 * one, mass_z=0.001 * one,
        chordwise_inertia=0.006 * taper, normal_inertia=1e-4 * taper, product_of_inertia=1e-5 * taper,
        axial=4e7 * one, flapwise=1800.0 * taper, chordwise=60000.0 * taper, bending_product=500.0 * taper,
        elastic_x=0.008 * one, elastic_z=0.001 * one, torsion=2600.0 * taper, shear_x=-0.003 * one,
        shear_z=0.001 * one, gyration_squared=0.0019 * one, masses=(PointMass(3.0, 0.5),),
    )  # fmt: skip


def ordinary(elements: int) -> BladeMatrices:
    """The same blade in elements of one length, cubic in bending: a step of nothing ends each."""
    beam = blade()
    y = np.linspace(beam.y[0], beam.y[-1], elements + 1)
    y = np.sort(np.concatenate((y, y[1:-1] + 1e-6)))
    names = [name for name in beam.__dataclass_fields__ if name not in ("y", "masses")]
    return blade_matrices(
        BladeBeam(y, **{name: np.interp(y, beam.y, getattr(beam, name)) for name in names}, masses=beam.masses),
        ROOT, "cyclic", PITCH, order=3,
    )  # fmt: skip


def _dense(matrices: BladeMatrices) -> Floats:
    """Of scipy, with the vectors of the modes asked for, as ours gives them."""
    square, _ = eigh(matrices.stiffness(SPEED), matrices.mass, subset_by_index=(0, COUNT - 1))
    return np.sqrt(np.maximum(square, 0.0))


def _as_near(exact: Floats, ours: float) -> BladeMatrices:
    """As few ordinary elements as leave the tenth frequency as near as ours; the error falls with the fourth power."""
    elements, last = 40, COUNT - 1
    while True:
        matrices = ordinary(elements)
        error = float(_dense(matrices)[last] / exact[last] - 1.0)
        if error <= ours:
            return matrices
        elements = max(elements + 1, int(elements * min(2.0, (error / ours) ** 0.25)))


def run() -> list[Line]:
    """Ten modes, a whole fan, and how both ways grow."""
    matrices = blade_matrices(blade(), ROOT, "cyclic", PITCH)
    exact = blade_modes(blade_matrices(blade(), ROOT, "cyclic", PITCH, order=16), SPEED, COUNT).frequencies
    ours = float(blade_modes(matrices, SPEED, COUNT).frequencies[-1] / exact[-1] - 1.0)
    elements = _as_near(exact, ours)
    sizes = f"{len(matrices.mass)} unknowns against {len(elements.mass)}, tenth frequency within {ours:.1e} in both"
    single = best_of(ROUNDS, lambda: blade_modes(matrices, SPEED, COUNT), lambda: _dense(elements))
    fan = best_of(ROUNDS, lambda: fan_plot(blade(), ROOT, "cyclic", SPEEDS, PITCH, COUNT), lambda: _dense(elements))
    return [
        line(f"ten modes of a turning blade, {sizes}, against a dense solution", *single, ">= 20"),
        line(f"fan of {len(SPEEDS)} speeds, matrices included, against as many", fan[0], len(SPEEDS) * fan[1], ">= 20"),
        *_growth(),
    ]  # fmt: skip


def _growth() -> list[Line]:
    """Seconds with twice the unknowns, over those with as many; a dense solution grows eightfold."""
    timed = []
    for order in GROWTH:
        matrices = blade_matrices(blade(), ROOT, "cyclic", PITCH, order=order)
        work = best_of(4 * ROUNDS, lambda matrices=matrices: blade_modes(matrices, SPEED, COUNT), lambda: None)  # type: ignore[misc]
        timed.append((len(matrices.mass), work[0]))
    return [
        line(f"ten modes of a turning blade, {now[0]} unknowns against {before[0]}", now[1], before[1], "<= 8")
        for before, now in pairwise(timed)
    ]


if __name__ == "__main__":
    print(run())
