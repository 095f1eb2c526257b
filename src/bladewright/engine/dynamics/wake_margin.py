"""The flutter margin of one control run, pattern and speed worked anew at each shift, with the wake the air has."""

from dataclasses import replace

import numpy as np

from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_in_air import blade_in_air
from bladewright.engine.dynamics.changed_mass import mass_shifted
from bladewright.engine.dynamics.roots_in_air import roots_in_air
from bladewright.engine.dynamics.shifting import NEUTRAL, Moved
from bladewright.engine.dynamics.strip_air import StripAir
from bladewright.engine.dynamics.turning_blade import turning_blade
from bladewright.errors import BadInput

PARTS = 10  # of the way looked through before bisection
FINE = 5e-5  # to which it is found; what a shop can weigh is no finer [m]


def margin_with_wake(
    beam: BladeBeam,
    root: Root,
    pattern: Pattern,
    air: StripAir,
    rotor_speed: float,
    *,
    pitch: float = 0.0,
    forward_speed: float = 0.0,
    chordwise: bool = False,
    moved: Moved = "mass",
    limit: float = 0.05,
) -> float:
    """How far the mass may move aft, or the lift ahead, before something grows.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        With the control run's stiffness. [-]
    pattern : "collective" or "cyclic"
        [-]
    air : StripAir
        With the wake it says. [-]
    rotor_speed : float
        [rad/s]
    pitch : float, optional
        Of the lever. [rad]
    forward_speed : float, optional
        Added to the air of every station: a screen. [m/s]
    chordwise : bool, optional
        Whether the blade bends along its chord too; see ``turning_blade``. [-]
    moved : "mass" or "lift", optional
        [-]
    limit : float, optional
        How far is looked through, both ways. [m]

    Returns
    -------
    float
        Infinite where nothing grows, minus infinite where something does all the way back. [m]

    Raises
    ------
    BadInput
        If there is no way to go.

    Notes
    -----
    Slower than ``flutter_margin`` by far: for its worst case, once known. Without wake the two are the same.

    Source: docs/theory/flutter.
    """
    if not FINE <= limit < np.inf:
        raise BadInput("is too small or no number", field="limit", value=limit, allowed=f"{FINE:g} or more")

    def dies_out(shift: float) -> bool:
        here = mass_shifted(beam, shift) if moved == "mass" else beam
        ahead = shift if moved == "lift" else 0.0
        there = replace(air, aerodynamic_centre=air.aerodynamic_centre - ahead)
        blade = blade_in_air(turning_blade(here, root, pattern, pitch, chordwise=chordwise), rotor_speed, forward_speed)
        follow = 2.0 * np.pi / air.blades if pattern == "cyclic" else 0.0
        return bool(roots_in_air(blade.structure, there, blade.strips, follow).damping.min() >= NEUTRAL)

    step = limit / PARTS
    stable = dies_out(0.0)
    way = 1.0 if stable else -1.0
    for part in range(1, PARTS + 1):
        if dies_out(way * part * step) != stable:
            break
    else:
        return way * np.inf
    low = way * part * step - (step if stable else 0.0)
    while step > FINE:
        step *= 0.5
        low += step if dies_out(low + step) else 0.0
    return low
