"""Pull and shear together in the sections' metal and films, and screens of the skins, at some radii in every case."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.bond_strength import BondStrength, bond_strength
from bladewright.design.inner_loads import InnerLoads
from bladewright.design.margins import LIMIT, PROOF, Margin, apart
from bladewright.design.section_points import SectionPoint, SectionPoints, section_points
from bladewright.design.skin_panels import skin_screens
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.structure.section_stress import SectionLoads, Stress
from bladewright.figures import Figure, Finding, Missing, Outcome

SHARES = (0.3, 0.5, 0.75, 0.9)  # of the rotor radius, besides the root and both sides of the doubler's end
BESIDE = 1e-3  # [m] from the inner end and from a step
METHOD = "finite elements of the section; docs/theory/section-constants"
VALIDITY = "pull, bending, cross forces and torque of the beam; the same all along, so away from ends of parts"
SCREENED = "screening, not substantiation"
FILM = "adhesive"


def section_loads(loads: InnerLoads, radius: float) -> SectionLoads:
    """What passes a radius [m], about elastic and shear centre; there a bending moment stretches aft and top."""

    def here(values: np.ndarray) -> float:
        return float(np.interp(radius, loads.y, values))

    return SectionLoads(
        pull=here(loads.tension), chord_moment=-here(loads.chord_moment), flap_moment=-here(loads.flap_moment),
        force_aft=here(loads.chord_shear), force_up=here(loads.flap_shear), torque=here(loads.torque),
    )  # fmt: skip


def asked_radii(drawing: BladeDrawing) -> tuple[float, ...]:
    """The root, both sides of the doubler's end, and some between there and the tip. [m]"""
    plan, doubler = drawing.planform, drawing.doubler
    steps = () if doubler is None else (doubler.outer - BESIDE, doubler.outer + BESIDE)
    wanted = (plan.root + BESIDE, *steps, *(share * plan.tip for share in SHARES))
    return tuple(sorted(radius for radius in wanted if plan.root < radius < plan.tip))


def section_margins(
    drawing: BladeDrawing, loads: Sequence[InnerLoads], ultimate: float
) -> tuple[list[Margin], tuple[Missing, ...]]:
    """Yield of each part by R. von Mises, 1913, and shear of the films, worst of all radii, cases and points."""
    strength = bond_strength(drawing)
    asked: list[Margin | Missing] = []
    for radius in asked_radii(drawing):
        points = section_points(drawing, radius)
        for case in loads:
            stress = points.stress(section_loads(case, radius))
            asked += _metal(drawing, points, stress, case.case.name)
            asked += _films(points, stress, case.case.name, strength, ultimate)
    return apart(asked)


def _metal(drawing: BladeDrawing, points: SectionPoints, stress: Stress, case: str) -> Iterator[Margin | Missing]:
    for at, point in enumerate(points.points):
        material = drawing.materials[point.material]
        if point.part == FILM:
            continue
        if material.yield_strength is None:
            yield Missing(f"{point.part}, pull and shear together", (f"materials.{point.material}.yield_strength",))
            continue
        yield Margin(
            check=f"{point.part}, pull and shear together: yield", case=case, where=_where(point, points.radius),
            applied=float(stress.equivalent[at]), allowable=material.yield_strength, factor=LIMIT,
            source=material.source, method=METHOD, validity=VALIDITY,
        )  # fmt: skip


def _films(
    points: SectionPoints, stress: Stress, case: str, strength: BondStrength | Missing, ultimate: float
) -> Iterator[Margin | Missing]:
    if isinstance(strength, Missing):
        yield strength
        return
    for at, point in enumerate(points.points):
        if point.part != FILM:
            continue
        film = point.name.split(",")[0].removesuffix(" top").removesuffix(" bottom")
        yield Margin(
            check=f"{film}, shear across the section", case=case,
            where=f"{_where(point, points.radius)}, {strength.shear_state} film", applied=float(stress.shear[at]),
            allowable=strength.shear, factor=ultimate, source=strength.shear_source, method=METHOD, validity=VALIDITY,
            refer=strength.refer,
        )  # fmt: skip


def _where(point: SectionPoint, radius: float) -> str:
    return f"{point.name} at {radius:.3g} m"


@dataclass(frozen=True, slots=True)
class SkinFindings:
    """Buckling at limit load and bulging in the air of every skin panel, the worst of all radii and cases."""

    screens: tuple[Finding, ...]
    waving: frozenset[str]  # cases in which a skin buckles somewhere
    missing: tuple[Missing, ...]


def skin_findings(drawing: BladeDrawing, loads: Sequence[InnerLoads]) -> SkinFindings:
    """Every panel at every radius in every case."""
    worst: dict[str, tuple[Figure, str]] = {}
    missing: list[Missing] = []
    waving: set[str] = set()
    for radius in asked_radii(drawing):
        for case in loads:
            asked = skin_screens(drawing, radius, section_loads(case, radius))
            missing += asked.missing
            for figure in asked.figures:
                kind = _kind(figure.name)
                if figure.value > 1.0 and "bulges" not in figure.name:
                    waving.add(case.case.name)
                if kind not in worst or figure.value > worst[kind][0].value:
                    in_case = "" if "bulges" in figure.name else f"{case.case.name}, "
                    worst[kind] = (figure, f"{in_case}at {radius:.3g} m")
    screens = tuple(_screened(kind, *found) for kind, found in worst.items())
    return SkinFindings(screens, frozenset(waving), tuple(dict.fromkeys(missing)))


def _kind(name: str) -> str:
    """Side and question out of ``skin top, 54 to 199 mm: share of the load that buckles it``."""
    side = name.split(",")[0]
    return f"{side}, {'bulging in the air' if 'bulges' in name else 'buckling at limit load'}"


def _told(figure: Figure, kind: str, where: str) -> str:
    """How many times what buckles or bulges it the skin is asked to bear, no finer than a screen knows."""
    bulges = "bulging" in kind
    told = f"{figure.value:.2g} times {'the air that bulges it' if bulges else 'the load that buckles it'}, {where}"
    if bulges or figure.value <= 1.0:
        return told
    return f"{told}: it waves, and margins that count on the whole skin in compression are too kind"


def _screened(kind: str, figure: Figure, where: str) -> Finding:
    """A screen that is not met is referred: it substantiates nothing either way."""
    holds = figure.value <= 1.0
    return Finding(
        rule=f"{kind} ({SCREENED})",
        outcome=Outcome.PASS if holds else Outcome.REFER,
        sentence=f"{_told(figure, kind, where)}; {figure.validity}",
        proof=PROOF,
        worst=figure,
        limit="at most once that load",
        limit_source=figure.source,
        deviable=False,
        next_step="" if holds else "the holder of the design authority decides, by a test of the skin",
        would_change="a test of this skin, a thicker skin, or a filler behind the spar",
    )
