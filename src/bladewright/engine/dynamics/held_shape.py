"""The steady shape of a blade: coned and twisted under its loads in flight, or drooping at rest on its stop."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import LinAlgError, cho_factor, cho_solve

from bladewright.engine.arrays import Complexes, Floats, Integers, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, Fields, blade_matrices
from bladewright.engine.dynamics.blade_modes import SINGULAR, require_speed
from bladewright.engine.dynamics.inner_moments import Number, inner_moments
from bladewright.engine.dynamics.outboard import outboard_pull
from bladewright.errors import BadInput, OutsideValidity

NO_STOPS = (-np.inf, np.inf)


@dataclass(frozen=True, slots=True)
class RootLoads:
    """What the blade puts on its hub at the inner end, about the feathering axis, in the axes of the disc."""

    pull: float  # outward [N]
    lift: float  # up [N]
    drag: float  # aft [N]
    flap_moment: float  # lifts the hub's arm [N m]
    chord_moment: float  # drags it aft [N m]
    control_moment: float  # on the control run, nose-up [N m]


@dataclass(frozen=True, slots=True)
class BentBlade:
    """A blade in its steady state, at the beam's stations; small movements from the straight blade."""

    y: Floats  # (n,) [m]
    flap: Floats  # (n,) of the feathering axis, up [m]
    chordwise: Floats  # (n,) aft [m]
    twist: Floats  # (n,) added to pitch and built-in twist, nose-up [rad]
    flap_slope: Floats  # (n,) tilt of the section [rad]
    chordwise_slope: Floats  # (n,) [rad]
    tension: Floats  # (n,) [N]
    flap_moment: Floats  # (n,) about the elastic centre, bends the tip up [N m]
    chord_moment: Floats  # (n,) bends the tip aft [N m]
    torsion_moment: Floats  # (n,) borne by shear, nose-up [N m]
    root: RootLoads
    coning: float  # of a stiff blade with the same moment of mass above the disc; precone included [rad]
    hinge_angle: float | None  # at the flap hinge, up; None where it is clamped [rad]
    stop_moment: float  # of a flap stop on the blade, up; nought where it does not touch [N m]


def held_shape(
    beam: BladeBeam,
    root: Root,
    pattern: Pattern,
    rotor_speed: float,
    lift: Floats,
    drag: Floats,
    moment: Floats,
    pitch: float = 0.0,
    gravity: float = 0.0,
    stops: tuple[float, float] = NO_STOPS,
) -> BentBlade:
    """Steady deflection and inner loads.

    ``(K_e + W**2 K_c) u = f + W**2 f_c``; at a stop ``b - b_stop >= 0, M_stop >= 0`` and one of them nought.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        [-]
    pattern : {"collective", "cyclic"}
        [-]
    rotor_speed : float
        Nought at rest. [rad/s]
    lift, drag : (n,) arrays
        Per length at the beam's stations, on the feathering axis, up and aft. [N/m]
    moment : (n,) array
        Per length about the feathering axis, nose-up. [N m/m]
    pitch : float
        Of the lever, nose-up. [rad]
    gravity : float
        Adds the weight of all mass, tip weights included; nought if it is in ``lift`` and ``moment``. [m/s^2]
    stops : tuple of floats
        Lowest and highest angle of the flap hinge, up positive; of no use where the blade is clamped. [rad]

    Returns
    -------
    BentBlade

    Raises
    ------
    BadInput
        If a load does not fit the stations, or the lower stop lies above the higher.
    OutsideValidity
        If nothing holds the blade: a hinge or a loose control run at rest without a stop.

    Notes
    -----
    Linear: loads stay as they are while the blade bends; the turning's loads are those on the straight blade and what
    its small movement adds.

    Source: J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958 (from memory); re-derived in docs/theory/rotating-beam.
    """
    require_speed(rotor_speed)
    for name, load in (("lift", lift), ("drag", drag), ("moment", moment)):
        require_load(load, beam, name)
    if not stops[0] <= stops[1]:
        raise BadInput("the lower stop lies above the higher", field="stops", value=stops[0], allowed=f"<= {stops[1]}")
    held = np.isinf(root.control_stiffness)
    matrices = blade_matrices(beam, replace(root, control_stiffness=0.0) if held else root, pattern, pitch)
    load = spread_load(beam, matrices.fields, lift, drag, moment)
    load = load + rotor_speed**2 * matrices.flung + gravity * matrices.weight
    stiffness = matrices.stiffness(rotor_speed)
    feather, hinge = _places(matrices.fields)
    fixed = {int(at): 0.0 for at in feather} if held else {}
    unknowns = _settled(stiffness, load, fixed, hinge, stops)
    residue = stiffness @ unknowns - load  # what the stop and a held control run put on the blade
    control = -residue[feather[0]] if held else root.control_stiffness * float(matrices.fields.root_twist @ unknowns)
    return _told(
        beam, matrices, root, pitch, rotor_speed, unknowns,
        reactions=(float(control), float(residue[hinge[0]]) if hinge.size else 0.0),
        sums=(_sum(beam, lift), _sum(beam, drag), gravity),
    )  # fmt: skip


def require_load(load: Floats | Complexes, beam: BladeBeam, field: str) -> None:
    """Refuse a load that does not fit the beam.

    Parameters
    ----------
    load : (n,) array
        Per length, real or complex. [N/m or N m/m]
    beam : BladeBeam
        [-]
    field : str
        What it is called. [-]

    Raises
    ------
    BadInput
        If it has not one finite number for each station.
    """
    if load.shape != beam.y.shape:
        raise BadInput("one value for each station", field=field, allowed=f"{beam.y.size} values")
    require_finite(np.abs(load), field)


def spread_load(
    beam: BladeBeam, fields: Fields, lift: NDArray[Number], drag: NDArray[Number], moment: NDArray[Number]
) -> NDArray[Number]:
    """Work of loads per length, straight between stations, on each unknown.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    fields : Fields
        [-]
    lift, drag, moment : (n,) arrays
        At the stations, real or complex. [N/m], [N m/m]

    Returns
    -------
    (m,) array
        [N m per unit of each]

    Notes
    -----
    Source: definition; no source needed.
    """
    up, aft, nose_up = (fields.weights * np.interp(fields.y, beam.y, load) for load in (lift, drag, moment))
    work: NDArray[Number] = fields.flap @ up + fields.chordwise @ aft + fields.torsion @ nose_up
    return work


def _places(fields: Fields) -> tuple[Integers, Integers]:
    """Which unknown is the twist of the inner end, and which the tilt at the hinge."""
    return np.flatnonzero(fields.root_twist), np.flatnonzero(fields.root_flap)


def _settled(
    stiffness: Floats, load: Floats, fixed: dict[int, float], hinge: Integers, stops: tuple[float, float]
) -> Floats:
    """Free of its stops if that holds, else lying on the one it would pass."""
    if not hinge.size or stops == NO_STOPS:
        return _solved(stiffness, load, fixed)
    at = int(hinge[0])
    low, high = (_solved(stiffness, load, fixed | {at: stop}) if np.isfinite(stop) else None for stop in stops)
    if low is not None and stiffness[at] @ low - load[at] >= 0.0:  # the stop has to push up
        return low
    if high is not None and stiffness[at] @ high - load[at] <= 0.0:
        return high
    return _solved(stiffness, load, fixed)


def _solved(stiffness: Floats, load: Floats, fixed: dict[int, float]) -> Floats:
    unknowns = np.zeros(len(load))
    unknowns[list(fixed)] = list(fixed.values())
    free = np.setdiff1d(np.arange(len(load)), list(fixed))
    left = load[free] - stiffness[free] @ unknowns
    part = stiffness[np.ix_(free, free)]
    size = 1.0 / np.sqrt(np.maximum(np.diagonal(part), np.finfo(float).tiny))
    try:
        factor = cho_factor(size[:, None] * part * size, lower=True)
    except LinAlgError as error:
        raise _not_held() from error
    if np.diagonal(factor[0]).min() ** 2 < SINGULAR:
        raise _not_held()
    unknowns[free] = size * cho_solve(factor, size * left)
    return unknowns


def _not_held() -> OutsideValidity:
    return OutsideValidity(
        "nothing holds the blade",
        field="root",
        allowed="a clamped root, a turning rotor or a stop; a control run that is not loose at rest",
        fix="give the droop stop's angle and the control run's stiffness",
    )


def _sum(beam: BladeBeam, load: Floats) -> tuple[float, float]:
    """Of a load straight between stations, and of its moment about the inner end."""
    y, step = beam.y - beam.y[0], np.diff(beam.y)
    left, right = load[:-1], load[1:]
    arm = step * (y[:-1] * (left + right) / 2.0 + step * (left + 2.0 * right) / 6.0)
    return float((step * (left + right)).sum() / 2.0), float(arm.sum())


def _told(
    beam: BladeBeam,
    matrices: BladeMatrices,
    root: Root,
    pitch: float,
    rotor_speed: float,
    unknowns: Floats,
    reactions: tuple[float, float],
    sums: tuple[tuple[float, float], tuple[float, float], float],
) -> BentBlade:
    """Shape, inner loads, and the sums of all forces at the root."""
    f, at = matrices.fields, matrices.stations
    inside = inner_moments(beam, matrices, pitch, unknowns)
    (lift, lift_moment), (drag, drag_moment), gravity = sums
    c, turn, raised = matrices.carried, unknowns @ f.torsion, unknowns @ f.flap
    up = c.mass * (raised - raised[at.start]) + c.up - turn * c.aft  # mass times its place, above the inner end
    aft = c.mass * (unknowns @ f.chordwise) + c.aft + turn * c.up
    out, square = f.y - beam.y[0], rotor_speed**2
    sink = c.mass * (gravity + square * root.precone * f.y)
    hinge = np.flatnonzero(f.root_flap)
    return BentBlade(
        y=beam.y,
        flap=unknowns @ f.flap[:, at],
        chordwise=unknowns @ f.chordwise[:, at],
        twist=unknowns @ f.torsion[:, at],
        flap_slope=unknowns @ f.flap_slope[:, at],
        chordwise_slope=unknowns @ f.chordwise_slope[:, at],
        tension=square * outboard_pull(beam, beam.y),
        flap_moment=inside.flap,
        chord_moment=inside.chord,
        torsion_moment=inside.torsion,
        root=RootLoads(
            pull=float(square * (c.mass @ f.y)),
            lift=float(lift - sink.sum()),
            drag=float(drag + square * aft.sum()),
            flap_moment=float(lift_moment - sink @ out - square * (f.y @ up)),
            chord_moment=float(drag_moment - square * beam.y[0] * aft.sum()),
            control_moment=reactions[0],
        ),
        coning=root.precone + float((c.mass * f.y) @ raised / (c.mass @ f.y**2)),
        hinge_angle=float(unknowns[hinge[0]]) if hinge.size else None,
        stop_moment=reactions[1],
    )
