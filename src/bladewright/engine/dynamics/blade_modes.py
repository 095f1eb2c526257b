"""Frequencies and shapes of a turning blade."""

from dataclasses import dataclass
from typing import NoReturn

import numpy as np
from scipy.linalg import LinAlgError, cholesky, eigh, solve_triangular

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_matrices import BladeMatrices
from bladewright.errors import BadInput, NotConverged, OutsideValidity

STILL = 1e-8  # of the shift: an eigenvalue less far below nought is round-off
SINGULAR = 1e-13  # a pivot this small, of a matrix with ones on its diagonal, leaves no digits; our own choice
LOW = 1e-3  # of the least that one unknown alone would ring with: between modes without stiffness and the lowest with
FIELDS = ("flap", "chordwise", "torsion")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


@dataclass(frozen=True, slots=True)
class Modes:
    """The lowest modes at one rotor speed; every shape has unit modal mass."""

    rotor_speed: float  # [rad/s]
    frequencies: Floats  # (k,) [rad/s]
    vectors: Floats  # (k, m) of the matrices' unknowns, any sign [kg^-1/2]
    share: Floats  # (k, 3) of its kinetic energy that is flap, chordwise, torsion [1]
    names: tuple[str, ...]  # by the largest share: "first flap", "first torsion"
    flap: Floats  # (k, n) of the feathering axis at the beam's stations, up [m/kg^(1/2)]
    chordwise: Floats  # (k, n) aft [m/kg^(1/2)]
    torsion: Floats  # (k, n) nose-up [rad/kg^(1/2)]


def blade_modes(matrices: BladeMatrices, rotor_speed: float, count: int = 10) -> Modes:
    """Lowest modes at a rotor speed.

    ``(K - w**2 M) u = 0``.

    Parameters
    ----------
    matrices : BladeMatrices
        Of the blade. [-]
    rotor_speed : float
        Not negative. [rad/s]
    count : int
        How many modes, at least one. [-]

    Returns
    -------
    Modes

    Raises
    ------
    BadInput
        If the rotor speed is below nought or not finite, or the count is nought.

    Notes
    -----
    Solved inside out, ``M u = (K + s M) u / (w**2 + s)``, so that the lowest modes keep their digits. The Coriolis
    force of the sections' tilt is left out: small on slender blades (common practice, no source).

    Source: definition; no source needed.
    """
    require_speed(rotor_speed)
    if count < 1:
        raise BadInput("no mode asked for", field="count", value=count, allowed="1 or more")
    square, rows = lowest_modes(matrices, rotor_speed, count)
    fields, at = matrices.fields, matrices.stations
    share = energy_shares(kinds_of_mass(matrices), rows)
    return Modes(
        rotor_speed=rotor_speed,
        frequencies=np.sqrt(square),
        vectors=rows,
        share=share,
        names=mode_names(share),
        flap=rows @ fields.flap[:, at],
        chordwise=rows @ fields.chordwise[:, at],
        torsion=rows @ fields.torsion[:, at],
    )


def require_speed(rotor_speed: float) -> None:
    """Refuse a rotor speed that is none.

    Parameters
    ----------
    rotor_speed : float
        [rad/s]

    Raises
    ------
    BadInput
        If it is below nought or not finite.
    """
    if not (np.isfinite(rotor_speed) and rotor_speed >= 0.0):
        raise BadInput("not a rotor speed", field="rotor_speed", value=rotor_speed, allowed="0 or more, finite")


def lowest_modes(matrices: BladeMatrices, rotor_speed: float, count: int) -> tuple[Floats, Floats]:
    """Squares of the lowest frequencies and the modes' rows of unknowns, of unit modal mass.

    Parameters
    ----------
    matrices : BladeMatrices
        [-]
    rotor_speed : float
        [rad/s]
    count : int
        How many; as many as there are unknowns at most. [-]

    Returns
    -------
    tuple of arrays
        (k,) squares, (k, m) rows. [(rad/s)^2], [kg^-1/2]

    Raises
    ------
    OutsideValidity
        If the blade gives way without ringing: some movement has less than no stiffness; or if mass and stiffness are
        too unlike in size to leave a digit.
    NotConverged
        If the eigenvalues were not found.

    Notes
    -----
    Source: definition; no source needed.
    """
    mass, stiffness = matrices.mass, matrices.stiffness(rotor_speed)
    shift = _shift(matrices, rotor_speed)
    shifted = stiffness + shift * mass
    size = 1.0 / np.sqrt(np.abs(np.diagonal(shifted)))
    try:
        lower = cholesky(size[:, None] * shifted * size, lower=True)
    except LinAlgError as error:
        _refuse(rotor_speed, error)
    if np.diagonal(lower).min() ** 2 < SINGULAR:
        raise OutsideValidity(
            "mass and stiffness along the blade are too unlike in size to leave a digit",
            field="beam",
            value=float(np.diagonal(lower).min() ** 2),
            allowed=f"a pivot above {SINGULAR:g}",
            fix="look for a station whose stiffness is out by orders of magnitude",
        )
    half = solve_triangular(lower, size[:, None] * mass * size, lower=True)
    inside_out = solve_triangular(lower, half.T, lower=True)
    last = len(mass)
    count = min(count, last)
    try:
        found, vectors = eigh(0.5 * (inside_out + inside_out.T), subset_by_index=(last - count, last - 1))
    except LinAlgError as error:
        raise NotConverged("the modes were not found", field="beam") from error
    square = 1.0 / found[::-1] - shift
    if square[0] < -STILL * shift:
        _refuse(rotor_speed, None)
    rows = size * solve_triangular(lower, vectors[:, ::-1] / np.sqrt(found[::-1]), lower=True, trans=1).T
    return np.maximum(square, 0.0), rows


def _shift(matrices: BladeMatrices, rotor_speed: float) -> float:
    """About the square of a low frequency, to stand in where a movement has no stiffness. [(rad/s)^2]"""
    alone = np.diagonal(matrices.elastic) / np.diagonal(matrices.mass)
    return float(max(rotor_speed**2, LOW * alone[alone > SINGULAR * alone.max()].min()))


def _refuse(rotor_speed: float, cause: Exception | None) -> NoReturn:
    raise OutsideValidity(
        "the blade gives way without ringing: some movement has less than no stiffness",
        field="rotor_speed",
        value=rotor_speed,
        allowed="a blade that its own turning holds straight",
        fix="look at the places of mass centre, elastic centre and shear centre, and at the products of inertia",
    ) from cause


def kinds_of_mass(matrices: BladeMatrices) -> Floats:
    """The mass matrix of flap alone, of chordwise alone, of torsion alone.

    Parameters
    ----------
    matrices : BladeMatrices
        [-]

    Returns
    -------
    (3, m, m) array
        [kg]

    Notes
    -----
    Source: definition; no source needed.
    """
    f = matrices.fields
    kinds = [np.abs(field).max(axis=1) > 0.0 for field in (f.flap_slope, f.chordwise_slope, f.torsion)]
    return np.stack([matrices.mass * np.outer(kind, kind) for kind in kinds])


def energy_shares(kinds: Floats, rows: Floats) -> Floats:
    """How much of each mode's kinetic energy is flap, chordwise, torsion.

    Parameters
    ----------
    kinds : (3, m, m) array
        Mass of each alone. [kg]
    rows : (..., k, m) array
        Modes. [any]

    Returns
    -------
    (..., k, 3) array
        [1]

    Notes
    -----
    What two of them share through an offset mass is counted with neither.

    Source: definition; no source needed.
    """
    alone = np.stack([((rows @ kind) * rows).sum(axis=-1) for kind in kinds], axis=-1)
    shares: Floats = alone / alone.sum(axis=-1, keepdims=True)
    return shares


def mode_names(share: Floats) -> tuple[str, ...]:
    """Each mode by the field with the largest share, counted from the lowest.

    Parameters
    ----------
    share : (k, 3) array
        In order of frequency. [1]

    Returns
    -------
    tuple of str

    Notes
    -----
    Source: common practice, no source.
    """
    met = dict.fromkeys(FIELDS, 0)
    names = []
    for largest in share.argmax(axis=-1):
        field = FIELDS[int(largest)]
        count = met[field]
        names.append(f"{ORDINALS[count] if count < len(ORDINALS) else f'{count + 1}th'} {field}")
        met[field] += 1
    return tuple(names)
