"""What a reflex does at the handle: force per degree, the reflex that leaves nothing, the window inside the band."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import partial

import numpy as np

from bladewright.design.handle_range import ForceRange, force_range, judged_cases, least_allowed
from bladewright.design.reflex_bend import DOUBT, STEP, bend_of, slope_doubt, with_reflex
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.blade import Reflex
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, MissingInput, NotConverged
from bladewright.figures import Figure

HOVER = "hover"
NEAR = 1e-3  # [N] a force found this near is found
TRIES = 12
STEEPEST = float(np.radians(8.0))  # [rad] reflexes looked through; steeper ones are no blade's; our own choice
LIFTS = tuple(round(0.05 * n, 2) for n in range(2, 25))
METHOD = "secant on the whole handle force, recomputed at each reflex"


@dataclass(frozen=True, slots=True)
class ReflexEffects:
    """What the drawing's reflex does, and what others would."""

    per_degree: Figure  # force in hover for each degree of it [N/deg]
    zero_force: Figure | None  # the reflex at which the lever asks for nothing in hover [deg]
    window: tuple[Figure | None, Figure | None]  # least and greatest that keep every condition inside [deg]
    bands: tuple[Figure, ...]  # force that a tolerance is worth, either way [N]
    range: ForceRange
    centre_of_pressure: tuple[tuple[float, float], ...]  # lift coefficient [1], place [chord fraction]
    tried: tuple[tuple[float, dict[str, float]], ...]  # reflex [rad], force in each condition [N], in order of reflex


@dataclass(slots=True)
class Tried:
    """Handle force in every condition at the reflexes tried so far."""

    drawing: BladeDrawing
    forces: dict[float, dict[str, float]] = field(default_factory=dict)

    def at(self, angle: float) -> dict[str, float]:
        """Force by condition [N] at a reflex [rad]."""
        if angle not in self.forces:
            bent = with_reflex(self.drawing, angle)
            cases, _ = judged_cases(bent, span_mass(bent))
            self.forces[angle] = {case.case: case.total.value for case in cases if case.total is not None}
        return self.forces[angle]

    def slope(self, case: str, angle: float) -> float:
        """Force per reflex by central difference. [N/rad]"""
        up, down = (self.at(angle + sign * 0.5 * STEP)[case] for sign in (1.0, -1.0))
        return (up - down) / STEP

    def angle_for(self, case: str, force: float) -> float:
        """The reflex at which one condition asks for a force [N]. [rad]"""
        angles = sorted(self.forces, key=lambda angle: abs(self.forces[angle][case] - force))[:2]
        if len(angles) < 2:
            angles = [angles[0] + STEP, angles[0]]
        older, newer = angles[1], angles[0]
        for _ in range(TRIES):
            off, before = self.at(newer)[case] - force, self.at(older)[case] - force
            if abs(off) < NEAR:
                return newer
            if off == before:
                break
            older, newer = newer, newer - off * (newer - older) / (off - before)
            if abs(newer) > STEEPEST:
                break
        raise NotConverged("no reflex was found for this force", field="handle_force", value=float(np.degrees(newer)))


def reflex_effects(drawing: BladeDrawing, tried: Tried | None = None) -> ReflexEffects:
    """At the drawing's own reflex; ``tried`` carries over what is known of others."""
    bend = bend_of(drawing)
    tried = Tried(drawing) if tried is None else tried
    require_known(drawing, tried, bend.angle)
    found = force_range(drawing)
    total = found.cases[0].total
    assert total is not None
    per_radian, doubt = tried.slope(HOVER, bend.angle), slope_doubt(drawing)
    per_degree = replace(
        total, name="handle force per degree of reflex, hover", value=per_radian * np.radians(1.0), unit="N/deg",
        uncertainty=None if doubt is None else doubt * abs(per_radian) * np.radians(1.0),
        method=f"central difference over {np.degrees(STEP):g} deg; {DOUBT}; {total.method}",
    )  # fmt: skip
    return ReflexEffects(
        per_degree=per_degree,
        zero_force=_zero_force(tried, total),
        window=_window(drawing, tried, total),
        bands=_bands(bend, tried, found, doubt),
        range=found,
        centre_of_pressure=centre_of_pressure(drawing),
        tried=tuple(sorted(tried.forces.items())),
    )


def require_known(drawing: BladeDrawing, tried: Tried, angle: float) -> None:
    """Raise ``MissingInput`` unless the handle force in hover can be worked out."""
    if HOVER in tried.at(angle):
        return
    cases, _ = judged_cases(drawing, span_mass(drawing))
    needs = [need for case in cases for gap in case.missing for need in gap.needs]
    raise MissingInput(
        "the handle force of this drawing is not known",
        field=needs[0] if needs else "rotor",
        allowed="a drawing whose handle force can be worked out",
        fix=f"enter {', '.join(dict.fromkeys(needs))}",
    )


def centre_of_pressure(drawing: BladeDrawing) -> tuple[tuple[float, float], ...]:
    """Where the lift acts, in chord fractions from the leading edge, at some lift coefficients."""
    flow = section_flow(drawing)
    moments = ((lift, flow.moment_at(lift)) for lift in LIFTS)
    return tuple((lift, 0.25 - moment / lift) for lift, moment in moments if moment is not None)


def as_angle(like: Figure, name: str, angle: float, uncertainty: float | None) -> Figure:
    spread = None if uncertainty is None else float(np.degrees(uncertainty))
    return replace(
        like,
        name=name,
        value=float(np.degrees(angle)),
        unit="deg",
        uncertainty=spread,
        method=f"{METHOD}; {like.method}",
    )


def _if_any(search: Callable[[], float]) -> float | None:
    try:
        return search()
    except (BadInput, NotConverged):
        return None


def _zero_force(tried: Tried, total: Figure) -> Figure | None:
    angle = _if_any(partial(tried.angle_for, HOVER, 0.0))
    if angle is None:
        return None
    spread = None if total.uncertainty is None else abs(total.uncertainty / tried.slope(HOVER, angle))
    return as_angle(total, "reflex at which the handle asks for nothing, hover", angle, spread)


def _window(drawing: BladeDrawing, tried: Tried, total: Figure) -> tuple[Figure | None, Figure | None]:
    """Reflex inside which every condition stays above its floor and below the ceiling."""
    rotor = drawing.rotor
    band = rotor.handle_band if rotor is not None else None
    at = min(tried.forces)
    ends: dict[str, list[float]] = {"least": [], "greatest": []}
    for case in tried.at(at):
        lightens = tried.slope(case, at) < 0.0
        for force, heavy in ((least_allowed(drawing, case), False), (band.greatest if band else None, True)):
            angle = None if force is None else _if_any(partial(tried.angle_for, case, force))
            if angle is not None:
                ends["least" if heavy == lightens else "greatest"].append(angle)
    return (
        as_angle(total, "least reflex inside the band", max(ends["least"]), None) if ends["least"] else None,
        as_angle(total, "greatest reflex inside the band", min(ends["greatest"]), None) if ends["greatest"] else None,
    )


def _bands(bend: Reflex, tried: Tried, found: ForceRange, doubt: float | None) -> tuple[Figure, ...]:
    """What the tolerances of the finished reflex and of the roll are worth at the handle, in every condition."""
    loose = bend.loose_skin.tolerance if bend.loose_skin is not None else None
    bands = []
    for words, tolerance in (("finished reflex", bend.tolerance), ("roll", loose)):
        if tolerance is None:
            continue
        for case in found.cases:
            if case.total is not None:
                shown = f"+/-{np.degrees(tolerance):.2g} deg"
                force = abs(tried.slope(case.case, bend.angle)) * tolerance
                bands.append(
                    replace(
                        case.total, name=f"{words} {shown}, {case.case}: force either way",
                        value=force, uncertainty=None if doubt is None else doubt * force,
                        method="force per degree times the tolerance"
                        + ("; as if the finished blade kept all of the loose skin's error" if words == "roll" else ""),
                    )
                )  # fmt: skip
    return tuple(bands)
