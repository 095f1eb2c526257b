"""How bolts share a load: in a row, by how they and the plates give; in a pattern, about its stiff middle."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import BadInput, MissingInput


def row_shares(load: float, pitch: Floats, flexibility: Floats, first: float, second: float) -> Floats:
    """Load of each bolt in a row along the load, in a lap of two plates.

    ``f_(i+1) R_(i+1) - f_i R_i = s_i (P_2 / k_2 - P_1 / k_1)`` between neighbours, where ``P_1`` is what the first
    plate still carries and ``P_2`` what the second carries already; ``sum R = P``.

    Parameters
    ----------
    load : float
        P. [N]
    pitch : (n - 1,) array
        s, between neighbours, from the end where the first plate comes in loaded. [m]
    flexibility : (n,) array
        f, slip of each bolt in its holes under its own load; nought where it gives nothing. [m/N]
    first, second : float
        k = E t W of the plates; infinite where one does not stretch. [N]

    Returns
    -------
    (n,) array
        Their sum is the load. [N]

    Raises
    ------
    MissingInput
        If there is no bolt.
    BadInput
        If a pitch or stiffness is not positive, or two neighbours both give nothing between plates that do not stretch.

    Notes
    -----
    Elastic, close holes. Clearance and drilling errors share worse than this; a row ductile in bearing shares better
    before it fails.

    Source: compatibility of neighbours; M. B. Tate, S. J. Rosenfeld, NACA TN 1051, 1946 (from memory); re-derived in
    docs/theory/joints.
    """
    require_not_negative({"load": load})
    count = flexibility.size
    if count == 0:
        raise MissingInput("a row without bolts", field="flexibility", allowed="one flexibility for each bolt")
    if pitch.size != count - 1:
        raise BadInput("not one pitch between neighbours", field="pitch", value=pitch.size, allowed=f"{count - 1}")
    require_finite(flexibility, "flexibility")
    require_finite(pitch, "pitch")
    if np.any(flexibility < 0.0) or np.any(pitch <= 0.0):
        field = "flexibility" if np.any(flexibility < 0.0) else "pitch"
        raise BadInput("negative, or no distance", field=field, allowed="flexibility 0 or more, pitch more than 0")
    if not (first > 0.0 and second > 0.0):
        raise BadInput("a plate must stretch less than without end", field="first", value=first, allowed="more than 0")
    stretch = 1.0 / first + 1.0 / second
    matrix, side = np.zeros((count, count)), np.zeros(count)
    matrix[0], side[0] = 1.0, 1.0
    for gap in range(count - 1):
        # per unit of load: P_1 = 1 - sum of R up to here, P_2 = that sum
        matrix[gap + 1, : gap + 1] = -pitch[gap] * stretch
        matrix[gap + 1, gap] -= flexibility[gap]
        matrix[gap + 1, gap + 1] += flexibility[gap + 1]
        side[gap + 1] = -pitch[gap] / first
    scale = np.abs(matrix).max(axis=1)
    if np.any(scale == 0.0) or np.linalg.cond(matrix / scale[:, None]) > 1e13:
        raise BadInput(
            "nothing gives, so the share is not determined", field="flexibility", allowed="bolts or plates that give",
            fix="enter the slip of the bolts in their holes",
        )  # fmt: skip
    return np.asarray(load * np.linalg.solve(matrix / scale[:, None], side / scale), dtype=np.float64)


def bolt_flexibility(diameter: float, first: float, second: float, modulus: float, bolt_modulus: float) -> float:
    """Slip of a bolt in a single lap of two plates of one metal, per load.

    ``f = ((t1 + t2) / (2 d))**(2/5) 3 (1/(t1 E) + 1/(t2 E) + 1/(2 t1 E_b) + 1/(2 t2 E_b))``.

    Parameters
    ----------
    diameter : float
        d. [m]
    first, second : float
        t1 and t2, the plates' thicknesses. [m]
    modulus : float
        E of both plates. [Pa]
    bolt_modulus : float
        E_b. [Pa]

    Returns
    -------
    float
        [m/N]

    Raises
    ------
    BadInput
        If a value is not positive.

    Notes
    -----
    A fit to tests of bolted metal in single shear; its scatter is tens of percent, so try half and twice of it.

    Source: H. Huth, Influence of fastener flexibility, ASTM STP 927, 1986 (from memory).
    """
    require_positive(
        {"diameter": diameter, "first": first, "second": second, "modulus": modulus, "bolt_modulus": bolt_modulus}
    )
    thin = 1.0 / first + 1.0 / second
    slenderness = ((first + second) / (2.0 * diameter)) ** 0.4
    return float(3.0 * slenderness * (thin / modulus + 0.5 * thin / bolt_modulus))


@dataclass(frozen=True, slots=True)
class InPlane:
    """A force in the plane of a bolt pattern, where it acts, and a moment with it."""

    force_x: float  # aft [N]
    force_y: float  # outward [N]
    moment: float  # turning x toward y, besides what the force's place makes [N m]
    at_x: float  # [m]
    at_y: float  # [m]


@dataclass(frozen=True, slots=True)
class PatternLoads:
    """What each bolt bears of it."""

    force_x: Floats  # [N]
    force_y: Floats  # [N]
    centre_x: float  # stiff middle of the pattern [m]
    centre_y: float  # [m]

    @property
    def size(self) -> Floats:
        """Resultant of each bolt. [N]"""
        return np.hypot(self.force_x, self.force_y)


def pattern_loads(load: InPlane, x: Floats, y: Floats, stiffness: Floats) -> PatternLoads:
    """Bolts of a pattern between two plates that do not bend in their plane.

    ``R_i = k_i (F / sum k + (M_c / sum k r**2) (-y_i, x_i))`` about the middle weighted by k; ``M_c`` is the
    moment there.

    Parameters
    ----------
    load : InPlane
        [-]
    x, y : (n,) arrays
        Places of the bolts: aft, outward. [m]
    stiffness : (n,) array
        k, of each bolt in its holes; only their ratios count. [N/m]

    Returns
    -------
    PatternLoads
        Their forces add to the force, their moments about any point to the moment.

    Raises
    ------
    MissingInput
        If there is no bolt.
    BadInput
        If a stiffness is not positive, or the bolts have no arm against a moment.

    Notes
    -----
    The plates are stiff between the bolts: for a long row along the load use ``row_shares``.

    Source: elastic bolt group, any text on structural joints; statics.
    """
    if x.size == 0:
        raise MissingInput("a pattern without bolts", field="x", allowed="one place for each bolt")
    if not x.shape == y.shape == stiffness.shape:
        raise BadInput("not one value for each bolt", field="stiffness", value=stiffness.size, allowed=f"{x.size}")
    for values, field in ((x, "x"), (y, "y"), (stiffness, "stiffness")):
        require_finite(values, field)
    if np.any(stiffness <= 0.0):
        at = int(np.argmax(stiffness <= 0.0))
        raise BadInput("a bolt bears nothing", field="stiffness", row=at + 1, value=float(stiffness[at]), allowed="> 0")
    weight = stiffness / stiffness.sum()
    centre_x, centre_y = float(weight @ x), float(weight @ y)
    dx, dy = x - centre_x, y - centre_y
    moment = (
        load.moment + (load.at_x - centre_x) * load.force_y - (load.at_y - centre_y) * load.force_x
    )  # about the middle
    polar = float(weight @ (dx**2 + dy**2))
    reach = max(float(np.abs(x).max()), float(np.abs(y).max()), abs(load.at_x), abs(load.at_y))
    turning = 0.0
    if polar > (1e-9 * reach) ** 2:
        turning = moment / polar
    elif abs(moment) > 1e-9 * reach * np.hypot(load.force_x, load.force_y):
        raise BadInput(
            "the bolts have no arm against a moment", field="x", allowed="two bolts apart",
            fix="add a bolt, or move the load to the bolt",
        )  # fmt: skip
    return PatternLoads(
        force_x=np.asarray(weight * (load.force_x - turning * dy), dtype=np.float64),
        force_y=np.asarray(weight * (load.force_y + turning * dx), dtype=np.float64),
        centre_x=centre_x,
        centre_y=centre_y,
    )


def outside_plate(x: Floats, y: Floats, diameter: Floats, edges: tuple[float, float, float, float]) -> int | None:
    """The first bolt whose hole is not wholly on a rectangular plate.

    Parameters
    ----------
    x, y : (n,) arrays
        Places of the bolts: aft, outward. [m]
    diameter : (n,) array
        Of the holes. [m]
    edges : tuple of four floats
        Front, back, inner and outer edge of the plate. [m]

    Returns
    -------
    int or None
        Its number from nought. [1]

    Raises
    ------
    Nothing.

    Notes
    -----
    Edge distances less than the shop asks for are asked of ``Lug``.

    Source: definition.
    """
    front, back, inner, outer = edges
    half = 0.5 * diameter
    off = (x - half < front) | (x + half > back) | (y - half < inner) | (y + half > outer)
    return int(np.argmax(off)) if off.any() else None
