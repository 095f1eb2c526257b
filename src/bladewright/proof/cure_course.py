"""What a finished log says of the film: its mould sensors drive the bondline; a zone nobody read counts as dead.

The log shows the tool. What lies between two halves is reckoned by the oven's model, and a lost sensor's zone twice:
once as if its heater had died with it, and once as its heater's own readings say, which proves nothing but bounds it.
"""

import numpy as np

from bladewright.design.cure_draws import Draws, drawn
from bladewright.design.cure_model import cure_rests, entered_kinetics, require, require_sound, room_of
from bladewright.drawing.cure_entries import OvenEntries
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.driven import driven_course
from bladewright.engine.cure.oven import BODIES, BONDLINE, HEATERS, MOULD, ZONES, oven_network
from bladewright.errors import MissingInput
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, counted
from bladewright.proof.cure_cost import NEEDED, CureCost, Reckoned, answered, oven_asked
from bladewright.proof.cured import bounds
from bladewright.proof.mould import Mould, read_mould
from bladewright.proof.wetting import latest_gel, pressure_late, pressure_lost, pressure_unknown


def cost_of_log(drawing: BladeDrawing, log: CureLog, fitted: OvenEntries | None = None) -> CureCost:
    """What a logged run came to; a fitted oven stands in for the drawing's."""
    require(drawing, NEEDED)
    oven = oven_asked(drawing, fitted)
    entered, limits = entered_kinetics(drawing), drawing.limits.cure
    assert entered is not None
    assert limits is not None
    assert limits.sensor_uncertainty is not None
    require_sound(limits)
    draws, room = drawn(oven, limits.sensor_uncertainty, entered), room_of(oven)
    mould = read_mould(log, limits)
    sensors = _by_zone(log, "mould")
    absent = [zone + 1 for zone in range(ZONES) if zone not in sensors]
    if absent:
        raise MissingInput(
            "no mould sensor of some zone is in the log", file=log.source.file, field="columns.zone",
            value=", ".join(map(str, absent)), allowed="a mould sensor of each zone, 1 to 6",
            fix="name the zones in the logger description",
        )  # fmt: skip
    read = _read(mould, sensors)
    if not np.isfinite(read[0]).any():
        raise MissingInput(
            "no mould sensor was read at the start", file=log.source.file, row=int(log.rows[0]), field="mould",
            allowed="a reading in the first row", fix="begin the log where the sensors speak",
        )  # fmt: skip
    lost = np.isnan(read)
    heaters = _heaters(log, read)

    def cured(film: Floats) -> Floats:
        """Degree of cure of every run. (runs, 6, t)"""
        return conversion(entered.kinetics, log.seconds, film, entered.delivered, draws.pace)

    cold = _film(draws, log.seconds, read, np.where(lost, np.nan, heaters), room)
    worst = cured(cold)
    best = cured(_film(draws, log.seconds, read, heaters, room)) if lost.any() else worst
    run = Reckoned(
        happened=_happened(log, lost, mould),
        ends=bounds(worst[..., -1], best[..., -1]),
        each=worst[..., -1],
        pace=draws.pace,
        film=(float(cold.min()), float(cold.max())),
        whole=not lost.any() and not len(mould.holes) and log.order_certain,
        wetting=_wetting(log, mould, limits, latest_gel(log.seconds, worst, entered.gel)),
        settles=_settles(lost),
    )
    return answered(drawing, oven, entered, cure_rests(drawing, oven), run)


def _by_zone(log: CureLog, role: str) -> dict[int, tuple[int, ...]]:
    """Columns of each zone, counted from zero."""
    found: dict[int, tuple[int, ...]] = {}
    for column, channel in enumerate(log.channels):
        if channel.role == role and channel.zone.isdecimal() and 1 <= int(channel.zone) <= ZONES:
            zone = int(channel.zone) - 1
            found[zone] = (*found.get(zone, ()), column)
    return found


def _read(mould: Mould, sensors: dict[int, tuple[int, ...]]) -> Floats:
    """The coldest believed reading of each zone. (t, 6) [K]"""
    believed = mould.believed(slice(None))
    place = {column: at for at, column in enumerate(mould.columns)}
    zones = [np.fmin.reduce(believed[:, [place[c] for c in sensors[zone]]], axis=1) for zone in range(ZONES)]
    return np.stack(zones, axis=1)


def _heaters(log: CureLog, read: Floats) -> Floats:
    """The heaters' readings; their mould's where there is none, than which a heater is not colder. (t, 6) [K]"""
    found = read.copy()
    for zone, columns in _by_zone(log, "heater").items():
        readings = np.fmin.reduce(log.values[:, columns], axis=1)
        found[:, zone] = np.where(np.isnan(readings), read[:, zone], readings)
    return found


def _film(draws: Draws, seconds: Floats, read: Floats, heater: Floats, room: float) -> Floats:
    """The film of every drawn run, in a room of that temperature [K]. (runs, 6, t) [K]"""
    runs = len(draws.misread)
    known = np.full((runs, len(seconds), BODIES), np.nan)
    known[..., HEATERS] = heater
    known[..., MOULD] = read - draws.misread[:, None, :]
    begun = np.full((runs, BODIES), float(np.nanmean(read[0])))
    course = np.swapaxes(driven_course(oven_network(draws.ovens), seconds, known, begun, room), 1, 2)
    return draws.film(course[:, MOULD], course[:, BONDLINE])


def _happened(log: CureLog, lost: np.ndarray, mould: Mould) -> str:
    zones = [zone + 1 for zone in range(ZONES) if lost[:, zone].any()]
    if not zones:
        gaps = f", with {counted(len(mould.holes), 'hole')} in the log" if len(mould.holes) else ""
        return f"{log.source.file}: every zone was read{gaps}."
    first = int(np.flatnonzero(lost.any(axis=1))[0])
    names = ", ".join(map(str, zones))
    return (
        f"{log.source.file}: zone {names} was not read, or not to be believed, from {log.clock_of(first)}; it counts "
        "as dead since."
    )


def _wetting(log: CureLog, mould: Mould, limits: CureLimits, gelled: float | None) -> Finding | None:
    """Pressure missing between the first heat and release."""
    columns = log.with_role("pressure")
    if not columns:
        return pressure_unknown("the log has no pressure channel")
    if limits.pressure_least is None or limits.heat_begins is None:
        return pressure_unknown("limits.cure.pressure_least or heat_begins is not entered")
    heated = np.flatnonzero(mould.hottest > limits.heat_begins)
    hot = np.flatnonzero(mould.hottest >= (limits.release or limits.heat_begins))
    if not len(heated) or not len(hot):
        return pressure_unknown("the log shows no heat")
    under = slice(int(heated[0]), int(hot[-1]) + 1)
    low = np.flatnonzero(~(np.fmin.reduce(log.values[under][:, columns], axis=1) >= limits.pressure_least))
    if not len(low):
        return None
    at = float(log.seconds[under][low[0]])
    if low[0] == 0:
        on = np.flatnonzero(np.diff(low) > 1)
        until = int(low[on[0]]) if len(on) else int(low[-1])
        return pressure_late(float(log.seconds[under][until] - log.seconds[under][0]) + limits.sample_interval)
    return pressure_lost(at, gelled)


def _settles(lost: np.ndarray) -> tuple[str, ...]:
    if not lost.any():
        return ()
    return (
        "A calibrated second sensor in that zone that read through the gap: file its log. A heater's reading is not "
        "the mould's, and a neighbour's is another place.",
    )
