"""How far a blade's mass may still move aft, or its lift ahead, before it flutters or twists off."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_in_air import Motion, blade_in_air, most_energy, shapes_without_air
from bladewright.engine.dynamics.changed_mass import mass_shifted, span_weighted_offset
from bladewright.engine.dynamics.shifting import Moved, Shifting, slowest_to_die, stable_up_to, through_three
from bladewright.engine.dynamics.strip_air import StripAir, Strips, air_matrices
from bladewright.engine.dynamics.turning_blade import TurningBlade, clamped, held_stiffer, narrowed, turning_blades
from bladewright.errors import BadInput

PARTS = 20  # of the way looked through before bisection
FINE = 1e-6  # to which a margin is found; a thousandth of what a shop can weigh [m]
STEP = 0.01  # either way, for what goes with the square of a shift; exact whatever it is [m]
WIDE = 48  # shapes at the middle speed, of which those of every other speed are made
SPEEDS = 8  # between the least speed and the factor times the greatest, besides those entered
SWINGS = 1e-6  # of a root's size: less imaginary part than this is none


@dataclass(frozen=True, slots=True)
class ControlRun:
    """What holds the blade's pitch."""

    name: str
    stiffness: float  # about the feathering axis; nothing where backlash leaves it loose [N m/rad]

    def __post_init__(self) -> None:
        if not 0.0 <= self.stiffness < math.inf:
            raise BadInput(
                "is no stiffness a run can have", field="stiffness", value=self.stiffness, allowed="zero or more",
                fix="a run that is held fast is one of great stiffness: give what it was measured to be",
            )  # fmt: skip


Goes = Literal["flutter", "divergence", "nothing"]
LOOSE = ControlRun("loose", 0.0)


@dataclass(frozen=True, slots=True)
class Onset:
    """Where one control run, pattern and speed loses its stability."""

    margin: float  # infinite: not within the shift looked through; minus infinite: nowhere stable in it [m]
    rotor_speed: float  # [rad/s]
    control_run: str
    pattern: Pattern
    goes: Goes
    frequency: float  # of what goes; nothing for divergence [rad/s]
    moves: Motion | None  # what most of its energy is in; None where nothing goes


@dataclass(frozen=True, slots=True)
class FlutterMargin:
    """The worst of everything asked; a positive margin is still to be had."""

    worst: Onset
    every: tuple[Onset, ...]  # by control run, pattern and speed
    moved: Moved
    looked_through: float  # either way [m]
    offset: float  # span-weighted place of the mass aft of the feathering axis, as it is [m]

    def on_run(self, name: str) -> Onset:
        """The worst of one control run."""
        return min((one for one in self.every if one.control_run == name), key=lambda onset: onset.margin)

    @property
    def margin(self) -> float:
        """How far it may move; infinite where nothing goes within what was looked through. [m]"""
        return self.worst.margin


def flutter_margin(
    beam: BladeBeam,
    root: Root,
    air: StripAir,
    control_runs: Sequence[ControlRun],
    rotor_speeds: Floats,
    *,
    factor: float,
    pitch: float = 0.0,
    forward_speed: float = 0.0,
    chordwise: bool = False,
    patterns: Sequence[Pattern] = ("collective", "cyclic"),
    moved: Moved = "mass",
    limit: float = 0.05,
) -> FlutterMargin:
    """The least shift at which any control run, pattern and speed flutters or diverges, and which.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        Its control stiffness is not used; the runs' are. [-]
    air : StripAir
        Its wake is not counted: the lift follows at once. [-]
    control_runs : sequence of ControlRun
        Soft and stiff, and others; a loose one is always looked at besides. [-]
    rotor_speeds : array
        Least and greatest, power-off included, and any between. [rad/s]
    factor : float
        On the greatest speed. [1]
    pitch : float, optional
        Of the lever. [rad]
    forward_speed : float, optional
        Added to the air of every station: a screen. [m/s]
    chordwise : bool, optional
        Whether the blade bends along its chord too; see ``turning_blade``. [-]
    patterns : sequence of "collective" and "cyclic", optional
        What the blades do together. [-]
    moved : "mass" or "lift", optional
        All mass aft, or the aerodynamic centre ahead. [-]
    limit : float, optional
        How far is looked through. [m]

    Returns
    -------
    FlutterMargin

    Raises
    ------
    BadInput
        If there is no speed, one that is nothing or no number, a factor below one, no run, no pattern or no way to go.

    Notes
    -----
    The shapes are those of the blade unshifted, without air. Speeds between those entered are looked at in equal steps.
    What is lightly damped but dies out is stable here: a shop enters a limit on the margin for that.

    Source: docs/theory/flutter; the offset as the measure, R. H. Miller, C. W. Ellis, J. Am. Helicopter Soc. 1, 1956
    (from memory).
    """
    _require(control_runs, rotor_speeds, factor, limit, patterns)
    speeds = np.union1d(rotor_speeds, np.linspace(rotor_speeds.min(), factor * rotor_speeds.max(), SPEEDS))
    runs = (*control_runs, *([] if any(run.stiffness == 0.0 for run in control_runs) else [LOOSE]))
    asked = [(run, pattern, float(speed)) for run in runs for pattern in patterns for speed in speeds]
    loose = _in_patterns(beam, root, patterns, pitch, moved, chordwise)
    cases = [
        _case(shifted, air, speed, forward_speed, moved)
        for run in runs
        for pattern in patterns
        for shifted in [_on_run(loose[pattern], run, float(speeds.mean()))]
        for speed in speeds.tolist()
    ]
    shifting = Shifting(*(np.stack(part) for part in zip(*(case.moved for case in cases), strict=True)))
    margins = stable_up_to(shifting, limit, PARTS, FINE)
    just_past = np.where(np.isfinite(margins), margins + 2.0 * FINE, 0.0)
    motions = slowest_to_die(shifting, just_past)
    onsets = tuple(
        Onset(margin, speed, run.name, pattern, *_what_goes(margin, *motion, beam, case.strips))
        for (run, pattern, speed), margin, motion, case in zip(asked, margins.tolist(), motions, cases, strict=True)
    )
    return FlutterMargin(
        worst=min(onsets, key=lambda onset: onset.margin),
        every=onsets,
        moved=moved,
        looked_through=limit,
        offset=span_weighted_offset(beam),
    )


@dataclass(frozen=True, slots=True)
class _Shifted:
    """A blade as it is, and its matrices as value, slope and curve of the shift; elasticity stays where it is."""

    here: TurningBlade
    mass: Floats  # (3, m, m) [kg, kg/m, kg/m^2]
    coriolis: Floats  # (3, m, m) for a rotor speed of one [kg and on]
    centrifugal: Floats  # (3, m, m) likewise [kg and on]

    def in_shapes(self, basis: Floats) -> "_Shifted":
        """In fewer shapes."""
        parts = (basis.T @ part @ basis for part in (self.mass, self.coriolis, self.centrifugal))
        return _Shifted(narrowed(self.here, basis), *parts)


def _in_patterns(
    beam: BladeBeam, root: Root, patterns: Sequence[Pattern], pitch: float, moved: Moved, chordwise: bool
) -> dict[Pattern, _Shifted]:
    """On no control run. Patterns differ in their flap hinge only: those held alike are found once, a clamped blade
    from the hinged one.
    """
    hinges = {pattern: root.flaps_about(pattern) for pattern in patterns}
    by_hinge: dict[float | None, list[TurningBlade]] = {}
    for pattern in sorted(patterns, key=lambda pattern: hinges[pattern] is None):  # a hinged one first
        hinge = hinges[pattern]
        if hinge is None and by_hinge:
            by_hinge.setdefault(None, [clamped(one) for one in next(iter(by_hinge.values()))])
        elif hinge not in by_hinge:
            by_hinge[hinge] = _three(beam, root, pattern, pitch, moved, chordwise)
    return {pattern: _moving(*by_hinge[hinges[pattern]]) for pattern in patterns}


def _three(
    beam: BladeBeam, root: Root, pattern: Pattern, pitch: float, moved: Moved, chordwise: bool
) -> list[TurningBlade]:
    """From one step back, as it is, and one step on; where the lift moves, the blade stays."""
    free = replace(root, control_stiffness=0.0)
    if moved == "lift":
        return 3 * list(turning_blades([beam], free, pattern, pitch, chordwise=chordwise))
    shifted = [mass_shifted(beam, -STEP), beam, mass_shifted(beam, STEP)]
    return list(turning_blades(shifted, free, pattern, pitch, chordwise=chordwise))


def _moving(back: TurningBlade, here: TurningBlade, on: TurningBlade) -> _Shifted:
    three = (back, here, on)
    return _Shifted(
        here,
        through_three([one.mass for one in three], STEP),
        through_three([one.coriolis for one in three], STEP),
        through_three([one.centrifugal for one in three], STEP),
    )


def _on_run(loose: _Shifted, run: ControlRun, speed: float) -> _Shifted:
    """With what holds the pitch, in shapes that serve every speed."""
    held = replace(loose, here=held_stiffer(loose.here, run.stiffness))
    return held.in_shapes(shapes_without_air(held.here, speed, WIDE))


@dataclass(frozen=True, slots=True)
class _Case:
    """Mass, damping and stiffness with air, as value, slope and curve of the shift, and where the air is summed."""

    moved: tuple[Floats, Floats, Floats]  # (3, k, k) each [kg, N s/m, N/m]
    strips: Strips


def _case(shifted: _Shifted, air: StripAir, speed: float, forward_speed: float, moved: Moved) -> _Case:
    """In the shapes of the blade as it is."""
    here = blade_in_air(shifted.here, speed, forward_speed)
    mass, coriolis, centrifugal = (
        here.basis.T @ part @ here.basis for part in (shifted.mass, shifted.coriolis, shifted.centrifugal)
    )
    damping, stiffness = speed * coriolis, speed**2 * centrifugal
    stiffness[0] = here.structure.stiffness
    ahead = (STEP, 0.0, -STEP) if moved == "lift" else (0.0,)
    airs = [air_matrices(replace(air, aerodynamic_centre=air.aerodynamic_centre + aft), here.strips) for aft in ahead]
    for whole, parts in (
        (mass, [one.mass for one in airs]),
        (damping, [np.real(one.damping) for one in airs]),
        (stiffness, [np.real(one.stiffness) for one in airs]),
    ):
        if len(parts) > 1:
            whole += through_three(parts, STEP)
        else:
            whole[0] += parts[0]
    return _Case((mass, damping, stiffness), here.strips)


def _what_goes(
    margin: float, root: complex, shape: Complexes, beam: BladeBeam, strips: Strips
) -> tuple[Goes, float, Motion | None]:
    """From the motion just past the margin."""
    if np.isposinf(margin):
        return "nothing", 0.0, None
    swings = abs(root.imag) > SWINGS * abs(root)
    moves = most_energy(strips, beam, shape)
    return ("flutter", abs(root.imag), moves) if swings else ("divergence", 0.0, moves)


def _require(
    control_runs: Sequence[ControlRun], rotor_speeds: Floats, factor: float, limit: float, patterns: Sequence[Pattern]
) -> None:
    for name, given in (("control_runs", control_runs), ("rotor_speeds", rotor_speeds), ("patterns", patterns)):
        if len(given) == 0:
            raise BadInput("there is none", field=name, value="nothing", allowed="at least one")
    require_finite(rotor_speeds, "rotor_speeds")
    if np.any(rotor_speeds <= 0.0):
        at = int(np.argmax(rotor_speeds <= 0.0))
        raise BadInput(
            "the rotor does not turn", field="rotor_speeds", row=at + 1, value=float(rotor_speeds[at]),
            allowed="more than zero",
        )  # fmt: skip
    for name, value, least in (("factor", factor, 1.0), ("limit", limit, FINE)):
        if not least <= value < np.inf:
            raise BadInput("is too small or no number", field=name, value=value, allowed=f"{least:g} or more")
