"""Runs every case: one file per outside source, found by looking, so that a new file needs no list."""

import importlib
import pkgutil
from dataclasses import asdict, dataclass

import bladewright.selfcheck as room
from bladewright.selfcheck.case import Case

NOT_SOURCES = ("case", "running", "table")


@dataclass(frozen=True, slots=True)
class Checked:
    """One case run on this machine."""

    source: str
    quantity: str
    ours: float
    published: float
    difference: float
    band: float
    holds: bool
    known_disagreement: str = ""  # why it is known not to hold; empty where it is to hold

    @property
    def plain(self) -> dict[str, str | float | bool]:
        """The comparison alone, for programs: whether it holds is the whole answer."""
        return {name: value for name, value in asdict(self).items() if name != "known_disagreement"}


def source_names() -> tuple[str, ...]:
    """Every file of cases, in order of name."""
    return tuple(sorted(m.name for m in pkgutil.iter_modules(room.__path__) if m.name not in NOT_SOURCES))


def all_cases() -> tuple[Case, ...]:
    """Every case of every source."""
    return tuple(case for name in source_names() for case in importlib.import_module(f"{room.__name__}.{name}").CASES)


def run(case: Case) -> Checked:
    """Our number beside the published one; holds when it lies inside the band."""
    ours = float(case.ours())
    difference = ours - case.published
    holds = abs(difference) <= case.band
    return Checked(case.source, case.quantity, ours, case.published, difference, case.band, holds, case.disagrees)
