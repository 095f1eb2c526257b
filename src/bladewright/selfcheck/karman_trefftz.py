"""Panels against exact flow: a symmetric Joukowski section with its cusp, and a cambered one with a finite edge."""

import math
from dataclasses import dataclass
from functools import cache, partial

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.panels import PanelFlow, panel_flow
from bladewright.selfcheck.case import Case

SOURCE = (
    "L. M. Milne-Thomson, Theoretical Aerodynamics, ch. VI-VII; T. von Karman, E. Trefftz, Z. Flugtechn. Motorluftsch. "
    "9, 1918 (from memory); closed form, moment by the theorem of Blasius"
)
PANELS = 200


@dataclass(frozen=True, slots=True)
class Mapped:
    """The circle through 1 about a centre, mapped with an exponent, and its exact loads at angles [deg]."""

    name: str
    exponent: float
    centre: complex
    nose: float  # x of the leading edge in the map [-]
    angles: tuple[float, ...]
    lift: tuple[float, ...]
    moment: tuple[float, ...]


CUSPED = Mapped(
    "symmetric Joukowski section",
    2.0,
    -0.1 + 0.0j,
    -2.03333333333,
    (0.0, 4.0, 10.0),
    (0.0, 0.478137656, 1.190251286),
    (0.0, -0.001881373, -0.004623505),
)
FINITE = Mapped(
    "cambered Karman-Trefftz section",
    1.94,
    -0.08 + 0.04j,
    -1.96508314395,
    (-4.0, 0.0, 4.0, 8.0),
    (-0.228052597, 0.257436170, 0.741670734, 1.222291952),
    (-0.052865913, -0.059911957, -0.067067828, -0.074194246),
)
PRESSURES = {
    CUSPED.name: (
        (15.0, 0.1612620, 0.1499048, 0.1483482),
        (30.0, 0.1247461, 0.0960599, 0.0690316),
        (60.0, -0.0148815, -0.0931367, -0.1948839),
        (90.0, -0.2179036, -0.3874030, -0.6344512),
        (120.0, -0.4193212, -0.7752682, -1.3457173),
        (150.0, -0.4432625, -1.2836876, -2.8481268),
        (165.0, -0.0754417, -1.5090086, -4.7078841),
        (175.0, 0.7259406, -0.8458784, -5.7477515),
        (180.0, 1.0000000, 0.1661102, -4.1674951),
        (185.0, 0.7259406, 0.9012985, -1.4540359),
        (195.0, -0.0754417, 0.7647432, 0.8798979),
        (210.0, -0.4432625, 0.2155766, 0.8363391),
        (240.0, -0.4193212, -0.0909996, 0.3358838),
        (270.0, -0.2179036, -0.0484042, 0.1986440),
        (300.0, -0.0148815, 0.0699581, 0.2059241),
        (330.0, 0.1247461, 0.1613387, 0.2294552),
        (345.0, 0.1612620, 0.1806403, 0.2238813),
    ),
    FINITE.name: (
        (15.0, 0.1839010, 0.1668108, 0.1577259, 0.1568230),
        (30.0, 0.0619612, 0.0237816, -0.0054829, -0.0252626),
        (60.0, -0.1518942, -0.2525096, -0.3446623, -0.4265587),
        (90.0, -0.2838408, -0.4832853, -0.6816994, -0.8752211),
        (120.0, -0.2276396, -0.5790021, -0.9573580, -1.3553428),
        (150.0, 0.1903549, -0.4193862, -1.1819804, -2.0825847),
        (165.0, 0.6888198, -0.0905972, -1.3277913, -2.9986821),
        (175.0, 0.9926049, 0.5151502, -1.1762910, -4.0487969),
        (180.0, 0.5061496, 0.9356639, -0.4611989, -3.6572505),
        (185.0, -0.6659469, 0.8830073, 0.6299735, -1.4201231),
        (195.0, -1.3716265, 0.0914046, 0.8691348, 0.9464266),
        (210.0, -1.0452874, -0.2510661, 0.3576993, 0.7691601),
        (240.0, -0.6060287, -0.2718483, 0.0342244, 0.3062321),
        (270.0, -0.2952496, -0.1314229, 0.0315575, 0.1905193),
        (300.0, -0.0426329, 0.0352452, 0.1191062, 0.2073179),
        (330.0, 0.1545448, 0.1836113, 0.2199644, 0.2628964),
    ),
}


def circle_angles(section: Mapped, panels: int) -> Floats:
    """Equal angles round the circle from the point that becomes the trailing edge. [rad]"""
    return float(np.angle(1.0 - section.centre)) + np.linspace(0.0, 2.0 * math.pi, panels + 1)


def mapped_nodes(section: Mapped, panels: int) -> Floats:
    """The section at these angles, in chord fractions from its leading edge."""
    circle = section.centre + abs(1.0 - section.centre) * np.exp(1j * circle_angles(section, panels))
    circle[[0, -1]] = 1.0
    ratio = ((circle - 1.0) / (circle + 1.0)) ** section.exponent
    place = section.exponent * (1.0 + ratio) / (1.0 - ratio) - section.nose
    return np.stack((place.real, place.imag), axis=1) / (section.exponent - section.nose)


@cache
def flow(section: Mapped, panels: int = PANELS) -> PanelFlow:
    """The panels' answer at the section's angles."""
    return panel_flow(mapped_nodes(section, panels), np.radians(section.angles))


def _load(section: Mapped, at: int, name: str) -> float:
    return float(getattr(flow(section), name)[at])


def _pressure(section: Mapped, at: int, place: float) -> float:
    from scipy.interpolate import make_interp_spline

    angles = circle_angles(section, PANELS)
    turned = math.radians(place if math.radians(place) >= angles[0] else place + 360.0)
    return 1.0 - float(make_interp_spline(angles, flow(section).speed[at])(turned)) ** 2


CASES: tuple[Case, ...] = (
    *(
        Case(
            SOURCE,
            f"{section.name}, {PANELS} panels, {angle:g} deg: {what} [1]",
            partial(_load, section, at, name),
            exact,
            band(exact),
            reason,
        )
        for section in (CUSPED, FINITE)
        for what, name, values, band, reason in (
            ("lift", "lift", section.lift, lambda exact: max(1e-3 * abs(exact), 1e-9), "a thousandth"),
            (
                "lift from pressure",
                "lift_from_pressure",
                section.lift,
                lambda exact: max(2e-3 * abs(exact), 1e-9),
                "twice that of circulation: the stagnation point lies between nodes",
            ),
            ("moment", "moment", section.moment, lambda exact: 5e-4 if exact < -0.01 else 1e-4, "linear strength"),
        )
        for at, (angle, exact) in enumerate(zip(section.angles, values, strict=True))
    ),
    *(
        Case(
            SOURCE,
            f"{section.name}, {PANELS} panels, {angle:g} deg: pressure at {place:g} deg round the circle [1]",
            partial(_pressure, section, at, place),
            exact,
            band,
            "away from the last two hundredths of the chord",
        )
        for section, band in ((CUSPED, 0.01), (FINITE, 0.005))
        for place, *values in PRESSURES[section.name]
        for at, (angle, exact) in enumerate(zip(section.angles, values, strict=True))
        if abs(exact) > band
    ),
)
