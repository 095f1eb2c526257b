"""Named points of skin, spar and doubler against yield at limit load and breaking at ultimate."""

from collections.abc import Sequence

import numpy as np

from bladewright.design.inner_loads import InnerLoads
from bladewright.design.margins import LIMIT, Margin
from bladewright.design.stressed_points import Point, StressedBlade
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Missing

METHOD = "pull and both bendings of the turning beam; docs/theory/rotating-beam, section-constants"
VALIDITY = "plane sections, elastic, away from holes and ends of parts"
STATES = (("yield", "yield_strength"), ("ultimate", "ultimate_strength"))


def stress_margins(
    drawing: BladeDrawing, blade: StressedBlade, loads: Sequence[InnerLoads], ultimate: float
) -> tuple[list[Margin], tuple[Missing, ...]]:
    """One margin for each point, state and case; and the strengths nobody entered."""
    found, missing = [], []
    for point in blade.points:
        material = drawing.materials[point.material]
        for state, entry in STATES:
            allowable = getattr(material, entry)
            if allowable is None:
                missing.append(Missing(f"{point.part}: {state}", (f"materials.{point.material}.{entry}",)))
                continue
            factor = LIMIT if state == "yield" else ultimate
            assert material.youngs_modulus is not None
            for case in loads:
                stress = np.abs(blade.stress(case, point, material.youngs_modulus))
                found.append(_margin(blade, case, point, state, stress, allowable, factor, material.source))
    return found, tuple(dict.fromkeys(missing))


def _margin(
    blade: StressedBlade, case: InnerLoads, point: Point, state: str, stress: np.ndarray, allowable: float,
    factor: float, source: str | None,
) -> Margin:  # fmt: skip
    at = int(stress.argmax())
    return Margin(
        check=f"{point.name}: {state}", case=case.case.name, where=f"at {blade.y[at]:.3g} m", applied=float(stress[at]),
        allowable=allowable, factor=factor, source=source, method=METHOD, validity=VALIDITY,
    )  # fmt: skip
