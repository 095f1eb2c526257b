"""A blade's verdict and the deviations it may rest on."""

import datetime
from dataclasses import dataclass
from enum import StrEnum

from bladewright.evidence.outlined import OutlinedPhotograph
from bladewright.evidence.records import Coupon, CureLog, DimensionSheet, PullCurve, SignedRecord, VoidMap, Weighing
from bladewright.figures import Finding


class Word(StrEnum):
    """What a blade's evidence comes to. "Signed out" is not a verdict: it is what happens to an accepted set."""

    INCOMPLETE = "incomplete"
    HELD = "held"
    REJECTED = "rejected"
    ACCEPTED = "accepted"
    ACCEPTED_UNDER_DEVIATION = "accepted under deviation"


@dataclass(frozen=True, slots=True, eq=False)
class BladeEvidence:
    """Everything on file for one serial, read and typed."""

    cures: tuple[CureLog, ...] = ()
    coupons: tuple[tuple[Coupon, PullCurve | None], ...] = ()
    sheets: tuple[DimensionSheet, ...] = ()
    weighings: tuple[Weighing, ...] = ()
    signed: tuple[SignedRecord, ...] = ()
    photographs: tuple[OutlinedPhotograph, ...] = ()
    void_maps: tuple[VoidMap, ...] = ()


@dataclass(frozen=True, slots=True)
class Deviation:
    """A named person's acceptance of a finding, with a reason. It never changes the finding."""

    number: str  # "D-3"
    serial: str
    rule: str  # the Finding.rule it covers
    accepted_by: str
    accepted_on: datetime.date
    reason: str
    only_with: tuple[str, ...] = ()  # serials of the only mates it may fly with
    seen: tuple[str, ...] | None = None  # hashes of the findings that were read when it was given; None: not kept


@dataclass(frozen=True, slots=True)
class Verdict:
    """A blade judged: the word, every finding, which proofs are missing, and what to do next."""

    serial: str
    word: Word
    findings: tuple[Finding, ...]
    missing_proofs: tuple[str, ...]
    deviations: tuple[Deviation, ...]
    first_reason: str
    next_step: str
    drawing_sha256: str
    evidence: tuple[tuple[str, str], ...]  # (what, sha256) of everything it rests on
    engine_version: str

    @property
    def may_fly_only_with(self) -> tuple[str, ...] | None:
        """Serials of the only allowed mates, or None when any mate will do."""
        limited = [set(deviation.only_with) for deviation in self.deviations if deviation.only_with]
        return tuple(sorted(set.intersection(*limited))) if limited else None
