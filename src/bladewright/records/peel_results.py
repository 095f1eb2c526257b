"""The run of peel results over serials, with everything on record about how each bond was made and torn."""

import datetime
from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from bladewright.drawing.file import parse_drawing
from bladewright.drawing.limits import PeelLimits
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.description import parse_pull_description
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.signed_record import read_signed_record
from bladewright.proof.peel import shares, steady_part
from bladewright.proof.peel_run import PeelResult, PeelRun, run_of_results
from bladewright.records.evidence import COUPON, CURE, SIGNED
from bladewright.records.keeping import kept
from bladewright.records.ready import models

LONGEST: Final = 60  # coupons in one run: an older change is an older run's question (our own choice)
#: signed records that say how a bond was made
_MADE_BY: Final = ("surface treatment", "lay-up")
_REMEMBERED: Final = 5000  # what bytes come to; the same bytes always come to the same


@dataclass(frozen=True, slots=True)
class Series:
    """Coupons that may be held beside each other: of one drawing and one end."""

    drawing: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class _File:
    """A kept file by what it holds."""

    sha256: str
    name: str

    @classmethod
    def of(cls, row: models.StoredFile) -> "_File":
        return cls(row.sha256, row.name)

    def read(self) -> bytes:
        return kept(models.StoredFile(sha256=self.sha256, name=self.name))


@dataclass(frozen=True, slots=True)
class _Torn:
    """What the files of one coupon come to."""

    on: datetime.date
    by: str
    mean: float | None  # [N/m] over the whole judged part
    uncertainty: float | None  # k = 2 [N/m]
    least: float | None  # [N/m]
    adhesion: float


def all_series() -> tuple[Series, ...]:
    """Which runs there are among the newest coupons, the longest first."""
    of = models.EvidenceOf.objects.filter(evidence__kind=COUPON).order_by("-evidence_id")
    counts: dict[tuple[str, str], int] = defaultdict(int)
    for pair in of.values_list("blade__drawing__name", "evidence__about")[: 4 * LONGEST]:
        counts[pair] += 1
    return tuple(Series(*pair, count) for pair, count in sorted(counts.items(), key=lambda item: -item[1]))


def peel_run(drawing: str, label: str) -> PeelRun:
    """The newest coupons of one drawing, whatever its revision, and one end."""
    of = models.EvidenceOf.objects.filter(evidence__kind=COUPON, evidence__about=label, blade__drawing__name=drawing)
    rows = list(
        of.select_related("evidence__file", "evidence__description", "evidence__pull", "blade__drawing__file").order_by(
            "-evidence_id"
        )[:LONGEST]
    )
    made = _made_with({row.blade_id for row in rows})
    return run_of_results(tuple(_result(row, made[row.blade_id]) for row in rows))


def _result(row: models.EvidenceOf, made: dict[str, str]) -> PeelResult:
    filed, drawing = row.evidence, row.blade.drawing
    pull, how = (_File.of(file) if file else None for file in (filed.pull, filed.description))
    torn = _torn(_File.of(filed.file), pull, how, _File.of(drawing.file))
    also = {
        "drawing revision": drawing.revision,
        "torn by": torn.by,
        "pull description": f"{how.name}, {how.sha256[:8]}" if how else "",
    }
    ran_with = tuple((what, which) for what, which in (made | also).items() if which)
    return PeelResult(
        row.blade.serial, filed.about, torn.on, filed.file.sha256, torn.mean, torn.uncertainty, torn.least,
        torn.adhesion, ran_with,
    )  # fmt: skip


def _made_with(blades: Collection[int]) -> defaultdict[int, dict[str, str]]:
    """By blade: every lot built in, who treated and laid it up with what they wrote, and how its cure was logged."""
    found: dict[int, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    uses = models.LotUse.objects.filter(blade_id__in=blades).order_by("id")
    for blade, part, lot in uses.values_list("blade_id", "part", "lot__lot"):
        found[blade][f"{part} lot"].append(lot)
    of = models.EvidenceOf.objects.filter(blade_id__in=blades).order_by("id")
    signed = of.filter(evidence__kind=SIGNED, evidence__about__in=_MADE_BY).select_related("evidence__file")
    for row in signed:
        for what, which in _signed(_File.of(row.evidence.file)):
            found[row.blade_id][what].append(which)
    cures = of.filter(evidence__kind=CURE)
    for blade, logger in cures.values_list("blade_id", "evidence__about"):
        found[blade]["cure logged by"].append(logger)
    joined: defaultdict[int, dict[str, str]] = defaultdict(dict)
    for blade, held in found.items():
        joined[blade] = {what: " + ".join(dict.fromkeys(names)) for what, names in held.items()}
    return joined


@lru_cache(maxsize=_REMEMBERED)
def _torn(coupon: _File, pull: _File | None, how: _File | None, drawing: _File) -> _Torn:
    """Read once; a file that cannot be read any more is the check's to find."""
    read, limits = read_coupon(coupon.read(), coupon.name), _drawn(drawing)
    curve = None
    if pull is not None and how is not None:
        curve = read_pull_curve(pull.read(), parse_pull_description(how.read(), how.name), pull.name)
    part = steady_part(curve, read.width, limits) if curve and limits else None
    mean = part.mean if part and part.reached else None
    spread = limits.uncertainty if limits else None
    return _Torn(
        on=read.torn_on,
        by=read.torn_by,
        mean=mean,
        uncertainty=None if mean is None or spread is None else mean * spread,
        least=limits.mean_least if limits else None,
        adhesion=max(shares(face)[0].get("AF", 1.0) for face in read.faces),
    )


@lru_cache(maxsize=64)
def _drawn(drawing: _File) -> PeelLimits | None:
    return parse_drawing(drawing.read(), drawing.name).limits.peel


@lru_cache(maxsize=_REMEMBERED)
def _signed(file: _File) -> tuple[tuple[str, str], ...]:
    record = read_signed_record(file.read(), file.name)
    details = ((f"{record.proof}: {name.replace('_', ' ')}", value) for name, value in record.details)
    return ((f"{record.proof} by", record.signed_by), *details)
