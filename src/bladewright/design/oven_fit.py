"""The oven's entries from its own survey: what the survey told of each, and what it could not tell.

The survey is a run with the mould loaded as in production, heaters' power or temperatures logged, and probes laid
into the bondline of a blade that is not for flight. Without probes the bondline's entries stay as they were entered.
"""

import math
from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import COVERAGE, room_of
from bladewright.drawing.cure_entries import OvenEntries, OvenFit
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.identify import Free, Identified, identify
from bladewright.engine.cure.oven import COUNTS, STATIONS, ZONES
from bladewright.engine.cure.survey import Survey
from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.records import CureLog, Role
from bladewright.figures import Figure

METHOD = "least squares of the survey's sensors over the oven's entries, each begun where it was entered"
VALIDITY = "the mould loaded as in the survey; bodies of one temperature"


@dataclass(frozen=True, slots=True)
class FittedSurvey:
    """The fitted entries, each factor with its uncertainty, and what the survey left open."""

    entries: OvenEntries
    factors: tuple[Figure, ...]
    misfit: Figure
    not_told: tuple[str, ...]  # unknowns the survey taught next to nothing about
    driven_by: str  # "power" or "the heaters' temperatures"


def fit_oven(entered: OvenEntries, log: CureLog, sensor: float) -> FittedSurvey:
    """The oven that fits a survey best; ``sensor`` is the expanded uncertainty of a reading [K]."""
    if not entered.scatter:
        raise MissingInput(
            "nothing says how well the entries were known before", field="oven.scatter",
            allowed='more than nothing, like "12 %"', fix="enter it: the survey is weighed against it",
        )  # fmt: skip
    survey = survey_of(log, room_of(entered))
    # zone by zone: one factor on zones that really differ would be known far too well, and wrong
    free = tuple(Free(name, entered.scatter, each=True) for name in COUNTS if name != "greatest_power")
    found = identify(survey, entered.oven, free, sensor / COVERAGE)
    return FittedSurvey(
        entries=_entries(entered, found, log),
        factors=_factors(found, log),
        misfit=Figure(
            "root mean square of what the model misses", found.misfit, "K", method=METHOD, validity=VALIDITY,
            source=log.source.file,
        ),
        not_told=found.not_identified,
        driven_by="power" if survey.power is not None else "the heaters' temperatures",
    )  # fmt: skip


def survey_of(log: CureLog, room: float) -> Survey:
    """A log as a survey: mould sensors of all zones, power or heaters of all, probes in the bondline by station.

    The room's temperature [K] is taken where no air sensor was logged.
    """
    air = [log.values[:, column] for column in log.with_role("air")]
    ambient = float(np.nanmean(air)) if air and np.isfinite(air).any() else room
    mould, power = _all_of(log, "mould", ZONES), _all_of(log, "power", ZONES)
    heater = _all_of(log, "heater", ZONES)
    if mould is None:
        raise _missing(log, "mould", "a mould sensor of each zone")
    if power is None and (heater is None or not np.isfinite(heater).all()):
        raise _missing(log, "power", "power of each zone, or each heater's temperature without gaps")
    return Survey(log.seconds, mould, ambient, power=power, heater=heater, bondline=_all_of(log, "bondline", STATIONS))


def _all_of(log: CureLog, role: Role, count: int) -> Floats | None:
    """One column for each zone or station in order; None where the role is not logged at all."""
    columns = log.with_role(role)
    if not columns:
        return None
    numbered: dict[str, int] = {}
    for column in columns:
        channel = log.channels[column]
        if channel.zone in numbered:
            raise BadInput(
                "is there twice", file=log.source.file, column=channel.name, field="columns.zone", value=channel.zone,
                allowed="one for each zone", fix="give the second sensor the role other",
            )  # fmt: skip
        numbered[channel.zone] = column
    wanted = [str(number) for number in range(1, count + 1)]
    absent = [number for number in wanted if number not in numbered]
    unknown = sorted(set(numbered) - set(wanted))
    if absent or unknown:
        raise BadInput(
            f"the {role} columns do not name each of their zones", file=log.source.file, field="columns.zone",
            value=", ".join(unknown) or f"without {', '.join(absent)}", allowed=", ".join(wanted),
            fix="name the zones in the logger description, one column each",
        )  # fmt: skip
    return log.values[:, [numbered[number] for number in wanted]]


def _missing(log: CureLog, role: str, allowed: str) -> MissingInput:
    return MissingInput(
        "the survey does not have it", file=log.source.file, field=f"columns.role {role}", allowed=allowed,
        fix="log it, or give its columns that role in the logger description",
    )  # fmt: skip


def _entries(entered: OvenEntries, found: Identified, log: CureLog) -> OvenEntries:
    fitted = {name: tuple(map(float, np.atleast_1d(getattr(found.oven, name)))) for name in COUNTS}
    fit = OvenFit.model_construct(
        survey=log.source.file,
        survey_sha256=log.source.sha256,
        unknowns=found.names,
        covariance=tuple(tuple(map(float, row)) for row in found.covariance),
        coverage=found.coverage,
        misfit=found.misfit,
    )
    return entered.model_copy(update={**fitted, "fit": fit, "source": None})


def _factors(found: Identified, log: CureLog) -> tuple[Figure, ...]:
    """What each entry came out at, over what was entered."""
    return tuple(
        Figure(
            name, float(factor), "1", float(factor) * math.expm1(float(known)), method=METHOD, validity=VALIDITY,
            source=log.source.file,
        )
        for name, factor, known in zip(found.names, found.factor, found.relative, strict=True)
    )  # fmt: skip
