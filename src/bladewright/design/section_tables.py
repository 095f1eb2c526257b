"""The section's forces with its boundary layer, worked out for a few reflexes and read between them.

On a blade Reynolds and Mach number go together: both follow the speed. So the table runs over angle and Mach number,
and the Reynolds number is the one that chord and standard air give at each. Reflexes worked out are even degrees that
begin at whole percents of the chord; between them every value is read by a parabola through the three nearest.
"""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from bladewright.design.outline import outline_of
from bladewright.drawing.blade import Reflex, Section
from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.flow.polar import Polar
from bladewright.engine.flow.section_polar import Surface, section_flow_field
from bladewright.errors import BadInput, NotConverged

DEGREES = np.arange(-4.5, 13.6, 1.5)  # angles of attack
MACHS = np.array([0.10, 0.30, 0.42, 0.50, 0.56, 0.62, 0.70])
#: beyond these the flow turns sonic or stalls, and nothing would come back
LOWEST = (-4.5, -4.5, -4.5, -4.5, -3.0, -3.0, -3.0)  # [deg]
HIGHEST = (13.5, 12.0, 9.0, 7.5, 6.0, 4.5, 3.0)  # [deg]
PANELS = 60  # moment within 0.001 of twice as many on a 12 % section with a reflex, far inside the spread of theories
ANY_REYNOLDS = np.array([1.0, 1e12])  # the same values at both: the Reynolds number is in the Mach number
USUAL_TRIP = 0.05  # of the chord; common practice, no source: a clean nose does not last, and its moment jumps
ANGLES_APART = float(np.radians(2.0))  # moment within 0.0002 of one worked out half-way, where the flow is smooth
STARTS_APART = 0.01  # [chord fraction]
ON_A_TABLE = 1e-9  # of a step
STEP = 1.1  # ratio between the steps that Reynolds over Mach number is rounded to
FEWEST = 0.7  # of the conditions must converge, or the table is none
KEPT = 64


def section_table(section: Section, reflex: Reflex | None, reynolds_per_mach: float) -> Polar:
    """Lift, drag and moment over angle and Mach number; ``NotConverged`` or ``BadInput`` where there is no table."""
    steps = round(float(np.log(reynolds_per_mach) / np.log(STEP)))
    if reflex is None:
        return _table(section, None, steps)
    outline_of(section, reflex)  # what cannot be built has no table, however well its neighbours read
    for aside in (0, 1, -1):  # beside a neighbour that cannot be built the three that can are read beyond their ends
        try:
            return _blended(list(_neighbours(section, reflex, steps, aside)))
        except BadInput:
            continue
    return _table(section, reflex, steps)


def in_service(section: Section) -> Surface:
    """The skin as it flies: its layer turns where the drawing says, or where paint and dirt usually make it."""
    trip = USUAL_TRIP if section.turbulent_from is None else section.turbulent_from
    return Surface(trip_top=trip, trip_bottom=trip)


def _neighbours(section: Section, reflex: Reflex, steps: int, aside: int) -> Iterator[tuple[float, Polar]]:
    """The tables a reflex is read from, each with its share."""
    for start, by_start in _weights(reflex.start, STARTS_APART, 0):
        for angle, by_angle in _weights(reflex.angle, ANGLES_APART, aside):
            near = reflex.model_copy(update={"start": start, "angle": angle})
            yield by_start * by_angle, _table(section, near, steps)


def _weights(value: float, apart: float, aside: int) -> Iterator[tuple[float, float]]:
    """Places on a grid and their shares in a reading: one alone where the value is on the grid."""
    middle = round(value / apart)
    if abs(value / apart - middle) < ON_A_TABLE:
        yield middle * apart, 1.0
        return
    middle += aside
    away = value / apart - middle
    yield (middle - 1) * apart, 0.5 * away * (away - 1.0)
    yield middle * apart, 1.0 - away**2
    yield (middle + 1) * apart, 0.5 * away * (away + 1.0)


def _blended(tables: list[tuple[float, Polar]]) -> Polar:
    first = tables[0][1]

    def of(values: list[Floats]) -> Floats:
        total: Floats = np.sum([weight * value for (weight, _), value in zip(tables, values, strict=True)], axis=0)
        return total

    return Polar(
        first.angle,
        first.reynolds,
        first.mach,
        of([table.lift for _, table in tables]),
        of([table.drag for _, table in tables]),
        of([table.moment for _, table in tables]),
        np.all([table.computed for _, table in tables], axis=0),
    )


@lru_cache(maxsize=KEPT)
def _table(section: Section, reflex: Reflex | None, steps: int) -> Polar:
    outline = outline_of(section, reflex)
    asked = (DEGREES[:, None] >= np.array(LOWEST)) & (DEGREES[:, None] <= np.array(HIGHEST))
    angle, mach = np.broadcast_arrays(np.radians(DEGREES)[:, None], MACHS)
    with np.errstate(all="ignore"):  # conditions that do not converge run out of numbers, and are marked
        found = section_flow_field(
            outline, angle[asked], STEP**steps * mach[asked], mach[asked], in_service(section), PANELS
        )
    if found.flow.converged.mean() < FEWEST:
        raise NotConverged("too few conditions of this section have a solution", field="section")

    def laid_out(values: Floats) -> Floats:
        table = np.full(asked.shape, np.nan)
        table[asked] = values
        return _bridged(table)

    lift, drag, moment = laid_out(found.lift), laid_out(found.drag), laid_out(found.moment)
    computed = np.zeros(asked.shape, dtype=np.bool_)
    computed[asked] = found.flow.converged & found.subsonic
    computed |= _between(computed) & np.isfinite(lift)
    known = np.isfinite(lift)
    lone = ~(known[DEGREES < 0.0].any(axis=0) & known[DEGREES > 0.0].any(axis=0))
    for table in (lift, drag, moment):
        table[:, lone] = np.nan  # too few angles to go on from: the next slower row stands for it, marked
    computed[:, lone] = False
    # the slowest row stands for all that is slower, and every row for both ends of the Reynolds numbers
    rows = np.concatenate(([0], np.arange(len(MACHS))))
    tables = [np.repeat(table[:, None, rows], len(ANY_REYNOLDS), axis=1) for table in (lift, drag, moment)]
    both = np.repeat(computed[:, None, rows], len(ANY_REYNOLDS), axis=1)
    machs = np.concatenate(([0.0], MACHS))
    return Polar(np.radians(DEGREES), ANY_REYNOLDS, machs, tables[0], tables[1], tables[2], both)


def _bridged(table: Floats) -> Floats:
    """Single angles without a solution between two that have one, put in by a straight line."""
    filled = table.copy()
    gap = np.isnan(table[1:-1]) & np.isfinite(table[:-2]) & np.isfinite(table[2:])
    filled[1:-1][gap] = (0.5 * (table[:-2] + table[2:]))[gap]
    return filled


def _between(computed: Bools) -> Bools:
    """Angles whose both neighbours are computed."""
    found = np.zeros_like(computed)
    found[1:-1] = computed[:-2] & computed[2:]
    return found
