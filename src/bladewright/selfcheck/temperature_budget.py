"""A temperature reading's uncertainty by the guide's formulas, worked out by hand."""

import math

from bladewright.engine.metrology.combining import Contribution
from bladewright.engine.metrology.temperature_reading import RECTANGULAR, chance_below, reading_uncertainty
from bladewright.selfcheck.case import Case

_SOURCE = (
    "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.3.7 and 5.1.2, on an invented channel "
    "(closed form)"
)
#: half widths of logger and terminals, resolution [K]; scatter of five readings [K]
_LOGGER, _TERMINALS, _STEP, _SCATTER, _READINGS = 0.5, 0.4, 0.1, 0.25, 5
_BAND = "worked out to four figures"


def _standard(sensor: float) -> float:
    return reading_uncertainty(Contribution(sensor), _LOGGER, _TERMINALS, _STEP, _SCATTER, _READINGS).standard


def _of_class_two() -> float:
    return _standard(RECTANGULAR * 2.5)


def _guarded() -> float:
    """The least reading that leaves a chance of one in twenty of being below 118 degC. [degC]"""
    return 118.0 + 1.645 * _standard(0.15)


CASES: tuple[Case, ...] = (
    Case(_SOURCE, "class 2 sensor, not calibrated: standard uncertainty [K]", _of_class_two, 1.4944, 1e-4, _BAND),
    Case(_SOURCE, "class 2 sensor, not calibrated: k = 2 [K]", lambda: 2.0 * _of_class_two(), 2.989, 1e-3, _BAND),
    Case(_SOURCE, "calibrated sensor: standard uncertainty [K]", lambda: _standard(0.15), 0.4153, 1e-4, _BAND),
    Case(_SOURCE, "calibrated sensor: least reading for a floor of 118 degC [degC]", _guarded, 118.683, 1e-3, _BAND),
    Case(
        _SOURCE,
        "calibrated sensor, 118.8 degC: chance to be below 118 [1]",
        lambda: chance_below(118.0, 118.8, _standard(0.15)),
        0.0270,
        1e-4,
        _BAND,
    ),
    Case(
        _SOURCE,
        "calibrated sensor: effective degrees of freedom [1]",
        lambda: reading_uncertainty(Contribution(0.15), _LOGGER, _TERMINALS, _STEP, _SCATTER, _READINGS).freedom,
        (0.15**2 + (0.5**2 + 0.4**2) / 3.0 + 0.1**2 / 12.0 + 0.25**2 / 5.0) ** 2 / ((0.25 / math.sqrt(5.0)) ** 4 / 4.0),
        1e-6,
        "closed form",
    ),
)
