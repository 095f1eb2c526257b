"""How often to look at a detail so that a crack is seen before it runs. Screening only: it substantiates nothing."""

from dataclasses import dataclass

import numpy as np

from bladewright.drawing.fatigue import StressLife
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.materials import Material
from bladewright.engine.strength.crack_shapes import edge_crack, hole_crack
from bladewright.engine.strength.cracks import CrackStress, Growth, Shape, critical_length, growth_cycles
from bladewright.engine.strength.spectrum import Spectrum
from bladewright.figures import Missing

NEAR_A_HOLE = 0.03  # [m] a record this near to a bolt's radius is about its hole
LONGEST = 0.25  # of the chord: beyond, the part counts as lost; our own choice


@dataclass(frozen=True, slots=True)
class CrackInterval:
    """Screening."""

    critical: float  # [m]
    hours: float  # from detectable to critical, over the entered factor [h]


def crack_interval(
    drawing: BladeDrawing, record: StressLife, material: Material, name: str, own: Spectrum, limit: float
) -> CrackInterval | Missing:
    """Hours in which a findable crack becomes critical, over the entered factor.

    Every block grows the same crack, so their speeds add: ``1 / hours = sum n_i / N_i``.
    """
    limits, growth = drawing.limits.damage, material.crack_growth
    needs = [f"materials.{name}.{entry}" for entry in ("crack_growth", "fracture_toughness")
             if getattr(material, entry) is None]  # fmt: skip
    needs += [f"limits.damage.{entry}" for entry in ("detectable_crack", "interval_factor")
              if limits is None or getattr(limits, entry) is None]  # fmt: skip
    if needs or limits is None or growth is None or material.fracture_toughness is None or limit <= 0.0:
        return Missing(f"inspection interval of {record.detail}", tuple(needs) or ("a limit case that pulls there",))
    assert limits.detectable_crack is not None
    assert limits.interval_factor is not None
    radii = [station.radius for station in drawing.planform.stations]
    chord = float(np.interp(record.radius, radii, [station.chord for station in drawing.planform.stations]))
    shape, longest = _shape(drawing, record, chord)
    critical = critical_length(limit, material.fracture_toughness, shape, longest)
    law = Growth(growth.rate / growth.reference**growth.exponent, growth.exponent, growth.ratio_exponent)
    speed = 0.0
    for amplitude, mean, count in zip(own.amplitude, own.mean, own.per_hour, strict=True):
        greatest = float(mean + amplitude)
        if greatest <= 0.0 or amplitude <= 0.0:
            continue
        ratio = max(float(mean - amplitude) / greatest, -1.0)
        cycles = growth_cycles(CrackStress(greatest, ratio), limits.detectable_crack, critical, shape, law)
        if cycles <= 0.0:
            return CrackInterval(critical, 0.0)
        speed += float(count) / cycles
    if speed <= 0.0:
        return Missing(f"inspection interval of {record.detail}", ("a cycle that pulls there",))
    return CrackInterval(critical, 1.0 / speed / limits.interval_factor)


def _shape(drawing: BladeDrawing, record: StressLife, chord: float) -> tuple[Shape, float]:
    """A crack from the nearest bolt's hole, or from an edge where no bolt is near."""
    holes = drawing.doubler.bolts if drawing.doubler else ()
    near = [hole for hole in holes if abs(hole.radius - record.radius) < NEAR_A_HOLE]
    longest = LONGEST * chord
    if near and record.part != "skin":
        radius = 0.5 * near[0].diameter
        return (lambda length: hole_crack(length, radius, False)), longest
    return (lambda length: edge_crack(length, chord)), longest
