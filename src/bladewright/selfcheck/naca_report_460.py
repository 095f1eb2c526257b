"""Four-digit sections against the equations of NACA Report 460, integrated by quadrature."""

from functools import cache

from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.engine.geometry.measures import AreaProperties, area_properties
from bladewright.engine.geometry.outline import scaled
from bladewright.engine.geometry.shape import Shape, section_shape
from bladewright.engine.geometry.thickness import TrailingEdge, nose_radius, rescaling_length
from bladewright.selfcheck.case import Case

SOURCE = "E. N. Jacobs, K. E. Ward, R. M. Pinkerton, NACA Report 460, 1933; its equations integrated: closed form"
CLOSED = "closed trailing edge k = 0.1036: common practice, no source; closed form"
RESCALED = "public turbulence-model validation page for the 12 % symmetric section: 1.008930411365"
POLYGON = "polygon of 4001 points a side: area error falls with the square of the spacing"
CHORD = 0.18  # [m]
POINTS = 4001


@cache
def _area(trailing_edge: TrailingEdge) -> AreaProperties:
    line = designated_mean_line("0012")
    return area_properties(scaled(designated_outline(line, 0.12, trailing_edge, POINTS), CHORD).ring)


@cache
def _shape(trailing_edge: TrailingEdge) -> Shape:
    return section_shape(designated_outline(designated_mean_line("0012"), 0.12, trailing_edge, 801))


CASES: tuple[Case, ...] = (
    Case(SOURCE, "0012 open, 0.18 m chord: area [m^2]", lambda: _area("open").area, 0.002663604, 1.1e-9, POLYGON),
    Case(SOURCE, "0012 open: centroid [m]", lambda: _area("open").centroid_x, 0.075678385, 3e-8, POLYGON),
    Case(SOURCE, "0012 open: perimeter [m]", lambda: _area("open").perimeter, 0.36752249, 1.5e-7, POLYGON),
    Case(SOURCE, "0012 open: moment about x [m^4]", lambda: _area("open").moment_x, 7.1484548e-08, 7e-14, POLYGON),
    Case(CLOSED, "0012 closed: area [m^2]", lambda: _area("closed").area, 0.0026472744, 1.1e-9, POLYGON),
    Case(CLOSED, "0012 closed: perimeter [m]", lambda: _area("closed").perimeter, 0.36711881, 1.5e-7, POLYGON),
    Case(SOURCE, "0012 open: base thickness [chord]", lambda: _shape("open").base_thickness, 0.00252, 1e-9),
    Case(SOURCE, "0012 open: greatest thickness [chord]", lambda: _shape("open").greatest_thickness, 0.12003455, 2e-8),
    Case(SOURCE, "0012 open: its place [chord]", lambda: _shape("open").thickness_place, 0.29982788, 2e-5, "parabola"),
    Case(SOURCE, "12 % form: nose radius [chord]", lambda: nose_radius(0.12, "open"), 0.01586693, 5e-9),
    Case(RESCALED, "open form: zero behind the trailing edge [chord]", rescaling_length, 1.00893041137, 1e-11),
    Case(RESCALED, "0012 rescaled: thickness [chord]", lambda: _shape("rescaled").greatest_thickness, 0.11897208, 2e-8),
)
