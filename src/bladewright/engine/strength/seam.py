"""Bond lines along the blade, skin to spar and skin to skin behind: shear of the flow, peel at the edge."""

from dataclasses import dataclass, replace

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import transfer
from bladewright.engine.strength.peel import EdgeLoad, edge_peel
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import BadInput

LEAST_WIDTH = 3.0  # decay lengths: what comes back from the far edge is then below 5 % (exp(-3)), closed form


@dataclass(frozen=True, slots=True)
class SeamShear:
    """Shear of a bond line that hands a shear flow from one wall to another."""

    mean: float  # flow over bonded width [Pa]
    peak: float  # at the worse edge [Pa]


def seam_shear(flow: float, width: float, first: float, second: float, film: Film) -> SeamShear:
    """Shear of a bond line under a flow along it.

    Mean ``q / b``; across the width it runs as in a lap of sheets of stiffness ``G t``.

    Parameters
    ----------
    flow : float
        Its size, as torque and cross force make it together; nought where there is none. [N/m]
    width : float
        b, bonded. [m]
    first, second : float
        G t of the walls; infinite where one does not give. [N/m]
    film : Film
        [-]

    Returns
    -------
    SeamShear

    Raises
    ------
    BadInput
        If the flow is negative, or width or a stiffness is not positive.

    Notes
    -----
    Elastic; the same all along the span, so not for the ends of the seam.

    Source: O. Volkersen, 1938, with the equations of a shear flow (re-derived in docs/theory/joints).
    """
    require_not_negative({"flow": flow})
    require_positive({"width": width})
    if flow == 0.0:
        return SeamShear(0.0, 0.0)
    shear = transfer(flow, width, first, second, film)
    return SeamShear(mean=shear.mean, peak=shear.peak)


def pressure_on_edge(pressure: float, span: float) -> EdgeLoad:
    """What suction on a skin does to the edge of its bond.

    A strip held at both edges: ``F = p L / 2``, ``M = p L**2 / 12``.

    Parameters
    ----------
    pressure : float
        Outside less inside, pulling off. [Pa]
    span : float
        L, of skin between two bonds. [m]

    Returns
    -------
    EdgeLoad

    Raises
    ------
    BadInput
        If the pressure is negative or the span not positive.

    Notes
    -----
    A flat strip. A curved skin bears part of it by pull along its surface, which this leaves out.

    Source: beam held at both ends, any text on strength of materials.
    """
    require_not_negative({"pressure": pressure})
    require_positive({"span": span})
    return EdgeLoad(force=0.5 * pressure * span, moment=pressure * span**2 / 12.0)


def mismatch_on_edge(gap: float, span: float, sheet: Sheet) -> EdgeLoad:
    """What a skin does to the edge of its bond when it had to be pressed down to be bonded.

    A strip held at both edges, one moved by the gap: ``F = 12 D g / L**3``, ``M = 6 D g / L**2``.

    Parameters
    ----------
    gap : float
        How far the loose skin stands off; its sign does not count. [m]
    span : float
        L, over which it is bent down. [m]
    sheet : Sheet
        The skin. [-]

    Returns
    -------
    EdgeLoad
        It stays locked in as long as the blade lives.

    Raises
    ------
    BadInput
        If the gap is not finite or the span not positive.

    Notes
    -----
    Elastic. The film creeps under a lasting load, so the sustained allowable is the one to compare with.

    Source: beam held at both ends, any text on strength of materials.
    """
    require_positive({"span": span})
    require_not_negative({"gap": abs(gap)})
    return EdgeLoad(
        force=12.0 * sheet.bending * abs(gap) / span**3, moment=6.0 * sheet.bending * abs(gap) / span**2
    )  # fmt: skip


def seam_peel(loads: tuple[EdgeLoad, ...], width: float, sheet: Sheet, film: Film, both_bend: bool) -> float:
    """Peel at the edge of a seam under all that pulls at it.

    ``sigma = 2 beta F + 2 beta**2 M`` of the sums.

    Parameters
    ----------
    loads : tuple of EdgeLoad
        Pressure, mismatch and whatever else. [-]
    width : float
        Bonded. [m]
    sheet : Sheet
        The skin that is pulled off; the thinner, if both skins may. [-]
    film : Film
        [-]
    both_bend : bool
        Whether what it is bonded to is a like skin, pulled and bent the other way, and not a stiff wall. [-]

    Returns
    -------
    float
        At the inner edge. [Pa]

    Raises
    ------
    BadInput
        If the seam is too narrow for the formula: less than ``3 / beta``.

    Notes
    -----
    Elastic. Two like skins bend away from the middle of the film, so each stands on half of its thickness.

    Source: M. Hetenyi, Beams on Elastic Foundation, 1946 (from memory).
    """
    require_positive({"width": width})
    film = replace(film, thickness=0.5 * film.thickness) if both_bend else film
    least = LEAST_WIDTH / film.peel_decay(sheet.bending)
    if width < least:
        raise BadInput(
            "the seam is too narrow for this formula", field="width", value=width, allowed=f"{least:.3g} m or more",
            fix="test a piece of this seam in peel",
        )  # fmt: skip
    total = EdgeLoad(sum(load.force for load in loads), sum(load.moment for load in loads))
    return edge_peel(total, sheet, film)
