"""One margin of safety as every check tells it: applied, allowable, factor, place, case, source."""

from collections.abc import Iterable
from dataclasses import dataclass

from bladewright.engine.strength.margins import margin_of_safety
from bladewright.figures import Figure, Finding, Missing, Outcome

LIMIT = 1.0  # factor of a check at limit load
NOTHING = 1e3  # [Pa] below this a stress is nothing to judge
UNSOURCED = "no source entered: unvalidated data"
PROOF = "strength"
WAVING = "a skin buckles in this case, and the stress counts it whole"
NO_SOURCE = "no source entered for the loads"
#: why a margin is no more than referred -> what would change that
MENDED_BY = {
    WAVING: "a thicker skin, a filler behind the spar, or a test of the skin",
    NO_SOURCE: "a source for the loads",
}


@dataclass(frozen=True, slots=True)
class Margin:
    """A check in its worst case and place."""

    check: str  # "skin, top, highest: ultimate"
    case: str  # of the limit loads
    where: str  # "at 0.62 m"
    applied: float  # at limit load [Pa]
    allowable: float  # [Pa]
    factor: float  # from limit to what is asked [1]
    source: str | None  # of the allowable
    method: str
    validity: str
    inside: bool = True
    refer: str = ""  # why it cannot be more than referred, in words
    inputs_sourced: bool = True  # whether materials and loads behind the applied stress have sources

    @property
    def value(self) -> float:
        """Margin of safety; below nought it fails. [1]"""
        return margin_of_safety(self.allowable, self.applied, self.factor)

    @property
    def compared(self) -> str:
        """Applied, factor and allowable as a table shows them, in MPa."""
        factor = f" x {self.factor:g}" if self.factor != LIMIT else ""
        return f"{self.applied / 1e6:.3g}{factor} / {self.allowable / 1e6:.3g}"

    @property
    def outcome(self) -> Outcome:
        """A negative margin fails whatever else is wrong with it."""
        if self.value < 0.0:
            return Outcome.FAIL
        doubtful = self.refer or not self.source or not self.inside
        return Outcome.REFER if doubtful else Outcome.PASS

    @property
    def figure(self) -> Figure:
        """The margin with what it rests on."""
        return Figure(
            f"margin of safety, {self.check}",
            self.value,
            "1",
            method=f"{self.method}; case {self.case}, {self.where}",
            validity=self.validity,
            inside_validity=self.inside,
            source=self.source or "",
            validated=bool(self.source) and self.inputs_sourced,
        )

    @property
    def finding(self) -> Finding:
        """As a rule's answer; never to be deviated from where it is negative or rests on unvalidated data."""
        said = f"{self.value:+.2f} in {self.case}, {self.where}: {_shown(self.applied)}"
        said += f" times {self.factor:g}" if self.factor != LIMIT else ""
        said += f" against {_shown(self.allowable)}"
        doubts = [self.refer] if self.refer else []
        doubts += [] if self.source else ["unvalidated allowable"]
        doubts += [] if self.inside else [f"outside validity ({self.validity})"]
        return Finding(
            rule=self.check,
            outcome=self.outcome,
            sentence="; ".join((said, *doubts)),
            proof=PROOF,
            worst=self.figure,
            limit="margin of safety at least 0",
            limit_source=self.source or UNSOURCED,
            deviable=False,
            next_step="" if self.outcome is Outcome.PASS else "the holder of the design authority decides",
            would_change=_would_change(self),
        )


def _would_change(margin: Margin) -> str:
    if margin.value < 0.0:
        return "a lower load case, a thicker part, or a tested, sourced allowable"
    if not margin.source:
        return "a source for the allowable"
    whys = (mend for why, mend in MENDED_BY.items() if why in margin.refer)
    return margin.refer and ("; ".join(whys) or "allowables entered for hot-wet, cold and sustained load")


def _shown(stress: float) -> str:
    return f"{stress / 1e6:.3g} MPa ({stress / 6894.757e3:.3g} ksi)"


def apart(asked: Iterable[Margin | Missing]) -> tuple[list[Margin], tuple[Missing, ...]]:
    """What was found, and what nobody entered, each once."""
    all_of_it = list(asked)
    gaps = (one for one in all_of_it if isinstance(one, Missing))
    return [one for one in all_of_it if isinstance(one, Margin)], tuple(dict.fromkeys(gaps))


def worst(margins: list[Margin]) -> list[Margin]:
    """The least margin of each check, the checks' own order kept."""
    found: dict[str, Margin] = {}
    for margin in margins:
        if margin.applied > NOTHING and (margin.check not in found or margin.value < found[margin.check].value):
            found[margin.check] = margin
    return list(found.values())
