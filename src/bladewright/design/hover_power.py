"""What the hover takes, what the engine has left, and how long the rotor could hover on what it has stored."""

from dataclasses import dataclass

from bladewright.design.at_the_handle import COMPUTED, METHOD
from bladewright.design.conditions import hover_state
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import mass_gaps, span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.rotor.atmosphere import GRAVITY, Air, standard_air
from bladewright.engine.rotor.engine_power import aspirated_power
from bladewright.engine.rotor.hover import Hover
from bladewright.errors import CannotCarry
from bladewright.figures import Figure, Missing

SPREAD = 0.10  # of the power, k = 2: blade elements against measured rotors; common practice, no source
VALIDITY = "hover out of ground effect, no wind; the rotor alone: no tail rotor, no transmission, no cooling"
INDEX = "hover-time index: energy of the turning rotor over the power of the hover, (1/2) I W**2/P"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a hover is asked for."""

    words: str
    height: float = 0.0  # pressure height [m]
    warmer: float = 0.0  # than standard [K]

    @property
    def air(self) -> Air:
        """The air there."""
        return standard_air(self.height, self.warmer)


SEA_LEVEL = Place("sea level, standard day")
HIGH_AND_WARM = Place("1500 m, 20 degC warmer than standard", 1500.0, 20.0)


@dataclass(frozen=True, slots=True)
class HoverPower:
    """The hover at one place; figures that could not be found are left out and named as missing."""

    place: Place
    state: Hover | None  # None where the rotor cannot carry the weight
    figures: tuple[Figure, ...]  # power, its parts, available, margin [W]
    short: Figure | None  # thrust the rotor is short of, where it stalls first [N]
    missing: tuple[Missing, ...]


def hover_power(drawing: BladeDrawing, place: Place = SEA_LEVEL) -> HoverPower:
    """Power to hover at the gross mass, and the engine's margin over it."""
    rotor = drawing.rotor
    if rotor is None:
        return HoverPower(place, None, (), None, (Missing(f"power of the hover, {place.words}", ("rotor",)),))
    flow = section_flow(drawing)
    try:
        state = hover_state(drawing, rotor, flow, rotor.speeds.normal, place.air, rotor.gross_mass * GRAVITY)
    except CannotCarry as error:
        short = Figure(f"thrust the rotor is short of, {place.words}", error.short, "N", method=METHOD)
        return HoverPower(place, None, (), short, ())

    def figure(name: str, value: float, unit: str, spread: float | None) -> Figure:
        return Figure(
            f"{name}, {place.words}", value, unit, spread, f"{METHOD}; {flow.method}", f"{VALIDITY}; {flow.validity}",
            inside_validity=flow.inside and state.computed_share >= COMPUTED, source="own method",
            validated=flow.validated,
        )  # fmt: skip

    spread = SPREAD * state.power
    figures = [
        figure("power of the hover", state.power, "W", spread),
        figure("induced power", state.induced_power, "W", None),
        figure("profile power", state.profile_power, "W", None),
        figure("figure of merit", state.figure_of_merit, "1", None),
    ]
    available, missing = _available(rotor, place)
    if available is not None:
        figures += [available, figure("power margin", available.value - state.power, "W", spread)]
    return HoverPower(place, state, tuple(figures), None, missing)


def hover_time(drawing: BladeDrawing) -> Figure | Missing:
    """How many seconds of the sea-level hover are stored in the turning blades. [s]"""
    mass, found = span_mass(drawing), hover_power(drawing)
    rotor = drawing.rotor
    if rotor is None or mass is None or found.state is None:
        needs = tuple(need for gap in (*found.missing, *mass_gaps(drawing)) for need in gap.needs)
        return Missing("hover-time index", needs or ("a rotor that hovers",))
    energy = 0.5 * rotor.blades * mass.flap_inertia * rotor.speeds.normal**2
    seconds = energy / found.state.power
    power = found.figures[0]
    return Figure(
        "hover-time index", seconds, "s", SPREAD * seconds, f"{INDEX}; blades alone, without the hub; {power.method}",
        power.validity, power.inside_validity, "common definition, no source",
        power.validated and drawing.materials_validated,
    )  # fmt: skip


def _available(rotor: Rotor, place: Place) -> tuple[Figure | None, tuple[Missing, ...]]:
    """What the engine gives there: as entered, or less in thinner air."""
    name = f"power available, {place.words}"
    if rotor.power_available is None:
        return None, (Missing(f"power margin, {place.words}", ("rotor.power_available",)),)
    ratio = place.air.density / standard_air().density
    if ratio >= 1.0 or rotor.power_with_height == "held":
        return Figure(name, rotor.power_available, "W", method="entered", source="rotor.power_available"), ()
    if rotor.power_with_height is None:
        return None, (Missing(f"power margin, {place.words}", ("rotor.power_with_height",)),)
    value = aspirated_power(rotor.power_available, ratio)
    source = "R. S. Gagg, E. V. Farrar, 1934 (from memory)"
    return Figure(name, value, "W", method="entered, falling with the air's density", source=source), ()
