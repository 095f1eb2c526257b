"""A polar continued from where it ends to all round the circle, so that no blade element is ever without forces."""

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.flow.polar import Polar
from bladewright.errors import BadInput

STEP = np.deg2rad(3.0)  # of the continued angles; straight lines between them miss 0.001 in lift; our own choice
BRIDGED = np.deg2rad(5.5)  # a gap between known angles taken as a straight line; our own choice
FLATTEST = 50.0  # [1] aspect ratio from which a plate counts as endless


def extended(polar: Polar, aspect_ratio: float) -> Polar:
    """A polar continued to plus and minus 180 degrees; what is added is marked as not computed.

    From the last known angle ``s`` on either side to 90 degrees
    ``cl = (D/2) sin 2a + K_l cos(a)**2/sin(a)``, ``cd = D sin(a)**2 + K_d cos(a)``, ``D = 1.11 + 0.018 AR``,
    K_l and K_d such that lift and drag are met at ``s``; beyond, a flat plate: ``cl = (D/2) sin 2a``,
    ``cd = D sin(a)**2 + cd_least |cos a|``. The normal force acts at
    ``x/c = 1/2 - (3/4) cos(a)/(4 + pi |sin a|)``, plus what meets the moment at ``s`` and fades with ``cos(a)``.

    Parameters
    ----------
    polar : Polar
        With some angles below and above zero at every Reynolds and Mach number that has entries at all. Gaps up to
        5.5 degrees are bridged by straight lines; past a wider one nothing is trusted. [-]
    aspect_ratio : float
        Radius over chord of the blade; more than 50 counts as 50. [1]

    Returns
    -------
    Polar
        Finite everywhere. Where a Reynolds and Mach number has no entries its next lower Mach number's are taken, and
        where there is none the next higher's; both marked as not computed.

    Raises
    ------
    BadInput
        If the aspect ratio is not positive, or the known angles do not lie on both sides of zero.

    Notes
    -----
    The rule was made for a whole stalled blade at rest in the wind; it holds roughly, says nothing of dynamic stall,
    and beyond 90 degrees is a plate. A section inside stall carries no rotor: such elements lie inboard in reverse
    flow, where the speed is low.

    Source: L. A. Viterna, R. D. Corrigan, Fixed pitch rotor performance of large horizontal axis wind turbines,
    NASA CP-2230, 1982 (from memory); centre of pressure: Lord Rayleigh, On the resistance of fluids, 1876 (from
    memory).
    """
    if not aspect_ratio > 0.0:
        raise BadInput("must be positive", field="aspect_ratio", value=aspect_ratio, allowed="more than 0")
    highest = 1.11 + 0.018 * min(aspect_ratio, FLATTEST)
    angle = _all_round(polar.angle)
    shape = (angle.size, polar.reynolds.size, polar.mach.size)
    forces = np.full((3, *shape), np.nan)
    computed = np.zeros(shape, dtype=np.bool_)
    for r, m in np.ndindex(shape[1:]):
        known = np.array([polar.lift[:, r, m], polar.drag[:, r, m], polar.moment[:, r, m]])
        run = _run_about_zero(polar.angle, np.isfinite(known).all(axis=0))
        if not run.size:
            continue
        forces[:, :, r, m] = _continued(polar.angle[run], known[:, run], angle, highest)
        kept = np.searchsorted(angle, polar.angle[run])
        computed[kept, r, m] = polar.computed[run, r, m]
    lift, drag, moment = _without_gaps(forces)
    return Polar(angle, polar.reynolds, polar.mach, lift, drag, moment, computed)


def _all_round(angle: Floats) -> Floats:
    below = np.linspace(-np.pi, angle[0], 1 + int(np.ceil((angle[0] + np.pi) / STEP)))
    above = np.linspace(angle[-1], np.pi, 1 + int(np.ceil((np.pi - angle[-1]) / STEP)))
    return np.concatenate([below[:-1], angle, above[1:]])


def _run_about_zero(angle: Floats, known: Bools) -> NDArray[np.intp]:
    """The known angles about the one nearest zero, up to the first gap on either side too wide to bridge."""
    at = np.flatnonzero(known)
    if not at.size:
        return at
    nearest = int(np.argmin(np.abs(angle[at])))
    wide = np.flatnonzero(np.diff(angle[at]) > BRIDGED)  # between one and the next
    start = int(wide[wide < nearest].max(initial=-1)) + 1
    stop = int(wide[wide >= nearest].min(initial=at.size - 1)) + 1
    run = at[start:stop]
    if not angle[run[0]] < 0.0 < angle[run[-1]]:
        raise BadInput(
            "the known angles do not lie on both sides of zero", field="angle",
            value=f"{angle[run[0]]:.4g} to {angle[run[-1]]:.4g} rad", allowed="some below and some above zero",
        )  # fmt: skip
    return run


def _continued(known: Floats, forces: Floats, angle: Floats, highest: float) -> Floats:
    found = np.empty((3, angle.size))
    inside = (angle >= known[0]) & (angle <= known[-1])
    for row, values in enumerate(forces):
        found[row, inside] = np.interp(angle[inside], known, values)
    least = float(forces[1].min())
    for side, last, beyond in ((1.0, -1, angle > known[-1]), (-1.0, 0, angle < known[0])):
        lift, drag, moment = forces[:, last]
        turned = _stalled(side * angle[beyond], side * known[last], side * lift, drag, side * moment, highest, least)
        found[:, beyond] = turned * np.array([side, 1.0, side])[:, None]
    return found


def _stalled(
    angle: Floats, start: float, lift: float, drag: float, moment: float, highest: float, least: float
) -> Floats:
    """Lift, drag and moment at angles from ``start`` up to 180 degrees, nose up."""
    sine, cosine = np.sin(angle), np.cos(angle)
    plate = 0.5 * highest * np.sin(2.0 * angle)
    ahead = cosine > 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        kept = cosine**2 / sine * np.sin(start) / np.cos(start) ** 2
    lifts = plate + np.where(ahead, (lift - 0.5 * highest * np.sin(2.0 * start)) * kept, 0.0)
    fading = np.where(ahead, cosine / np.cos(start), 0.0)
    drags = highest * sine**2 + (drag - highest * np.sin(start) ** 2) * fading - np.where(ahead, 0.0, least * cosine)
    offset = moment - _plate_moment(np.sin(start), np.cos(start), lift, drag)
    return np.array([lifts, drags, _plate_moment(sine, cosine, lifts, drags) + offset * fading])


def _plate_moment(sine: Floats | float, cosine: Floats | float, lift: Floats | float, drag: Floats | float) -> Floats:
    """About the quarter chord."""
    normal = lift * cosine + drag * sine
    return np.asarray(-normal * (0.25 - 0.75 * cosine / (4.0 + np.pi * sine)))


def _without_gaps(forces: Floats) -> Floats:
    """Whole columns that are missing, from the next lower Mach number that has one, else from the next higher."""
    for order in (range(1, forces.shape[-1]), range(forces.shape[-1] - 2, -1, -1)):
        step = order.step
        for m in order:
            missing = np.isnan(forces[..., m])
            forces[..., m] = np.where(missing, forces[..., m - step], forces[..., m])
    if np.isnan(forces).any():
        raise BadInput("a Reynolds number has no known angles at all", field="reynolds", allowed="some known angles")
    return forces
