"""The second test of a set: what all blades together ask of the pilot's hand, against the entered band."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.drawing.rotor import HandleBand
from bladewright.figures import Figure, Finding, Outcome
from bladewright.pairing.records import Candidate
from bladewright.pairing.rules import PROOF
from bladewright.units import written

Read = Callable[[Candidate], float | None]
SOURCE: Final = "rotor.handle_band of the drawing"
VALIDITY: Final = "an estimate until flown; never-exceed speed is not worked out"


@dataclass(frozen=True, slots=True)
class Case:
    """A condition of flight the band is checked in."""

    name: str
    share: Read  # [N]
    uncertainty: Read  # [N]
    hand_off: bool  # the pilot may have let go: the lever must not rise by itself


BAND_CASE = Case(
    "handle force of the set", lambda b: b.handle_force, lambda b: b.handle_force_uncertainty, hand_off=False
)
LOWEST = Case(
    "handle force of the set at lowest collective",
    lambda b: b.handle_force_lowest,
    lambda b: b.handle_force_lowest_uncertainty,
    hand_off=True,
)
CASES = (BAND_CASE, LOWEST)


def force_of_set(blades: Sequence[Candidate], case: Case = BAND_CASE) -> Figure | None:
    """The sum of the shares, pull-up positive; None when one is not known.

    The shares rest on one model, so their uncertainties are added, not combined as independent.
    """
    shares = [share for blade in blades if (share := case.share(blade)) is not None]
    if len(shares) < len(blades):
        return None
    reach = [case.uncertainty(blade) for blade in blades] + [blade.handle_force_model_uncertainty for blade in blades]
    known = [part for part in reach if part is not None]
    return Figure(
        case.name, sum(shares), "N", sum(known) if len(known) == len(reach) else None,
        "sum of the blades' shares, uncertainties added", VALIDITY, source="shares of the as-built blades",
        validated=all(blade.handle_force_validated for blade in blades),
    )  # fmt: skip


def force_in_band(blades: Sequence[Candidate], case: Case, band: HandleBand | None, friction: float | None) -> Finding:
    """The set's sum in one case, inside the band; hands off, friction must hold what would rise."""
    rule, force = f"set: {case.name.replace(' of the set', '')}", force_of_set(blades, case)
    if band is None:
        return Finding(
            rule, Outcome.MISSING, "No band is entered for the force a set may ask of the hand.", PROOF, worst=force,
            deviable=False, next_step="enter rotor.handle_band in the drawing", would_change="an entered band",
        )  # fmt: skip
    least = least_allowed(case, band, friction)
    limit = f"{_written(least)} to {_written(band.greatest)}"
    if force is None:
        unknown = ", ".join(blade.serial for blade in blades if case.share(blade) is None)
        return Finding(
            rule, Outcome.MISSING, f"The share of {unknown} in the {case.name} is not known.", PROOF, limit=limit,
            limit_source=SOURCE, deviable=False, next_step="enter what the handle force of the blade waits for",
            would_change="the missing share",
        )  # fmt: skip
    outcome = _inside(force, least, band.greatest)
    return Finding(
        rule, outcome, _sentence(force, outcome, least, limit, case), PROOF, worst=force, limit=limit,
        limit_source=SOURCE + (", and the least friction of the control run" if case.hand_off else ""),
        next_step="" if outcome is Outcome.PASS else "a named person decides, or other blades are matched",
        would_change="blades whose shares sum nearer the middle of the band",
    )  # fmt: skip


def least_allowed(case: Case, band: HandleBand, friction: float | None) -> float:
    """The lightest the lever may be: hands off, no lighter than friction holds. [N]"""
    return max(band.least, -(friction or 0.0)) if case.hand_off else band.least


def _inside(force: Figure, least: float, greatest: float) -> Outcome:
    if not least <= force.value <= greatest:
        return Outcome.FAIL
    if force.uncertainty is None:
        return Outcome.REFER
    inside = least <= force.value - force.uncertainty and force.value + force.uncertainty <= greatest
    return Outcome.PASS if inside else Outcome.REFER


def _sentence(force: Figure, outcome: Outcome, least: float, limit: str, case: Case) -> str:
    said = f"The set asks for {_written(force.value)} at the handle; allowed is {limit}"
    if outcome is Outcome.PASS:
        return f"{said}."
    if outcome is Outcome.REFER:
        unknown = force.uncertainty is None
        return f"{said}, {'but how well it is known was never said' if unknown else 'and its uncertainty reaches out'}."
    if force.value > least:
        return f"{said}: too heavy."
    return f"{said}: the lever rises by itself{', and friction does not hold it' if case.hand_off else ''}."


def _written(newtons: float) -> str:
    return f"{written(newtons, 'N', 'force', 3)} ({written(newtons, 'lbf', 'force', 3)})"
