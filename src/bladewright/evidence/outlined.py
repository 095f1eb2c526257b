"""A photograph of a torn face, and the areas a person outlined on it by failure mode. Corners are in pixels."""

import datetime
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final, Literal

import tomlkit
from pydantic import Field, model_validator

from bladewright.errors import BadInput, BladewrightError, SeveralBadInputs
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.photograph import Photograph, read_photograph
from bladewright.evidence.records import FailureMode, Source
from bladewright.evidence.shop_file import ShopFile, Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated

MOST_CORNERS: Final = 200  # of one outline: beyond, a person would not have placed each (our own choice)
MOST_AREAS: Final = 60

Corner = tuple[float, float]  # across from the left, down from the top [px]
Corners = Annotated[tuple[Corner, ...], Field(min_length=3, max_length=MOST_CORNERS)]


class _Mark(Record):
    length: Annotated[float, *of_kind("length"), Field(gt=0.0)]
    start: Corner
    end: Corner


class _Area(Record):
    mode: FailureMode
    corners: Corners


class _OutlinedFile(ShopFile):
    label: Words
    face: Literal["top", "bottom"]
    photograph: Words
    photograph_sha256: str = Field(default="", pattern="^([0-9a-f]{64})?$")
    outlined_by: Words
    outlined_on: Date
    placing: Annotated[float, Field(ge=0.3, le=50.0)] | None = None
    outline: Corners | None = None
    marks: tuple[_Mark, ...] = Field(default=(), max_length=20)
    areas: tuple[_Area, ...] = Field(default=(), max_length=MOST_AREAS)

    @model_validator(mode="after")
    def _whole_or_nothing(self) -> "_OutlinedFile":
        if (self.areas or self.marks) and self.outline is None:
            raise as_custom(
                BadInput(
                    "has areas or marks, and no outline of the whole face",
                    allowed="the outline of the whole face first: shares are of it",
                    fix="place the corners of the face",
                )
            )
        if self.outline is not None and self.placing is None:
            raise as_custom(
                BadInput(
                    "does not say how well a corner was placed",
                    allowed='"placing", in pixels: how far a corner lands off when it is placed again (one deviation)',
                    fix="place one corner five times and look",
                )
            )
        return self


@dataclass(frozen=True, slots=True)
class Mark:
    """A length on the face that is known."""

    length: float  # [m]
    start: Corner
    end: Corner

    @property
    def pixels(self) -> float:
        """Its length on the photograph. [px]"""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Outline:
    """One area of one failure mode."""

    mode: FailureMode
    corners: tuple[Corner, ...]


@dataclass(frozen=True, slots=True)
class OutlinedPhotograph:
    """One photograph as one person outlined it; nothing outlined yet where ``outline`` is empty."""

    source: Source
    photograph: Photograph
    serial: str
    label: str  # of the coupon
    face: Literal["top", "bottom"]
    named: str  # the photograph's file as the outlines name it
    outlined_by: str
    outlined_on: datetime.date
    placing: float | None = None  # standard deviation of a corner [px]
    outline: tuple[Corner, ...] = ()  # of the whole face
    marks: tuple[Mark, ...] = ()
    areas: tuple[Outline, ...] = ()


def read_outlined(
    outlines: Path | bytes, photograph: Path | bytes, file: str = "", photo: str = ""
) -> OutlinedPhotograph:
    """The outlines over their photograph; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(outlines, file)
    entered = validated(_OutlinedFile, toml_table(data, source.file), source.file, "an outlined photograph")
    picture = read_photograph(photograph, photo)
    if entered.photograph_sha256 not in ("", picture.source.sha256):
        raise BadInput(
            "is not the photograph that was outlined", file=source.file, field="photograph_sha256",
            value=picture.source.sha256, allowed=entered.photograph_sha256, fix="give the photograph it names",
        )  # fmt: skip
    _refuse_beyond(entered, picture, source.file)
    return OutlinedPhotograph(
        source=source,
        photograph=picture,
        serial=entered.serial,
        label=entered.label,
        face=entered.face,
        named=entered.photograph,
        outlined_by=entered.outlined_by,
        outlined_on=entered.outlined_on,
        placing=entered.placing,
        outline=entered.outline or (),
        marks=tuple(Mark(mark.length, mark.start, mark.end) for mark in entered.marks),
        areas=tuple(Outline(area.mode, area.corners) for area in entered.areas),
    )


def _refuse_beyond(entered: _OutlinedFile, picture: Photograph, file: str) -> None:
    """A corner outside the picture was placed on another picture."""
    placed: list[tuple[str, tuple[Corner, ...]]] = [("outline", entered.outline or ())]
    placed += [(f"marks.{number}", (mark.start, mark.end)) for number, mark in enumerate(entered.marks, 1)]
    placed += [(f"areas.{number}", area.corners) for number, area in enumerate(entered.areas, 1)]
    wrong: list[BladewrightError] = [
        BadInput(
            "lies outside the photograph", file=file, field=field, value=f"{across:g}, {down:g}",
            allowed=f"0 to {picture.width} across, 0 to {picture.height} down", fix="place it on this photograph",
        )
        for field, corners in placed
        for across, down in corners
        if not (0.0 <= across <= picture.width and 0.0 <= down <= picture.height)
    ]  # fmt: skip
    if wrong:
        raise SeveralBadInputs(wrong)


def written(photo: OutlinedPhotograph) -> bytes:
    """The outlines as the file they are kept in."""
    head = {
        "format": 1,
        "serial": photo.serial,
        "label": photo.label,
        "face": photo.face,
        "photograph": photo.named,
        "photograph_sha256": photo.photograph.source.sha256,
        "outlined_by": photo.outlined_by,
        "outlined_on": photo.outlined_on,
    }
    if photo.placing is not None:
        head["placing"] = photo.placing
    if photo.outline:
        head["outline"] = [list(corner) for corner in photo.outline]
    marks = [
        {"length": f"{mark.length:.9g} m", "start": list(mark.start), "end": list(mark.end)} for mark in photo.marks
    ]
    areas = [{"mode": area.mode, "corners": [list(corner) for corner in area.corners]} for area in photo.areas]
    tables = {name: rows for name, rows in (("marks", marks), ("areas", areas)) if rows}
    return tomlkit.dumps(head | tables).encode("utf-8")
