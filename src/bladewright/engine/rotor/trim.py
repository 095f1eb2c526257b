"""The state at which a rotor's balances hold: which of its settings are free, and which balances must be met."""

from collections.abc import Callable, Mapping
from typing import Literal, get_args

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.atmosphere import GRAVITY
from bladewright.engine.rotor.disc import Disc, DiscLoads, disc_loads
from bladewright.engine.rotor.rotor import NAMES, Setting
from bladewright.errors import BadInput, NotConverged

Balance = Literal[
    "weight", "drag", "torque", "momentum", "coning", "cosine_flap", "sine_flap", "cosine_flap_2", "sine_flap_2",
    "cosine_flap_3", "sine_flap_3",
]  # fmt: skip
FLAP_ONCE: tuple[Balance, ...] = ("coning", "cosine_flap", "sine_flap")
STEPS = 40
CLOSE = 1e-9  # [1] of the weight, and the like: left over at the end
SHORTENED = np.array([1.0, 0.5, 0.25, 0.1, 0.03])


def higher_flapping(disc: Disc) -> tuple[Balance, ...]:
    """Harmonics of flapping that a hub leaves free beyond the first.

    A teetering rotor's blades see-saw, so even harmonics bend them instead; they are taken as stiff against those.

    Parameters
    ----------
    disc : Disc
        [-]

    Returns
    -------
    tuple of str
        Names of balances, which are also those of the settings they find.

    Notes
    -----
    Source: kinematics; no source needed.
    """
    three: tuple[Balance, ...] = ("cosine_flap_3", "sine_flap_3")
    return three if disc.rotor.hub == "teetering" else ("cosine_flap_2", "sine_flap_2", *three)


def find_trim(disc: Disc, start: Setting, free: tuple[str, ...], balances: tuple[Balance, ...]) -> Setting:
    """The state that meets every balance, by Newton's method with a numerical Jacobian.

    Parameters
    ----------
    disc : Disc
        Rotor and flight. [-]
    start : Setting
        First guess, and the values of what is not free. [-]
    free : tuple of str
        Names of the settings to be found. [-]
    balances : tuple of str
        As many. [-]

    Returns
    -------
    Setting

    Raises
    ------
    BadInput
        If there are not as many balances as free settings.
    NotConverged
        If no such state is found, as when the rotor stalls: with the last state and the worst balance.

    Notes
    -----
    Forces are met to 1e-9 of the weight.

    Source: Newton's method; any text.
    """
    if len(free) != len(balances) or not set(balances) <= set(get_args(Balance)) or not set(free) <= set(NAMES):
        raise BadInput("as many balances as free settings", field="free", value=len(free), allowed=str(len(balances)))
    columns = [NAMES.index(name) for name in free]
    state = start.row()
    steps = np.where([name in ("climb", "rotor_speed", "induced") for name in free], 1e-4, 1e-6)
    residual = _left_over(disc, state[None], balances)[0]
    for _ in range(STEPS):
        worst = float(np.abs(residual).max())
        if worst < CLOSE:
            return Setting(*map(float, state))
        moved = np.repeat(state[None], len(free), axis=0)
        moved[np.arange(len(free)), columns] += steps
        slope = (_left_over(disc, moved, balances) - residual).T / steps
        try:
            change = np.linalg.solve(slope, -residual)
        except np.linalg.LinAlgError:
            break
        tried = np.repeat(state[None], SHORTENED.size, axis=0)
        tried[:, columns] += SHORTENED[:, None] * _bounded(change, free)
        left = _left_over(disc, tried, balances)
        best = int(np.argmin(np.nan_to_num(np.abs(left).max(axis=1), nan=np.inf)))
        if not np.abs(left[best]).max() < worst * (1.0 - 1e-9) and best == SHORTENED.size - 1:
            break
        state, residual = tried[best], left[best]
    at = balances[int(np.argmax(np.abs(residual)))]
    raise NotConverged(
        f"no steady state found: the balance of {at} is off by {np.abs(residual).max():.3g}", field="trim",
        value=", ".join(f"{name} {value:.6g}" for name, value in zip(NAMES, state, strict=True)),
        fix="less speed or weight: the rotor may be stalled",
    )  # fmt: skip


def _bounded(change: Floats, free: tuple[str, ...]) -> Floats:
    """Newton's step, no longer than the straight part of the problem reaches."""
    longest = np.where([name in ("climb", "rotor_speed", "induced") for name in free], 10.0, 0.1)  # [m/s, rad/s], [rad]
    bounded: Floats = change * min(1.0, float((longest / np.maximum(np.abs(change), 1e-300)).min()))
    return bounded


def _left_over(disc: Disc, states: Floats, balances: tuple[Balance, ...]) -> Floats:
    """How far each balance is from being met, without dimension. (s, balances)"""
    at = dict(zip(NAMES, states.T, strict=True))
    loads = disc_loads(disc, states)
    weight, flight = disc.flight.weight, disc.flight
    path = np.hypot(flight.speed, at["climb"])
    drag = 0.5 * flight.air.density * flight.drag_area * path
    cosine, sine = np.cos(at["tilt"]), np.sin(at["tilt"])
    lifted = loads.thrust * cosine + loads.aft_force * sine - drag * at["climb"]
    pulled = loads.thrust * sine - loads.aft_force * cosine - drag * flight.speed
    found: Mapping[Balance, Callable[[], Floats]] = {
        "weight": lambda: lifted / weight - 1.0,
        "drag": lambda: pulled / weight,
        "torque": lambda: loads.torque / (weight * disc.parts.radius),
        "momentum": lambda: _momentum(disc, at["induced"], loads),
        **{name: _flapping_balance(disc, at, loads, name) for name in get_args(Balance)[4:]},
    }
    return np.stack([found[name]() for name in balances], axis=-1)


def _momentum(disc: Disc, induced: Floats, loads: DiscLoads) -> Floats:
    """``v = kappa T/(2 rho A sqrt(V_x^2 + (V_z + v)^2))``."""
    area = np.pi * disc.parts.radius**2
    density, factor = disc.flight.air.density, disc.model.inflow.induced_factor
    reference = np.sqrt(disc.flight.weight / (2.0 * density * area))
    mixed = np.maximum(np.hypot(loads.along, loads.through + induced / factor), 1e-6)
    wanted = factor * loads.thrust / (2.0 * density * area * mixed)
    left: Floats = (induced - wanted) / reference
    return left


def _flapping_balance(disc: Disc, at: dict[str, Floats], loads: DiscLoads, name: Balance) -> Callable[[], Floats]:
    """``M_k/(I W^2) = (nu^2 - k^2) b_k``; the mean with the blade's weight."""
    inertia, stiffness = disc.rotor.flap_inertia, disc.rotor.flap_stiffness

    def left() -> Floats:
        relative = loads.flap_moment / (inertia * at["rotor_speed"][:, None] ** 2)
        if name == "coning":
            weight = GRAVITY * disc.rotor.flap_moment / (inertia * at["rotor_speed"] ** 2)
            mean: Floats = relative.mean(axis=1) - weight - stiffness * at["coning"]
            return mean
        harmonic = int(name[-1]) if name[-1].isdigit() else 1
        wave = (np.cos if name.startswith("cosine") else np.sin)(harmonic * disc.azimuth)
        amplitude: Floats = 2.0 * (relative * wave).mean(axis=1) - (stiffness - harmonic**2) * at[name]
        return amplitude

    return left
