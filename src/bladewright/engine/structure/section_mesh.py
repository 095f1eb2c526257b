"""A section cut into curved four-sided elements of nine nodes, many sections of one make-up at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.errors import BadInput

SAME_PLACE = 1e-8  # [m] nodes nearer than this are one


@dataclass(frozen=True, slots=True)
class Patch:
    """Layers laid along a wall, or across it: nodes in columns and rows, two steps to an element."""

    nodes: Floats  # (s, 2 columns + 1, 2 rows + 1, 2) x aft and z up [m]
    layers: tuple[int, ...]  # what each row of elements is made of: a number of the section's materials
    rank: Floats | None = None  # (2 columns + 1,) nodes are numbered by it, so that neighbours have near numbers [-]


@dataclass(frozen=True, slots=True)
class SectionMesh:
    """Elements that share the nodes where patches touch."""

    nodes: Floats  # (s, n, 2) [m]
    elements: Integers  # (e, 9) nodes, three rows of three
    layers: Integers  # (e,) number of the material
    origin: Integers  # (e,) number of the patch each came from


def section_mesh(patches: Sequence[Patch]) -> SectionMesh:
    """Patches made one: nodes in the same place are one node.

    Parameters
    ----------
    patches : sequence of Patch
        Of the same sections; edges that touch have the same nodes. [-]

    Returns
    -------
    SectionMesh

    Raises
    ------
    BadInput
        If a patch has no elements, or its layers are not as many as its rows of elements.

    Notes
    -----
    Nodes are one where they are so in the mean of the sections. An edge may be drawn together to a point.

    Source: definition; no source needed.
    """
    points, numbers, ranks, count = [], [], [], 0
    layers: list[int] = []
    origin: list[int] = []
    for at, patch in enumerate(patches):
        sections, columns, rows, _ = patch.nodes.shape
        if columns % 2 == 0 or rows % 2 == 0 or rows != 2 * len(patch.layers) + 1:
            raise BadInput(
                "nodes and layers of a patch do not fit",
                field="patches",
                row=at + 1,
                value=(columns, rows),
                allowed="two steps to an element both ways, a layer for each row of elements",
            )
        numbers.append(count + _numbers(columns, rows))
        count += columns * rows
        points.append(patch.nodes.reshape(sections, columns * rows, 2))
        rank = patch.nodes[0, :, 0, 0] if patch.rank is None else patch.rank
        ranks.append(np.repeat(rank, rows))
        layers += [*patch.layers] * ((columns - 1) // 2)
        origin += [at] * len(numbers[-1])
    every = np.concatenate(points, axis=1)
    place = np.round(every.mean(axis=0) / SAME_PLACE).astype(np.int64)
    _, first, which = np.unique(place[:, 0] * (1 << 32) + place[:, 1], return_index=True, return_inverse=True)
    order = np.argsort(np.concatenate(ranks)[first], kind="stable")
    number = np.empty_like(order)
    number[order] = np.arange(len(order))
    return SectionMesh(
        nodes=every[:, first[order]],
        elements=number[which.ravel()][np.concatenate(numbers)],
        layers=np.array(layers, dtype=np.intp),
        origin=np.array(origin, dtype=np.intp),
    )


@lru_cache(maxsize=256)
def _numbers(columns: int, rows: int) -> Integers:
    """The nine nodes of each element of a patch."""
    corner = np.add.outer(rows * np.arange(0, columns - 1, 2), np.arange(0, rows - 1, 2)).ravel()
    nine: Integers = np.add.outer(rows * np.arange(3), np.arange(3)).ravel()
    return corner[:, None] + nine
