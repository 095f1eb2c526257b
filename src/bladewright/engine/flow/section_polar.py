"""From an outline to its polar: potential flow, layer and wake in agreement, compressibility, surface as it is."""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.flow.compressibility import sonic_pressure
from bladewright.engine.flow.coupling import Conditions, CoupledFlow, coupled_flow
from bladewright.engine.flow.drag import wake_drag
from bladewright.engine.flow.layer_nodes import layer_nodes
from bladewright.engine.flow.polar import Polar
from bladewright.engine.flow.roughness import CRITICAL_STEP, Step
from bladewright.engine.flow.station import edge_state
from bladewright.engine.flow.transition import critical_amplification
from bladewright.engine.flow.wake import OuterFlow, outer_flow
from bladewright.engine.geometry.outline import Outline

PANELS = 120
BEYOND_SONIC = 1.5  # times the sonic pressure coefficient without a layer: beyond, no agreement is sought
FREE_AIR = 0.0007  # turbulence level; see ``critical_amplification``
SIDES: tuple[Literal["top", "bottom"], ...] = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class Surface:
    """What the layer meets on the section's skin, and in the air."""

    turbulence: float = FREE_AIR  # root mean square of the stream's fluctuation over its speed [1]
    trip_top: float = np.inf  # where the layer is made to turn, infinite if nowhere [chord fraction]
    trip_bottom: float = np.inf  # the same below [chord fraction]
    grain: float = 0.0  # equivalent sand grain all over [chord fraction]
    steps: tuple[Step, ...] = ()  # edges of tape and paint, rows of rivet heads


@dataclass(frozen=True, slots=True)
class SectionFlowField:
    """What a section's flow is in each of a list of conditions; NaN where none was found."""

    lift: Floats  # (c,) [1]
    drag: Floats  # (c,) [1]
    moment: Floats  # about the quarter chord, nose-up positive (c,) [1]
    subsonic: Bools  # (c,) whether the flow is subsonic everywhere
    transition: Floats  # (2, c) where the layer turned, top and bottom; 1 if at the trailing edge [chord fraction]
    separation: Floats  # (2, c) where a turbulent layer left the wall, top and bottom; 1 if it did not [chord fraction]
    nodes: Floats  # (s, 2) [chord fraction]
    pressure: Floats  # (s, c) coefficient at the nodes [1]
    flow: CoupledFlow


def section_flow_field(
    outline: Outline, angle: Floats, reynolds: Floats, mach: Floats, surface: Surface, panels: int = PANELS
) -> SectionFlowField:
    """Flow about a section in a list of conditions.

    Pressure from the coupled surface speed by Karman and Tsien; lift and moment are its integrals; drag is what the
    wake has lost, by Squire and Young at the wake's end.

    Parameters
    ----------
    outline : Outline
        With a trailing edge of some thickness, in chord fractions. [-]
    angle : (c,) array
        Of attack, against the outline's x axis. [rad]
    reynolds, mach : (c,) arrays
        Of the chord; of the stream. [1]
    surface : Surface
        The skin and the air. [1]
    panels : int
        How many; even. [-]

    Returns
    -------
    SectionFlowField

    Raises
    ------
    BadInput, OutsideValidity
        If the outline or the turbulence level cannot be used.

    Notes
    -----
    Attached flow and weak separation, subsonic everywhere. Greatest lift comes out high by some per cent: see
    docs/theory/boundary-layer.

    Source: T. von Karman, J. Aero. Sci. 8, 1941; H. B. Squire, A. D. Young, ARC R&M 1838, 1937 (both from memory).
    """
    nodes = layer_nodes(outline, panels)
    outer = outer_flow(nodes)
    critical = np.full(angle.shape, critical_amplification(surface.turbulence))
    top, bottom = _trips(outer, nodes, angle, reynolds, surface)
    conditions = Conditions(angle, reynolds, mach, critical, top, bottom, np.full(angle.shape, surface.grain))
    flow = coupled_flow(outer, conditions, _worth_trying(outer, conditions))
    return _forces(outer, nodes, conditions, flow)


def section_polar(
    outline: Outline, angle: Floats, reynolds: Floats, mach: Floats, surface: Surface, panels: int = PANELS
) -> Polar:
    """Lift, drag and moment of a section over angle, Reynolds and Mach number.

    Parameters
    ----------
    outline : Outline
        With a trailing edge of some thickness, in chord fractions. [-]
    angle : (a,) array
        Of attack, against the outline's x axis, increasing. [rad]
    reynolds, mach : (r,), (m,) arrays
        Increasing. [1]
    surface : Surface
        The skin and the air. [1]
    panels : int
        How many; even. [-]

    Returns
    -------
    Polar
        Not computed, but with values, where the flow is sonic somewhere and where a single angle did not converge
        between two that did (interpolated). NaN where nothing is known: ``past_stall.extended`` goes on from there.

    Raises
    ------
    BadInput, OutsideValidity
        As ``section_flow_field``.

    Notes
    -----
    Source: as ``section_flow_field``.
    """
    grid = np.meshgrid(angle, reynolds, mach, indexing="ij")
    shape = grid[0].shape
    at_angle, at_reynolds, at_mach = (values.ravel() for values in grid)
    field = section_flow_field(outline, at_angle, at_reynolds, at_mach, surface, panels)
    computed = (field.flow.converged & field.subsonic).reshape(shape)
    lift, drag, moment = (_bridged(angle, values.reshape(shape)) for values in (field.lift, field.drag, field.moment))
    return Polar(angle, reynolds, mach, lift, drag, moment, computed)


def _trips(outer: OuterFlow, nodes: Floats, angle: Floats, reynolds: Floats, surface: Surface) -> tuple[Floats, Floats]:
    """Arc from the nose to where each condition's layer is made to turn, top and bottom."""
    speed = np.abs(outer.basis @ np.stack((np.cos(angle), np.sin(angle), np.ones_like(angle))))
    trips = []
    for side, place in zip(SIDES, (surface.trip_top, surface.trip_bottom), strict=True):
        part = slice(outer.nose, None, -1) if side == "top" else slice(outer.nose, outer.arc.size)
        x = np.maximum.accumulate(nodes[part, 0])
        arc = np.abs(outer.arc[part] - outer.arc[outer.nose])
        first = np.full(angle.shape, np.interp(place, x, arc) if np.isfinite(place) else np.inf)
        for step in surface.steps:
            if step.side != side:
                continue
            there = np.array([np.interp(step.place, x, speed[part, c]) for c in range(angle.size)])
            trips_it = reynolds * there * step.height > CRITICAL_STEP[step.kind]
            first = np.where(trips_it, np.minimum(first, np.interp(step.place, x, arc)), first)
        trips.append(first)
    return trips[0], trips[1]


def _worth_trying(outer: OuterFlow, conditions: Conditions) -> Bools:
    """Conditions whose flow without a layer does not pass the speed of sound by far."""
    turned = np.stack((np.cos(conditions.angle), np.sin(conditions.angle), np.ones_like(conditions.angle)))
    lowest = 1.0 - np.max((outer.basis[: outer.arc.size] @ turned) ** 2, axis=0)
    return _karman_tsien(lowest, conditions.mach) > BEYOND_SONIC * _sonic(conditions.mach)


def _karman_tsien(still: Floats, mach: Floats) -> Floats:
    b = np.sqrt(1.0 - mach**2)
    pressure: Floats = still / (b + mach**2 / (1.0 + b) * 0.5 * still)
    return pressure


def _sonic(mach: Floats) -> Floats:
    return np.array([sonic_pressure(float(m)) for m in mach])


def _forces(outer: OuterFlow, nodes: Floats, conditions: Conditions, flow: CoupledFlow) -> SectionFlowField:
    size = outer.arc.size
    mach = conditions.mach
    pressure = _karman_tsien(1.0 - flow.speed[:size] ** 2, mach)
    with np.errstate(invalid="ignore"):
        subsonic: Bools = np.all(pressure > _sonic(mach), axis=0)
    walls = np.diff(nodes, axis=0, append=nodes[:1])
    ends = np.concatenate((pressure, pressure[:1]))
    mean, late = 0.5 * (ends[:-1] + ends[1:]), (ends[:-1] + 2.0 * ends[1:]) / 6.0
    # a wall (dx, dz) with the outside to its right is pushed along (-dz, dx) by pressure
    push_x, push_z = -walls[:, 1] @ mean, walls[:, 0] @ mean
    arm_x, arm_z = nodes[:, 0] - 0.25, nodes[:, 1]
    about = (arm_z * -walls[:, 1] - arm_x * walls[:, 0]) @ mean
    about = about - (walls**2).sum(axis=1) @ late
    lift = push_z * np.cos(conditions.angle) - push_x * np.sin(conditions.angle)
    u, squared, _ = edge_state(np.abs(flow.speed[-1]), mach)
    full = flow.shape[-1] * (1.0 + 0.113 * squared) + 0.29 * squared
    return SectionFlowField(
        lift=lift,
        drag=wake_drag(flow.momentum[-1], full, u),
        moment=about,
        subsonic=subsonic,
        transition=_places(outer, nodes, flow, flow.transition),
        separation=_separation(outer, nodes, flow),
        nodes=nodes,
        pressure=pressure,
        flow=flow,
    )


def _places(outer: OuterFlow, nodes: Floats, flow: CoupledFlow, distance: Floats) -> Floats:
    """Chordwise places of distances from the stagnation point; 1 where there is none."""
    signs = np.array([[-1.0], [1.0]])
    arc = flow.stagnation + signs * distance
    places: Floats = np.interp(arc, outer.arc, nodes[:, 0])
    return np.where(np.isnan(distance) & flow.converged, 1.0, places)


def _separation(outer: OuterFlow, nodes: Floats, flow: CoupledFlow) -> Floats:
    """Where the wall shear turns for good before the trailing edge."""
    places = np.ones((2, flow.converged.size))
    for row, part in enumerate((slice(outer.nose, None, -1), slice(outer.nose, outer.arc.size))):
        behind = np.logical_and.accumulate((flow.friction[part] < 0.0)[::-1], axis=0)
        count = behind.sum(axis=0)
        x = nodes[part, 0]
        places[row] = np.where(count > 0, x[len(x) - np.maximum(count, 1)], 1.0)
    return np.where(flow.converged, places, np.nan)


def _bridged(angle: Floats, values: Floats) -> Floats:
    """Single missing angles between two known ones put in by a straight line."""
    filled = values.copy()
    inner = np.isnan(values[1:-1]) & np.isfinite(values[:-2]) & np.isfinite(values[2:])
    share = ((angle[1:-1] - angle[:-2]) / (angle[2:] - angle[:-2]))[:, None, None]
    between = values[:-2] + share * (values[2:] - values[:-2])
    filled[1:-1][inner] = between[inner]
    return filled


def with_tape(surface: Surface, thickness: float, top: float, bottom: float) -> Surface:
    """The surface with erosion tape round the leading edge.

    Parameters
    ----------
    surface : Surface
        Without. [-]
    thickness : float
        Of the tape. [chord fraction]
    top, bottom : float
        Where the tape ends. [chord fraction]

    Returns
    -------
    Surface

    Notes
    -----
    Two steps down. The tape's own shape is part of the outline, if it is to be counted.

    Source: definition; no source needed.
    """
    edges = (Step("top", top, thickness, "down"), Step("bottom", bottom, thickness, "down"))
    return replace(surface, steps=(*surface.steps, *edges))
