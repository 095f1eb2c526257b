"""Everything a paper prints, as plain frozen records. Nothing is looked up later: what is not given is not printed."""

import datetime
from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits, PeelLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.evidence.records import CureLog, PullCurve
from bladewright.figures import Figure
from bladewright.pairing.records import BladeSet
from bladewright.proof.records import Verdict


@dataclass(frozen=True, slots=True)
class Shop:
    """Whose paper it is and which book it was printed from. ``demo`` prints "invented data" on every page."""

    name: str
    book_id: str
    chain_head: str  # full hash of the newest event, so that a book with a cut tail can be noticed
    demo: bool = False


@dataclass(frozen=True, slots=True)
class DrawingRevision:
    """The frozen drawing revision a blade was judged by."""

    name: str
    revision: str
    sha256: str


@dataclass(frozen=True, slots=True)
class EvidenceLine:
    """One file the verdict rests on."""

    what: str
    file: str
    sha256: str
    filed_by: str
    filed_on: datetime.date


@dataclass(frozen=True, slots=True)
class LotLine:
    """One lot built into the blade."""

    part: str
    lot: str
    maker_lot: str = ""


@dataclass(frozen=True, slots=True)
class Signer:
    """Who did something to this blade. ``proven`` is True only when a signature or sign-in proved who it was."""

    act: str  # "made", "inspected", "accepted", "matched", "deviation D-3"
    name: str = ""  # empty: a line to be filled in by hand
    on: datetime.date | None = None
    proven: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class CureChart:
    """A cure log and the limits it was judged by."""

    log: CureLog
    limits: CureLimits | None = None
    dwell: tuple[float, float] | None = None  # [s] as judged: the slowest mould sensor enters, the first leaves


@dataclass(frozen=True, slots=True, eq=False)
class PullChart:
    """One coupon's pull curve, its width, the mean that was judged and the limits."""

    label: str  # "root" or "tip"
    curve: PullCurve
    width: float  # [m]
    mean: Figure | None = None  # force per width, in any unit of it
    limits: PeelLimits | None = None
    judged: tuple[float, float] | None = None  # [m] crosshead travel the mean was taken over


@dataclass(frozen=True, slots=True, eq=False)
class BladeRecordPaper:
    """One serial's whole record."""

    shop: Shop
    serial: str
    drawing: DrawingRevision
    word: str  # the verdict's word, "accepted under deviation D-3", or "signed out"
    verdict: Verdict
    verdict_time: datetime.datetime  # aware; the paper is dated with it
    verdict_sha256: str = ""  # of the stored verdict
    inputs_sha256: str = ""  # of everything the verdict was computed from
    conditions: tuple[str, ...] = ()  # besides the mates a deviation allows, which are printed from the verdict
    properties: tuple[Figure, ...] = ()
    cures: tuple[CureChart, ...] = ()
    pulls: tuple[PullChart, ...] = ()
    planform: BladeDrawing | None = None  # the drawing as an object, for the planform picture
    evidence: tuple[EvidenceLine, ...] = ()
    lots: tuple[LotLine, ...] = ()
    signers: tuple[Signer, ...] = ()


@dataclass(frozen=True, slots=True)
class SetBlade:
    """One blade of a set and the verdict it flies on."""

    serial: str
    word: str
    verdict_time: datetime.datetime  # aware
    verdict_sha256: str = ""
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class SetRecordPaper:
    """The blades of one set, why they may fly together and what is left between them."""

    shop: Shop
    name: str  # what the shop calls the set
    drawing: DrawingRevision
    blades: tuple[SetBlade, ...]
    match: BladeSet
    method: str  # how the best set is known, from Matching.method
    decided: datetime.datetime  # aware; the paper is dated with it
    engine_version: str
    handle_band: HandleBand | None = None
    limits: tuple[Figure, ...] = ()  # greatest difference either way, named and in the unit of the difference it limits
    conditions: tuple[str, ...] = ()
    signers: tuple[Signer, ...] = ()
