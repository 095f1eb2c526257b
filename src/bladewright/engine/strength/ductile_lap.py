"""What a lap joint bears when its film yields before it breaks; sheets that only stretch."""

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.refusals import require_not_negative, require_positive


@dataclass(frozen=True, slots=True)
class Ductility:
    """Shear of a film that yields at one stress and breaks at one strain."""

    yield_stress: float  # [Pa]
    plastic_strain: float  # from yield to break, in shear; nought for a brittle film [1]

    def __post_init__(self) -> None:
        require_positive({"yield_stress": self.yield_stress})
        require_not_negative({"plastic_strain": self.plastic_strain})


@dataclass(frozen=True, slots=True)
class LapCapacity:
    """The load per width at which the worse end of a lap breaks."""

    load: float  # [N/m]
    yielded_first: float  # length of film that has yielded where the softer sheet comes in loaded [m]
    yielded_second: float  # at the other end [m]
    endless: float  # load per width that no longer overlap would raise [N/m]


def lap_capacity(overlap: float, first: Sheet, second: Sheet, film: Film, ductility: Ductility) -> LapCapacity:
    """Load that breaks a lap of two sheets on a film that yields.

    In the yielded ends the slip's slope grows in proportion to length; between them shear is ``cosh``. The end where
    the softer sheet comes in has slipped by ``t_a (tau/G + gamma_p)``. However long the overlap, the load stays below
    ``k sqrt(2 (1/k1 + 1/k2) t_a (tau**2/2G + tau gamma_p))``, k the softer sheet's ``E t``: the work to break the film.

    Parameters
    ----------
    overlap : float
        [m]
    first, second : Sheet
        [-]
    film : Film
        [-]
    ductility : Ductility
        Of the film, at the temperature and wetness asked about. [-]

    Returns
    -------
    LapCapacity

    Raises
    ------
    BadInput
        If the overlap is not positive.

    Notes
    -----
    No peel: a joint that bends or ends in a thick sheet breaks in peel first. Loaded once; a film that yields in every
    cycle does not last. A brittle film gives the elastic joint again.

    Source: L. J. Hart-Smith, NASA CR-112235, 1973 (from memory); re-derived in docs/theory/joints.
    """
    require_positive({"overlap": overlap})
    joint = _Joint(
        overlap=overlap,
        softness=1.0 / first.axial + 1.0 / second.axial,
        decay=film.shear_decay(first.axial, second.axial),
        share=max(first.axial, second.axial) / (first.axial + second.axial),
        stress=ductility.yield_stress,
        slip=film.thickness * ductility.plastic_strain,
    )
    work = film.thickness * ductility.yield_stress * (
        0.5 * ductility.yield_stress / film.shear_modulus + ductility.plastic_strain
    )  # fmt: skip
    endless = min(first.axial, second.axial) * math.sqrt(2.0 * joint.softness * work)
    return LapCapacity(*joint.breaks(), endless=endless)


@dataclass(frozen=True, slots=True)
class _Joint:
    """``share`` is the stiffer sheet's of the stiffness: what the worse end hands over."""

    overlap: float  # [m]
    softness: float  # 1/k1 + 1/k2 [m/N]
    decay: float  # [1/m]
    share: float  # [1]
    stress: float  # at yield [Pa]
    slip: float  # from yield to break [m]

    def breaks(self) -> tuple[float, float, float]:
        """Load, and how much has yielded at the worse end and at the other."""
        if self._yielded(0.0) >= self.share * self.overlap:  # all of it yields before the end breaks
            return self.stress * self.overlap, self.share * self.overlap, (1.0 - self.share) * self.overlap
        both = self._both_ends()
        return both if both[2] >= 0.0 else self._worse_end()

    def _yielded(self, handed: float) -> float:
        """Yielded length at the worse end, when the elastic film inward of it hands over ``handed``."""
        return 2.0 * self.slip / self.softness / (
            handed + math.sqrt(handed**2 + 2.0 * self.stress * self.slip / self.softness)
        ) if self.slip > 0.0 else 0.0  # fmt: skip

    def _ends(self, elastic: float) -> tuple[float, float, float]:
        handed = self.stress / self.decay * math.tanh(0.5 * self.decay * elastic)
        worse = self._yielded(handed)
        load = (handed + self.stress * worse) / self.share
        return load, worse, ((1.0 - self.share) * load - handed) / self.stress

    def _both_ends(self) -> tuple[float, float, float]:
        def too_long(elastic: float) -> float:
            _, worse, other = self._ends(elastic)
            return worse + elastic + other - self.overlap

        elastic = brentq(too_long, 0.0, 2.0 * self.overlap / (1.0 - self.share), xtol=1e-15 * self.overlap, rtol=1e-13)
        return self._ends(float(elastic))

    def _worse_end(self) -> tuple[float, float, float]:
        """Only the worse end has yielded, by ``worse``; the film beyond is elastic to the other end."""

        def load_at(worse: float) -> tuple[float, float]:
            # handed = (stress / decay) tanh w - other share of the load / cosh w, share load = handed + stress worse
            length = self.decay * (self.overlap - worse)
            fade = 1.0 / math.cosh(min(length, 700.0))
            free = self.stress / self.decay * math.tanh(length)
            load = (free + self.stress * worse) / (self.share + (1.0 - self.share) * fade)
            return load, free - (1.0 - self.share) * load * fade

        def too_far(worse: float) -> float:
            handed = load_at(worse)[1]
            return self.softness * (handed * worse + 0.5 * self.stress * worse**2) - self.slip

        worse = 0.0 if self.slip == 0.0 else brentq(too_far, 0.0, self.overlap, xtol=1e-15 * self.overlap, rtol=1e-13)
        return load_at(float(worse))[0], float(worse), 0.0
