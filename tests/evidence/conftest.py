"""A plain logger description and the one way the tests of this room change it."""

from collections.abc import Callable
from typing import Any

import pytest

from bladewright.errors import BladewrightError, SeveralBadInputs
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.records import CureLog
from bladewright.typed import validated

Describe = Callable[..., LoggerDescription]


def plain_table() -> dict[str, Any]:
    """Two mould sensors, minutes, New York."""
    return {
        "format": 1,
        "name": "plain",
        "missing": ["open"],
        "file": {"encoding": "utf-8", "delimiter": "comma", "decimal_mark": "point"},
        "table": {"names_row": 1, "first_row": 2},
        "time": {
            "columns": ["time"],
            "format": "%Y-%m-%d %H:%M",
            "zone": "America/New_York",
            "file_order_is_time_order": True,
        },
        "columns": [
            {"column": "Z1", "role": "mould", "zone": "1", "side": "top", "unit": "degC"},
            {"column": "Z2", "role": "mould", "zone": "2", "side": "top", "unit": "degC"},
        ],
    }


@pytest.fixture(name="describe")
def _describe() -> Describe:
    """The plain description with entries replaced: ``describe(**{"file.encoding": "utf-16"})``."""

    def describe(**changes: Any) -> LoggerDescription:
        table = plain_table()
        for path, value in changes.items():
            place = table
            *parents, last = path.split(".")
            for parent in parents:
                place = place[parent]
            if value is None:
                place.pop(last, None)
            else:
                place[last] = value
        return validated(LoggerDescription, table, "plain.toml", "a logger description")

    return describe


@pytest.fixture(name="refused")
def _refused() -> Callable[[bytes, LoggerDescription], tuple[BladewrightError, ...]]:
    """Everything a log is refused for."""

    def refused(data: bytes, description: LoggerDescription) -> tuple[BladewrightError, ...]:
        with pytest.raises(SeveralBadInputs) as caught:
            read_cure_log(data, description, "cure.csv")
        assert all(error.file == "cure.csv" for error in caught.value.errors)
        return caught.value.errors

    return refused


@pytest.fixture(name="stamps_of")
def _stamps_of() -> Callable[[CureLog], list[str]]:
    """UTC of every row."""
    return lambda log: [log.time_of(i) for i in range(len(log.rows))]
