"""How much more a reflex does on a closed 12 % section than on a thin one, without the boundary layer."""

import math
from functools import cache, partial

import numpy as np

from bladewright.engine.flow.panelling import panel_nodes
from bladewright.engine.flow.panels import panel_flow
from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import FourDigitLine
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.reflex import with_point
from bladewright.selfcheck.case import Case

SOURCE = (
    "no source: a numerical experiment with 600 panels on the closed 12 % symmetric section with a kinked reflex of "
    "0.25 deg; thin values of H. Glauert, ARC R&M 1095, 1927 (from memory)"
)
PANELS, REFLEX = 600, math.radians(0.25)
FACTORS = ((0.05, 1.07, 1.01), (0.08, 1.09, 1.04), (0.10, 1.09, 1.05), (0.15, 1.10, 1.07))
GUIDE = "the experiment's own spread"


@cache
def factors(share: float) -> tuple[float, float]:
    """Change of lift and of moment over the thin ones, both surfaces turned about the mean line's kink."""
    plain, at = with_point(designated_outline(FourDigitLine(0.0, 0.0), 0.12, "closed"), 1.0 - share, "top")
    shapes = np.stack([panel_nodes(shape, PANELS) for shape in (plain, _kinked(plain, at))])
    found = panel_flow(shapes, np.zeros(1))
    thin = flap_derivatives(share)
    lift, moment = (float(np.diff(values[:, 0])[0]) / REFLEX for values in (found.lift, found.moment))
    return lift / thin.lift, moment / thin.moment


def _kinked(plain: Outline, at: int) -> Outline:
    """Both surfaces aft of the kink turned about the mean line there, as a hinged flap without a gap."""
    hinge = plain.mean_line[at]
    cosine, sine = math.cos(REFLEX), math.sin(REFLEX)
    turn = np.array([[cosine, sine], [-sine, cosine]])
    surfaces = []
    for surface in (plain.top, plain.bottom):
        turned = surface.copy()
        turned[at + 1 :] = hinge + (surface[at + 1 :] - hinge) @ turn
        surfaces.append(turned)
    return Outline(surfaces[0], surfaces[1], plain.breaks)


CASES: tuple[Case, ...] = tuple(
    Case(
        SOURCE,
        f"reflex of {share:.0%}: {what} over the thin section's [1]",
        partial(lambda share, number: factors(share)[number], share, number),
        value,
        0.02,
        GUIDE,
    )
    for share, *values in FACTORS
    for number, (what, value) in enumerate(zip(("change of lift", "change of moment"), values, strict=True))
)
