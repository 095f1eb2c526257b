"""A void in the skin's bond to the spar, or a bond line of another thickness: what the film beside or in it bears."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.bond_margins import VALIDITY, bonded_width, skin_to_spar_flow, walls
from bladewright.design.bond_strength import bond_strength, film_of
from bladewright.design.damage_place import Damage
from bladewright.design.inner_loads import InnerLoads
from bladewright.design.section_margins import section_loads
from bladewright.design.section_points import section_points
from bladewright.design.strength_case import LoadedBlade
from bladewright.design.worth import CLEAN, DAMAGED, NOT_BONDED, WORSE, Worth
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film
from bladewright.engine.strength.bondline import BondlineLimits, ThicknessCurve, bondline_strength
from bladewright.engine.strength.margins import margin_of_safety
from bladewright.engine.strength.void import VoidShear, void_in_transfer
from bladewright.errors import BadInput
from bladewright.figures import Figure, Missing

PLACES = 41  # across the width, where a void is tried
SEAM_VALIDITY = "elastic; the same all along the span, so as if the void ran on; peel left out"
THINNEST = 1e-6  # [m] a film thinner than this has no theory; our own choice


@dataclass(frozen=True, slots=True)
class _Bond:
    """The skin's bond to the spar at one station, in the case that asks most of it."""

    flow: float  # [N/m]
    width: float  # [m]
    case: str
    film: Film
    walls: tuple[float, float]  # G t [N/m]
    shear: float  # allowable [Pa]
    source: str | None
    state: str

    def sheared(self, film: Film, start: float, length: float) -> VoidShear:
        """With a void of a length from a place on the width."""
        return void_in_transfer(self.flow, self.width, start, length, *self.walls, film)


def _bond_at(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> _Bond | Missing:
    strength, film = bond_strength(drawing), film_of(drawing)
    if isinstance(strength, Missing):
        return strength
    if isinstance(film, Missing):
        return film
    blade = loaded.blade

    def here(values: Floats) -> float:
        return float(np.interp(damage.station, blade.y, values))

    def flow_of(case: InnerLoads) -> float:
        return here(skin_to_spar_flow(drawing, blade, case))

    worst = max(loaded.loads, key=flow_of)
    return _Bond(
        flow_of(worst), here(bonded_width(drawing, blade)), worst.case.name, film, walls(drawing), strength.shear,
        strength.shear_source, strength.shear_state,
    )  # fmt: skip


def voided_bond(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """In the bond where the void was told to be; nobody having said where, in the worse of spar and seam."""
    spar, glue, doubler = drawing.spar, drawing.adhesive, drawing.doubler
    if spar is None or glue is None:
        return Worth(None, (), (Missing("margin beside a void", ("spar" if spar is None else "adhesive",)),), ())
    under = doubler is not None and doubler.inner <= damage.station <= doubler.outer
    gaps = (Missing("margin beside a void under the doubler", ("a calculation of that bond",)),) if under else ()
    place = damage.chordwise
    if place is None:
        both = [ask(damage, drawing, loaded) for ask in (_beside_the_spar, _in_the_seam)]
        worth = min(both, key=lambda one: 0.0 if one.margin is None else one.margin)
    elif place >= glue.seam_start:
        worth = _in_the_seam(damage, drawing, loaded)
    elif place <= spar.web_place:
        worth = _beside_the_spar(damage, drawing, loaded)
    else:
        worth = Worth(None, (), (Missing("margin beside a void", ("a bond between web and seam",)),), ())
    return Worth(worth.margin, worth.figures, (*worth.missing, *gaps), worth.would_change)


def _in_the_seam(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """In the trailing-edge seam: the film's shear, raised as its mean would be; its peak rises less than that."""
    strength, glue = bond_strength(drawing), drawing.adhesive
    change = ("the void's place on the chord (--chordwise)", "a smaller void by a finer map")
    if isinstance(strength, Missing) or glue is None:
        gap = strength if isinstance(strength, Missing) else Missing("margin of the seam", ("adhesive",))
        return Worth(None, (), (gap,), change)
    points = section_points(drawing, damage.station)
    seam = [at for at, point in enumerate(points.points) if point.name.startswith("seam film")]
    if not seam:
        return Worth(None, (), (Missing("margin beside a void in the seam", ("a seam that closes there",)),), change)
    shears = {
        case.case.name: float(points.stress(section_loads(case, damage.station)).shear[seam].max())
        for case in loaded.loads
    }
    case = max(shears, key=lambda name: shears[name])
    width = (1.0 - glue.seam_start) * float(np.interp(damage.station, loaded.blade.y, loaded.blade.chord))
    left = 1.0 - (damage.across or 0.0) / width
    clean = margin_of_safety(strength.shear, shears[case], loaded.ultimate)
    void = NOT_BONDED if left <= 0.0 else margin_of_safety(strength.shear, shears[case] / left, loaded.ultimate)
    rows = [
        (CLEAN, clean, f"seam film by finite elements of the section; {case}"),
        (DAMAGED, void, f"the same flow through what is left of the seam's width; {case}"),
        *([(WORSE, 1.0 / left, "width of the seam over what is left of it, an upper bound")] if left > 0.0 else []),
    ]
    figures = tuple(
        Figure(
            name, value, "1", method=f"{method}; {strength.shear_state} film", validity=SEAM_VALIDITY,
            source=strength.shear_source or "", validated=bool(strength.shear_source),
        )
        for name, value, method in rows
    )  # fmt: skip
    gap = Missing("peel of the seam beside a void", ("a peel test of this seam",))
    return Worth(void, figures, (gap,), change)


def _beside_the_spar(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """In the skin's bond to the spar, where it hurts most across the width, as if it ran along the whole span."""
    bond = _bond_at(damage, drawing, loaded)
    if isinstance(bond, Missing):
        return Worth(None, (), (bond,), ())
    across = damage.across or 0.0
    change = ("the void's place on the chord (--chordwise)",) if damage.chordwise is None else ()
    change = (*change, "a smaller void by a finer map")
    if across >= bond.width:
        figure = _film_figure(DAMAGED, NOT_BONDED, "nothing of the width is bonded there", bond)
        return Worth(NOT_BONDED, (figure,), (), change)
    places = np.linspace(0.0, bond.width - across, PLACES)
    try:
        found = max((bond.sheared(bond.film, float(p), across) for p in places), key=lambda one: one.peak)
    except BadInput as error:
        return Worth(None, (), (Missing("margin beside a void", (error.what,)),), change)
    clean, void = (margin_of_safety(bond.shear, s, loaded.ultimate) for s in (found.sound_peak, found.peak))
    method = f"skin to spar, two shorter bonds beside the void, it lying where it hurts most; {bond.case}"
    figures = (
        _film_figure(CLEAN, clean, f"skin to spar bond; {bond.case}", bond),
        _film_figure(DAMAGED, void, method, bond),
        Figure(WORSE, found.worse_by, "1", method=method, validity=VALIDITY, validated=bool(bond.source)),
        Figure("bond lost over the void's length", across / bond.width, "1", method="void over bonded width"),
    )
    gap = Missing("buckling of the skin over the void", ("a screen of the skin over a void",))
    return Worth(void, figures, (gap,), change)


def bondline_at(damage: Damage, drawing: BladeDrawing, loaded: LoadedBlade) -> Worth:
    """By the entered curve of strength, and by the film's own peak, which a thick film may not lower."""
    bond, glue = _bond_at(damage, drawing, loaded), drawing.adhesive
    if isinstance(bond, Missing) or glue is None:
        gap = bond if isinstance(bond, Missing) else Missing("margin of the bond line", ("adhesive",))
        return Worth(None, (), (gap,), ())
    thickness = damage.thickness or 0.0
    fillable = glue.bondline_greatest if glue.fillable_gap is None else glue.fillable_gap
    entered = glue.allowables.thickness_curve if glue.allowables else ()
    curve = None
    if len(entered) > 1:
        curve = ThicknessCurve(np.array([t for t, _ in entered]), np.array([s for _, s in entered]))
    left = bondline_strength(thickness, BondlineLimits(glue.bondline_least, glue.bondline_greatest, fillable), curve)
    clean = margin_of_safety(bond.shear, _peak(bond, bond.film), loaded.ultimate)
    rows = [_film_figure(CLEAN, clean, f"skin to spar bond; {bond.case}", bond)]
    source = glue.allowables.thickness_source if glue.allowables else None
    change = ("a test of pieces with this bondline, entered as adhesive.allowables.thickness_curve",)
    if left.fraction is None:
        need = f"adhesive.allowables.thickness_curve: {left.basis} at this thickness"
        return Worth(None, tuple(rows), (Missing("strength at this thickness", (need,)),), change)
    thinner = min(thickness, glue.bondline_least)
    peak = _peak(bond, Film(bond.film.shear_modulus, bond.film.modulus, max(thinner, THINNEST)))
    margin = margin_of_safety(left.fraction * bond.shear, peak, loaded.ultimate)
    basis = f"{left.basis}: {100.0 * left.fraction:.3g} % of the nominal strength; {bond.case}"
    rows.append(_film_figure(DAMAGED, margin, basis, bond, sourced=bool(source)))
    rows.append(
        Figure(
            "strength left, of the nominal", left.fraction, "1", method=left.basis, source=source or "",
            validated=bool(source),
        )
    )  # fmt: skip
    gap = Missing(
        "this bondline under the doubler or in the seam", ("a calculation of those: skin to spar alone was asked",)
    )
    return Worth(margin, tuple(rows), (gap,), (*change, "a second reading beside it, for how far it reaches"))


def _peak(bond: _Bond, film: Film) -> float:
    return bond.sheared(film, 0.0, 0.0).sound_peak


def _film_figure(name: str, value: float, method: str, bond: _Bond, sourced: bool = True) -> Figure:
    return Figure(
        name, value, "1", method=f"{method}; {bond.state} film", validity=VALIDITY, source=bond.source or "",
        validated=bool(bond.source) and sourced,
    )  # fmt: skip
