"""Force at the hub from unlike mates, worked by hand."""

import math

from bladewright.engine.rotor.shake import hub_force, rigid_shake
from bladewright.selfcheck.case import Case

_SOURCE = "F = dS W**2 for two opposite masses, worked by hand: closed form"
_SPEED = 560.0 * math.pi / 30.0  # [rad/s]

CASES: tuple[Case, ...] = (
    Case(_SOURCE, "span moment unlike by 0.010 kg m at 560 rpm [N]", lambda: hub_force(0.010, _SPEED), 34.390088, 1e-6),
    Case(_SOURCE, "one gram at 3 m [N]", lambda: hub_force(0.001 * 3.0, _SPEED), 10.317026, 1e-6),
    Case(
        _SOURCE, "what balances 0.010 kg m at 3 m [kg]", lambda: hub_force(0.010, _SPEED) / hub_force(3.0, _SPEED),
        0.003333333, 1e-9,
    ),
    Case(
        _SOURCE, "0.010 kg m on a free 367.0978 kg [m/s^2]",
        lambda: rigid_shake(hub_force(0.010, _SPEED), 367.0978, _SPEED).acceleration, 0.09368099, 1e-8,
    ),
    Case(
        _SOURCE, "the same [mm/s]",
        lambda: 1e3 * rigid_shake(hub_force(0.010, _SPEED), 367.0978, _SPEED).velocity, 1.597478, 1e-6,
    ),
    Case(_SOURCE, "9.6 kg blades, centres 0.5 mm apart [N]", lambda: hub_force(9.6 * 5e-4, _SPEED), 16.50724, 1e-5),
    Case(
        _SOURCE, "span moment unlike by 0.0135 kg m at 530 rpm [N]",
        lambda: hub_force(0.0135, 530.0 * math.pi / 30.0), 41.586, 5e-4, "printed to three decimals",
    ),
)  # fmt: skip
