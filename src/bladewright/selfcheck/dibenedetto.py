"""Glass transition against degree of cure, and back."""

from functools import partial

import numpy as np

from bladewright.engine.cure.glass_transition import GlassTransition, conversion_from_transition, glass_transition
from bladewright.engine.cure.kelvin import FREEZING
from bladewright.selfcheck.case import Case

SOURCE = (
    "A. T. DiBenedetto, J. Polym. Sci. B 25, 1987 (formula and ends from memory or read where cited; the last set "
    "invented), recomputed; closed form"
)
#: degC uncured, degC cured, ratio
ENDS = {
    "-20 to 220 degC": (-20.0, 220.0, 0.5),
    "-7 to 250 degC": (-7.0, 250.0, 0.78),
    "-5 to 115 degC": (-5.0, 115.0, 0.42),
}
CURVES = {name: GlassTransition(cold + FREEZING, hot + FREEZING, ratio) for name, (cold, hot, ratio) in ENDS.items()}
LEVELS = (0.0, 0.3, 0.5, 0.8, 0.9, 0.95, 1.0)
TABLE = {
    "-20 to 220 degC": (-20.0, 22.353, 60.0, 140.0, 176.364, 197.143, 220.0),
    "-7 to 250 degC": (-7.0, 57.388, 105.618, 187.621, 217.955, 233.755, 250.0),
    "-5 to 115 degC": (-5.0, 13.305, 30.493, 70.224, 89.895, 101.637, 115.0),
}
BACK = {("-5 to 115 degC", 100.0): 0.943396, ("-7 to 250 degC", 150.0): 0.668085}


def _transition(name: str, cured: float) -> float:
    return float(glass_transition(CURVES[name], np.array(cured))) - FREEZING


def _cured(name: str, celsius: float) -> float:
    return float(conversion_from_transition(CURVES[name], np.array(celsius + FREEZING)))


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"{name}, degree of cure {cured:g} [degC]", partial(_transition, name, cured), published, 1e-3)
        for name, row in TABLE.items()
        for cured, published in zip(LEVELS, row, strict=True)
    ),
    *(
        Case(SOURCE, f"{name}, {celsius:g} degC: degree of cure [1]", partial(_cured, name, celsius), cured, 1e-6)
        for (name, celsius), cured in BACK.items()
    ),
)  # fmt: skip
