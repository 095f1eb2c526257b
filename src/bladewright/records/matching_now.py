"""Whom the finished blades fly with, to look at: every pair, the best sets, any other set tried. Nothing is written."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.errors import BadInput, OutsideValidity
from bladewright.figures import WORST_FIRST, Bars, Finding, Outcome
from bladewright.pairing.asked import GREATEST_SIZE
from bladewright.pairing.beside import Beside, beside_the_best, shares_at_the_handle
from bladewright.pairing.handle import CASES
from bladewright.pairing.match import best_within
from bladewright.pairing.pairs import Row, nearest, square
from bladewright.pairing.records import Candidate, Leftover, Matching
from bladewright.records.blades import blade_named
from bladewright.records.free_blades import FreeBlades, drawings_with_free_blades, free_blades
from bladewright.records.ready import models
from bladewright.records.trying import mark_of, may_fly, terms_of_row

WHOLE_TABLE: Final = 16  # blades; beyond, a table of every pair is no longer read, and each blade shows its nearest
MATES: Final = 6
ROWS: Final = 20  # of a page
HELD_BACK: Final = 40  # shown; waiting work has them all


@dataclass(frozen=True, slots=True)
class Choice:
    """A drawing revision with blades in no set."""

    drawing: str
    revision: str
    blades: int


@dataclass(frozen=True, slots=True)
class MatchingNow:
    """The blades of one drawing revision that may be matched, and how."""

    choices: tuple[Choice, ...]
    choice: Choice | None  # None: no blade is free
    size: int
    blades: tuple[str, ...]  # may be matched now
    whole: bool  # every pair is in the table; else each blade with its nearest mates
    rows: tuple[Row, ...]
    first: int  # place of the first row among the blades
    matching: Matching | None  # None where the best are not worked out
    why_not: str  # then
    held_back: tuple[Leftover, ...]  # the first of them
    held_back_count: int
    waiting: tuple[str, ...]  # their flight effects are not worked out yet

    @property
    def columns(self) -> tuple[tuple[str, str], ...]:
        """Each blade and what stands over its column."""
        return tuple(zip(self.blades, shortened(self.blades), strict=True))

    @property
    def best_pairs(self) -> frozenset[tuple[str, ...]]:
        """Every two blades that the best sets put together."""
        sets = self.matching.sets if self.matching else ()
        return frozenset(two for one in sets for two in itertools.combinations(one.serials, 2))

    @property
    def last(self) -> int:
        """How many blades are shown with the last row."""
        return self.first + len(self.rows)

    @property
    def places(self) -> tuple[str, ...]:
        """What stands over the mates, the nearest first."""
        return ("nearest mate", "2nd", "3rd", *(f"{place}th" for place in range(4, MATES + 1)))

    @property
    def earlier(self) -> int | None:
        """Where the rows before begin."""
        return max(0, self.first - ROWS) if self.first else None

    @property
    def later(self) -> int | None:
        """Where the next rows begin."""
        return self.last if self.last < len(self.blades) else None

    def slots(self, wanted: Sequence[str]) -> tuple[str, ...]:
        """The blades chosen, and an empty place for each that a set still lacks."""
        return (*wanted, *("" for _ in range(len(wanted), self.size)))

    @property
    def sizes(self) -> tuple[int, ...]:
        """How many blades a set may have."""
        return tuple(range(2, GREATEST_SIZE + 1))


@dataclass(frozen=True, slots=True)
class TriedSet:
    """A set somebody tries."""

    beside: Beside
    shares: tuple[Bars, ...]  # at the handle, in each case where they are known
    mark: str  # of what was shown; ``form_set`` refuses when it comes to something else
    name: str  # one a shop might give it
    forbidden: tuple[str, ...]  # why it may not be formed
    open: tuple[str, ...]  # what a named person decides, with a reason

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the tests say that did not pass, the worst first."""
        found = [finding for finding in self.beside.tried.findings if finding.outcome is not Outcome.PASS]
        return tuple(sorted(found, key=lambda finding: WORST_FIRST.index(finding.outcome)))

    @property
    def passed(self) -> tuple[Finding, ...]:
        """Those that passed."""
        return tuple(finding for finding in self.beside.tried.findings if finding.outcome is Outcome.PASS)


def matching_now(
    size: int = 0, *, drawing: str = "", revision: str = "", first: int = 0, at_most: int | None = None
) -> MatchingNow:
    """The table of pairs and the best sets of the blades that are free now.

    Without a size it is the drawing's own count of blades; without a drawing the revision with the most free blades.
    ``at_most`` as for ``free_blades``.
    """
    choices, row = _chosen(drawing, revision)
    if row is None:
        return MatchingNow(choices, None, size or 2, (), True, (), 0, None, "no blade is free", (), 0, ())
    free, terms = free_blades(row, at_most=at_most), terms_of_row(row)
    size = size or (terms.aircraft.blades if terms.aircraft else 2)
    blades = free.candidates
    whole = len(blades) <= WHOLE_TABLE
    first = 0 if whole else max(0, min(first, len(blades) - 1))
    matching, why_not = _best(free, size)
    return MatchingNow(
        choices=choices,
        choice=next(one for one in choices if (one.drawing, one.revision) == (row.name, row.revision)),
        size=size,
        blades=tuple(blade.serial for blade in blades),
        whole=whole,
        rows=square(blades, terms) if whole else nearest(blades, terms, MATES, first=first, rows=ROWS),
        first=first,
        matching=matching,
        why_not=why_not,
        held_back=free.held_back[:HELD_BACK],
        held_back_count=len(free.held_back),
        waiting=free.waiting,
    )


def work_out_one(drawing: str = "", revision: str = "") -> int:
    """Work out what one more accepted blade does in flight, and say how many still wait."""
    row = _chosen(drawing, revision)[1]
    return len(free_blades(row, at_most=1).waiting) if row else 0


def try_set(serials: Sequence[str]) -> TriedSet:
    """These blades as a set beside the best, whether they pass or not; ``BadInput`` where one is not free to match."""
    wanted = tuple(sorted(set(serials)))
    if not 2 <= len(wanted) <= GREATEST_SIZE:
        raise BadInput(
            "a set has two to four blades",
            field="serials",
            value=", ".join(wanted),
            allowed=f"2 to {GREATEST_SIZE} serials",
            fix="choose them",
        )
    blades = [blade_named(serial) for serial in wanted]
    for blade in blades:
        may_fly(blade)
    if len({blade.drawing_id for blade in blades}) != 1:
        raise BadInput(
            "are made to different drawing revisions",
            field="serials",
            value=", ".join(wanted),
            allowed="blades of one revision",
            fix="match blades of one revision",
        )
    free, terms = _with(blades[0].drawing, wanted), terms_of_row(blades[0].drawing)
    beside = beside_the_best(free, wanted, terms)
    chosen = [blade for blade in free if blade.serial in wanted]
    bars = [shares_at_the_handle(chosen, case) for case in CASES]
    findings = beside.tried.findings
    return TriedSet(
        beside=beside,
        shares=tuple(one for one in bars if one is not None),
        mark=mark_of(beside.tried),
        name="+".join(shortened(wanted)),
        forbidden=tuple(f.sentence for f in findings if f.outcome in (Outcome.FAIL, Outcome.MISSING)),
        open=tuple(f.sentence for f in findings if f.outcome is Outcome.REFER),
    )


def shortened(serials: Sequence[str]) -> tuple[str, ...]:
    """Serials without what they all begin with: 0107 and 0112 of FM31-0107 and FM31-0112."""
    shared = [letters[0] for letters in itertools.takewhile(lambda at: len(set(at)) == 1, zip(*serials, strict=False))]
    begin = max((place + 1 for place, letter in enumerate(shared) if not letter.isalnum()), default=0)
    return tuple(serial[begin:] or serial for serial in serials)


def _with(row: models.Drawing, wanted: tuple[str, ...]) -> tuple[Candidate, ...]:
    """The blades that are worked out, and for certain the wanted ones."""
    free = free_blades(row, at_most=0)
    if set(wanted) & set(free.waiting):
        free = free_blades(row, first=wanted, at_most=len(wanted))
    known = {blade.serial for blade in free.candidates}
    for serial in wanted:
        if serial not in known:
            reason = next((left.reason for left in free.held_back if left.serial == serial), "may not be matched")
            raise BadInput(reason, field="serials", value=serial, allowed="an accepted, weighed blade in no set")
    return free.candidates


def _best(free: FreeBlades, size: int) -> tuple[Matching | None, str]:
    try:
        return best_within(free.candidates, size, terms_of_row(free.drawing)), ""
    except OutsideValidity as error:
        return None, f"{error.what}: {error.allowed}"


def _chosen(drawing: str, revision: str) -> tuple[tuple[Choice, ...], models.Drawing | None]:
    found = drawings_with_free_blades()
    choices = tuple(Choice(row.name, row.revision, blades) for row, blades in found)
    for row, _ in found:
        if (row.name, row.revision) == (drawing, revision):
            return choices, row
    most = max(found, key=lambda pair: pair[1], default=None)
    return choices, most[0] if most else None
