"""Does it hold: every check of the drawn blade in its worst case, the least margin first."""

import dataclasses
from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_beam import blade_beam
from bladewright.design.bolt_margins import bolt_margins
from bladewright.design.bond_margins import bond_margins
from bladewright.design.inner_loads import InnerLoads, at_rest, in_flight
from bladewright.design.load_cases import METHOD, AirLoads, air_loads, load_cases
from bladewright.design.margins import NO_SOURCE, WAVING, Margin, worst
from bladewright.design.section_margins import section_margins, skin_findings
from bladewright.design.stress_margins import stress_margins
from bladewright.design.stressed_points import StressedBlade, stressed_blade
from bladewright.design.tip_margins import tip_margins
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Finding, Missing, Outcome

VALIDITY = "steady, small movements, softest control run; lift of the hover scaled, also beyond where the blade stalls"

FOREMOST = 10  # margins a reader looks at first


@dataclass(frozen=True, slots=True)
class LoadedBlade:
    """The blade in all its limit cases."""

    blade: StressedBlade
    air: AirLoads
    loads: tuple[InnerLoads, ...]
    ultimate: float  # factor from limit to ultimate [1]
    missing: tuple[Missing, ...]

    def case(self, name: str) -> InnerLoads | None:
        """A case by its name."""
        return next((one for one in self.loads if one.case.name == name), None)


@dataclass(frozen=True, slots=True)
class StrengthCase:
    """The margin table, least margin first, and the loads behind it."""

    margins: tuple[Margin, ...]
    figures: tuple[Figure, ...]  # the governing margin, shares, loads at the root in every case
    screens: tuple[Finding, ...]  # of the skins: buckling and bulging
    missing: tuple[Missing, ...]

    @property
    def governing(self) -> Margin | None:
        """The least margin of all."""
        return self.margins[0] if self.margins else None

    @property
    def foremost(self) -> tuple[Margin, ...]:
        """The least ones, and whatever does not pass."""
        return tuple(
            margin for at, margin in enumerate(self.margins) if at < FOREMOST or margin.outcome is not Outcome.PASS
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """One for each check, then the screens."""
        return (*(margin.finding for margin in self.margins), *self.screens)

    @property
    def outcome(self) -> Outcome:
        """The worst of all; what could not be asked is never better than missing."""
        found = {finding.outcome for finding in self.findings}
        if Outcome.FAIL in found:
            return Outcome.FAIL
        if self.missing or not found:
            return Outcome.MISSING
        return Outcome.REFER if Outcome.REFER in found else Outcome.PASS


def loaded_blade(drawing: BladeDrawing) -> LoadedBlade | tuple[Missing, ...]:
    """What the blade bears inside in every case that can be worked out, or why in none."""
    cases, missing = load_cases(drawing)
    if not cases or drawing.rotor is None or drawing.loads is None:
        return missing
    beam = blade_beam(drawing)
    air = air_loads(drawing, beam)
    if isinstance(air, Missing):
        return (*missing, air)
    rotor = drawing.rotor
    loads = tuple(
        in_flight(case, beam, air, rotor) if case.rotor_speed > 0.0 else at_rest(case, beam) for case in cases
    )
    return LoadedBlade(stressed_blade(drawing, beam), air, loads, drawing.loads.ultimate_factor, missing)


def strength_case(drawing: BladeDrawing) -> StrengthCase:
    """Every margin of the drawn blade; what could not be asked is named."""
    loaded = loaded_blade(drawing)
    if not isinstance(loaded, LoadedBlade):
        return StrengthCase((), (), (), loaded)
    asked = (drawing, loaded.blade, loaded.loads, loaded.ultimate)
    points, no_points = stress_margins(*asked)
    bonds, no_bonds = bond_margins(*asked)
    bolts, shares, no_bolts = bolt_margins(*asked)
    tips, no_tips = tip_margins(*asked)
    sections, no_sections = section_margins(drawing, loaded.loads, loaded.ultimate)
    skins = skin_findings(drawing, loaded.loads)
    whole_skins = [_on_whole_skins(margin, skins.waving) for margin in (*points, *sections)]
    found = (_on_entered_loads(drawing, margin) for margin in worst([*whole_skins, *bonds, *bolts, *tips]))
    margins = tuple(sorted(found, key=lambda margin: margin.value))
    gaps = (*loaded.missing, *no_points, *no_sections, *no_bonds, *no_bolts, *no_tips, *skins.missing)
    figures = (*([margins[0].figure] if margins else []), *shares, *_at_the_root(drawing, loaded))
    return StrengthCase(margins, figures, skins.screens, tuple(dict.fromkeys(gaps)))


def _on_whole_skins(margin: Margin, waving: frozenset[str]) -> Margin:
    """A stress that counts on the whole skin is no more than referred in a case that buckles one."""
    return dataclasses.replace(margin, refer=WAVING) if margin.case in waving and not margin.refer else margin


def _on_entered_loads(drawing: BladeDrawing, margin: Margin) -> Margin:
    """Loads without a source make every margin no more than referred."""
    sourced = bool(drawing.loads and drawing.loads.source)
    refer = margin.refer if sourced else "; ".join(part for part in (margin.refer, NO_SOURCE) if part)
    return dataclasses.replace(margin, refer=refer, inputs_sourced=sourced and drawing.materials_validated)


def _at_the_root(drawing: BladeDrawing, loaded: LoadedBlade) -> tuple[Figure, ...]:
    """Greatest pull and moments along the blade in each case, as the loads behind the margins."""
    sourced = bool(drawing.loads and drawing.loads.source) and drawing.materials_validated
    found = []
    for one in loaded.loads:
        rows = (
            ("pull at the root", one.tension[0], "N"),
            ("greatest flapwise moment", np.abs(one.flap_moment).max(), "N m"),
            ("greatest chordwise moment", np.abs(one.chord_moment).max(), "N m"),
        )
        found += [
            Figure(
                f"{one.case.name}: {name}", float(value), unit, method=f"{METHOD}; {one.case.why}", validity=VALIDITY,
                source=drawing.loads.source or "" if drawing.loads else "", validated=sourced,
            )
            for name, value, unit in rows
        ]  # fmt: skip
    return tuple(found)
