"""Hours and starts a detail should outlive: spectrum, curve, scatter and knock-downs together.

A design estimate, not a life limit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.strength.mean_stress import Correction
from bladewright.engine.strength.miner import miner_sum
from bladewright.engine.strength.refusals import require_at_least_one
from bladewright.engine.strength.spectrum import Spectrum
from bladewright.engine.strength.stress_life import Curve, Scatter, lives, scatter_factor


@dataclass(frozen=True, slots=True)
class KnockDown:
    """Something the test pieces behind the curve did not have: a hole, fretting, corrosion, surface, size."""

    name: str
    acts_on: Literal["stress", "life"]
    factor: float  # how many times more stress, or fewer cycles; at least 1 [1]

    def __post_init__(self) -> None:
        require_at_least_one({"factor": self.factor})


@dataclass(frozen=True, slots=True)
class DesignLife:
    """A design estimate, not a life limit."""

    hours: float  # infinite where nothing does damage [h]
    starts: float  # that go with those hours [1]
    median_hours: float  # to a damage sum of one, knock-downs included, scatter not [h]
    damage_per_hour: Floats  # of each block of the spectrum, scatter and factors included [1/h]
    stress: Floats  # equivalent, of each block, knock-downs included [Pa]
    inside_range: Bools  # of each block: whether the tests behind the curve reach that stress
    beyond_tests: Bools  # stressed above what was tested, or below it and taken as harmless for that
    scatter_factor: float  # median over what the stated share outlives [1]
    life_factor: float  # of the knock-downs on life [1]
    counted: bool  # whether it is known on how many specimens the scatter stands

    @property
    def governing(self) -> int:
        """Number of the block that does most damage, from nought; the last is the start and stop."""
        return int(np.argmax(self.damage_per_hour))

    @property
    def trusted(self) -> bool:
        """Whether the scatter is counted and no block leans on the kind side of what was tested."""
        return self.counted and not bool(np.any(self.beyond_tests))


def design_life(
    cycles: Spectrum, curve: Curve, correction: Correction, scatter: Scatter, reliability: float, confidence: float,
    knock_downs: Sequence[KnockDown],
) -> DesignLife:  # fmt: skip
    """Hours until the damage sum of the weakest that still counts is one.

    ``1 / hours = F_scatter F_life sum n_i / N(F_stress S_a, F_stress S_m)``.

    Parameters
    ----------
    cycles : Spectrum
        At the detail, as the curve means stress: nominal or local. [Pa, 1/h]
    curve : PowerLaw or ShiftedLog
        Median life. [-]
    correction : callable
        From amplitude and mean to the equivalent stress that the curve is drawn for. [Pa]
    scatter : Scatter
        Of the decimal logarithm of life. [1]
    reliability : float
        Share of blades that shall outlive it, between 0.5 and 1. [1]
    confidence : float
        Between 0.5 and 1. [1]
    knock_downs : sequence of KnockDown
        May be empty. [1]

    Returns
    -------
    DesignLife

    Raises
    ------
    BadInput
        If a cycle goes above the strength that the correction knows.
    OutsideValidity
        If reliability or confidence is not between 0.5 and 1.
    MissingInput
        If the scatter stands on fewer than three specimens.

    Notes
    -----
    Linear damage without order of cycles. A curve with a stress below which nothing fails says so of a constant
    amplitude only; cycles below it do hurt once others have begun a crack: prefer a curve without one.

    Source: M. A. Miner, 1945; lognormal life with tolerance factors (from memory).
    """
    raised = math.prod(one.factor for one in knock_downs if one.acts_on == "stress")
    shortened = math.prod(one.factor for one in knock_downs if one.acts_on == "life")
    stress = correction(raised * cycles.amplitude, raised * cycles.mean)
    found = lives(curve, stress)
    median = miner_sum(cycles.per_hour, found.cycles / shortened)
    spread = scatter_factor(scatter, reliability, confidence)
    hours = median.until_one / spread
    flown = (cycles.per_hour > 0.0) & (stress > 0.0)
    beyond = (stress > curve.greatest_stress) | ((stress < curve.least_stress) & np.isinf(found.cycles))
    return DesignLife(
        hours=hours,
        starts=hours * float(cycles.per_hour[-1]),
        median_hours=median.until_one,
        damage_per_hour=spread * median.per_block,
        stress=stress,
        inside_range=found.inside_range,
        beyond_tests=np.asarray(flown & beyond),
        scatter_factor=spread,
        life_factor=float(shortened),
        counted=scatter.count is not None,
    )
