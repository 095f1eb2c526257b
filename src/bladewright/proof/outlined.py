"""Failure modes measured on a photograph of a torn face, held to the limits and to what the person who tore it read.

Area that nobody outlined counts as adhesion failure until somebody does. A photograph shows a face, not a bond.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from bladewright.drawing.limits import PeelLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.geometry.outlined_face import PhotoScale, crossing_patches, outlined_face, photo_scale
from bladewright.errors import BadInput, BladewrightError, SeveralBadInputs
from bladewright.evidence.outlined import OutlinedPhotograph
from bladewright.evidence.records import Coupon, FailureMode, TornFace
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.peel import shares as entered_shares
from bladewright.proof.wording import no_limit, ruled

#: a spot outlined as two things is the first of both
WORST_FIRST: Final[tuple[FailureMode, ...]] = ("AF", "void", "SCF", "CF")
#: designations of ISO 10365 (from memory); void is the shop's own word for area never bonded
MODE_WORDS: Final[dict[FailureMode, str]] = {
    "AF": "adhesion failure",
    "void": "never bonded",
    "SCF": "special cohesive failure, a thin film left",
    "CF": "cohesive failure",
}
METHOD: Final = "outlined on a photograph, corners placed by hand"
VALIDITY: Final = "photograph taken square to a flat face"
ASKEW: Final = 0.03  # two marks that differ by more: the camera stood askew (our own choice)
_VOID: Final = WORST_FIRST.index("void")


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredFace:
    """One outlined photograph measured. Shares are of the bonded area, void's of the whole face; U is k = 2."""

    photo: OutlinedPhotograph
    shares: tuple[tuple[FailureMode, Figure], ...]  # [%]
    areas: tuple[tuple[FailureMode, Figure], ...]  # [mm^2]; empty where no length is marked
    unoutlined: Figure  # [%] of the bonded area
    whole: Figure | None  # [mm^2] of the face
    scale: PhotoScale | None
    remarks: tuple[str, ...]

    def share(self, mode: FailureMode) -> Figure:
        """One mode's share."""
        return dict(self.shares)[mode]


@lru_cache(maxsize=256)
def measured_face(photo: OutlinedPhotograph) -> MeasuredFace | None:
    """The shares and areas; None where nothing was outlined yet."""
    if not photo.outline or photo.placing is None:
        return None
    found = outlined_face(_ring(photo.outline), _patches(photo), WORST_FIRST, photo.placing)
    parts = np.append(found.areas, found.unoutlined)
    whole = parts.sum()
    bonded = whole - parts[_VOID]
    of_bonded = np.ones(len(parts))
    of_bonded[_VOID] = 0.0

    def share(place: int) -> Figure:
        within, base = (np.ones(len(parts)), whole) if place == _VOID else (of_bonded, bonded)
        value = parts[place] / base if base > 0.0 else 1.0
        slope = ((np.arange(len(parts)) == place) - value * within) / base if base > 0.0 else within
        name = "not outlined" if place == len(WORST_FIRST) else WORST_FIRST[place]
        return _figure(f"{name} share", 100.0 * value, "%", 200.0 * math.sqrt(slope @ found.covariance @ slope), photo)

    scale = _scale(photo)
    per_pixel = scale.length**2 if scale else 0.0
    askew = scale.deviation / scale.length if scale else 0.0

    def area(name: str, pixels: float, variance: float) -> Figure:
        own = 2.0 * per_pixel * math.hypot(math.sqrt(max(variance, 0.0)), 2.0 * pixels * askew)
        return _figure(name, 1e6 * pixels * per_pixel, "mm^2", 1e6 * own, photo)

    ones = np.ones(len(parts))
    return MeasuredFace(
        photo=photo,
        shares=tuple((mode, share(place)) for place, mode in enumerate(WORST_FIRST)),
        areas=tuple(
            (mode, area(f"{mode} area", parts[place], found.covariance[place, place]))
            for place, mode in enumerate(WORST_FIRST)
        )
        if scale
        else (),
        unoutlined=share(len(WORST_FIRST)),
        whole=area("face", whole, float(ones @ found.covariance @ ones)) if scale else None,
        scale=scale,
        remarks=_remarks(scale, len(photo.marks), found.outside, found.face),
    )


@dataclass(frozen=True, slots=True)
class FaceRow:
    """One failure mode of one face: as read from the torn piece, and as outlined on each photograph of it."""

    mode: FailureMode
    words: str
    read_area: Figure
    read_share: Figure
    outlined: tuple[tuple[Figure, Figure | None], ...]  # share and area


def face_rows(face: TornFace, measured: Sequence[MeasuredFace]) -> tuple[FaceRow, ...]:
    """Reading and photographs of one face side by side, the worst mode first."""
    of_bonded, void = entered_shares(face)
    share_read, area_read = {**of_bonded, "void": void}, dict(face.areas)
    return tuple(
        FaceRow(
            mode,
            MODE_WORDS[mode],
            Figure(f"{mode} area read", 1e6 * area_read.get(mode, 0.0), "mm^2"),
            Figure(f"{mode} share read", 100.0 * share_read.get(mode, 0.0), "%"),
            tuple((one.share(mode), dict(one.areas).get(mode)) for one in measured),
        )
        for mode in WORST_FIRST
    )


def refuse_unclear(photo: OutlinedPhotograph) -> None:
    """Outlines that cross each other or themselves are not filed: nobody could say what the spot in common is."""
    measured_face(photo)  # whatever is no outline at all is named by the engine
    if photo.placing is None:
        return
    rings = [ring for _, ring in _patches(photo)]
    wrong: list[BladewrightError] = [
        BadInput(
            f"crosses area {first + 1} ({photo.areas[first].mode}) over {common:.0f} square pixels",
            file=photo.source.file,
            field=f"areas.{second + 1}",
            value=photo.areas[second].mode,
            allowed="areas side by side, or one lying wholly in the other",
            fix="let both share their corners, or take the smaller wholly in",
        )
        for first, second, common in crossing_patches(rings, photo.placing)
    ]
    if wrong:
        raise SeveralBadInputs(wrong)


def judge_photographs(
    coupons: Sequence[Coupon], photographs: Sequence[OutlinedPhotograph], limits: PeelLimits | None
) -> tuple[Finding, ...]:
    """Every photographed face, by the worst of all the outlines drawn on that photograph."""
    found: list[Finding] = []
    for photo in _each_once(photographs):
        drawn = [m for p in photographs if _key(p) == _key(photo) and (m := measured_face(p)) is not None]
        if not drawn:
            found.append(_not_outlined(photo))
            continue
        read = [coupon for coupon in coupons if coupon.label == photo.label]
        if limits is None:
            found.append(no_limit(_rule(photo, "adhesion failure"), "coupon", "limits.peel", (_where(photo),)))
        else:
            found.append(_adhesion(photo, drawn, limits))
            found += [_void(photo, drawn, limits.void_greatest, limits.source)] if limits.void_greatest else []
        found.append(_agrees(photo, drawn, read))
    return tuple(found)


def _adhesion(photo: OutlinedPhotograph, drawn: Sequence[MeasuredFace], limits: PeelLimits) -> Finding:
    """Adhesion failure as outlined, and what nobody outlined counted with it."""
    worst, gap = _greatest(drawn, "AF"), min((m.unoutlined for m in drawn), key=lambda figure: figure.value)
    greatest = 100.0 * limits.adhesion_greatest
    seen = worst.value if worst.value > 1e-6 else 0.0
    counted = seen + (gap.value if gap.value > (gap.uncertainty or 0.0) else 0.0)
    outcome = held_to(seen, greatest=greatest)
    if outcome is not Outcome.FAIL and counted > greatest:
        outcome = Outcome.MISSING
    elif outcome is Outcome.PASS and seen > 0.0:
        outcome = Outcome.REFER
    left = f" {gap.value:.2g} % of the face is not outlined and counts as adhesion failure." if counted > seen else ""
    where = f"the {photo.label} coupon's {photo.face} face"
    said = f"No adhesion failure outlined on {where}." if seen == 0.0 else (
        f"Adhesion failure outlined over {seen:.3g} % of the bonded area of {where}. "
        "Adhesion failure at any load stops the line."
    )  # fmt: skip
    return ruled(
        rule=_rule(photo, "adhesion failure"),
        outcome=outcome,
        sentence=said + left,
        proof="coupon",
        worst=worst,
        limit=f"at most {greatest:.3g} % of the bonded area on either face",
        limit_source=limits.source,
        where=(_where(photo),),
        deviable=outcome is not Outcome.FAIL,
        next_step="Outline the rest of the face."
        if outcome is Outcome.MISSING
        else "Stop the line: find every blade of that surface treatment batch and adhesive roll.",
        would_change="the rest outlined" if outcome is Outcome.MISSING else "nothing: no later test restores a bond",
    )


def _void(photo: OutlinedPhotograph, drawn: Sequence[MeasuredFace], greatest: float, source: str | None) -> Finding:
    worst = _greatest(drawn, "void")
    outcome = held_to(worst.value, greatest=100.0 * greatest, uncertainty=worst.uncertainty)
    return ruled(
        rule=_rule(photo, "void"),
        outcome=outcome,
        sentence=f"{worst.value:.2g} % of the {photo.label} coupon's {photo.face} face is outlined as never bonded; "
        f"{100.0 * greatest:.3g} % is allowed.",
        proof="coupon",
        worst=worst,
        limit=f"at most {100.0 * greatest:.3g} % of either face",
        limit_source=source,
        where=(_where(photo),),
        next_step="Map voids over the whole span; a person decides.",
        would_change="another person's outline of the same photograph",
    )


def _agrees(photo: OutlinedPhotograph, drawn: Sequence[MeasuredFace], read: Sequence[Coupon]) -> Finding:
    """The photograph against what was read from the torn piece itself."""
    rule, step = _rule(photo, "agrees with the reading"), "Look at the torn piece and the photograph side by side."
    faces = [face for coupon in read for face in coupon.faces if face.face == photo.face]
    if not faces:
        said = f"No reading of the {photo.label} coupon's {photo.face} face is on file to hold the photograph to."
        return ruled(rule, Outcome.MISSING, said, proof="coupon", where=(_where(photo),), next_step="File the coupon.")
    departures = [item for face in faces for item in _departures(face, drawn)]
    apart = [item for item in departures if abs(item[1].value - item[2]) > (item[1].uncertainty or 0.0)]
    name, figure, entered = max(apart or departures, key=lambda item: abs(item[1].value - item[2]) / (item[2] or 1.0))
    unit = "mm^2" if figure.unit == "mm^2" else "%"
    told = f"{name}: {figure.value:.3g} +/- {figure.uncertainty:.2g} {unit} outlined, {entered:.3g} {unit} read"
    names = ", ".join(dict.fromkeys(item[0] for item in apart))
    where = f"the {photo.label} coupon's {photo.face} face"
    return ruled(
        rule=rule,
        outcome=Outcome.REFER if apart else Outcome.PASS,
        sentence=f"Photograph and reading of {where} differ in {names} by more than placing corners explains. {told}."
        if apart
        else f"Photograph and reading of {where} agree within what placing corners leaves open. Furthest: {told}.",
        proof="coupon",
        worst=figure,
        limit=f"the reading of the torn piece, {entered:.4g} {unit}",
        limit_source="the coupon's own file",
        where=(_where(photo),),
        next_step=step,
        would_change="another person's reading of the torn piece, or another outline",
    )


def _departures(face: TornFace, drawn: Sequence[MeasuredFace]) -> list[tuple[str, Figure, float]]:
    """What was outlined beside what was read, in per cent; and the whole face's area where a length is marked."""
    of_bonded, void = entered_shares(face)
    entered = {**of_bonded, "void": void}
    found = [(MODE_WORDS[mode], _mean(drawn, mode), 100.0 * entered.get(mode, 0.0)) for mode in WORST_FIRST]
    wholes = [m.whole for m in drawn if m.whole is not None]
    total = 1e6 * sum(area for _, area in face.areas)
    return found + [("the whole face", whole, total) for whole in wholes[-1:]]


def _mean(drawn: Sequence[MeasuredFace], mode: FailureMode) -> Figure:
    """The mean of all outlines, as uncertain as the placing of the worst and their own scatter together."""
    figures = [measured.share(mode) for measured in drawn]
    values = np.array([figure.value for figure in figures])
    spread = float(values.std(ddof=1)) if len(values) > 1 else 0.0
    own = max(figure.uncertainty or 0.0 for figure in figures)
    return _figure(figures[0].name, float(values.mean()), "%", math.hypot(own, 2.0 * spread), drawn[-1].photo)


def _greatest(drawn: Sequence[MeasuredFace], mode: FailureMode) -> Figure:
    """The largest share anybody outlined, with the uncertainty of the mean."""
    worst = max((measured.share(mode) for measured in drawn), key=lambda figure: figure.value)
    return _figure(worst.name, worst.value, "%", _mean(drawn, mode).uncertainty or 0.0, drawn[-1].photo)


def _not_outlined(photo: OutlinedPhotograph) -> Finding:
    return ruled(
        rule=_rule(photo, "adhesion failure"),
        outcome=Outcome.MISSING,
        sentence=f"The photograph of the {photo.label} coupon's {photo.face} face is not outlined yet: all of it "
        "counts as adhesion failure until it is.",
        proof="coupon",
        where=(_where(photo),),
        next_step="Outline the failure modes on the photograph.",
        would_change="the outlines",
    )


def _remarks(scale: PhotoScale | None, marks: int, outside: float, face: float) -> tuple[str, ...]:
    said = []
    if scale is None:
        said.append("No known length is marked: shares only, no areas.")
    elif marks == 1:
        said.append("One length is marked: whether the camera stood square is not checked.")
    elif scale.uneven > ASKEW:
        said.append(
            f"The marked lengths differ by {100.0 * scale.uneven:.1f} % from their mean: the camera stood askew."
        )
    if outside > 1e-6 * face:
        said.append(f"{100.0 * outside / face:.2g} % of the face's size was outlined beyond its edge and is left out.")
    return tuple(said)


def _figure(name: str, value: float, unit: str, uncertainty: float, photo: OutlinedPhotograph) -> Figure:
    return Figure(name, value, unit, uncertainty, method=METHOD, validity=VALIDITY, source=photo.photograph.source.file)


def _scale(photo: OutlinedPhotograph) -> PhotoScale | None:
    if not photo.marks or photo.placing is None:
        return None
    pixels = np.array([mark.pixels for mark in photo.marks])
    return photo_scale(pixels, np.array([mark.length for mark in photo.marks]), photo.placing)


def _patches(photo: OutlinedPhotograph) -> list[tuple[str, Floats]]:
    return [(area.mode, _ring(area.corners)) for area in photo.areas]


def _ring(corners: Sequence[tuple[float, float]]) -> Floats:
    return np.array(corners, dtype=np.float64)


def _key(photo: OutlinedPhotograph) -> tuple[str, str, str]:
    return photo.label, photo.face, photo.photograph.source.sha256


def _each_once(photographs: Sequence[OutlinedPhotograph]) -> list[OutlinedPhotograph]:
    return list({_key(photo): photo for photo in photographs}.values())


def _where(photo: OutlinedPhotograph) -> Where:
    return Where(photo.photograph.source.file, f"{photo.face} face")


def _rule(photo: OutlinedPhotograph, what: str) -> str:
    return f"{photo.label} coupon, {photo.face} face photographed: {what}"
