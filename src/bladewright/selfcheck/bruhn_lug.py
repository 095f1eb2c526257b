"""A single-bolt lug in double shear, by the definitions and the angled shear-out of the book."""

from functools import partial

from bladewright.engine.strength.lug import Lug, bolt_shear, lug_stress
from bladewright.selfcheck.case import Case

SOURCE = (
    "E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, 1973, ch. D1 (40 degrees from memory); recomputed"
)
HEYWOOD = "R. B. Heywood, strip with an open hole, 2 + (1 - d/W)**3 (from memory); recomputed"
LOAD = 52000.0
LUG = Lug(diameter=0.0127, thickness=0.016, width=0.05, edge_distance=0.028)


def _stress(name: str) -> float:
    return float(getattr(lug_stress(LOAD, LUG), name))


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"{said} [Pa]", partial(_stress, name), published, 1e-7 * published, "eight digits")
        for said, name, published in (
            ("bearing stress", "bearing", 2.5590551e8),
            ("net-section stress", "net_section", 87131367.0),
            ("shear-out, planes of the edge distance", "shear_out", 58035714.0),
            ("shear-out, planes from 40 degrees", "shear_out_angled", 70238021.0),
        )
    ),
    Case(SOURCE, "edge distance over diameter [1]", lambda: LUG.edge_ratio, 2.204724, 1e-6),
    Case(SOURCE, "bolt in double shear [Pa]", lambda: bolt_shear(LOAD, 0.0127, 2), 2.0524663e8, 20.0, "eight digits"),
    Case(HEYWOOD, "open-hole factor [1]", partial(_stress, "open_hole_factor"), 2.4151609, 1e-7),
)
