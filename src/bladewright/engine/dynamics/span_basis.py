"""Shapes a blade may take along its span: polynomials of high order on a few elements, smooth across their ends.

An element ends where a property of the blade steps. Bending shapes and their slopes are continuous, twisting shapes are
continuous. Every array here ends in one number for each quadrature point.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.polynomial import Legendre, Polynomial
from numpy.polynomial.legendre import leggauss, legvander

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.dynamics.blade_beam import STEP

LONGEST = 0.55  # of the span: a longer element is parted
STRETCHES = 4  # least number in an element


@dataclass(frozen=True, slots=True)
class Grid:
    """Elements and their quadrature points; each stretch between two stations has its own points."""

    ends: Floats  # (e + 1,) of the elements [m]
    y: Floats  # (q,) points of the stretches, then the stations, then the single places asked for [m]
    weights: Floats  # (q,) nought at stations and single places [m]
    element: Integers  # (q,) number of the element
    stretches: Floats  # (k, 2) from and to [m]
    per_stretch: int  # points of each
    told: Integers  # (n + p,) for each station and single place, how many stretches lie inboard of it
    single: int  # p

    @property
    def first(self) -> float:
        """Inner end. [m]"""
        return float(self.ends[0])

    @property
    def stations(self) -> slice:
        """Where among the points the stations stand."""
        count = len(self.stretches) * self.per_stretch
        return slice(count, count + len(self.told) - self.single)


@dataclass(frozen=True, slots=True)
class Shapes:
    """Functions of one field at the points."""

    value: Floats  # (m, q) [any]
    slope: Floats  # (m, q) [1/m]
    curvature: Floats  # (m, q) [1/m^2]


def span_grid(stations: Floats, order: int, places: tuple[float, ...] = ()) -> Grid:
    """Elements between the steps of a blade and points that integrate its properties, straight between stations.

    Parameters
    ----------
    stations : (n,) array
        Radii, increasing; two close together are a step. [m]
    order : int
        Of the polynomials to be integrated. [-]
    places : tuple of floats, optional
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
    ends = _elements(stations, (*steps, *places))
    near = np.abs(stations[:, None] - ends).min(axis=1) < STEP
    knots = _parted(np.sort(np.concatenate((ends, stations[~near]))), ends)
    stretches = np.column_stack((knots[:-1], knots[1:]))
    each = np.searchsorted(ends, stretches.mean(axis=1)) - 1
    points = int(np.ceil((order + 3) / STRETCHES)) + 1
    place, weight = leggauss(points)
    half = 0.5 * np.diff(stretches, axis=1)
    outer_side = np.concatenate(([False], close))
    told = np.concatenate((stations, places))
    inward = told + np.concatenate((np.where(outer_side, STEP, -STEP), np.full(len(places), -STEP)))
    return Grid(
        ends=ends,
        y=np.concatenate(((stretches.mean(axis=1)[:, None] + half * place).ravel(), told)),
        weights=np.concatenate(((half * weight).ravel(), np.zeros(len(told)))),
        element=np.concatenate((np.repeat(each, points), np.clip(np.searchsorted(ends, inward) - 1, 0, len(ends) - 2))),
        stretches=stretches,
        per_stretch=points,
        told=np.abs(knots - told[:, None]).argmin(axis=1),
        single=len(places),
    )


def _elements(stations: Floats, breaks: tuple[float, ...]) -> Floats:
    """Ends at every break, then the longest element parted until none is too long."""
    inner = [place for place in breaks if stations[0] + STEP < place < stations[-1] - STEP]
    ends = np.unique(np.array([stations[0], *inner, stations[-1]]))
    ends = ends[np.concatenate(([True], np.diff(ends) > STEP))]
    while np.diff(ends).max() > LONGEST * (ends[-1] - ends[0]):
        longest = int(np.argmax(np.diff(ends)))
        middle = 0.5 * (ends[longest] + ends[longest + 1])
        station = float(stations[np.argmin(np.abs(stations - middle))])
        moved = abs(station - middle) < 0.1 * (ends[longest + 1] - ends[longest])
        ends = np.insert(ends, longest + 1, station if moved else middle)
    return ends


def _parted(knots: Floats, ends: Floats) -> Floats:
    """The longest stretch of an element parted until there are enough."""
    each = [knots[(knots >= low) & (knots <= high)] for low, high in pairwise(ends)]
    for number, own in enumerate(each):
        if len(own) <= STRETCHES:
            parts = -(-STRETCHES // (len(own) - 1))
            share = np.arange(parts) / parts
            each[number] = np.append((own[:-1, None] + np.diff(own)[:, None] * share).ravel(), own[-1])
    return np.concatenate((*[own[:-1] for own in each], ends[-1:]))


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
    return _assembled(grid, _bending(order), 2)


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
    return _assembled(grid, _twisting(order), 1)


@lru_cache
def _bending(order: int) -> Floats:
    """Coefficients: at the inner end one and its slope, the same at the outer end, bubbles."""
    ends = ([0.5, -0.75, 0.0, 0.25], [0.25, -0.25, -0.25, 0.25], [0.5, 0.75, 0.0, -0.25], [-0.25, -0.25, 0.25, 0.25])
    return _coefficients(ends, [Legendre.basis(n).integ(2, lbnd=-1) for n in range(2, order - 1)], order)


@lru_cache
def _twisting(order: int) -> Floats:
    """Coefficients: one at the inner end, one at the outer end, bubbles."""
    ends = ([0.5, -0.5], [0.5, 0.5])
    return _coefficients(ends, [Legendre.basis(n).integ(1, lbnd=-1) for n in range(1, order)], order)


def _coefficients(ends: Iterable[list[float]], bubbles: list[Legendre], order: int) -> Floats:
    """Of each function, its slope and its curvature, in Legendre polynomials. (3, functions, order + 1)"""
    functions = [*(Polynomial(end).convert(kind=Legendre) for end in ends), *bubbles]
    found = np.zeros((3, len(functions), order + 1))
    for number, function in enumerate(functions):
        for power in range(3):
            terms = function.deriv(power).coef if power else function.coef
            found[power, number, : len(terms)] = terms
    return found


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
    size = grid.per_stretch
    part, weight = _running_weights(size)
    half = 0.5 * np.diff(grid.stretches, axis=1)
    lead, count = values.shape[:-1], len(half) * size
    split = values[..., :count].reshape(*lead, -1, size)
    within = half * (split @ part)
    whole = half[:, 0] * (split @ weight)
    after = np.cumsum(whole, axis=-1)
    running = ((after - whole)[..., None] + within).reshape(*lead, count)
    at_places = np.concatenate((np.zeros((*lead, 1)), after), axis=-1)[..., grid.told]
    return np.concatenate((running, at_places), axis=-1)


@lru_cache
def _running_weights(size: int) -> tuple[Floats, Floats]:
    """What each of Gauss's points gives to the integral up to each of them, (j, i), and to the whole, (j,)."""
    place, weight = leggauss(size)
    fitted = np.linalg.inv(legvander(place, size - 1))
    return np.array([Legendre(row).integ(lbnd=-1)(place) for row in fitted.T]), weight


def _assembled(grid: Grid, coefficients: Floats, per_node: int) -> Shapes:
    """Node functions shared by neighbours, then each element's bubbles."""
    elements, order = len(grid.ends) - 1, coefficients.shape[-1] - 1
    nodes, bubbles = per_node * (elements + 1), coefficients.shape[1] - 2 * per_node
    arrays = np.zeros((3, nodes + elements * bubbles, len(grid.y)))
    for e in range(elements):
        here = np.flatnonzero(grid.element == e)
        half = 0.5 * (grid.ends[e + 1] - grid.ends[e])
        local = (grid.y[here] - 0.5 * (grid.ends[e] + grid.ends[e + 1])) / half
        found = coefficients @ legvander(local, order).T / half ** np.arange(3.0)[:, None, None]
        if per_node == 2:  # functions of slope one
            found[:, [1, 3]] *= half
        first = nodes + e * bubbles
        rows = np.array([*range(per_node * e, per_node * (e + 2)), *range(first, first + bubbles)])
        arrays[:, rows[:, None], here] = found
    return Shapes(*arrays)
