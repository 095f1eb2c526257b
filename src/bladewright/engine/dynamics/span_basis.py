"""Shapes a blade may take along its span: polynomials of high order on a few elements, smooth across their ends.

An element ends where a property of the blade steps. Bending shapes and their slopes are continuous, twisting shapes are
continuous. Every array here ends in one number for each quadrature point.
"""

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import Legendre, Polynomial
from numpy.polynomial.legendre import leggauss, legvander

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.dynamics.blade_beam import STEP

LEAST_POINTS = 3  # of a stretch between two stations: exact for a cubic shape squared there


@dataclass(frozen=True, slots=True)
class Grid:
    """Elements and their quadrature points; each stretch between two stations has its own points."""

    ends: Floats  # (e + 1,) of the elements [m]
    y: Floats  # (q,) points of the stretches, then the single places asked for [m]
    weights: Floats  # (q,) nought at single places [m]
    element: Integers  # (q,) number of the element
    stretches: Floats  # (k, 2) from and to [m]
    per_stretch: int  # points of each
    places: Integers  # (p,) for each single place, how many stretches lie inboard of it

    @property
    def first(self) -> float:
        """Inner end. [m]"""
        return float(self.ends[0])


@dataclass(frozen=True, slots=True)
class Shapes:
    """Functions of one field at the points."""

    value: Floats  # (m, q)
    slope: Floats  # (m, q) [1/m]
    curvature: Floats  # (m, q) [1/m^2]
    at_ends: Floats  # (m, e + 1) value at the elements' ends


def span_grid(stations: Floats, order: int, places: tuple[float, ...] = ()) -> Grid:
    """Elements between the steps of a blade and points that integrate its properties, straight between stations.

    Parameters
    ----------
    stations : (n,) array
        Radii, increasing; two close together are a step. [m]
    order : int
        Of the polynomials to be integrated. [-]
    places : tuple of floats
        Single places, as of weights: an element ends there and the shapes are told there too. [m]

    Returns
    -------
    Grid

    Notes
    -----
    Source: Gauss quadrature; any text on numerical methods.
    """
    close = np.diff(stations) < STEP
    steps = 0.5 * (stations[:-1] + stations[1:])[close]
    inner = [place for place in (*steps, *places) if stations[0] + STEP < place < stations[-1] - STEP]
    ends = np.unique(np.array([stations[0], *inner, stations[-1]]))
    ends = ends[np.concatenate(([True], np.diff(ends) > STEP))]
    near = np.abs(stations[:, None] - ends).min(axis=1) < STEP
    knots = np.sort(np.concatenate((ends, stations[~near])))
    stretches = np.column_stack((knots[:-1], knots[1:]))
    each = np.searchsorted(ends, stretches.mean(axis=1)) - 1
    fewest = int(np.bincount(each, minlength=len(ends) - 1).min())
    points = max(LEAST_POINTS, int(np.ceil((order + 3) / fewest)) + 1)
    place, weight = leggauss(points)
    half = 0.5 * np.diff(stretches, axis=1)
    return Grid(
        ends=ends,
        y=np.concatenate(((stretches.mean(axis=1)[:, None] + half * place).ravel(), places)),
        weights=np.concatenate(((half * weight).ravel(), np.zeros(len(places)))),
        element=np.concatenate((np.repeat(each, points), _nearest(ends[1:], places))),
        stretches=stretches,
        per_stretch=points,
        places=_nearest(stretches[:, 1], places) + 1,
    )


def _nearest(ends: Floats, places: tuple[float, ...]) -> Integers:
    return np.array([int(np.argmin(np.abs(ends - place))) for place in places], dtype=np.intp)


def bending_shapes(grid: Grid, order: int) -> Shapes:
    """Functions with a continuous slope: two of each node, then bubbles whose curvatures are Legendre polynomials.

    Parameters
    ----------
    grid : Grid
        Elements and points. [-]
    order : int
        Of the polynomials, at least 3. [-]

    Returns
    -------
    Shapes
        The first two belong to the inner end: its deflection, its slope. [m/m]

    Notes
    -----
    Source: hierarchical shape functions; B. A. Szabo, I. Babuska, Finite Element Analysis, 1991 (from memory).
    """
    left = [Polynomial([0.5, -0.75, 0.0, 0.25]), Polynomial([0.25, -0.25, -0.25, 0.25])]  # one at the end; slope one
    right = [Polynomial([0.5, 0.75, 0.0, -0.25]), Polynomial([-0.25, -0.25, 0.25, 0.25])]
    bubbles = [Legendre.basis(n).integ(2, lbnd=-1) for n in range(2, order - 1)]
    return _assembled(grid, left, right, bubbles)


def twisting_shapes(grid: Grid, order: int) -> Shapes:
    """Continuous functions: one of each node, then bubbles whose slopes are Legendre polynomials.

    Parameters
    ----------
    grid : Grid
        Elements and points. [-]
    order : int
        Of the polynomials, at least 1. [-]

    Returns
    -------
    Shapes
        The first belongs to the inner end. [-]

    Notes
    -----
    Source: hierarchical shape functions; B. A. Szabo, I. Babuska, Finite Element Analysis, 1991 (from memory).
    """
    left, right = Polynomial([0.5, -0.5]), Polynomial([0.5, 0.5])
    bubbles = [Legendre.basis(n).integ(1, lbnd=-1) for n in range(1, order)]
    return _assembled(grid, [left], [right], bubbles)


def running_integral(grid: Grid, values: Floats) -> Floats:
    """Integral from the inner end to each point.

    Parameters
    ----------
    grid : Grid
        Elements and points. [-]
    values : (..., q) array
        At the points. [any]

    Returns
    -------
    (..., q) array
        [any times m]

    Notes
    -----
    Exact for polynomials of as many terms as a stretch has points.

    Source: integral of the interpolating polynomial; any text on numerical methods.
    """
    place, weight = leggauss(grid.per_stretch)
    size = grid.per_stretch
    fitted = np.linalg.inv(legvander(place, size - 1))
    part = np.array([Legendre(row).integ(lbnd=-1)(place) for row in fitted.T])  # (j, i): of one point's to another
    half = 0.5 * np.diff(grid.stretches, axis=1)
    lead, count = values.shape[:-1], len(half) * size
    split = values[..., :count].reshape(*lead, -1, size)
    within = half * (split @ part)
    whole = half[:, 0] * (split @ weight)
    after = np.cumsum(whole, axis=-1)
    running = ((after - whole)[..., None] + within).reshape(*lead, count)
    at_places = np.concatenate((np.zeros((*lead, 1)), after), axis=-1)[..., grid.places]
    return np.concatenate((running, at_places), axis=-1)


def _assembled(grid: Grid, left: list[Polynomial], right: list[Polynomial], bubbles: list[Legendre]) -> Shapes:
    """Node functions shared by neighbours, then each element's bubbles."""
    per_node, elements = len(left), len(grid.ends) - 1
    nodes = per_node * (elements + 1)
    count = nodes + elements * len(bubbles)
    arrays = [np.zeros((count, len(grid.y))) for _ in range(3)]
    at_ends = np.zeros((count, elements + 1))
    at_ends[range(0, nodes, per_node), range(elements + 1)] = 1.0
    for e in range(elements):
        here = grid.element == e
        half = 0.5 * (grid.ends[e + 1] - grid.ends[e])
        local = (grid.y[here] - 0.5 * (grid.ends[e] + grid.ends[e + 1])) / half
        rows = [
            *range(per_node * e, per_node * (e + 2)),
            *range(nodes + e * len(bubbles), nodes + (e + 1) * len(bubbles)),
        ]
        for row, function in zip(rows, (*left, *right, *bubbles), strict=True):
            is_slope = row < nodes and row % per_node == 1
            scale = half if is_slope else 1.0
            for power, array in enumerate(arrays):
                array[row, here] = (
                    scale * function.deriv(power)(local) / half**power if power else scale * function(local)
                )
    return Shapes(*arrays, at_ends=at_ends)
