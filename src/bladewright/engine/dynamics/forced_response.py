"""What a blade does, and bears inside, under loads that swing with a harmonic of the rotor speed."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, blade_matrices
from bladewright.engine.dynamics.blade_modes import lowest_modes, require_speed
from bladewright.engine.dynamics.held_shape import require_load, spread_load
from bladewright.engine.dynamics.inner_moments import inner_moments
from bladewright.errors import BadInput, OutsideValidity

AT_RESONANCE = 1e-6  # of the frequency: nearer than this without damping no number is left; our own choice


@dataclass(frozen=True, slots=True)
class Damping:
    """What takes energy out of a swinging blade. Each adds to the others; none is assumed."""

    fraction_of_critical: float = 0.0  # of every mode [1]
    loss_factor: float = 0.0  # of what bending, torsion and the control run store [1]
    flap: Floats | None = None  # (n,) force down per length and speed up, of the air, at the stations [N s/m^2]


@dataclass(frozen=True, slots=True)
class SwingingLoads:
    """Loads per length at the beam's stations; the real part of each times ``exp(i n W t)`` acts."""

    lift: Complexes  # (n,) on the feathering axis, up [N/m]
    drag: Complexes  # (n,) aft [N/m]
    moment: Complexes  # (n,) about the feathering axis, nose-up [N m/m]


@dataclass(frozen=True, slots=True)
class Response:
    """Amplitude and phase at the beam's stations, as complex numbers."""

    frequency: float  # [rad/s]
    flap: Complexes  # (n,) of the feathering axis, up [m]
    chordwise: Complexes  # (n,) aft [m]
    torsion: Complexes  # (n,) nose-up [rad]
    flap_moment: Complexes  # (n,) about the elastic centre, bends the tip up [N m]
    chord_moment: Complexes  # (n,) bends the tip aft [N m]
    torsion_moment: Complexes  # (n,) borne by shear, nose-up [N m]
    control_moment: complex  # on the control run, nose-up; nought where it is held stiff [N m]


def forced_response(
    beam: BladeBeam,
    root: Root,
    pattern: Pattern,
    rotor_speed: float,
    harmonic: int,
    loads: SwingingLoads,
    damping: Damping,
    pitch: float = 0.0,
) -> Response:
    """Steady swinging of a blade at a harmonic of the rotor speed.

    ``(K (1 + i g) - w**2 M + i w C) u = f``, ``w = n W``; g on the elastic part alone.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        [-]
    pattern : {"collective", "cyclic"}
        [-]
    rotor_speed : float
        More than nought. [rad/s]
    harmonic : int
        n, one or more. [-]
    loads : SwingingLoads
        [-]
    damping : Damping
        As stated by the caller. [-]
    pitch : float
        Of the lever, nose-up. [rad]

    Returns
    -------
    Response

    Raises
    ------
    BadInput
        If the rotor stands, the harmonic is none, a load does not fit the stations or a damping is below nought.
    OutsideValidity
        If the harmonic meets a mode and nothing damps it.

    Notes
    -----
    Linear; loads do not depend on what the blade does but for the flap damping of the air.

    Source: L. Meirovitch, Elements of Vibration Analysis, 1975 (from memory).
    """
    _check(beam, rotor_speed, harmonic, loads, damping)
    matrices = blade_matrices(beam, root, pattern, pitch)
    frequency = harmonic * rotor_speed
    square, rows = lowest_modes(matrices, rotor_speed, len(matrices.mass))
    force = rows @ spread_load(beam, matrices.fields, loads.lift, loads.drag, loads.moment)
    damper = _damper(beam, matrices, frequency, damping, np.sqrt(square), rows)
    near = np.abs(square / frequency**2 - 1.0) < AT_RESONANCE
    if (near & (np.diagonal(damper) <= AT_RESONANCE * frequency**2)).any():
        raise OutsideValidity(
            "the harmonic meets a mode that nothing damps", field="damping", value=0.0, allowed="more than 0",
            fix="state a damping that was measured, or keep the rotor away from that speed",
        )  # fmt: skip
    unknowns: Complexes = np.linalg.solve(np.diag(square - frequency**2) + 1j * damper, force) @ rows
    inside = inner_moments(beam, matrices, pitch, unknowns)
    fields, at = matrices.fields, matrices.stations
    springs = root.control_stiffness if np.isfinite(root.control_stiffness) else 0.0
    return Response(
        frequency=frequency,
        flap=unknowns @ fields.flap[:, at],
        chordwise=unknowns @ fields.chordwise[:, at],
        torsion=unknowns @ fields.torsion[:, at],
        flap_moment=inside.flap,
        chord_moment=inside.chord,
        torsion_moment=inside.torsion,
        control_moment=complex(springs * (fields.root_twist @ unknowns)),
    )


def _damper(
    beam: BladeBeam, matrices: BladeMatrices, frequency: float, damping: Damping, natural: Floats, rows: Floats
) -> Floats:
    """Imaginary part of the stiffness at this frequency, on modes of unit mass."""
    whole = np.diag(2.0 * damping.fraction_of_critical * natural * frequency)
    whole = whole + damping.loss_factor * (rows @ matrices.elastic @ rows.T)
    if damping.flap is not None:
        fields = matrices.fields
        flap = rows @ fields.flap
        whole = whole + frequency * (flap * (fields.weights * np.interp(fields.y, beam.y, damping.flap))) @ flap.T
    return np.asarray(whole)


def _check(beam: BladeBeam, rotor_speed: float, harmonic: int, loads: SwingingLoads, damping: Damping) -> None:
    require_speed(rotor_speed)
    if rotor_speed == 0.0:
        raise BadInput("a rotor that stands has no harmonics", field="rotor_speed", value=0.0, allowed="more than 0")
    if harmonic < 1:
        raise BadInput("not a harmonic", field="harmonic", value=harmonic, allowed="1 or more")
    for name in ("lift", "drag", "moment"):
        require_load(getattr(loads, name), beam, name)
    for name in ("fraction_of_critical", "loss_factor"):
        value = getattr(damping, name)
        if not (np.isfinite(value) and value >= 0.0):
            raise BadInput("damping below nought", field=name, value=value, allowed="0 or more")
    if damping.flap is not None:
        require_load(damping.flap, beam, "flap")
        require_finite(damping.flap, "flap")
        if (damping.flap < 0.0).any():
            raise BadInput("damping below nought", field="flap", value=float(damping.flap.min()), allowed="0 or more")
