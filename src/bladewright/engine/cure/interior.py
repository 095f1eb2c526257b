"""The bondline where no sensor is: between the logged halves of a mould, and between stations."""

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.cure.course import heated_course
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.engine.cure.network import HeatNetwork
from bladewright.engine.cure.oven import BONDLINE, MOULD, ZONES, Oven, oven_network
from bladewright.errors import BadInput


def bondline_course(oven: Oven, seconds: Floats, mould: Floats, begun: float | Floats | None = None) -> Floats:
    """Bondline temperatures at the samples of a log of the six mould zones.

    Parameters
    ----------
    oven : Oven
        One, or many along the leading axes. [-]
    seconds : (t,) array
        Times of the samples, increasing. [s]
    mould : (..., t, 6) array
        What the mould was, sensors corrected, zones 1 to 6. Where a sensor said nothing the coldest it can have been
        has to stand. [K]
    begun : float or (..., 3) array or None
        Bondline at the first sample; None for the mean of the halves. [K]

    Returns
    -------
    array
        (..., t, 3). [K]

    Raises
    ------
    StationOrder
        If the times do not increase.
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin, or is missing.
    BadInput
        If there is another number of zones.

    Notes
    -----
    The ends of the mould beyond the outer sensors are colder than any of them and not seen.

    Source: own model; exact for mould temperatures that go straight between samples.
    """
    require_increasing(seconds, "seconds")
    require_kelvin(mould, "mould")
    if mould.shape[-2:] != (len(seconds), ZONES):
        raise BadInput("has another shape", field="mould", allowed=f"a row for each time, {ZONES} columns")
    whole = oven_network(oven)
    reach = whole.between[..., BONDLINE, MOULD]
    inner = HeatNetwork(whole.capacity[..., BONDLINE], whole.between[..., BONDLINE, BONDLINE], reach.sum(axis=-1))
    driven = np.einsum("...ij,...tj->...ti", reach, mould)
    halves = 0.5 * (mould[..., 0, :3] + mould[..., 0, 3:])
    start = halves if begun is None else np.broadcast_to(np.asarray(begun, dtype=float), halves.shape)
    return heated_course(inner, seconds, driven, start)


def film_temperature(mould: Floats, bondline: Floats, share: float | None = None) -> Floats:
    """The adhesive film's temperature on either side of the blade, between the mould there and the bondline body.

    Under a dead zone the film of that half is colder than the blade's middle, which the other half still warms.

    Parameters
    ----------
    mould : (..., 6, t) array
        Zones 1 to 6. [K]
    bondline : (..., 3, t) array
        Bodies of the stations. [K]
    share : float or None
        Of the way from mould to bondline body, by resistance, at which the film lies: 0 to 1. None, where nobody
        entered it, is the colder end at each moment, below which no film can be. [1]

    Returns
    -------
    array
        (..., 6, t). [K]

    Raises
    ------
    BadInput
        If the share is outside 0 to 1.

    Notes
    -----
    Source: own model; elementary.
    """
    middle = np.concatenate((bondline, bondline), axis=-2)
    if share is None:
        return np.minimum(mould, middle)
    if not 0.0 <= share <= 1.0:
        raise BadInput("is no share of the way", field="share", value=share, allowed="0 to 1")
    film: Floats = mould + share * (middle - mould)
    return film


def between_stations(place: Floats, stations: Floats, value: Floats, expanded: Floats) -> tuple[Floats, Floats]:
    """Bondline temperature between stations, with a band that also holds where the change really happens.

    Parameters
    ----------
    place : (m,) array
        Where along the span. [m]
    stations : (3,) array
        Middles of the zones, outward. [m]
    value, expanded : (..., 3) arrays
        At the stations: temperature and its expanded uncertainty. [K]

    Returns
    -------
    tuple of arrays
        Each (..., m). [K]

    Raises
    ------
    StationOrder
        If the stations do not go outward.

    Notes
    -----
    Straight between stations. Half the neighbours' difference is added: the change may lie anywhere between them.
    Beyond the outer stations the value is held and the same half added; the ends of an oven are where it is coldest,
    so a probe there is worth more than this.

    Source: own rule.
    """
    require_increasing(stations, "stations")
    after = np.clip(np.searchsorted(stations, place), 1, len(stations) - 1)
    share = np.clip((place - stations[after - 1]) / (stations[after] - stations[after - 1]), 0.0, 1.0)
    low, high = value[..., after - 1], value[..., after]
    band = (1.0 - share) * expanded[..., after - 1] + share * expanded[..., after]
    at_station = np.isclose(place, stations[after - 1]) | np.isclose(place, stations[after])
    half = np.where(at_station, 0.0, 0.5 * np.abs(high - low))
    return low + share * (high - low), band + half
