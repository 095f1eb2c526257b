"""How a shop counts a film adhesive's hours out of the freezer, and what the maker allows; entered with its source."""

from pathlib import Path
from typing import Annotated, Self

from pydantic import Field, model_validator

from bladewright.drawing.acceptance_limits import AcceptanceLimits
from bladewright.drawing.quantities import Record, Temperature
from bladewright.errors import BadInput
from bladewright.typed import as_custom, of_kind, toml_table, validated

#: hours cannot be fewer than none
Duration = Annotated[float, *of_kind("time"), Field(ge=0.0)]


class CountingRule(Record):
    """The maker's limits and the shop's rule, which may be stricter and never kinder. What is left out is not known."""

    film: str = ""
    maker_limit: Duration | None = None  # [s] out of the freezer, in all
    maker_warmest: Temperature | None = None  # [K] the room the maker's limit holds for
    shop_limit: Duration | None = None  # [s]
    free_per_trip: Duration = 0.0  # [s] the shop leaves uncounted at each trip, like a thaw in the sealed bag
    maker_free_per_trip: Duration = 0.0  # [s] the maker allows to be left uncounted
    warm_up_least: Duration | None = None  # [s] sealed at room temperature before the bag may be opened
    storage_warmest: Temperature | None = None  # [K] of the freezer; above it its rolls count as out
    storage_interval: Duration | None = None  # [s] between two entries of the freezer's own log
    storage_read_every: Duration | None = None  # [s] that log is taken from its logger and filed
    acceptance: AcceptanceLimits | None = None  # what each lot must show first; None: no acceptance test is asked
    source: str | None = None

    @model_validator(mode="after")
    def _whole_storage(self) -> Self:
        entered = (self.storage_warmest, self.storage_interval, self.storage_read_every)
        if any(entered) and not all(entered):
            raise as_custom(
                BadInput(
                    "tells half of how the freezer is watched",
                    allowed="storage_warmest, storage_interval and storage_read_every, or none of them",
                    fix="enter all three",
                )
            )
        return self

    @property
    def limit(self) -> float | None:
        """The stricter of both; None while the maker's is not entered, because the shop's cannot stand for it. [s]"""
        if self.maker_limit is None:
            return None
        return self.maker_limit if self.shop_limit is None else min(self.maker_limit, self.shop_limit)

    @property
    def free(self) -> float:
        """What may be left uncounted at each trip: never more than the maker allows. [s]"""
        return min(self.free_per_trip, self.maker_free_per_trip)


class _RuleFile(Record):
    format: int = Field(ge=1, le=1)
    counting: CountingRule


def parse_counting_rule(data: bytes, file: str) -> CountingRule:
    """The counting rule in the bytes of a TOML file; ``SeveralBadInputs`` names everything wrong."""
    return validated(_RuleFile, toml_table(data, file), file, "a counting rule").counting


def read_counting_rule(path: Path) -> CountingRule:
    """The counting rule in a TOML file."""
    return parse_counting_rule(path.read_bytes(), path.name)
