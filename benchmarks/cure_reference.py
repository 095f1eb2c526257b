"""The oven and its assumed controller as one set of ordinary differential equations, for any solver of scipy's."""

import numpy as np
from scipy.integrate import solve_ivp

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.oven import BODIES, HEATERS, MOULD, ZONES, Oven, oven_network

MINUTE = 60.0
ROOM, HOLD = 294.0, 394.0
#: invented: a mould of some 110 kg of steel
USUAL = Oven(
    heater_capacity=np.array([900.0]),
    mould_capacity=np.array([8500.0, 8000.0, 8600.0, 8500.0, 8100.0, 8500.0]),
    bondline_capacity=np.array([1500.0, 1300.0, 1200.0]),
    heater_to_mould=np.array([25.0]),
    mould_to_bondline=np.array([12.0]),
    along=np.array([6.0]),
    across=np.array([4.0]),
    bondline_along=np.array([0.8]),
    heater_loss=np.array([0.4]),
    mould_loss=np.array([3.2, 2.4, 3.2, 3.0, 2.2, 3.0]),
    greatest_power=np.array([900.0]),
)
CONTROL = AssumedControl(np.array([60.0]), 15.0 * MINUTE)
#: up in 45 minutes, 90 held, down in 45
SCHEDULE = Schedule(MINUTE * np.array([0.0, 45.0, 135.0, 180.0]), np.array([ROOM, HOLD, HOLD, ROOM + 40.0]), ROOM)


def one_run(
    oven: Oven, dead: tuple[int, float] | None, seconds: Floats, tolerance: float, method: str = "RK45"
) -> Floats:
    """Temperatures of all bodies at given times, a zone dead from a time on. (15, t) [K]"""
    network = oven_network(oven)
    matrix = np.zeros((BODIES + ZONES, BODIES + ZONES))
    matrix[:BODIES, :BODIES] = -network.conductance / network.capacity[:, None]
    matrix[BODIES:, BODIES:] = -np.eye(ZONES) / CONTROL.reset
    drive = np.zeros((BODIES + ZONES, ZONES))
    drive[HEATERS] = np.diag(1.0 / network.capacity[HEATERS])
    drive[BODIES:] = np.eye(ZONES) / CONTROL.reset
    starved = drive.copy()
    if dead is not None:
        starved[dead[0] - 1] = 0.0
    gain, most = CONTROL.gain, oven.greatest_power
    times, wanted = SCHEDULE.seconds, SCHEDULE.temperature - ROOM

    def rates(time: float, state: Floats) -> Floats:
        asked = gain * (np.interp(time, times, wanted) - state[MOULD]) + state[BODIES:]
        power = np.minimum(np.maximum(asked, 0.0), most)
        return matrix @ state + (starved if dead is not None and time >= dead[1] else drive) @ power

    found = solve_ivp(
        rates, (0.0, seconds[-1]), np.zeros(BODIES + ZONES), method, t_eval=seconds, rtol=tolerance, atol=tolerance
    )
    states: Floats = found.y[:BODIES]
    return states + ROOM
