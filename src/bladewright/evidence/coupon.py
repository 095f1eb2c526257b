"""A torn coupon as the person who tore it reads both faces."""

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, field_validator

from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Coupon, TornFace
from bladewright.evidence.shop_file import ShopFile, Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated

Area = Annotated[float, *of_kind("area"), Field(ge=0.0)]


class _Areas(Record):
    """All four, also where one is ``"0 mm^2"``: an area nobody entered must not read as an area nobody found."""

    CF: Area
    SCF: Area
    AF: Area
    void: Area


class _Face(Record):
    face: Literal["top", "bottom"]
    areas: _Areas


class _CouponFile(ShopFile):
    label: Words
    width: Annotated[float, *of_kind("length"), Field(gt=0.0)]
    faces: tuple[_Face, ...]
    torn_by: Words
    torn_on: Date
    pull_curve: str = ""

    @field_validator("faces")
    @classmethod
    def _both_faces(cls, faces: tuple[_Face, ...]) -> tuple[_Face, ...]:
        named = [face.face for face in faces]
        if sorted(named) != ["bottom", "top"]:
            raise as_custom(
                BadInput("must be one top and one bottom face", value=named, allowed="top and bottom", fix="name both")
            )
        if any(sum(face.areas.model_dump().values()) <= 0.0 for face in faces):
            raise as_custom(BadInput("a face has no area", allowed="the areas of the whole face", fix="enter them"))
        return faces


def read_coupon(coupon: Path | bytes, file: str = "") -> Coupon:
    """The reading of one torn coupon; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(coupon, file)
    entered = validated(_CouponFile, toml_table(data, source.file), source.file, "a coupon file")
    return Coupon(
        source=source,
        serial=entered.serial,
        label=entered.label,
        width=entered.width,
        faces=tuple(
            TornFace(
                face.face,
                (("CF", face.areas.CF), ("SCF", face.areas.SCF), ("AF", face.areas.AF), ("void", face.areas.void)),
            )
            for face in entered.faces
        ),
        torn_by=entered.torn_by,
        torn_on=entered.torn_on,
        pull_curve=entered.pull_curve,
    )
