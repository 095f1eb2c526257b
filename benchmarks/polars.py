"""A full set of polars of one section, 40 angles x 3 Reynolds x 4 Mach numbers: all together against one by one.

The aim of a second on one core is printed beside what it takes: an aim, not a goal, because it depends on the machine.
"""

import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from benchmarks.side_by_side import Line, line
from bladewright.design.outline import section_outline
from bladewright.drawing.file import read_drawing
from bladewright.engine.arrays import Floats
from bladewright.engine.flow.section_polar import Surface, section_polar
from bladewright.engine.geometry.outline import Outline

FM31 = Path(__file__).parents[1] / "examples" / "fennmark" / "fm31.toml"
ANGLES = np.radians(np.linspace(-6.0, 12.0, 40))
REYNOLDS = np.array([1.0e6, 1.6e6, 2.6e6])
MACH = np.array([0.1, 0.25, 0.4, 0.55])
ALONE = 12  # conditions worked one by one, spread over the set; the rest is scaled
AIM = 1.0  # [s]
SURFACE = Surface(trip_top=0.05, trip_bottom=0.05)
GOAL = "<= 0.1"


def _seconds(work: Callable[[], object]) -> float:
    """Of the processor: other work on the machine does not count."""
    start = time.process_time()
    work()
    return time.process_time() - start


def _one(outline: Outline, angle: float, reynolds: float, mach: float) -> None:
    def alone(value: float) -> Floats:
        return np.array([value])

    section_polar(outline, alone(angle), alone(reynolds), alone(mach), SURFACE)


def run() -> list[Line]:
    """One line for the table of benchmarks."""
    outline = section_outline(read_drawing(FM31))
    together = _seconds(lambda: section_polar(outline, ANGLES, REYNOLDS, MACH, SURFACE))
    grid = np.stack([part.ravel() for part in np.meshgrid(ANGLES, REYNOLDS, MACH, indexing="ij")], axis=1)
    some = grid[:: len(grid) // ALONE]
    alone = sum(_seconds(lambda c=condition: _one(outline, *c)) for condition in some) * len(grid) / len(some)
    print(f"a full set of {len(grid)} conditions: {together:.2f} s of one core; aim {AIM:g} s")
    return [line(f"polars of a section in {len(grid)} conditions at once, against one by one", together, alone, GOAL)]


if __name__ == "__main__":
    for measured in run():
        print(measured)
