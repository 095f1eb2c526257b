"""A mould of six heated zones: what each zone weighs, passes on and loses, as a network of heat.

Zones 1 to 3 are the top half from root to tip, 4 to 6 the bottom half. Each has a heater and a piece of mould with its
sensor; between top and bottom lies the blade, one bondline body for each station.
"""

from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.network import HeatNetwork
from bladewright.errors import BadInput

ZONES, STATIONS = 6, 3
HEATERS, MOULD, BONDLINE = slice(0, 6), slice(6, 12), slice(12, 15)
BODIES = 15
#: neighbours along each half, and station by station across
ALONG = ((0, 1), (1, 2), (3, 4), (4, 5))
ACROSS = ((0, 3), (1, 4), (2, 5))


@dataclass(frozen=True, slots=True)
class Oven:
    """One oven, or many drawn ones along the leading axes. A number that is the same everywhere may stand alone."""

    heater_capacity: Floats  # (..., 6) [J/K]
    mould_capacity: Floats  # (..., 6) [J/K]
    bondline_capacity: Floats  # (..., 3) skins, film and spar of a station [J/K]
    heater_to_mould: Floats  # (..., 6) [W/K]
    mould_to_bondline: Floats  # (..., 6) [W/K]
    along: Floats  # (..., 4) mould to mould: zones 1-2, 2-3, 4-5, 5-6 [W/K]
    across: Floats  # (..., 3) mould to mould past the blade: zones 1-4, 2-5, 3-6 [W/K]
    bondline_along: Floats  # (..., 2) stations 1-2, 2-3 [W/K]
    heater_loss: Floats  # (..., 6) to the room [W/K]
    mould_loss: Floats  # (..., 6) to the room [W/K]
    greatest_power: Floats  # (..., 6) of each heater [W]

    def __post_init__(self) -> None:
        for field in fields(self):
            values = np.asarray(getattr(self, field.name))
            if not (np.isfinite(values).all() and (values >= 0.0).all()):
                raise BadInput("cannot be", field=field.name, allowed="numbers, not negative")


#: how many of each there are
COUNTS = {
    "heater_capacity": 6,
    "mould_capacity": 6,
    "bondline_capacity": 3,
    "heater_to_mould": 6,
    "mould_to_bondline": 6,
    "along": 4,
    "across": 3,
    "bondline_along": 2,
    "heater_loss": 6,
    "mould_loss": 6,
    "greatest_power": 6,
}


def oven_network(oven: Oven) -> HeatNetwork:
    """The fifteen bodies of an oven: heaters, mould zones, bondline stations, in that order.

    Parameters
    ----------
    oven : Oven
        [-]

    Returns
    -------
    HeatNetwork

    Raises
    ------
    BadInput
        If an entry has another number of zones, or a body has no capacity.

    Notes
    -----
    Each body of one temperature: what differs within a zone, at its edges above all, is not seen.

    Source: own model; elementary.
    """
    whole = {name: _each(oven, name) for name in COUNTS}
    leading = np.broadcast_shapes(*(values.shape[:-1] for values in whole.values()))
    between = np.zeros((*leading, BODIES, BODIES))

    def join(one: int, other: int, conductance: Floats) -> None:
        between[..., one, other] = between[..., other, one] = conductance

    for zone in range(ZONES):
        join(zone, MOULD.start + zone, whole["heater_to_mould"][..., zone])
        join(MOULD.start + zone, BONDLINE.start + zone % STATIONS, whole["mould_to_bondline"][..., zone])
    for number, (one, other) in enumerate(ALONG):
        join(MOULD.start + one, MOULD.start + other, whole["along"][..., number])
    for number, (one, other) in enumerate(ACROSS):
        join(MOULD.start + one, MOULD.start + other, whole["across"][..., number])
    for number in range(STATIONS - 1):
        join(BONDLINE.start + number, BONDLINE.start + number + 1, whole["bondline_along"][..., number])
    capacity, loss = np.empty((*leading, BODIES)), np.zeros((*leading, BODIES))
    capacity[..., HEATERS], capacity[..., MOULD] = whole["heater_capacity"], whole["mould_capacity"]
    capacity[..., BONDLINE] = whole["bondline_capacity"]
    loss[..., HEATERS], loss[..., MOULD] = whole["heater_loss"], whole["mould_loss"]
    return HeatNetwork(capacity, between, loss)


def _each(oven: Oven, name: str) -> Floats:
    """One number for each zone, whatever was given."""
    values, count = np.atleast_1d(np.asarray(getattr(oven, name), dtype=float)), COUNTS[name]
    if values.shape[-1] not in (1, count):
        raise BadInput("has another number of zones", field=name, value=values.shape[-1], allowed=f"1 or {count}")
    return np.broadcast_to(values, (*values.shape[:-1], count))
