"""How the surface speed answers to displacement: against the exact flow about a slightly thicker ellipse."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Complexes, Floats
from bladewright.engine.flow.displacement import displaced_flow
from bladewright.engine.flow.influence import source_flux, source_influence
from bladewright.engine.flow.panelling import panel_nodes
from bladewright.engine.flow.panels import panel_flow
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import FourDigitLine

LONG, SHORT, THICKER = 0.5, 0.2, 1e-6


def ellipse(panels: int) -> tuple[Floats, Complexes]:
    """Eccentric angles, and places about the middle."""
    angle = np.linspace(0.0, 2.0 * math.pi, panels + 1)
    place = LONG * np.cos(angle) + 1j * SHORT * np.sin(angle)
    place[-1] = place[0]
    return angle, place


def exact_velocity(place: Complexes, short: float, incidence: float) -> Complexes:
    """u - i w by the map of the circle, rear stagnation at the end of the long axis. Milne-Thomson; closed form."""
    focus = math.sqrt(LONG**2 - short**2)
    circle = 0.5 * (place + np.sqrt(place - focus) * np.sqrt(place + focus))
    radius = 0.5 * (LONG + short)
    stream, back = np.exp(-1j * incidence), radius**2 * np.exp(1j * incidence) / circle**2
    velocity = stream - back + 2j * radius * math.sin(incidence) / circle
    result: Complexes = velocity / (1.0 - 0.25 * focus**2 / circle**2)
    return result


def error(panels: int, incidence: float) -> float:
    """Worst miss of the change of speed per thickening, over its own greatest value; ends left out."""
    angle, place = ellipse(panels)
    stretch = np.hypot(LONG * np.sin(angle), SHORT * np.cos(angle))
    along = (-LONG * np.sin(angle) + 1j * SHORT * np.cos(angle)) / stretch
    with np.errstate(invalid="ignore", divide="ignore"):
        before, after = (np.real(exact_velocity(place, b, incidence) * along) for b in (SHORT, SHORT + THICKER))
    thickening = LONG * np.sin(angle) ** 2 / stretch  # of the wall, square to it, per growth of the short axis
    defect = before * thickening
    defect[[0, -1]] = 0.0
    nodes = np.stack((0.5 + place.real, place.imag), axis=1)
    _, response = displaced_flow(nodes, np.array([incidence]))
    exact = (after - before) / THICKER
    middle = slice(3, -3)
    return float(np.abs(response.matrix @ defect - exact)[middle].max() / np.abs(exact[middle]).max())


@pytest.mark.outside
@pytest.mark.parametrize("incidence", [0.0, math.radians(5.0)])
def test_displacement_does_what_a_thicker_ellipse_does_and_errors_fall_with_the_square(incidence: float) -> None:
    coarse, fine = error(100, incidence), error(400, incidence)
    assert fine < 2e-3
    assert math.log(coarse / fine) / math.log(4.0) > 1.7


def test_the_flow_that_comes_with_it_is_the_panels_own() -> None:
    nodes = panel_nodes(designated_outline(FourDigitLine(0.02, 0.4), 0.12, "open"), 80)
    angles = np.radians([0.0, 5.0])
    flow, response = displaced_flow(nodes, angles)
    alone = panel_flow(nodes, angles)
    assert flow.speed == pytest.approx(alone.speed, abs=1e-10)
    assert response.matrix.shape == (81, 81)
    assert response.matrix[-1] == pytest.approx(-response.matrix[0], abs=0.0)  # equal speeds at the edge stay equal


@settings(max_examples=20, deadline=None)
@given(st.floats(0.0, 0.06), st.floats(0.06, 0.2), st.integers(20, 80))
def test_what_goes_into_a_closed_section_comes_out_of_it(camber: float, thickness: float, half: int) -> None:
    nodes = panel_nodes(designated_outline(FourDigitLine(camber, 0.4), thickness, "closed"), 2 * half)
    chain = nodes[:, 0] + 1j * nodes[:, 1]
    assert np.abs(np.diff(chain)) @ source_flux(chain) == pytest.approx(0.0, abs=1e-12)


def test_the_flux_is_the_mean_of_the_velocity_along_the_panel() -> None:
    nodes = panel_nodes(designated_outline(FourDigitLine(0.02, 0.4), 0.12, "closed"), 40)
    chain = nodes[:, 0] + 1j * nodes[:, 1]
    side = np.diff(chain)
    places, weights = np.polynomial.legendre.leggauss(400)
    flux = source_flux(chain)
    for through in (0, 7, 20, 39):
        points = chain[through] + 0.5 * (places + 1.0) * side[through]
        along = np.full(len(points), side[through] / abs(side[through]))
        mean = 0.5 * weights @ source_influence(points, along, chain)
        mean[through] = -0.5
        assert flux[through] == pytest.approx(mean, abs=1e-6)
