"""The doubler's end against quadratic finite elements of skin, film and doubler: what the joint theory leaves out."""

from dataclasses import dataclass

import numpy as np
import pytest
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    condense,
    solve,
)
from skfem.helpers import ddot, sym_grad

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.doubler import Step, doubler_end

METAL, POISSON = 72e9, 0.33
FILM_SHEAR, FILM_PULL = 0.8e9, 2.2e9  # [Pa]
LOAD, LENGTH, LEAD = 1e5, 0.03, 0.02  # [N/m], doubler and skin ahead of it [m]


@dataclass(frozen=True, slots=True)
class Solved:
    """Through the thickness, along the doubler."""

    place: Floats  # from the end [m]
    shear: Floats  # mean of the film [Pa]
    peel: Floats  # mean of the film [Pa]
    load: Floats  # of the doubler [N/m]


def graded(length: float, first: float, widest: float) -> Floats:
    places, step = [0.0], first
    while places[-1] < length:
        places.append(places[-1] + step)
        step = min(1.12 * step, widest)
    return np.array(places) * length / places[-1]


def by_elements(skin: float, film: float, doubler: float) -> Solved:
    """Plane strain; the skin's lower face held straight, pulled ahead of the doubler, both held at the far end."""
    x = np.concatenate([-graded(LEAD, film / 4, skin / 3)[:0:-1], graded(LENGTH, film / 4, doubler / 3)])
    z = np.concatenate([np.linspace(0.0, skin, 9)[:-1], skin + np.linspace(0.0, film, 5)[:-1],
                        skin + film + np.linspace(0.0, doubler, 9)])  # fmt: skip
    mesh = MeshQuad.init_tensor(x, z)
    middle = mesh.p[:, mesh.t].mean(axis=1)
    mesh = mesh.restrict(np.nonzero((middle[0] > 0.0) | (middle[1] < skin))[0])
    middle = mesh.p[:, mesh.t].mean(axis=1)
    soft, above = (middle[1] > skin) & (middle[1] < skin + film), middle[1] > skin + film
    basis = Basis(mesh, ElementVector(ElementQuad2()))
    shear = np.where(soft, FILM_SHEAR, 0.5 * METAL / (1.0 + POISSON))[:, None] + 0.0 * basis.dx
    ratio = np.where(soft, 0.5 * FILM_PULL / FILM_SHEAR - 1.0, POISSON)[:, None]
    bulk = 2.0 * shear * ratio / (1.0 - 2.0 * ratio)

    @BilinearForm
    def stiffness(u, v, w):  # type: ignore[no-untyped-def]
        e, f = sym_grad(u), sym_grad(v)
        return w.bulk * (e[0, 0] + e[1, 1]) * (f[0, 0] + f[1, 1]) + 2.0 * w.shear * ddot(e, f)

    @LinearForm
    def pull(v, w):  # type: ignore[no-untyped-def]
        return -LOAD / skin * v[0] + 0.0 * w.x[0]

    front = FacetBasis(mesh, ElementVector(ElementQuad2()), facets=mesh.facets_satisfying(lambda p: p[0] == -LEAD))
    held = np.concatenate([
        basis.get_dofs(lambda p: np.isclose(p[0], LENGTH)).all("u^1"),
        basis.get_dofs(lambda p: np.isclose(p[1], 0.0)).all("u^2"),
    ])  # fmt: skip
    found = solve(*condense(stiffness.assemble(basis, bulk=bulk, shear=shear), pull.assemble(front), D=held))
    strain = sym_grad(basis.interpolate(found))
    both = bulk * (strain[0, 0] + strain[1, 1])
    columns = np.round(middle[0], 12)
    places = np.unique(columns[columns > 0.0])

    def mean(stress: Floats, part: Floats) -> Floats:
        inside = [part & (columns == place) for place in places]
        return np.array([(stress[one] * basis.dx[one]).sum() / basis.dx[one].sum() for one in inside])

    return Solved(
        place=places,
        shear=np.abs(mean(2.0 * shear * strain[0, 1], soft)),
        peel=mean(both + 2.0 * shear * strain[1, 1], soft),
        load=doubler * mean(both + 2.0 * shear * strain[0, 0], above),
    )


@pytest.mark.outside
@pytest.mark.parametrize(
    ("skin", "film", "doubler"), [(0.0034, 0.0001, 0.0016), (0.0034, 0.0001, 0.0004), (0.0034, 0.0002, 0.0016)]
)
def test_the_theory_is_on_the_safe_side_at_the_end_and_right_inside(skin: float, film: float, doubler: float) -> None:
    solved = by_elements(skin, film, doubler)
    ratio = 0.5 * FILM_PULL / FILM_SHEAR - 1.0
    squeezed = FILM_PULL * (1.0 - ratio) / ((1.0 + ratio) * (1.0 - 2.0 * ratio))  # a thin film cannot shrink sideways
    stiff = METAL / (1.0 - POISSON**2)
    sheets = Sheet(stiff, doubler, 0.0), Sheet(stiff, skin, 0.0)
    theory = doubler_end(LOAD, [Step(LENGTH, sheets[0])], sheets[1], Film(FILM_SHEAR, squeezed, film))
    # metal that gives in shear and a film that bends away spread the load: the theory is higher, by up to a third
    assert 1.1 < theory.shear[0] / solved.shear.max() < 1.33
    assert 1.1 < theory.peel / solved.peel.max() < 1.33
    # and what the doubler carries in the end is the same
    assert theory.inner_load == pytest.approx(solved.load[-1], rel=0.01)
    assert np.trapezoid(solved.shear, solved.place) == pytest.approx(solved.load[-1], rel=0.02)
