"""Typed TOML files: nothing unknown gets in, every value carries its unit, and every mistake is named at once."""

import tomllib
from collections.abc import Callable
from typing import Any, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError
from pydantic_core import PydanticCustomError

from bladewright import units
from bladewright.errors import BadInput, SeveralBadInputs


class Record(BaseModel):
    """Base of every table: nothing unknown gets in, nothing changes afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


Model = TypeVar("Model", bound=BaseModel)


def as_custom(error: BadInput) -> PydanticCustomError:
    """One of our errors in the form pydantic collects, so that its fields are not lost on the way."""
    context = {"what": error.what, "allowed": error.allowed or "", "fix": error.fix or ""}
    return PydanticCustomError("ours", "{what}", context)


def _reader(kind: str) -> Callable[[object], float]:
    def read(value: object) -> float:
        try:
            return units.to_si(value if isinstance(value, str) else str(value), kind)
        except BadInput as error:
            raise as_custom(error) from error

    return read


def of_kind(kind: str) -> tuple[BeforeValidator, object]:
    """For a field written as text with a unit, kept as an SI float: ``Annotated[float, *of_kind("length")]``."""
    return BeforeValidator(_reader(kind)), Field(json_schema_extra={"kind": kind, "unit": units.si_unit(kind)})


def toml_table(data: bytes, file: str) -> dict[str, Any]:
    """The table in the bytes of a TOML file."""
    try:
        return tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise BadInput("is not UTF-8 text", file=file, fix="save the file as UTF-8") from error
    except (ValueError, RecursionError) as error:  # also a number of five thousand digits, or a thousand brackets
        raise BadInput(f"is not TOML: {error}", file=file, fix="mend the line named above") from error


def validated(model: type[Model], table: dict[str, Any], file: str, what: str) -> Model:
    """The table as a model; ``SeveralBadInputs`` names everything wrong. ``what`` is like "a blade drawing"."""
    try:
        return model.model_validate(table)
    except ValidationError as error:
        raise SeveralBadInputs(_as_errors(error, file, what)) from error


def _field(location: tuple[int | str, ...]) -> str:
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in location)


def _as_errors(error: ValidationError, file: str, of: str) -> list[BadInput]:
    found = []
    for item in error.errors(include_url=False):
        context: dict[str, Any] = item.get("ctx", {})
        what, allowed, fix = item["msg"], context.get("allowed"), context.get("fix")
        if item["type"] == "extra_forbidden":
            what, fix = f"is not a field of {of}", "check the spelling, or take it out"
        elif item["type"] == "missing":
            what, fix = "is needed and not there", "enter it"
        elif item["type"] == "literal_error":
            allowed = context.get("expected")
        shown = item["input"] if isinstance(item["input"], (str, int, float, bool)) else None
        found.append(
            BadInput(what, file=file, field=_field(item["loc"]), value=shown, allowed=allowed or None, fix=fix or None)
        )
    return found
