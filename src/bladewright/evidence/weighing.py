"""A weighing file: blade and master laid on one rig in turn; what is kept is the difference."""

import itertools
from pathlib import Path
from typing import Annotated, Literal

import numpy as np
from pydantic import Field, model_validator

from bladewright import units
from bladewright.engine.metrology.weighing import Difference, difference_from_master
from bladewright.errors import BadInput, BladewrightError, MissingInput, SeveralBadInputs
from bladewright.evidence.dates import Date
from bladewright.evidence.files import opened
from bladewright.evidence.records import Weighing
from bladewright.evidence.shop_file import ShopFile, Words
from bladewright.typed import Record, as_custom, of_kind, toml_table, validated


class _Reading(Record):
    """One laying-on: ``{ blade = "17.061 kg m" }`` or ``{ master = "17.050 kg m" }``."""

    blade: str | None = None
    master: str | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> "_Reading":
        if (self.blade is None) == (self.master is None):
            raise as_custom(
                BadInput(
                    "is not one reading",
                    allowed='{ blade = "..." } or { master = "..." }',
                    fix="enter one reading for each time something was laid on the rig",
                )
            )
        return self


class _Comparison(Record):
    rig_uncertainty: str  # k = 2, on a difference
    readings: tuple[_Reading, ...]

    @model_validator(mode="after")
    def _in_turn(self) -> "_Comparison":
        of_blade = [reading.blade is not None for reading in self.readings]
        if any(a == b for a, b in itertools.pairwise(of_blade)):
            raise as_custom(
                BadInput(
                    "the readings do not alternate, so drift of the rig cannot be told from a difference",
                    allowed="blade, master, blade, master, ...",
                    fix="weigh in turn, and enter the readings in the order they were taken",
                )
            )
        return self


class _WeighingFile(ShopFile):
    rig: Words
    master: Words
    weighed_by: Words
    weighed_on: Date
    mass: Annotated[float, *of_kind("mass"), Field(gt=0.0)] | None = None
    span_moment: _Comparison
    chordwise: _Comparison | None = None


Kind = Literal["span moment", "length"]


def read_weighing(weighing: Path | bytes, file: str = "") -> Weighing:
    """The differences of a blade from the master; ``SeveralBadInputs`` names everything wrong."""
    data, source = opened(weighing, file)
    entered = validated(_WeighingFile, toml_table(data, source.file), source.file, "a weighing file")
    errors: list[BladewrightError] = []
    span = _compared(entered.span_moment, "span_moment", "span moment", source.file, errors)
    chord = None
    if entered.chordwise is not None:
        chord = _compared(entered.chordwise, "chordwise", "length", source.file, errors)
    if errors or span is None:
        raise SeveralBadInputs(errors)
    return Weighing(
        source=source,
        serial=entered.serial,
        rig=entered.rig,
        master=entered.master,
        span_moment_difference=span.value,
        span_moment_uncertainty=span.uncertainty,
        chordwise_difference=chord.value if chord else None,
        chordwise_uncertainty=chord.uncertainty if chord else None,
        mass=entered.mass,
        weighed_by=entered.weighed_by,
        weighed_on=entered.weighed_on,
    )


def _compared(
    entered: _Comparison, table: str, kind: Kind, file: str, errors: list[BladewrightError]
) -> Difference | None:
    """Every reading in SI and the difference, or None with every bad reading among the errors."""
    before = len(errors)

    def si(text: str, field: str) -> float:
        try:
            return units.to_si(text, kind)
        except BadInput as error:
            error.file, error.field = file, f"{table}.{field}"
            errors.append(error)
            return 0.0

    rig = si(entered.rig_uncertainty, "rig_uncertainty")
    values = np.array(
        [si(reading.blade or reading.master or "", f"readings.{n}") for n, reading in enumerate(entered.readings, 1)]
    )
    of_blade = np.array([reading.blade is not None for reading in entered.readings], dtype=bool)
    if rig < 0.0:
        what, allowed = "is below zero", "at least zero"
        errors.append(BadInput(what, file=file, field=f"{table}.rig_uncertainty", value=rig, allowed=allowed))
    if len(errors) > before:
        return None
    try:
        return difference_from_master(values, of_blade, rig)
    except MissingInput as error:
        error.file, error.field = file, f"{table}.readings"
        errors.append(error)
        return None
