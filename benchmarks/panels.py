"""Potential flow about a section by panels, against what any such method must do at the least.

The least is one table of logarithm and angle for every pair of panel and point, and one LAPACK solution, both into
memory that is there. The goal is the compiled passes' (extra ``fast``); numpy alone is shown against plain vectorised
code, which takes some 4.5 times the least. Compiling, and the first call of each size, are not counted.
"""

import numpy as np

from benchmarks.side_by_side import Line, best_of, line
from bladewright.engine.arrays import Floats
from bladewright.engine.flow import fused
from bladewright.engine.flow.panelling import panel_nodes
from bladewright.engine.flow.panels import panel_flow
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import FourDigitLine

PANELS, ANGLES, SHAPES = 200, 40, 40
GROWTH = (50, 100, 200, 400, 800)
ROUNDS = 150
ONE_ANGLE, MANY_ANGLES = np.radians([4.0]), np.radians(np.linspace(-10.0, 14.0, ANGLES))


class Least:
    """The work no panel method is without."""

    def __init__(self, panels: int) -> None:
        from scipy.linalg.lapack import dgesv

        generator = np.random.default_rng(panels)
        self.far, self.near = generator.random((2, panels, panels)) + 0.1
        self.matrix = np.asfortranarray(self.far + panels * np.eye(panels))
        self.right = np.asfortranarray(generator.random((panels, 1)))
        self.table = np.empty((panels, panels))
        self.solve = dgesv

    def __call__(self) -> None:
        """Once."""
        np.log(self.far, out=self.table)
        np.arctan2(self.far, self.near, out=self.table)
        self.solve(self.matrix, self.right)


def shapes(panels: int, many: int = 1) -> Floats:
    """Sections of somewhat different camber."""
    outlines = [
        designated_outline(FourDigitLine(camber, 0.4), 0.12, "closed") for camber in np.linspace(0.0, 0.04, many)
    ]
    return np.stack([panel_nodes(outline, panels) for outline in outlines])


def in_this_way(way: str, goal: str) -> list[Line]:
    """The comparisons, and how time grows."""
    many = shapes(PANELS, SHAPES)
    one = many[0]
    single = best_of(ROUNDS, lambda: panel_flow(one, ONE_ANGLE), Least(PANELS))
    angles = best_of(ROUNDS, lambda: panel_flow(one, MANY_ANGLES), lambda: panel_flow(one, ONE_ANGLE))
    together = best_of(
        ROUNDS // 10,
        lambda: panel_flow(many, ONE_ANGLE),
        lambda: [panel_flow(shape, ONE_ANGLE) for shape in many],
    )
    return [
        line(f"flow about one shape, {PANELS} panels, {way}, against its least", *single, goal),
        line(f"flow at {ANGLES} angles, {way}, against one angle", *angles, "<= 1.2"),
        line(f"flow about {SHAPES} shapes at once, {way}, against one by one", *together, "<= 1"),
        *_growth(way),
    ]


def _growth(way: str) -> list[Line]:
    """Seconds from each number of panels to twice as many, over the last; the solution alone grows eightfold."""
    seconds = []
    for panels in GROWTH:
        one = shapes(panels)[0]
        rounds = max(5, ROUNDS * GROWTH[0] // panels)
        seconds.append(best_of(rounds, lambda one=one: panel_flow(one, ONE_ANGLE), lambda: None)[0])
    return [
        line(f"flow with {panels} panels, {way}, against half as many", now, before, "<= 8")
        for panels, now, before in zip(GROWTH[1:], seconds[1:], seconds[:-1], strict=True)
    ]


def run() -> list[Line]:
    """Without numba, then with it where it is installed."""
    fused.stop()
    lines = in_this_way("numpy alone", "<= 4.5")
    if fused.start():
        lines += in_this_way("compiled passes", "<= 2")
        fused.stop()
    return lines


if __name__ == "__main__":
    for measured in run():
        print(measured)
