"""Frequencies of a blade over its rotor speed, each mode followed by its shape."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from bladewright.engine.arrays import Floats, Integers, require_finite, require_increasing
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, blade_matrices
from bladewright.engine.dynamics.blade_modes import energy_shares, kinds_of_mass, lowest_modes, mode_names
from bladewright.errors import BadInput, OutsideValidity

SPARE = 4  # modes above those asked for, at each of the speeds whose shapes stand for all
ALIKE = 1e-11  # of the largest: shapes of several speeds that differ by less are one
STILL = 1e-9  # of the highest eigenvalue asked for: below nought by less is round-off
LOOKED_AT = 5  # of them, that a followed mode may change places with


@dataclass(frozen=True, slots=True)
class FanPlot:
    """Modes over rotor speed. A column is one mode all along, named at the highest speed."""

    rotor_speeds: Floats  # (s,) [rad/s]
    frequencies: Floats  # (s, k) [rad/s]
    share: Floats  # (s, k, 3) of its kinetic energy that is flap, chordwise, torsion [1]
    names: tuple[str, ...]  # (k,)

    def per_rev(self) -> Floats:
        """Frequencies over rotor speed. (s, k) [1]"""
        if self.rotor_speeds[0] == 0.0:
            raise BadInput(
                "a rotor that stands has nothing per revolution", field="rotor_speeds", row=1, value=0.0,
                allowed="more than 0", fix="leave the speed of nought out",
            )  # fmt: skip
        ratio: Floats = self.frequencies / self.rotor_speeds[:, None]
        return ratio


def fan_plot(
    beam: BladeBeam, root: Root, pattern: Pattern, rotor_speeds: Floats, pitch: float = 0.0, count: int = 10
) -> FanPlot:
    """The lowest modes over a range of rotor speeds.

    Stiffness is ``elastic + W**2 turning``; both are taken once into the lowest modes at the lowest, a middle and
    the highest speed together, and solved there at all speeds.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        [-]
    pattern : {"collective", "cyclic"}
        [-]
    rotor_speeds : (s,) array
        Increasing, not negative. [rad/s]
    pitch : float
        Of the lever, added to the twist, nose-up. [rad]
    count : int
        How many modes are followed. [-]

    Returns
    -------
    FanPlot

    Raises
    ------
    BadInput
        If there is no speed, one below nought, or no mode asked for.
    OutsideValidity
        If at some speed the blade gives way without ringing.

    Notes
    -----
    From the highest speed down each mode is the one whose shape is most like it one speed up. Where two come close and
    trade shapes the names go with the shapes.

    Source: assurance of modes by their shapes: R. J. Allemang, D. L. Brown, 1982 (from memory).
    """
    _check(rotor_speeds, count)
    matrices = blade_matrices(beam, root, pattern, pitch)
    rows = _shapes(matrices, rotor_speeds, count + SPARE)
    elastic, turning = (rows @ matrix @ rows.T for matrix in (matrices.elastic, matrices.turning))
    whole = elastic + rotor_speeds[:, None, None] ** 2 * turning
    squares, vectors = np.linalg.eigh(whole)
    if squares[:, 0].min() < -STILL * squares[:, min(count, len(rows)) - 1].max():
        at = int(np.argmin(squares[:, 0]))
        raise OutsideValidity(
            "the blade gives way without ringing", field="rotor_speeds", row=at + 1, value=float(rotor_speeds[at]),
            allowed="speeds at which its turning holds the blade straight",
        )  # fmt: skip
    modes = np.swapaxes(vectors, -1, -2)
    kept = _followed(modes, min(count, len(rows)))
    shapes = np.take_along_axis(modes, kept[:, :, None], axis=1)
    share = energy_shares(rows @ kinds_of_mass(matrices) @ rows.T, shapes)
    return FanPlot(
        rotor_speeds=rotor_speeds,
        frequencies=np.sqrt(np.maximum(np.take_along_axis(squares, kept, axis=1), 0.0)),
        share=share,
        names=mode_names(share[-1]),
    )


def _shapes(matrices: BladeMatrices, rotor_speeds: Floats, count: int) -> Floats:
    """Modes of three speeds, made square to one another in mass. (r, m)"""
    middle = float(np.sqrt(0.5 * (rotor_speeds[0] ** 2 + rotor_speeds[-1] ** 2)))
    speeds = sorted({float(rotor_speeds[0]), middle, float(rotor_speeds[-1])})
    rows = np.concatenate([lowest_modes(matrices, speed, count)[1] for speed in speeds])
    size, mixing = np.linalg.eigh(rows @ matrices.mass @ rows.T)
    kept = size > ALIKE * size[-1]
    square: Floats = (mixing[:, kept] / np.sqrt(size[kept])).T @ rows
    return square


def _check(rotor_speeds: Floats, count: int) -> None:
    if rotor_speeds.ndim != 1 or rotor_speeds.size == 0:
        raise BadInput("no rotor speed", field="rotor_speeds", allowed="one or more")
    require_finite(rotor_speeds, "rotor_speeds")
    require_increasing(rotor_speeds, "rotor_speeds")
    if rotor_speeds[0] < 0.0:
        raise BadInput("below nought", field="rotor_speeds", row=1, value=float(rotor_speeds[0]), allowed="0 or more")
    if count < 1:
        raise BadInput("no mode asked for", field="count", value=count, allowed="1 or more")


def _followed(modes: Floats, count: int) -> Integers:
    """For each speed, which of its modes continues each of those at the highest. (s, k)"""
    speeds = len(modes)
    kept = np.empty((speeds, count), dtype=np.intp)
    kept[-1] = np.arange(count)
    for at in range(speeds - 2, -1, -1):
        likeness = (modes[at + 1, kept[at + 1]] @ modes[at, : count + LOOKED_AT].T) ** 2
        kept[at] = linear_sum_assignment(likeness, maximize=True)[1]
    return kept
