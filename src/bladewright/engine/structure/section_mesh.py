"""A section cut into curved four-sided elements of nine nodes, many sections of one make-up at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.errors import BadInput

SAME_PLACE = 1e-8  # [m] nodes nearer than this are one


@dataclass(frozen=True, slots=True)
class Patch:
    """Layers laid along a wall, or across it: nodes in columns and rows, two steps to an element."""

    nodes: Floats  # (s, 2 columns + 1, 2 rows + 1, 2) x aft and z up [m]
    layers: tuple[int, ...]  # what each row of elements is made of: a number of the section's materials


@dataclass(frozen=True, slots=True)
class SectionMesh:
    """Elements that share the nodes where patches touch; nodes run from the nose aft."""

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
    Which nodes are one is read from the first section. An edge may be drawn together to a point.

    Source: definition; no source needed.
    """
    points, numbers, layers, origin, count = [], [], [], [], 0
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
        number = count + np.arange(columns * rows).reshape(columns, rows)
        count += columns * rows
        points.append(patch.nodes.reshape(sections, columns * rows, 2))
        windows = np.lib.stride_tricks.sliding_window_view(number, (3, 3))[::2, ::2]
        numbers.append(windows.reshape(-1, 9))
        layers.append(np.tile(np.array(patch.layers, dtype=np.intp), (columns - 1) // 2))
        origin.append(np.full(len(numbers[-1]), at, dtype=np.intp))
    every = np.concatenate(points, axis=1)
    place = np.round(every[0] / SAME_PLACE).astype(np.int64)
    _, first, which = np.unique(place[:, 0] * (1 << 32) + place[:, 1], return_index=True, return_inverse=True)
    return SectionMesh(
        nodes=every[:, first],
        elements=which[np.concatenate(numbers)],
        layers=np.concatenate(layers),
        origin=np.concatenate(origin),
    )
