"""A blade back on the rig after trim weight was fitted: what the invented shop's rig would have read then."""

import dataclasses
import datetime
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from bladewright.pairing.records import TrimWeight
from examples.fennmark.evidence import BATCH_NUMBER, MASTER_CENTRE, weighing_text
from examples.fennmark.story import BLADES

SECOND_TIME = 2  # third word of the seed, so that the rig scatters anew
BLADE_MASS = 9.65  # [kg] near enough for how far a few grams move the mass centre
POCKETS = {"tip forward": 24.0, "tip aft": 84.0}  # [mm] aft of the leading edge: 12 % and 42 % of 200 mm, as drawn


def weighed_after_trim(folder: Path, serial: str, weights: Sequence[TrimWeight], weighed_on: datetime.date) -> Path:
    """Writes the second weighing: the blade as it was, and what was put into its pockets."""
    blade = next(blade for blade in BLADES if blade.serial == serial)
    assert blade.span_moment is not None  # it was in a set
    added = sum(1000.0 * weight.mass * weight.radius for weight in weights)
    moved = sum(weight.mass * (POCKETS[weight.pocket] - MASTER_CENTRE) for weight in weights) / BLADE_MASS
    rng = np.random.default_rng([BATCH_NUMBER, int(serial[-4:]), SECOND_TIME])
    heavier = dataclasses.replace(blade, chordwise=blade.chordwise + moved)
    path = folder / "weighings" / f"{serial}-trimmed.toml"
    path.write_text(weighing_text(rng, heavier, blade.span_moment + added, weighed_on), encoding="utf-8", newline="\n")
    return path
