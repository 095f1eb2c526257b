"""What turns one blade about its feathering axis all the way round the disc, each cause by itself."""

from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.control_loads import counterweight_moment, mass_offset_moment, weight_moment
from bladewright.engine.rotor.level_flight import SteadyFlight
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.span_mass import SpanMass


@dataclass(frozen=True, slots=True)
class Counterweights:
    """Weights on arms square to the chord, one blade's."""

    moment: float  # at 45 degrees pitch and the speed below, nose-up positive [N m]
    rotor_speed: float  # [rad/s]


@dataclass(frozen=True, slots=True)
class FeatheringMoment:
    """Of one blade against its azimuth, nose-up positive."""

    section_moment: Floats  # (p,) [N m]
    pitch_rate: Floats  # (p,) air meeting a section that turns, or whose wind changes [N m]
    lift_offset: Floats  # (p,) [N m]
    propeller_moment: Floats  # (p,) [N m]
    pitch_inertia: Floats  # (p,) of feathering, and of its axis flapping while it turns [N m]
    tilt_offset: Floats  # (p,) mass offset times tilt of the feathering axis, acceleration of flapping included [N m]
    bent_offset: Floats  # (p,) mass offset times coning beyond that tilt [N m]
    bent_drag: Floats  # (p,) air's pull aft on the part of the blade bent above the axis [N m]
    weight: Floats  # (p,) [N m]
    counterweights: Floats  # (p,) [N m]

    @property
    def total(self) -> Floats:
        """Together. [N m]"""
        together: Floats = np.sum([getattr(self, one.name) for one in fields(self)], axis=0)
        return together


def feathering_moment(
    state: SteadyFlight, *, precone: float = 0.0, counterweights: Counterweights | None = None
) -> FeatheringMoment:
    """Moment about the feathering axis round the disc.

    Section ``int (rho/2) U**2 c**2 cm``; turning ``-(pi rho c**3/16) (d(U_T p - U_P)/dt + U_T q)``,
    ``q = p' + W b``; offset ``-int n x_a``, n the force square to the chord; propeller moment at the pitch of the
    moment; ``-p'' int (I_c + I_n) - 2 W b' int m Z**2``; mass offset ``int m X y (W**2 b + b'')``; bent drag
    ``int d y (b - b_0)``; weight ``g int m X``; counterweights ``M_45 (W/W_0)**2 sin 2p`` and their own inertia
    against ``p''``.

    Parameters
    ----------
    state : SteadyFlight
        [-]
    precone : float
        Fixed tilt of the feathering axis; with a hinged hub the axis takes the coning and this is not used. [rad]
    counterweights : Counterweights, optional
        If fitted. [-]

    Returns
    -------
    FeatheringMoment

    Notes
    -----
    Rigid blade bent at the axis and stiff in the plane of rotation, pitch moved at the root without lag. A see-saw
    hub's feathering axis is tilted by precone and see-saw, a hinged one's by all flapping. The turning term is
    quasi-steady thin-section theory; it is dropped in reverse flow. A coned blade turns about its own span once a
    revolution, so it meets air as a cambered section does, even in hover.

    Source: W. Johnson, Helicopter Theory, 1980 (from memory); T. Theodorsen, NACA Report 496, 1935 (from memory), its
    wake left out; docs/theory/control-loads.
    """
    disc, setting, loads = state.disc, state.setting, state.loads
    mass, parts, speed = disc.rotor.mass, disc.parts, setting.rotor_speed
    cyclic = setting.cosine_pitch * np.cos(disc.azimuth) + setting.sine_pitch * np.sin(disc.azimuth)
    acceleration = -(speed**2) * cyclic
    pitch = setting.collective + cyclic[:, None] + np.interp(mass.y, disc.rotor.blade.y, disc.rotor.blade.twist)
    bent = 0.0 if disc.rotor.hub == "hinged" else setting.coning - precone
    tilt = loads.flap - bent + loads.flap_acceleration / speed**2
    inertia = float(np.trapezoid(mass.chordwise_inertia + mass.normal_inertia, mass.y))
    chordwise = (mass.chordwise_inertia, mass.normal_inertia, mass.product_of_inertia)
    weights = np.zeros(cyclic.size)
    if counterweights is not None:
        entered, at = counterweights.moment, counterweights.rotor_speed
        weights = np.array([counterweight_moment(entered, setting.collective + turned, speed, at) for turned in cyclic])
        weights -= 2.0 * entered / at**2 * acceleration
    return FeatheringMoment(
        section_moment=loads.moment @ parts.length,
        pitch_rate=_turning(state) @ parts.length,
        lift_offset=-(_square_to_chord(state) * parts.aft) @ parts.length,
        propeller_moment=np.array([propeller_moment(mass.y, *chordwise, row, speed).total for row in pitch]),
        pitch_inertia=-inertia * acceleration - 2.0 * speed * loads.flap_rate * _above(mass, pitch),
        tilt_offset=np.array(
            [mass_offset_moment(mass, row, now, speed) for row, now in zip(pitch, tilt.tolist(), strict=True)]
        ),
        bent_offset=np.array([mass_offset_moment(mass, row, bent, speed) for row in pitch]),
        bent_drag=(_aft_force(state) * parts.y * bent) @ parts.length,
        weight=np.array([weight_moment(mass, row) for row in pitch]),
        counterweights=weights,
    )


def _above(mass: SpanMass, pitch: Floats) -> Floats:
    """Integral of the mass times its height over the feathering axis, squared, as pitched. [kg m^2]"""
    squared = (
        mass.normal_inertia * np.cos(pitch) ** 2 + mass.chordwise_inertia * np.sin(pitch) ** 2
        - mass.product_of_inertia * np.sin(2.0 * pitch)
    )  # fmt: skip
    above: Floats = np.trapezoid(squared, mass.y, axis=-1)
    return above


def _square_to_chord(state: SteadyFlight) -> Floats:
    loads = state.loads
    angle = loads.pitch - np.arctan2(loads.normal, loads.tangential)
    force: Floats = loads.lift * np.cos(angle) + loads.drag * np.sin(angle)
    return force


def _aft_force(state: SteadyFlight) -> Floats:
    loads = state.loads
    inflow_angle = np.arctan2(loads.normal, loads.tangential)
    force: Floats = loads.lift * np.sin(inflow_angle) + loads.drag * np.cos(inflow_angle)
    return force


def _turning(state: SteadyFlight) -> Floats:
    loads, parts = state.loads, state.disc.parts
    washed = loads.tangential * loads.pitch - loads.normal
    orders = np.fft.rfftfreq(washed.shape[0], 1.0 / washed.shape[0])[:, None]
    changing = np.fft.irfft(1j * orders * np.fft.rfft(washed, axis=0), washed.shape[0], axis=0)
    changing = state.setting.rotor_speed * changing
    per_length = -np.pi * state.disc.flight.air.density * parts.chord**3 / 16.0
    ahead = loads.tangential > 0.0
    turning: Floats = np.where(ahead, per_length * (changing + loads.tangential * loads.pitch_rate), 0.0)
    return turning
