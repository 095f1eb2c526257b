"""The drawn section meshed and solved by scikit-fem: the warping of every solid part, none taken as a thin wall.

The mesh lies on the faces of the section's layout; all integrals and the warping are the finite elements' own. The
torsional stiffness found this way is never too low, ours by stress functions at nose and web never too high there.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementTriP2, LinearForm, MeshTri
from skfem.helpers import dot, grad

from bladewright.design.section_layout import SectionLayout, fillable
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.layers import Side, heights, place_on, points_at

SIDES: tuple[Side, Side] = ("top", "bottom")
WELD = 1e-8  # [m] nodes nearer than this are one


@dataclass(frozen=True, slots=True)
class Reference:
    """What the finite elements find."""

    mass: float  # [kg/m] of the meshed parts
    mass_x: float  # [m]
    mass_z: float  # [m]
    axial: float  # [N]
    centre_x: float  # [m]
    centre_z: float  # [m]
    flapwise: float  # [N m^2]
    chordwise: float  # [N m^2]
    torsion: float  # [N m^2]
    shear_x: float  # [m] where transverse force does not twist, Poisson's ratio left out
    shear_z: float  # [m]
    giving: Floats  # (2, 2) shear aft and up for a force aft and up through the shear centre [1/N]
    unknowns: int


class _Blocks:
    """Four-sided patches of elements, welded where they touch."""

    def __init__(self) -> None:
        self.corners: list[Floats] = []
        self.materials: list[str] = []

    def add(self, faces: list[Floats], materials: list[str], splits: list[int]) -> None:
        """Layers between successive lines (m, 2); each layer cut into so many."""
        for low, high, material, count in zip(faces[:-1], faces[1:], materials, splits, strict=True):
            part = np.linspace(0.0, 1.0, count + 1)[:, None, None]
            grid = low + part * (high - low)
            a, b, c, d = grid[:-1, :-1], grid[:-1, 1:], grid[1:, 1:], grid[1:, :-1]
            for triangle in ((a, b, c), (a, c, d)):
                self.corners.append(np.stack(triangle, axis=-2).reshape(-1, 3, 2))
                self.materials += [material] * len(self.corners[-1])

    def mesh(self) -> tuple[MeshTri, Floats]:
        corners = np.concatenate(self.corners)
        side = np.diff(corners, axis=1)
        area = side[:, 0, 0] * side[:, 1, 1] - side[:, 0, 1] * side[:, 1, 0]
        kept = np.abs(area) > 1e-14
        _, first, which = np.unique(
            np.round(corners[kept].reshape(-1, 2) / WELD).astype(np.int64), axis=0, return_index=True,
            return_inverse=True,
        )  # fmt: skip
        nodes = corners[kept].reshape(-1, 2)[first]
        mesh = MeshTri(nodes.T.copy(), which.reshape(-1, 3).T.copy())
        return mesh, np.array(self.materials)[kept]


def section_mesh(
    drawing: BladeDrawing, layout: SectionLayout, fine: int, doubled: bool = False
) -> tuple[MeshTri, Floats]:
    """Triangles of the one section of a layout, and the material key of each; ``fine`` multiplies every count.

    The doubler begins and ends with the columns of elements nearest to its ends.
    """
    spar, glue, skin = drawing.spar, drawing.adhesive, drawing.skin
    assert spar is not None
    assert glue is not None
    blocks = _Blocks()
    layers, counts = [skin.material, glue.material, spar.material], [fine, 1, 3 * fine]
    paths = [layout.outer, layout.inner, layout.spar_face, layout.spar_wall]
    begin = {side: place_on(layout.spar_wall, layout.hollow[:, 0], side) for side in SIDES}
    front = layout.hollow[0, -1]
    back = front + spar.web

    def sheet(lines: list[Floats]) -> None:
        """Doubler and its film on the columns they cover; lines from the doubler's face to the skin's."""
        assert drawing.doubler is not None
        chord = float(layout.chord[0])
        x = lines[-1][:, 0]
        there = (x >= drawing.doubler.front * chord - WELD) & (x <= drawing.doubler.back * chord + WELD)
        edges = np.flatnonzero(np.diff(np.concatenate(([0], there.astype(int), [0]))))
        for first, last in edges.reshape(-1, 2):
            if last - first > 1:
                some = [line[first:last] for line in lines]
                blocks.add(some, [drawing.doubler.material, glue.material], [2 * fine, 1])

    over = [layout.outer]
    if doubled and drawing.doubler is not None:
        over = [layout.laid(-glue.bondline - drawing.doubler.thickness), layout.laid(-glue.bondline), layout.outer]

    fan = begin["top"] + (begin["bottom"] - begin["top"]) * np.linspace(0.0, 1.0, 24 * fine + 1)
    z = np.linspace(layout.hollow_top[0, 0], layout.hollow_bottom[0, 0], 24 * fine + 1)
    edge = np.column_stack((np.full_like(z, layout.hollow[0, 0]), z))
    rounds = [points_at(path, fan[None])[0] for path in paths[:3]]
    blocks.add([*rounds, edge], layers, counts)
    if doubled:
        sheet([points_at(path, fan[None])[0] for path in over])

    for side in SIDES:
        ends = [place_on(path, np.array([front]), side) for path in paths]
        run = np.linspace(0.0, 1.0, 16 * fine + 1)
        lines = [
            points_at(path, begin[side][:, None] + (end - begin[side])[:, None] * run)[0]
            for path, end in zip(paths, ends, strict=True)
        ]
        blocks.add(lines, layers, counts)
        if doubled:
            sheet(
                [
                    points_at(
                        path,
                        begin[side][:, None] + (place_on(path, np.array([front]), side) - begin[side])[:, None] * run,
                    )[0]
                    for path in over
                ]
            )

    def rows(x: Floats, some: list[Floats] = paths) -> list[tuple[Floats, Floats]]:
        return [
            (np.column_stack((x, t[0])), np.column_stack((x, b[0]))) for t, b in (heights(p, x[None]) for p in some)
        ]

    def sheets(x: Floats) -> None:
        if doubled:
            for side in zip(*rows(x, over), strict=True):
                sheet(list(side))

    across = np.linspace(front, back, 3 * fine + 1)
    (o, i, f, w) = rows(across)
    sheets(across)
    blocks.add([o[0], i[0], f[0], w[0], w[1], f[1], i[1], o[1]], [*layers, spar.material, *layers[::-1]],
               [*counts, 12 * fine, *counts[::-1]])  # fmt: skip

    places, gap = layout.seam, layout.seam_gap
    close = float(np.interp(-fillable(glue), -gap[0], places[0]))
    start, tail = float(places[0, 0]), float(places[0, -1])
    for x in (np.linspace(back, start, 30 * fine + 1), np.linspace(start, close, 4 * fine + 1)):
        o, i, *_ = rows(x)
        sheets(x)
        blocks.add([o[0], i[0]], [skin.material], [2 * fine])
        blocks.add([i[1], o[1]], [skin.material], [2 * fine])
        if x[0] == start:
            lifted = i[1] + np.array([0.0, fillable(glue)])
            blocks.add([lifted, i[1]], [glue.material], [1])
    behind = np.linspace(close, tail, 4 * fine + 1)
    o, i, *_ = rows(behind)
    sheets(behind)
    blocks.add([o[0], i[0], i[1], o[1]], [skin.material, glue.material, skin.material], [2 * fine, 1, 2 * fine])
    return blocks.mesh()


def reference(drawing: BladeDrawing, layout: SectionLayout, fine: int = 1, doubled: bool = False) -> Reference:
    """The one section of a layout by finite elements; paint and weights are not in the mesh."""
    mesh, materials = section_mesh(drawing, layout, fine, doubled)
    basis = Basis(mesh, ElementTriP2())
    values = {
        name: np.array([getattr(drawing.materials[m], name) for m in materials])[:, None]
        for name in ("density", "youngs_modulus", "shear_modulus")
    }
    rho, young, shear = values.values()

    x, z = np.asarray(basis.global_coordinates())

    def total(values: Floats) -> float:
        return float((values * basis.dx).sum())

    mass, axial = total(rho + 0.0 * x), total(young + 0.0 * x)
    cx, cz = total(young * x) / axial, total(young * z) / axial
    x_c, z_c = x - cx, z - cz
    both = total(young * x_c * z_c)
    inertia = np.array([[total(young * x_c**2), both], [both, total(young * z_c**2)]])
    stiff = BilinearForm(lambda u, v, _: shear * dot(grad(u), grad(v))).assemble(basis)
    pushes = [LinearForm(lambda v, _: shear * (z_c * grad(v)[0] - x_c * grad(v)[1])).assemble(basis)]
    for a, b in np.linalg.inv(inertia):
        pushes.append(LinearForm(lambda v, _, a=a, b=b: young * (a * x_c + b * z_c) * v).assemble(basis))
    push = np.column_stack(pushes)
    fields = np.zeros_like(push)  # the first node stays where it is
    fields[1:] = splu(stiff[1:, 1:].tocsc()).solve(push[1:])
    torsion = total(shear * (x_c**2 + z_c**2)) - float(pushes[0] @ fields[:, 0])

    w = np.asarray(basis.interpolate(fields[:, 0]))
    w = young * (w - total(young * w) / axial)
    a, b = np.linalg.solve(inertia, np.array([total(w * x_c), total(w * z_c)]))
    return Reference(
        mass=mass,
        mass_x=total(rho * x) / mass,
        mass_z=total(rho * z) / mass,
        axial=axial,
        centre_x=cx,
        centre_z=cz,
        flapwise=float(inertia[1, 1]),
        chordwise=float(inertia[0, 0]),
        torsion=torsion,
        shear_x=cx - b,
        shear_z=cz + a,
        giving=push[:, 1:].T @ fields[:, 1:],
        unknowns=int(basis.N),
    )
