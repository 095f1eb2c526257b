"""Damage of many kinds of cycles added up, each as a share of the cycles it would take alone."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class MinerSum:
    """What one hour, or one of whatever the counts are of, uses up."""

    per_block: Floats  # in the order given [1 per unit of the counts]
    total: float  # [1 per unit of the counts]

    @property
    def governing(self) -> int:
        """Number of the block that uses up most, from nought."""
        return int(np.argmax(self.per_block))

    @property
    def until_one(self) -> float:
        """How many such units until the sum is one; infinite without damage. [unit of the counts]"""
        return 1.0 / self.total if self.total > 0.0 else float("inf")


def miner_sum(counts: Floats, cycles: Floats) -> MinerSum:
    """Sum of counts over cycles to failure.

    ``D = sum n_i / N_i``.

    Parameters
    ----------
    counts : (n,) array
        Cycles of each block in an hour, a start, or a life. [1 per unit]
    cycles : (n,) array
        To failure at that block's stress alone; infinite where it never fails. [1]

    Returns
    -------
    MinerSum

    Raises
    ------
    BadInput
        If there is no block, a count is negative or not finite, or cycles to failure are not positive.

    Notes
    -----
    The order of the cycles is taken not to matter. In tests the sum at failure was found from 0.3 to 3 (from memory):
    failing at one is a convention, so a life from it is an estimate with a factor on it.

    Source: A. Palmgren, 1924; M. A. Miner, J. Appl. Mech. 12, 1945 (from memory).
    """
    if counts.size == 0 or counts.shape != cycles.shape:
        raise BadInput("not one life for each block", field="cycles", value=cycles.size, allowed=f"{counts.size}, > 0")
    require_finite(counts, "counts")
    if np.any(counts < 0.0):
        at = int(np.argmax(counts < 0.0))
        raise BadInput("a count is negative", field="counts", row=at + 1, value=float(counts[at]), allowed=">= 0")
    if not np.all(cycles > 0.0):
        at = int(np.argmin(cycles > 0.0))
        raise BadInput("not a life", field="cycles", row=at + 1, value=float(cycles[at]), allowed="> 0")
    per_block = np.asarray(counts / cycles, dtype=np.float64)
    return MinerSum(per_block=per_block, total=float(per_block.sum()))
