"""Mass and stiffness of 1,000 sections of a tapered blade in one batch, per section, against scikit-fem's one.

The finite elements are refined until the torsional stiffness changes by less than half a per cent, and every mesh it
took is counted. Ours works out a few chords and reads between; a blade of constant chord is quicker still.
"""

from pathlib import Path

import numpy as np

from benchmarks.section_reference import Reference, reference
from benchmarks.side_by_side import Line, best_of, line, seconds
from bladewright.design.section_constants import (
    SectionConstants,
    SectionStiffness,
    section_constants,
    section_stiffness,
)
from bladewright.design.section_layout import SectionLayout, section_layout
from bladewright.drawing.file import BladeDrawing, read_drawing

FM31 = Path(__file__).parents[1] / "examples" / "fennmark" / "fm31.toml"
STATIONS = 1000
SETTLED = 0.005
GOAL = ">= 10000"
GROWTH = "<= 10"
RUNS = 15


def tapered() -> BladeDrawing:
    """The demo blade, tapered so that no two sections are alike, without paint and weights, which bear nothing."""
    drawing = read_drawing(FM31)
    inner, outer = drawing.planform.stations
    stations = (inner.model_copy(update={"chord": 0.24}), outer.model_copy(update={"chord": 0.16}))
    plan = drawing.planform.model_copy(update={"stations": stations})
    return drawing.model_copy(update={"planform": plan, "finish": None, "tip_weight": None, "doubler": None})


def refined(drawing: BladeDrawing, layout: SectionLayout) -> Reference:
    """Finite elements on finer meshes until torsion no longer changes."""
    fine = 1
    last, now = reference(drawing, layout, fine), reference(drawing, layout, 2 * fine)
    while abs(now.torsion / last.torsion - 1.0) > SETTLED:
        fine *= 2
        last, now = now, reference(drawing, layout, 2 * fine)
    return now


def ours(drawing: BladeDrawing, stations: int = STATIONS) -> tuple[SectionConstants, SectionStiffness]:
    """All sections at once."""
    plan = drawing.planform
    sections = section_constants(drawing, np.linspace(plan.root, plan.tip, stations))
    return sections, section_stiffness(drawing, sections)


def compare(drawing: BladeDrawing) -> None:
    """Both sides tell the same of one section, or the times mean nothing."""
    sections, found = ours(drawing)
    at = STATIONS // 3
    chord = float(sections.chord[at])
    exact = refined(drawing, section_layout(drawing, np.array([chord])))
    assert found.bending is not None
    assert found.torsion is not None
    assert found.shear_x is not None
    for value, other in (
        (sections.mass[at, 0], exact.mass),
        (found.bending.axial[at], exact.axial),
        (found.bending.flapwise[at], exact.flapwise),
        (found.bending.chordwise[at], exact.chordwise),
        (found.torsion[at], exact.torsion),
    ):
        np.testing.assert_allclose(value, other, rtol=0.02)
    for value, other in ((found.shear_x[at], exact.shear_x), (found.bending.centre_x[at], exact.centre_x)):
        np.testing.assert_allclose(value, other, atol=0.005 * chord)


def run() -> list[Line]:
    """Two lines for the table of benchmarks; both sides in turn; the middle ratio, as other work falls on both."""
    drawing = tapered()
    compare(drawing)
    layout = section_layout(drawing, np.array([0.2]))
    pairs = [(seconds(lambda: ours(drawing)), seconds(lambda: refined(drawing, layout))) for _ in range(RUNS)]
    whole, other = sorted(pairs, key=lambda pair: pair[1] / pair[0])[RUNS // 2]
    name = f"mass and stiffness of {STATIONS:,} sections in one batch, per section, against finite elements of one"
    once, ten = best_of(RUNS, lambda: ours(drawing), lambda: ours(drawing, 10 * STATIONS))
    grown = f"{10 * STATIONS:,} sections in one batch, against {STATIONS:,}"
    return [line(name, whole / STATIONS, other, GOAL), line(grown, ten, once, GROWTH)]


if __name__ == "__main__":
    for measured in run():
        print(measured)
