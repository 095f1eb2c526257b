"""How well one logged temperature is known: sensor, cold junction, logger, resolution and scatter together."""

import math

from bladewright.engine.metrology.combining import Combined, Contribution, combined
from bladewright.errors import BadInput

#: standard uncertainty of a value that may lie anywhere within a half width, as a share of it (JCGM 100:2008, 4.3.7)
RECTANGULAR = 1.0 / math.sqrt(3.0)


def reading_uncertainty(
    sensor: Contribution,
    logger: float,
    cold_junction: float,
    resolution: float,
    scatter: float = 0.0,
    readings: int = 1,
) -> Combined:
    """Uncertainty of a temperature read through a sensor and a logger.

    ``u**2 = u_s**2 + (a_l**2 + a_c**2) / 3 + d**2 / 12 + s**2 / n``, expanded for the effective degrees of freedom.

    Parameters
    ----------
    sensor : Contribution
        Standard uncertainty of the sensor itself: of its calibration, or ``RECTANGULAR`` times its class limit. [K]
    logger : float
        Half width within which the logger's own error lies, terminals apart. [K]
    cold_junction : float
        Half width within which the error of its terminals' temperature lies. [K]
    resolution : float
        Step between two figures it can show: the whole width. [K]
    scatter : float
        Standard deviation of repeated readings at one temperature. [K]
    readings : int
        How many readings that is the standard deviation of, and the value is the mean of. [1]

    Returns
    -------
    Combined

    Raises
    ------
    BadInput
        If a width is negative or not finite, or a scatter comes from fewer than two readings.

    Notes
    -----
    First order; the contributions have no cause in common. What is left out: a sensor that does not touch, wire that
    aged, heat that runs along it. An error of the terminals is carried one to one, a little too much.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.2.3, 4.3.7, 5.1.2, F.2.2.1.
    """
    for field, value in (
        ("logger", logger), ("cold_junction", cold_junction), ("resolution", resolution), ("scatter", scatter),
    ):  # fmt: skip
        if not (math.isfinite(value) and value >= 0.0):
            raise BadInput("not an uncertainty", field=field, value=value, allowed=">= 0")
    if scatter and readings < 2:
        raise BadInput("too few for a scatter", field="readings", value=readings, allowed="at least 2")
    parts = [
        sensor,
        Contribution(RECTANGULAR * logger),
        Contribution(RECTANGULAR * cold_junction),
        Contribution(0.5 * RECTANGULAR * resolution),
    ]
    if scatter:
        parts.append(Contribution(scatter / math.sqrt(readings), readings - 1))
    return combined(parts)


def chance_below(limit: float, value: float, standard: float) -> float:
    """How likely the true value lies below a limit, given what was measured.

    ``P = Phi((limit - value) / u)``.

    Parameters
    ----------
    limit : float
        The limit. [K]
    value : float
        What was measured, corrected. [K]
    standard : float
        Its standard uncertainty, above zero. [K]

    Returns
    -------
    float
        Between 0 and 1. [1]

    Raises
    ------
    BadInput
        If the standard uncertainty is not above zero.

    Notes
    -----
    For a normal distribution and no knowledge but the measurement.

    Source: JCGM 106:2012, The role of measurement uncertainty in conformity assessment, 7.3 (from memory).
    """
    if not standard > 0.0:
        raise BadInput("not an uncertainty", field="standard", value=standard, allowed="above 0")
    return 0.5 * math.erfc((value - limit) / (standard * math.sqrt(2.0)))
