"""The modes of the drawn blade followed over the rotor speed by their shape, and named by what moves most."""

from collections import Counter

import numpy as np
from scipy.optimize import linear_sum_assignment

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_matrices import BladeMatrices
from bladewright.engine.dynamics.blade_modes import blade_modes

KINDS = ("flap", "chordwise", "torsion")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
SPARE = 3  # modes solved beyond those followed, so that one may pass another


def followed_modes(matrices: BladeMatrices, speeds: Floats, count: int) -> tuple[Floats, tuple[str, ...]]:
    """Frequencies (s, count) [rad/s] at increasing rotor speeds [rad/s], and the name of each mode."""
    found = [blade_modes(matrices, float(speed), count + SPARE) for speed in speeds]
    order = np.arange(count + SPARE)
    rows, shapes = [found[0].frequency], found[0].vectors
    for modes in found[1:]:
        likeness = np.abs(shapes @ matrices.mass @ modes.vectors.T)
        order = linear_sum_assignment(-likeness)[1]
        shapes = modes.vectors[order]
        rows.append(modes.frequency[order])
    frequencies = np.stack(rows)
    kept = np.argsort(frequencies[-1], kind="stable")[:count]
    return frequencies[:, kept], _named(found[-1].share[order][kept])


def _named(share: Floats) -> tuple[str, ...]:
    """By the greatest share of kinetic energy, counted from the lowest."""
    seen: Counter[str] = Counter()
    names = []
    for kind in (KINDS[int(at)] for at in share.argmax(axis=-1)):
        names.append(f"{ORDINALS[seen[kind]]} {kind}")
        seen[kind] += 1
    return tuple(names)
