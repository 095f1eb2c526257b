"""What an oven's model says of a logged survey, driven by its power, or else by the heaters' own temperatures."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.cure.course import heated_course
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.engine.cure.network import HeatNetwork
from bladewright.engine.cure.oven import BODIES, BONDLINE, HEATERS, MOULD, STATIONS, ZONES, Oven, oven_network
from bladewright.errors import BadInput, MissingInput


@dataclass(frozen=True, slots=True)
class Survey:
    """A logged run with sensors where a production run has none. Not a number is where a sensor gave nothing."""

    seconds: Floats  # (t,) increasing [s]
    mould: Floats  # (t, 6) [K]
    ambient: float | Floats  # of the room, one or (t,) [K]
    power: Floats | None = None  # (t, 6) given to the heaters [W]
    heater: Floats | None = None  # (t, 6) their own sensors, whole where the power was not logged [K]
    bondline: Floats | None = None  # (t, 3) probes laid into the bondline for the survey [K]
    mean_power: bool = True  # each row's power is the mean since the row before; else as it was at the row
    even: bool = True  # begun cold, everything at the mean of the first row; else where each sensor was

    def __post_init__(self) -> None:
        require_increasing(self.seconds, "seconds")
        require_kelvin(np.array(self.ambient), "ambient")
        shapes = {"mould": ZONES, "power": ZONES, "heater": ZONES, "bondline": STATIONS}
        for name, count in shapes.items():
            values = getattr(self, name)
            if values is not None and values.shape != (len(self.seconds), count):
                raise BadInput(
                    "has another shape", field=name, allowed=f"a row for each time, {count} columns", value=None
                )
        if self.power is not None and not np.isfinite(self.power).all():
            raise BadInput("is not whole", field="power", allowed="a number at every time")
        if not np.isfinite(self.measured[:1]).any():
            raise MissingInput("nothing was read at the start", field="mould", row=1, allowed="a reading")
        if self.power is None and self.heater is None:
            raise MissingInput(
                "nothing says what the heaters did", field="power", allowed="power or the heaters' temperatures"
            )
        if self.power is None and self.heater is not None:
            require_kelvin(self.heater, "heater")

    @property
    def measured(self) -> Floats:
        """All sensors in the order of the oven's bodies, those that drive left out. (t, 15) [K]"""
        all_of = np.full((len(self.seconds), BODIES), np.nan)
        if self.power is not None and self.heater is not None:
            all_of[:, HEATERS] = self.heater
        all_of[:, MOULD] = self.mould
        if self.bondline is not None:
            all_of[:, BONDLINE] = self.bondline
        return all_of


def survey_course(oven: Oven, survey: Survey, warmer: float | Floats = 0.0) -> Floats:
    """Temperatures of all bodies at the times of a survey, begun where its first row has them.

    Parameters
    ----------
    oven : Oven
        One, or many along the leading axes. [-]
    survey : Survey
        [-]
    warmer : float or (...) array
        How much warmer everything began than the first row reads. [K]

    Returns
    -------
    array
        (..., t, 15). [K]

    Notes
    -----
    A survey is best begun cold and even: the first row is then one temperature, better known than any reading of it.
    Otherwise what was not measured is taken as that zone's mould, or the mean of the halves for a bondline.

    Power as it was at each row is taken as straight between rows, which a controller's is not: rows a minute apart can
    so be off by a tenth of a kelvin. The mean since the row before, as an energy counter gives it, is better.

    Source: own model; exact for heat that is steady or goes straight between rows.
    """
    network = oven_network(oven)
    begun = _start(survey) + np.asarray(warmer)[..., None]
    if survey.power is not None:
        room = network.to_ambient[..., None, :] * _room(survey)
        heat = room + np.pad(survey.power, ((0, 0), (0, BODIES - ZONES)))
        return heated_course(network, survey.seconds, heat, begun, survey.mean_power)
    assert survey.heater is not None
    inner, heat = _without_heaters(network, survey.heater, _room(survey))
    found = heated_course(inner, survey.seconds, heat, begun[..., ZONES:])
    return np.concatenate((np.broadcast_to(survey.heater, (*found.shape[:-1], ZONES)), found), axis=-1)


def _start(survey: Survey) -> Floats:
    """Every body's temperature at the first row."""
    if survey.even:
        return np.full(BODIES, np.nanmean(survey.measured[0]))
    mould = np.where(np.isnan(survey.mould[0]), np.nanmean(survey.mould[0]), survey.mould[0])
    heater = mould if survey.heater is None else np.where(np.isnan(survey.heater[0]), mould, survey.heater[0])
    between = mould.reshape(2, STATIONS).mean(axis=0)
    if survey.bondline is not None:
        between = np.where(np.isnan(survey.bondline[0]), between, survey.bondline[0])
    return np.concatenate((heater, mould, between))


def _room(survey: Survey) -> Floats:
    """A row for each time. (t, 1) [K]"""
    return np.broadcast_to(survey.ambient, survey.seconds.shape)[:, None]


def _without_heaters(network: HeatNetwork, heater: Floats, room: Floats) -> tuple[HeatNetwork, Floats]:
    """What is left when the heaters' temperatures are given: they are surroundings of the mould."""
    inner = slice(ZONES, BODIES)
    reach = network.between[..., inner, HEATERS]
    driven = np.einsum("...ij,tj->...ti", reach, heater) + network.to_ambient[..., None, inner] * room
    left = HeatNetwork(
        network.capacity[..., inner],
        network.between[..., inner, inner],
        network.to_ambient[..., inner] + reach.sum(axis=-1),
    )
    return left, driven
