"""A running cure and a zone survey worked out with a ruler: straight ramps, a zone that sinks, a soak."""

import datetime
from functools import partial

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.oven_file import SurveyLimits
from bladewright.evidence.records import Channel, CureLog, Floats, Source
from bladewright.figures import Figure
from bladewright.proof.cure_watch import CureWatch, watch_cure
from bladewright.proof.zone_survey import judge_survey
from bladewright.selfcheck.case import Case

_SOURCE = "straight lines read off with a ruler; closed form"
_ICE = 273.15  # [K]
_LIMITS = CureLimits.model_validate(
    {"target": "121 degC", "below": "3 K", "above": "3 K", "dwell_least": "60 min", "ramp_greatest": "2.8 K/min",
     "spread_greatest": "5 K", "sample_interval": "1 min", "sensor_uncertainty": "0.5 K"}
)  # fmt: skip
_MINUTES = np.arange(0.0, 41.0)
#: 2 K/min from 20 degC up; 121 degC held, and from minute 30 on sinking by 0.2 K/min
_RAMP = 20.0 + 2.0 * _MINUTES
_SINKING = np.where(_MINUTES < 30.0, 121.0, 121.0 - 0.2 * (_MINUTES - 30.0))


def _log(celsius: Floats, minutes: Floats = _MINUTES) -> CureLog:
    return CureLog(
        source=Source("by hand", "0" * 64),
        description="by hand",
        start=datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC),
        seconds=60.0 * minutes,
        channels=(Channel("M1", "mould", "1"),),
        values=celsius[:, None] + _ICE,
        rows=np.arange(2, len(minutes) + 2),
    )


def _watched(celsius: Floats) -> CureWatch:
    state = watch_cure(_log(celsius), _LIMITS)
    assert state is not None
    return state


def _of(figure: Figure | None) -> float:
    assert figure is not None
    return figure.value


def _rate() -> float:
    return _of(_watched(_RAMP).channels[0].rate)


def _arrival() -> float:
    return _of(_watched(_RAMP).channels[0].to_limit)


def _leaving() -> float:
    return _of(_watched(_SINKING).channels[0].to_limit)


def _left() -> float:
    return _of(_watched(_SINKING).dwell.left)


def _survey(which: str) -> float:
    """In from 10 to 45 min, a kelvin and a half above the target at first and two below it in the end."""
    minutes = np.arange(0.0, 56.0, 5.0)
    soak = (minutes >= 10.0) & (minutes <= 45.0)
    held = 122.5 - 3.5 * (minutes - 10.0) / 35.0
    limits = SurveyLimits(121.0 + _ICE, 3.0, 1800.0, None, 300.0)
    survey = judge_survey(_log(np.where(soak, held, 90.0), minutes), limits)
    return {
        "soak": _of(survey.findings[0].worst),
        "hottest": _of(survey.hottest),
        "coldest": _of(survey.coldest),
    }[which]


CASES: tuple[Case, ...] = (
    Case(_SOURCE, "rate of 2 K/min [degF/min]", _rate, 3.6, 1e-9, "exact"),
    Case(_SOURCE, "from 100 degC to a band that begins at 118, at 2 K/min [min]", _arrival, 9.0, 1e-5, "band's edge"),
    Case(_SOURCE, "from 119 degC to the floor of 118, at -0.2 K/min [min]", _leaving, 5.0, 1e-4, "band's edge"),
    Case(_SOURCE, "left of 60 min after 40 min in the band drawn in by U [min]", _left, 20.0, 1e-9, "exact"),
    Case(_SOURCE, "soak of a survey [min]", partial(_survey, "soak"), 35.0, 1e-9, "exact"),
    Case(_SOURCE, "hottest of a survey, of the target [degF]", partial(_survey, "hottest"), 2.7, 1e-9, "exact"),
    Case(_SOURCE, "coldest of a survey, of the target [degF]", partial(_survey, "coldest"), -3.6, 1e-9, "exact"),
)
