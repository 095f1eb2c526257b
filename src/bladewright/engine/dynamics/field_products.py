"""Integrals of products of fields, without the unknowns that leave a field alone: most leave most of them alone."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, Integers


@dataclass(frozen=True, slots=True)
class Part:
    """A field of some unknowns, those that move it."""

    rows: Integers  # (k,) which unknowns
    values: Floats  # (k, q) at the points [any]
    size: int  # how many unknowns there are

    @classmethod
    def of(cls, field: Floats) -> "Part":
        """What of a field (m, q) is not nought."""
        rows = np.flatnonzero(field.any(axis=1))
        return cls(rows, field[rows], len(field))

    def times(self, other: "Part", density: Floats) -> Floats:
        """Sum of both and a density (q,) over the points. (m, m)"""
        whole = np.zeros((self.size, self.size))
        whole[self.rows[:, None], other.rows] = (self.values * density) @ other.values.T
        return whole

    def both_ways(self, other: "Part", density: Floats) -> Floats:
        """That and its transpose. (m, m)"""
        half = self.times(other, density)
        return half + half.T
