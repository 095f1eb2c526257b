"""The kinds of files a shop keeps about itself: how each is read, what it is about, who may keep it.

A new kind is one line in the table: its reader, what it is called by, and the latest day it speaks of.
"""

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from bladewright.drawing.counting_rule import CountingRule, parse_counting_rule
from bladewright.drawing.cure_plan_file import CurePlanFile, parse_cure_plan
from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.calibration import Calibration, read_calibration
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import (
    LoggerDescription,
    PullDescription,
    parse_logger_description,
    parse_pull_description,
)
from bladewright.evidence.freezer_log import Roll, read_freezer_log
from bladewright.evidence.gauge_file import Gauge, read_gauge
from bladewright.evidence.oven_file import Oven, read_oven
from bladewright.evidence.records import CureLog
from bladewright.records.acts import Scope

OVEN, ROLL, RULE, FREEZER = "oven", "adhesive roll", "counting rule", "freezer log"
CALIBRATION, SURVEY, GAUGE, PLAN = "calibration", "zone survey", "gauge", "cure plan"
LOGGER, PULL = "logger description", "pull description"


@dataclass(frozen=True, slots=True)
class Given:
    """A file as it was handed in or kept."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class OvenWithSensors:
    """An oven, and the mould sensors a cure in it is judged by, as its logger's description names them."""

    oven: Oven
    sensors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShopKind:
    """One kind of shop file."""

    name: str
    what: str  # what it tells, for a person who has to find it
    needs: tuple[Scope, ...]  # any one of these
    read: Callable[[Given, Given | None], Any]
    about: Callable[[Any], str]
    latest: Callable[[Any], datetime.date | datetime.datetime | None]
    beside: str = ""  # what it is read by, if anything
    every: bool = False  # each file speaks for its own days; the newest does not stand for the older ones


def _needed(how: Given | None, given: Given) -> Given:
    if how is None:
        raise MissingInput(
            "is needed to read the file", file=given.name, field="beside", allowed="a logger description",
            fix="give the description of the logger that wrote it",
        )  # fmt: skip
    return how


def _log(given: Given, how: Given | None) -> CureLog:
    by = _needed(how, given)
    return read_cure_log(given.data, parse_logger_description(by.data, by.name), given.name)


def _freezer(given: Given, how: Given | None) -> CureLog:
    """A log that can say when the freezer was how cold."""
    log = _log(given, how)
    if log.start is None or not log.with_role("air"):
        raise BadInput(
            "counts seconds only" if log.start is None else "has no channel of the freezer's air", file=given.name,
            field="start" if log.start is None else "channels", allowed="a log with days, and a channel of role air",
            fix="mend the logger description",
        )  # fmt: skip
    return log


def _oven(given: Given, how: Given | None) -> OvenWithSensors:
    by = _needed(how, given)
    described = parse_logger_description(by.data, by.name)
    sensors = tuple(form.name or str(form.column) for form in described.columns if form.role == "mould")
    return OvenWithSensors(read_oven(given.data, given.name), sensors)


def _rule(given: Given, how: Given | None) -> CountingRule:  # noqa: ARG001
    rule = parse_counting_rule(given.data, given.name)
    if not rule.film.strip():
        raise MissingInput(
            "names no film", file=given.name, field="counting.film", value=rule.film, allowed="the film it counts for",
            fix="enter the film",
        )  # fmt: skip
    return rule


def _alone(read: Callable[[bytes, str], Any]) -> Callable[[Given, Given | None], Any]:
    """A reader that needs no second file."""
    return lambda given, _: read(given.data, given.name)


def _log_ends(log: CureLog) -> datetime.datetime | None:
    return None if log.start is None else log.start + datetime.timedelta(seconds=float(log.seconds[-1]))


def _last_done(found: OvenWithSensors) -> datetime.date | None:
    days = [survey.done_on for survey in found.oven.surveys] + [check.done_on for check in found.oven.checks]
    return max(days, default=None)


def _never(_: object) -> None:
    return None


def _oven_name(found: OvenWithSensors) -> str:
    return found.oven.name


def _used_up(roll: Roll) -> datetime.date | None:
    return roll.used_up


def _roll_number(roll: Roll) -> str:
    return roll.number


def _film(rule: CountingRule) -> str:
    return rule.film


def _log_of(log: CureLog) -> str:
    return log.description


def _sensor(calibration: Calibration) -> str:
    return calibration.sensor


def _calibrated_on(found: Calibration | Gauge) -> datetime.date | None:
    return found.calibrated_on


def _gauge(gauge: Gauge) -> str:
    return gauge.name


def _planned_for(plan: CurePlanFile) -> str:
    return f"{plan.drawing} {plan.revision}"


def _described(description: LoggerDescription | PullDescription) -> str:
    return description.name


_KEEPERS: Final = (Scope.INSPECT, Scope.RECEIVE)
KINDS: Final[dict[str, ShopKind]] = {
    kind.name: kind
    for kind in (
        ShopKind(OVEN, "its surveys and sensor checks, and when each is due", (Scope.INSPECT,), _oven, _oven_name,
                 _last_done, LOGGER),
        ShopKind(ROLL, "where one roll of film was, hour by hour", (Scope.RECEIVE, Scope.BOND),
                 _alone(read_freezer_log), _roll_number, _used_up),
        ShopKind(RULE, "the maker's limits of a film and how the shop counts its hours", (Scope.DESIGN,), _rule, _film,
                 _never),
        ShopKind(FREEZER, "what the freezer's own sensor wrote", _KEEPERS, _freezer, _log_of, _log_ends, LOGGER,
                 every=True),
        ShopKind(CALIBRATION, "what one temperature sensor reads too much or too little", (Scope.INSPECT,),
                 _alone(read_calibration), _sensor, _calibrated_on, every=True),
        ShopKind(SURVEY, "how evenly the oven heats, by survey sensors in the mould", (Scope.INSPECT,), _log, _log_of,
                 _log_ends, LOGGER, every=True),
        ShopKind(GAUGE, "one gauge and its calibration", _KEEPERS, _alone(read_gauge), _gauge, _calibrated_on),
        ShopKind(PLAN, "what a person sets at the oven's controller", (Scope.CURE, Scope.DESIGN),
                 _alone(parse_cure_plan), _planned_for, _never),
        ShopKind(LOGGER, "how a logger writes its files", (Scope.INSPECT, Scope.CURE), _alone(parse_logger_description),
                 _described, _never),
        ShopKind(PULL, "how the peel machine writes its curves", (Scope.INSPECT,), _alone(parse_pull_description),
                 _described, _never),
    )
}  # fmt: skip


def kind_named(name: str) -> ShopKind:
    """The kind of that name; ``BadInput`` lists all of them."""
    found = KINDS.get(name)
    if found is None:
        raise BadInput(
            "is no kind of shop file", field="kind", value=name, allowed=", ".join(KINDS), fix="choose one of these"
        )
    return found
