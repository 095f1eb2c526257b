"""How long each entered detail should last: a design estimate, not a life limit. Cracks: screening."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.crack_interval import CrackInterval, crack_interval
from bladewright.design.flown_loads import FlownLoads, flown_loads, standing_still
from bladewright.design.inner_loads import InnerLoads
from bladewright.design.strength_case import LoadedBlade, loaded_blade
from bladewright.design.stressed_points import Point, StressedBlade
from bladewright.drawing.fatigue import StressLife
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.loads import FlightProfile
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.strength.design_life import DesignLife, KnockDown, design_life
from bladewright.engine.strength.mean_stress import Correction, equivalent_maximum, walker
from bladewright.engine.strength.spectrum import Manoeuvre, Spectrum, spectrum
from bladewright.engine.strength.stress_life import Curve, PowerLaw, Scatter, ShiftedLog
from bladewright.figures import Figure, Finding, Missing, Outcome, rounded

ESTIMATE = "design estimate, not a life limit"
STARTING = "start and stop"
METHOD = "damage sum over the flight profile, one start and stop each start, stress-life curve with mean stress"
VALIDITY = "entered harmonics answered by the modes, damped by the air alone; phases added at their worst"
PROOF = "life"
UNGUARDED = "oftener than anybody looks: inspection does not guard this detail"
SHORTEST = 10.0  # [h] no inspection comes oftener than between flights of a day: common practice, no source
UNSOURCED = "no source entered: unvalidated data"


@dataclass(frozen=True, slots=True)
class DetailLife:
    """One detail at the fibre where it lasts shortest."""

    name: str  # of its record
    record: StressLife
    point: Point
    cycles: Spectrum  # of the part's own stress there, without the detail's factor
    found: DesignLife
    blocks: tuple[str, ...]
    crack: CrackInterval | Missing
    unsourced: tuple[str, ...]  # entries without a source

    @property
    def governing(self) -> str:
        """The block that does most damage."""
        return self.blocks[self.found.governing]

    @property
    def never(self) -> bool:
        """Whether no cycle does damage by this curve."""
        return not math.isfinite(self.found.hours)

    @property
    def table(self) -> list[tuple[str, ...]]:
        """Each block: amplitude and mean in MPa, cycles an hour and share of the damage, as a table shows them."""
        cycles, damage = self.cycles, self.found.damage_per_hour
        total = float(damage.sum()) or 1.0
        rows = zip(self.blocks, cycles.amplitude, cycles.mean, cycles.per_hour, damage / total, strict=True)
        return [
            (name, rounded(a / 1e6, None), rounded(m / 1e6, None), rounded(n, None), f"{100.0 * share:.1f} %")
            for name, a, m, n, share in rows
        ]


@dataclass(frozen=True, slots=True)
class Life:
    """Every detail, the shortest-lived first."""

    details: tuple[DetailLife, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def life(drawing: BladeDrawing) -> Life:
    """Hours and starts of every detail with a record; what could not be asked is named."""
    profile = drawing.flight_profile
    needs = [*([] if profile else ["flight_profile"]), *([] if drawing.fatigue else ["fatigue"])]
    loaded = loaded_blade(drawing)
    if profile is None or needs or not isinstance(loaded, LoadedBlade) or drawing.rotor is None:
        gaps = loaded if isinstance(loaded, tuple) else ()
        return Life((), (), (), (*([Missing("life", tuple(needs))] if needs else []), *gaps))
    rotor, beam = drawing.rotor, loaded.blade.beam
    flown = tuple(flown_loads(one, beam, loaded.air, rotor) for one in profile.manoeuvres)
    still = standing_still(beam)
    details: list[DetailLife] = []
    missing = [*loaded.missing, *_speed_gaps(profile, rotor)]
    for name, record in drawing.fatigue.items():
        candidates = [
            _detail(drawing, profile, loaded, name, record, point, flown, still)
            for point in loaded.blade.points
            if point.part == record.part
        ]
        known = [one for one in candidates if isinstance(one, DetailLife)]
        missing += [one for one in candidates if isinstance(one, Missing)]
        missing += (
            [] if candidates else [Missing(f"life of {record.detail}", (f"{record.part} at {record.radius:g} m",))]
        )
        if known:
            details.append(min(known, key=lambda one: one.found.hours))
    details.sort(key=lambda one: one.found.hours)
    missing += [one.crack for one in details if isinstance(one.crack, Missing)]
    figures = tuple(figure for one in details for figure in _figures(one, profile))
    return Life(tuple(details), figures, tuple(_finding(one) for one in details), tuple(dict.fromkeys(missing)))


def _speed_gaps(profile: FlightProfile, rotor: Rotor) -> list[Missing]:
    """Manoeuvres flown, for want of an entry, no faster than the normal speed."""
    entered = {"power on": rotor.speeds.power_on_greatest, "power off": rotor.speeds.power_off_greatest}
    flown = {one.rotor for one in profile.manoeuvres if entered[one.rotor] is None}
    return [
        Missing(f"life of what is flown with {state}", (f"rotor.speeds.{state.replace(' ', '_')}_greatest",))
        for state in sorted(flown)
    ]


def _detail(
    drawing: BladeDrawing, profile: FlightProfile, loaded: LoadedBlade, name: str, record: StressLife, point: Point,
    flown: Sequence[FlownLoads], still: InnerLoads,
) -> DetailLife | Missing:  # fmt: skip
    material = drawing.materials[point.material]
    if material.youngs_modulus is None:
        return Missing(f"life of {record.detail}", (f"materials.{point.material}.youngs_modulus",))
    own = detail_cycles(loaded.blade, record.radius, point, material.youngs_modulus, flown, still, profile)
    found = lasting(record, own, record.stress_factor, profile)
    unsourced = [*([] if record.source else [f"fatigue.{name}"]), *([] if profile.source else ["flight_profile"])]
    unsourced += [f"knock-down {one.name}" for one in profile.knock_downs if not one.source]
    unsourced += [] if material.source else [f"materials.{point.material}"]
    limit = max(
        float(np.interp(record.radius, loaded.blade.y, loaded.blade.stress(case, point, material.youngs_modulus)))
        for case in loaded.loads
    )
    return DetailLife(
        name, record, point, own, found, (*(one.manoeuvre.name for one in flown), STARTING),
        crack_interval(drawing, record, material, point.material, own, limit), tuple(unsourced),
    )  # fmt: skip


def detail_cycles(
    blade: StressedBlade, radius: float, point: Point, modulus: float, flown: Sequence[FlownLoads], still: InnerLoads,
    profile: FlightProfile,
) -> Spectrum:  # fmt: skip
    """Stress cycles of a fibre [Pa] at a radius [m]; amplitudes of its causes add, whatever their phase."""

    def at(stress: Floats) -> float:
        return float(np.interp(radius, blade.y, stress))

    rows = []
    for one in flown:
        mean = at(blade.stress(one.steady, point, modulus))
        amplitude = sum(math.hypot(*(at(blade.stress(part, point, modulus)) for part in pair)) for pair in one.pairs())
        rows.append(Manoeuvre(one.manoeuvre.share, mean, amplitude, one.cycles_per_hour))
    return spectrum(rows, at(blade.stress(still, point, modulus)), profile.starts_per_hour)


def lasting(record: StressLife, own: Spectrum, factor: float, profile: FlightProfile) -> DesignLife:
    """Life of cycles of a part's own stress, raised by a factor, by a record's curve and the profile's knock-downs."""
    raised = Spectrum(factor * own.amplitude, factor * own.mean, own.per_hour)
    knocks = [KnockDown(one.name, one.acts_on, one.factor) for one in profile.knock_downs]
    scatter = Scatter(record.deviation, record.count)
    return design_life(
        raised, curve_of(record), correction_of(record), scatter, profile.reliability, profile.confidence, knocks
    )


def curve_of(record: StressLife) -> Curve:
    """The entered curve as the engine takes it."""
    if record.form == "power law":
        assert record.coefficient is not None
        assert record.exponent is not None
        return PowerLaw(record.coefficient, record.exponent, record.least, record.greatest)
    assert record.intercept is not None
    assert record.slope is not None
    assert record.shift is not None
    assert record.unit_stress is not None
    return ShiftedLog(
        record.intercept, record.slope, record.shift, record.unit_stress, record.least, record.greatest
    )  # fmt: skip


def correction_of(record: StressLife) -> Correction:
    """Mean stress as the curve's own form counts it."""
    rule = walker if record.form == "power law" else equivalent_maximum
    return lambda amplitude, mean: rule(amplitude, mean, record.mean_exponent)


def _figures(one: DetailLife, profile: FlightProfile) -> tuple[Figure, ...]:
    where = f"{one.record.detail}, {one.point.name}, {one.record.radius:.3g} m"
    share = f"{100.0 * profile.reliability:g} % outlive it at {100.0 * profile.confidence:g} % confidence"
    found = one.found
    method = f"{ESTIMATE}: {METHOD}; {share}; scatter factor {found.scatter_factor:.3g}, {_knocked(profile)}"
    rows: list[tuple[str, float, str]] = []
    if not one.never:
        rows = [("life", found.hours, "h"), ("life in starts", found.starts, "1")]
    if isinstance(one.crack, CrackInterval):
        rows.append(("inspection interval, screening", one.crack.hours, "h"))
        rows.append(("critical crack, screening", one.crack.critical, "m"))
    return tuple(
        Figure(
            f"{name}, {ESTIMATE}: {where}" if name.startswith("life") else f"{name}: {where}",
            value, unit, method=method if name.startswith("life") else "crack growth over the flight profile",
            validity=VALIDITY, inside_validity=found.trusted, source=one.record.source or "",
            validated=not one.unsourced,
        )
        for name, value, unit in rows
    )  # fmt: skip


def _knocked(profile: FlightProfile) -> str:
    return "knock-downs " + (", ".join(f"{k.name} {k.factor:g} on {k.acts_on}" for k in profile.knock_downs) or "none")


def unguarded(found: Life) -> str:
    """Details whose cracks run too fast for anybody to see one in time, in a sentence; empty where there are none."""
    fast = [
        f"{one.record.detail}, every {_about(one.crack.hours)} h"
        for one in found.details
        if isinstance(one.crack, CrackInterval) and one.crack.hours < SHORTEST
    ]
    return f"Looking for cracks (screening): {'; '.join(fast)}, {UNGUARDED}. " if fast else ""


def _about(count: float) -> str:
    """Two figures: a life is not known better."""
    return f"{float(f'{count:.2g}'):.2f}".rstrip("0").rstrip(".")


def _finding(one: DetailLife) -> Finding:
    """Always referred: no computed life is a limit."""
    said = "no cycle does damage by this curve, which is not to say for ever"
    if not one.never:
        said = f"{_about(one.found.hours)} h, {_about(one.found.starts)} starts; most damage by {one.governing}"
    if isinstance(one.crack, CrackInterval):
        said += f"; to see a crack in time, look every {_about(one.crack.hours)} h (screening)"
        said += f", {UNGUARDED}" if one.crack.hours < SHORTEST else ""
    doubts = [] if one.found.trusted else ["cycles beyond what was tested"]
    doubts += [] if one.record.count else ["scatter taken as known: nobody entered how many were tested"]
    doubts += [f"unvalidated: {', '.join(one.unsourced)}"] if one.unsourced else []
    return Finding(
        rule=f"life of {one.record.detail}",
        outcome=Outcome.REFER,
        sentence="; ".join((f"{ESTIMATE}: {said}", *doubts)),
        proof=PROOF,
        limit="the approved life limit, which no calculation here replaces",
        limit_source=one.record.source or UNSOURCED,
        deviable=False,
        next_step="the holder of the design authority sets a limit",
        would_change="tests of this detail, measured loads in flight, a softer flight profile, a larger detail",
    )
