"""The acceptance test of an adhesive lot: each coupon's value and how its bond broke, and who signed."""

import datetime
from dataclasses import dataclass
from typing import Annotated, Self

from pydantic import Field, model_validator

from bladewright.errors import BadInput
from bladewright.evidence.dates import Date
from bladewright.evidence.shop_file import Words
from bladewright.typed import Record, as_custom, of_kind

#: shares are read to a per cent by eye, and four of them are rounded (common practice, no source)
SHARES_PLAY = 0.02
#: no film bears so much, and a wrong unit is seen; our own choice
GREATEST_SHEAR = 2e8  # [Pa]
GREATEST_PEEL = 1e5  # [N/m]


@dataclass(frozen=True, slots=True)
class TestPiece:
    """One coupon torn: its value, and shares of its worse face; None where nobody read the face."""

    __test__ = False  # a piece of metal, none of the program's tests

    value: float  # shear strength [Pa], or peel force per width [N/m]
    adhesion: float | None  # of the bonded area
    void: float | None  # of the whole face


@dataclass(frozen=True, slots=True)
class AcceptanceTest:
    """One test of one lot."""

    lot: str
    date: datetime.date
    shear: tuple[TestPiece, ...] = ()
    peel: tuple[TestPiece, ...] = ()
    signed_by: str = ""  # "": nobody


Share = Annotated[float, *of_kind("fraction"), Field(ge=0.0, le=1.0)]


class _Modes(Record):
    """All four, also where one is ``"0 %"``: a share nobody entered must not read as a share nobody found."""

    CF: Share
    SCF: Share
    AF: Share
    void: Share

    @model_validator(mode="after")
    def _make_a_face(self) -> Self:
        total = self.CF + self.SCF + self.AF + self.void
        if abs(total - 1.0) > SHARES_PLAY:
            raise as_custom(
                BadInput(
                    f"add up to {100.0 * total:.4g} %", allowed="CF, SCF, AF and void that make 100 %",
                    fix="read the worse face again",
                )
            )  # fmt: skip
        return self

    @property
    def adhesion(self) -> float:
        """Adhesion failure as a share of what was bonded; a face never bonded is as bad as all of it."""
        bonded = self.CF + self.SCF + self.AF
        return self.AF / bonded if bonded > 0.0 else 1.0


class _Piece(Record):
    modes: _Modes | None = None

    def torn(self, value: float) -> TestPiece:
        """The piece with what it bore."""
        modes = self.modes
        return TestPiece(value, None if modes is None else modes.adhesion, None if modes is None else modes.void)


class _Shear(_Piece):
    strength: Annotated[float, *of_kind("pressure"), Field(ge=0.0, le=GREATEST_SHEAR)]


class _Peel(_Piece):
    mean: Annotated[float, *of_kind("force per width"), Field(ge=0.0, le=GREATEST_PEEL)]


class AcceptanceEntry(Record):
    """A test as it stands in the roll's file."""

    lot: Words
    date: Date
    signed_by: Words | None = None
    shear: tuple[_Shear, ...] = ()
    peel: tuple[_Peel, ...] = ()

    def test(self) -> AcceptanceTest:
        """The test as the rules read it."""
        return AcceptanceTest(
            lot=self.lot,
            date=self.date,
            shear=tuple(piece.torn(piece.strength) for piece in self.shear),
            peel=tuple(piece.torn(piece.mean) for piece in self.peel),
            signed_by=self.signed_by or "",
        )
