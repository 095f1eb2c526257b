"""A survey of the invented oven: what its logger would have written, with probes laid into a blade not for flight.

The true oven differs from what the drawing enters, by factors only this file knows.
"""

import datetime
from dataclasses import fields
from pathlib import Path

import numpy as np

from bladewright.design.cure_model import room_of, schedule_of
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.cure.oven import COUNTS, Oven
from bladewright.engine.cure.simulate import Simulated, simulate
from bladewright.units import from_si

SEED = 2026
SCATTER = 0.10  # of the true oven about what was entered; the drawing's 12 % covers it
NOISE = 0.1  # [K] of a reading
STEP, PER_ROW = 5.0, 12  # [s] of the simulation, and steps in a row of a minute
BEGUN = datetime.datetime.combine(datetime.date(2026, 3, 16), datetime.time(8, 30))  # by the clock on the wall
HEADS = (
    *(f"Mould {zone}" for zone in range(1, 7)),
    *(f"Heater {zone}" for zone in range(1, 7)),
    *(f"Power {zone}" for zone in range(1, 7)),
    *(f"Bond {station}" for station in range(1, 4)),
)


def true_oven(drawing: BladeDrawing) -> Oven:
    """The oven as it is, which nobody in the shop knows."""
    assert drawing.oven is not None
    entered, generator = drawing.oven.oven, np.random.default_rng([SEED, 1])
    return Oven(
        **{
            field.name: np.broadcast_to(getattr(entered, field.name), COUNTS[field.name])
            * (1.0 if field.name == "greatest_power" else generator.lognormal(0.0, SCATTER, COUNTS[field.name]))
            for field in fields(Oven)
        }
    )


def survey_text(drawing: BladeDrawing) -> str:
    """The logger's file: the same bytes every time."""
    assert drawing.oven is not None
    assert drawing.schedule is not None
    set_points = schedule_of(drawing.schedule, room_of(drawing.oven))
    run = simulate(true_oven(drawing), set_points, drawing.oven.control, step=STEP, every=1)
    readings, power = _rows(run)
    readings = readings + np.random.default_rng([SEED, 2]).normal(0.0, NOISE, readings.shape)
    units = ["degF"] * 12 + ["W"] * 6 + ["degF"] * 3
    lines = ["Blade oven logger,survey", ",".join(["Date", "Clock", *HEADS]), ",".join(["", "", *units])]
    for number, (row, watts) in enumerate(zip(readings, power, strict=True)):
        moment = BEGUN + datetime.timedelta(minutes=number)
        warm = [f"{from_si(float(value), 'degF', 'temperature'):.2f}" for value in row]
        cells = [*warm[:12], *(f"{value:.2f}" for value in watts), *warm[12:]]
        lines.append(",".join([f"{moment:%d/%m/%Y},{moment:%H:%M:%S}", *cells]))
    return "\n".join(lines) + "\n"


def _rows(run: Simulated) -> tuple[np.ndarray, np.ndarray]:
    """Temperatures once a minute, and each minute's mean power, as an energy counter gives it."""
    warm = np.concatenate((run.mould[0], run.heater[0], run.bondline[0]))[:, ::PER_ROW].T
    between = 0.5 * (run.power[0][:, 1:] + run.power[0][:, :-1])
    rows = between.shape[1] // PER_ROW
    means = between[:, : rows * PER_ROW].reshape(6, rows, PER_ROW).mean(axis=2)
    return warm, np.concatenate((np.zeros((6, 1)), means), axis=1).T[: len(warm)]


def write_survey(folder: Path) -> Path:
    """Writes the survey into a folder that is there."""
    path = folder / "survey.csv"
    text = survey_text(read_drawing(Path(__file__).parent / "fm31.toml"))
    path.write_text(text, encoding="utf-8", newline="\n")
    return path
