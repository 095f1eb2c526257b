"""How far a blade's mass may still move aft, or its lift ahead, before it flutters or twists off."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_in_air import Motion, blade_in_air, most_energy, shapes_without_air, structure_at
from bladewright.engine.dynamics.changed_mass import mass_shifted, span_weighted_offset
from bladewright.engine.dynamics.shifting import Moved, Shifting, slowest_to_die, stable_up_to, through_three
from bladewright.engine.dynamics.strip_air import StripAir, Strips, air_matrices
from bladewright.engine.dynamics.turning_blade import TurningBlade, held_stiffer, narrowed, turning_blade
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
Three = tuple[TurningBlade, TurningBlade, TurningBlade]
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
    loose = {pattern: _shifted(beam, root, pattern, pitch, moved, chordwise) for pattern in patterns}
    cases = [
        _case(shifted, air, speed, forward_speed, moved)
        for run in runs
        for pattern in patterns
        for shifted in [_on_run(loose[pattern], run, float(speeds.mean()))]
        for speed in speeds.tolist()
    ]
    shifting = Shifting(*(np.stack(part) for part in zip(*(case.moved for case in cases), strict=True)))
    margins = stable_up_to(shifting, limit, PARTS, FINE).tolist()
    onsets = tuple(
        Onset(margin, speed, run.name, pattern, *_what_goes(shifting, number, margin, beam, case.strips))
        for number, ((run, pattern, speed), margin, case) in enumerate(zip(asked, margins, cases, strict=True))
    )
    return FlutterMargin(
        worst=min(onsets, key=lambda onset: onset.margin),
        every=onsets,
        moved=moved,
        looked_through=limit,
        offset=span_weighted_offset(beam),
    )


def _shifted(beam: BladeBeam, root: Root, pattern: Pattern, pitch: float, moved: Moved, chordwise: bool) -> Three:
    """One step back, as it is, one step on, on no control run; thrice the same where the lift moves."""
    free = replace(root, control_stiffness=0.0)
    here = turning_blade(beam, free, pattern, pitch, chordwise=chordwise)
    if moved == "lift":
        return here, here, here
    back, on = (
        turning_blade(mass_shifted(beam, aft), free, pattern, pitch, chordwise=chordwise) for aft in (-STEP, STEP)
    )
    return back, here, on


def _on_run(loose: Three, run: ControlRun, speed: float) -> Three:
    """With what holds the pitch, in shapes that serve every speed."""
    back, here, on = (held_stiffer(one, run.stiffness) for one in loose)
    wide = shapes_without_air(here, speed, WIDE)
    return narrowed(back, wide), narrowed(here, wide), narrowed(on, wide)


@dataclass(frozen=True, slots=True)
class _Case:
    """Mass, damping and stiffness with air, as value, slope and curve of the shift, and where the air is summed."""

    moved: tuple[Floats, Floats, Floats]  # (3, k, k) each [kg, N s/m, N/m]
    strips: Strips


def _case(shifted: Three, air: StripAir, speed: float, forward_speed: float, moved: Moved) -> _Case:
    """In the shapes of the blade as it is."""
    here = blade_in_air(shifted[1], speed, forward_speed)
    structures = [structure_at(narrowed(one, here.basis), speed) for one in shifted]
    ahead = STEP if moved == "lift" else 0.0
    airs = [
        air_matrices(replace(air, aerodynamic_centre=air.aerodynamic_centre + aft), here.strips)
        for aft in (ahead, 0.0, -ahead)
    ]
    both = list(zip(structures, airs, strict=True))
    mass = through_three([s.mass + a.mass for s, a in both], STEP)
    damping = through_three([s.damping + np.real(a.damping) for s, a in both], STEP)
    return _Case(
        (mass, damping, through_three([s.stiffness + np.real(a.stiffness) for s, a in both], STEP)), here.strips
    )


def _what_goes(
    shifting: Shifting, number: int, margin: float, beam: BladeBeam, strips: Strips
) -> tuple[Goes, float, Motion | None]:
    """Just past the margin."""
    if np.isposinf(margin):
        return "nothing", 0.0, None
    root, shape = slowest_to_die(shifting, number, 0.0 if np.isneginf(margin) else margin + 2.0 * FINE)
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
