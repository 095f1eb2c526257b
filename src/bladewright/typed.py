"""Typed TOML files: nothing unknown gets in, every value carries its unit, and every mistake is named at once."""

import tomllib
import unicodedata
from collections.abc import Callable, Iterator
from typing import Any, Final, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    field_validator,
)
from pydantic_core import PydanticCustomError

from bladewright import units
from bladewright.errors import BadInput, SeveralBadInputs


class Record(BaseModel):
    """Base of every table: nothing unknown gets in, nothing changes afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True, allow_inf_nan=False)

    @field_validator("*", mode="before")
    @classmethod
    def _true_is_no_number(cls, value: object, info: ValidationInfo) -> object:
        """A factor written as ``true`` would count as one, which is the kindest value of most."""
        entry = cls.model_fields.get(info.field_name or "")
        if isinstance(value, bool) and entry is not None and "bool" not in str(entry.annotation):
            what, allowed = "is true or false where something else is asked", "what is asked, written out"
            raise as_custom(BadInput(what, allowed=allowed, fix="write the value itself"))
        return value


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


#: joins letters in some scripts, and needed there
_JOINERS: Final = "\u200c\u200d"
_DEEPEST: Final = 20  # tables in tables; our own choice: no file of ours comes near it
_NOT_WRITTEN: Final = ("Cc", "Cf", "Cs", "Zl", "Zp")  # control, format (bidirectional marks too), torn, line breaks


def hidden_letter(text: str) -> str:
    """The first letter that nobody can see or that moves the others, like "U+202E RIGHT-TO-LEFT OVERRIDE"."""
    for letter in "" if text.isascii() and text.isprintable() else text:
        if unicodedata.category(letter) in _NOT_WRITTEN and letter not in _JOINERS:
            return letter_named(letter)
    return ""


def letter_named(letter: str) -> str:
    """A letter by its number and its Unicode name."""
    return f"U+{ord(letter):04X} {unicodedata.name(letter, 'control character')}"


def hidden_complaint(text: str, **place: Any) -> BadInput | None:
    """What is wrong with a text that shows otherwise than it reads, or None. ``place`` is its file, field, row."""
    hidden = hidden_letter(text)
    if not hidden:
        return None
    allowed, fix = "one line of letters that can be seen", "type it again instead of pasting it"
    return BadInput(f"holds {hidden}", value=text, allowed=allowed, fix=fix, **place)


def _texts(value: object, file: str, path: tuple[int | str, ...] = ()) -> Iterator[tuple[str, str]]:
    """Every text in a table with its field, names of fields included; ``BadInput`` for tables without end."""
    if len(path) > _DEEPEST:
        raise BadInput(
            "holds tables in tables without end",
            file=file,
            field=_field(path[:2]),
            allowed=f"{_DEEPEST} in each other at most",
            fix="write it as in the example of such a file",
        )
    if isinstance(value, str):
        yield _field(path), value
    elif isinstance(value, dict):
        for name, part in value.items():
            yield _field((*path, name)), name
            yield from _texts(part, file, (*path, name))
    elif isinstance(value, list):
        for number, part in enumerate(value):
            yield from _texts(part, file, (*path, number))


def toml_table(data: bytes, file: str) -> dict[str, Any]:
    """The table in the bytes of a TOML file, whose every text reads as it shows."""
    return plain_table(_loaded(data, file), file)


def plain_table(table: dict[str, Any], file: str) -> dict[str, Any]:
    """A table whose every text reads as it shows; ``SeveralBadInputs`` if one does not."""
    hidden = [wrong for field, text in _texts(table, file) if (wrong := hidden_complaint(text, file=file, field=field))]
    if hidden:
        raise SeveralBadInputs(hidden)
    return table


def _loaded(data: bytes, file: str) -> dict[str, Any]:
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


_BOUNDS: Final = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}


#: how the kinds of a wrong entry begin -> what it is not, what is allowed, how to mend it
_KINDS_OF_ENTRY: Final = (
    ("finite_number", "is not a finite number", "a number that is neither nan nor endless", "write the value"),
    ("int_", "is not a whole number", "a whole number, without a unit and without quotes", "write the count"),
    (
        "float_",
        "is not a number",
        "a number without a unit and without quotes, like 1.5",
        "write the decimal mark as a point",
    ),
    ("bool_", "is neither true nor false", "true or false, without quotes", "write one of the two"),
    ("string_pattern", "is not written as it should be", None, None),
    ("string_", "is not a text", 'a text in quotes, like "FM-31"', "put it in quotes"),
    ("tuple_", "is not a list", "a list in square brackets", "write it as the example drawing does"),
    ("list_", "is not a list", "a list in square brackets", "write it as the example drawing does"),
    ("too_", "has not as many entries as are asked", None, "write it as the example drawing does"),
    ("dict_", "is not a table", "a table", "write it as the example drawing does"),
    ("model_", "is not a table", "a table", "write it as the example drawing does"),
)


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
        elif item["type"] in _BOUNDS:
            word, key = _BOUNDS[item["type"]]
            what, allowed = "is outside what can be", f"{word} {context[key]:g}"
        else:
            for begins, told, may, mend in _KINDS_OF_ENTRY:
                if item["type"].startswith(begins):
                    what, allowed, fix = told, may or what, mend
                    break
        shown = item["input"] if isinstance(item["input"], (str, int, float, bool)) else None
        found.append(
            BadInput(what, file=file, field=_field(item["loc"]), value=shown, allowed=allowed or None, fix=fix or None)
        )
    return found
