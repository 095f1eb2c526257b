"""The trailing-edge trim tab's feathering moment."""

import numpy as np

from bladewright.design.outline import chord_at
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.control_loads import lift_offset_moment, section_moment
from bladewright.errors import BadInput
from bladewright.figures import Missing

STATIONS = 21
QUARTER = 0.25


def tab_moment(drawing: BladeDrawing, rotor_speed: float, density: float) -> float | Missing | None:
    """Moment [N m] of one blade's tab, nose-up positive; None without a tab, Missing when it is half described.

    Thin theory, the tab as a plain flap within the chord, rotor speed [rad/s], density [kg/m^3].
    """
    trim = drawing.trim
    entered = {f"trim.tab_{name}": getattr(trim, f"tab_{name}") for name in ("inner", "outer", "chord", "angle")}
    if all(value is None for value in entered.values()):
        return None
    gaps = tuple(field for field, value in entered.items() if value is None)
    if gaps:
        return Missing("trim tab's share of the handle force", gaps)
    inner, outer, tab_chord, angle = entered.values()
    if not inner < outer <= drawing.planform.tip:
        raise BadInput(
            "the tab must lie on the blade", field="trim.tab_outer", value=outer, allowed="beyond tab_inner, within tip"
        )
    y = np.linspace(inner, outer, STATIONS)
    chord = np.array([chord_at(drawing, radius) for radius in y])
    flaps = [flap_derivatives(tab_chord / c) for c in chord]
    moment = np.array([flap.moment for flap in flaps]) * angle
    lift = 0.5 * density * (rotor_speed * y) ** 2 * chord * np.array([flap.lift for flap in flaps]) * angle
    aft = chord * (QUARTER - drawing.planform.feathering_axis)
    return section_moment(y, chord, moment, rotor_speed, density) + lift_offset_moment(y, lift, aft)
