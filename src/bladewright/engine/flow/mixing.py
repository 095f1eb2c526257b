"""Speeding up a fixed-point iteration that runs for many cases at once, each case by itself."""

import itertools

import numpy as np

from bladewright.engine.arrays import Floats, Integers

DEPTH = 6  # iterations remembered
DAMPING = 1e-10  # of the least squares, over the size of their matrix


class Mixing:
    """Anderson's mixing: the next input is the combination of past ones whose steps, by least squares, cancel best.

    Source: D. G. Anderson, J. ACM 12, 1965, p. 547 (from memory).
    """

    def __init__(self, weight: Floats) -> None:
        self.weight = weight  # (n,) what a step at each place counts
        self.inputs: list[Floats] = []
        self.steps: list[Floats] = []

    def following(self, given: Floats, found: Floats) -> Floats:
        """The next input (n, c), from the last one and what the iteration made of it."""
        self.inputs = [*self.inputs[-DEPTH:], given]
        self.steps = [*self.steps[-DEPTH:], found - given]
        if len(self.inputs) == 1:
            return found
        moved = np.stack([b - a for a, b in itertools.pairwise(self.inputs)])
        turned = np.stack([b - a for a, b in itertools.pairwise(self.steps)])
        heavy = (turned * self.weight[:, None]).transpose(2, 0, 1)
        gram = heavy @ heavy.transpose(0, 2, 1)
        right = heavy @ (self.steps[-1] * self.weight[:, None]).T[..., None]
        size = np.trace(gram, axis1=1, axis2=2)[:, None, None]
        shares = np.linalg.solve(gram + (DAMPING * size + 1e-300) * np.eye(len(moved)), right)[..., 0]
        following: Floats = found - np.einsum("inc,ci->nc", moved + turned, shares)
        return following

    def forget(self, cases: Integers) -> None:
        """Start these cases afresh: what they are to agree with has changed."""
        for past in (self.inputs, self.steps):
            for values in past[:-1]:
                values[:, cases] = past[-1][:, cases]

    def keep(self, cases: Integers) -> None:
        """Go on with these cases alone."""
        self.inputs = [values[:, cases] for values in self.inputs]
        self.steps = [values[:, cases] for values in self.steps]
