"""Gel of two partners that join in steps."""

from functools import partial

from bladewright.engine.cure.gel import gel_conversion
from bladewright.selfcheck.case import Case

SOURCE = "C. W. Macosko, D. R. Miller, Macromolecules 9, 1976 (from memory), recomputed; closed form"
#: groups of either, balance: degree of cure of the scarcer at gel
TABLE = {(4.0, 2.0, 1.0): 0.577350, (3.0, 2.0, 1.0): 0.707107, (4.0, 2.0, 0.8): 0.645497, (3.0, 3.0, 1.0): 0.5}

CASES: tuple[Case, ...] = tuple(
    Case(
        SOURCE, f"{first:g} with {second:g} groups, balance {balance:g}: gel at [1]",
        partial(gel_conversion, first, second, balance), cured, 1e-6, "printed to six decimals",
    )
    for (first, second, balance), cured in TABLE.items()
)  # fmt: skip
