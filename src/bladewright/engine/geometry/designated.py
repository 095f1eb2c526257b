"""A whole section from its mean line and thickness form, thickness laid off square to the mean line."""

import numpy as np

from bladewright.engine.geometry.mean_lines import MeanLine, mean_line_height, mean_line_slope
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.spacing import cosine_spacing
from bladewright.engine.geometry.thickness import TrailingEdge, half_thickness

USUAL_POINTS = 161  # on each surface; the polygon's area is then within 0.01 % (tested)


def designated_outline(
    line: MeanLine, thickness: float, trailing_edge: TrailingEdge, count: int = USUAL_POINTS
) -> Outline:
    """The outline of a section with a given mean line and nominal thickness.

    ``x = x_c -/+ y_t sin(th)``, ``y = y_c +/- y_t cos(th)`` with ``tan(th)`` the slope of the mean line.

    Parameters
    ----------
    line : FourDigitLine or FiveDigitLine
        The mean line. [-]
    thickness : float
        The nominal ratio. [chord fraction]
    trailing_edge : {"open", "closed", "rescaled"}
        How the thickness form ends. [-]
    count : int
        Points on each surface. [-]

    Returns
    -------
    Outline
        In chord fractions; the mean of each pair of points lies exactly on the mean line.

    Raises
    ------
    BadInput
        If thickness or count are out of range.

    Notes
    -----
    Of a cambered section the nose reaches a little ahead of x = 0, as in the published definition.

    Source: Jacobs, Ward, Pinkerton, NACA Report 460, 1933.
    """
    x = cosine_spacing(count, line.breaks)
    half = half_thickness(thickness, trailing_edge, x)
    height, slope = mean_line_height(line, x), mean_line_slope(line, x)
    cosine = 1.0 / np.sqrt(1.0 + slope**2)
    square = np.column_stack((-half * slope * cosine, half * cosine))
    centre = np.column_stack((x, height))
    breaks = tuple(int(np.argmin(np.abs(x - place))) for place in line.breaks)
    return Outline(top=centre + square, bottom=centre - square, breaks=breaks)
