"""An oven's entries from its own survey, each with how well it is known, and what the survey cannot tell named."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import stdtrit

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.oven import COUNTS, Oven
from bladewright.engine.cure.survey import Survey, survey_course
from bladewright.engine.metrology.weighing import COVERAGE
from bladewright.errors import BadInput, MissingInput, NotConverged

WEAK = 0.5  # of its own size: known no better than this, an entry counts as not identified; our own choice
NOT_LEARNT = 0.8  # of the entered spread: a survey that leaves more taught next to nothing; our own choice
DIFFERENCE = 1e-5  # of an entry, for the derivative by differences
#: an entry further off than a hundredfold was entered in another unit; also what stands for "not known at all", so that
#: a direction the survey does not tell has an end; our own choice
GREATEST_CHANGE = math.log(100.0)
MOST_CORRELATED = 0.99  # residuals that hang together more than this are no residuals but a wrong model


@dataclass(frozen=True, slots=True)
class Free:
    """An entry of the oven to be found: one factor on all its zones, or one on each."""

    field: str
    spread: float = math.inf  # standard uncertainty of what was entered, as a part of it; infinite: not known [1]
    each: bool = False


@dataclass(frozen=True, slots=True)
class Identified:
    """The oven that fits best and what is known of it."""

    oven: Oven
    names: tuple[str, ...]  # like "mould_loss" or "mould_loss 4", one for each unknown
    fields: tuple[tuple[str, int | None], ...]  # entry and zone, None for all zones, of each unknown
    factor: Floats  # (p,) found over entered [1]
    covariance: Floats  # (p, p) of the logarithms of the factors [1]
    coverage: float  # Student's factor for the confidence of k = 2 [1]
    misfit: float  # root mean square of measured less model [K]
    not_identified: tuple[str, ...]  # unknowns the survey tells little or nothing about

    @property
    def relative(self) -> Floats:
        """Expanded uncertainty of each factor's logarithm, near enough a part of it while small. [1]"""
        spread: Floats = self.coverage * np.sqrt(np.diagonal(self.covariance))
        return spread


def identify(survey: Survey, entered: Oven, free: tuple[Free, ...], sensor: float) -> Identified:
    """Least squares of the survey's sensors over factors on an oven's entries, by Gauss, Newton and trust regions.

    The information of the sensors is lessened where what they leave over hangs together from sample to sample,
    by ``(1 - r)/(1 + r)``, and where it is larger than the sensors explain.

    Parameters
    ----------
    survey : Survey
        [-]
    entered : Oven
        Where the search begins; what is not free stays so. [-]
    free : tuple of Free
        What is to be found. [-]
    sensor : float
        Standard uncertainty of a reading. [K]

    Returns
    -------
    Identified

    Raises
    ------
    BadInput
        If a name is no entry of an oven, or a begun value is zero and no factor can change it.
    MissingInput
        If there are fewer readings than unknowns.
    NotConverged
        If the search does not end.

    Notes
    -----
    Confidence is that of the straightened model, and of the model being right. Without logged power all capacities
    and conductances could be larger together and nothing would show: keep one known.

    Source: G. A. F. Seber, C. J. Wild, Nonlinear Regression, 1989 (from memory); lessening by the residuals' own
    correlation, common practice, no source.
    """
    from scipy.optimize import least_squares

    fields = _unknowns(entered, free)
    widest = [min(one.spread, GREATEST_CHANGE) for one in free for _ in range(COUNTS[one.field] if one.each else 1)]
    spread = np.array([*widest, 1.0])
    measured = survey.measured
    there = np.isfinite(measured)
    there[0] = False  # the model begins there, so it teaches nothing
    count = int(there.sum())
    if count <= len(fields):
        raise MissingInput("too few readings", field="survey", value=count, allowed=f"more than {len(fields)}")

    # how warm everything really began is one more unknown, known as well as the mean of the first row is
    doubt = sensor / math.sqrt(max(1, np.isfinite(measured[0]).sum())) if survey.even else 0.0

    def model(unknowns: Floats) -> Floats:
        return survey_course(_scaled(entered, fields, unknowns[..., :-1]), survey, doubt * unknowns[..., -1])

    def left(unknowns: Floats) -> Floats:
        return np.concatenate(((model(unknowns) - measured)[there] / sensor, unknowns / spread))

    def slopes(unknowns: Floats) -> Floats:
        slope = _slopes(model, unknowns)
        return np.concatenate((slope[:, there].T / sensor, np.diag(1.0 / spread)))

    found = least_squares(
        left, np.zeros(len(fields) + 1), jac=slopes, bounds=(-GREATEST_CHANGE, GREATEST_CHANGE), xtol=1e-7, ftol=1e-8
    )
    if not found.success:
        raise NotConverged("the survey could not be fitted", field="survey", value=found.message)
    logs = found.x[:-1]
    residual = np.where(there, model(found.x) - measured, np.nan)
    freedom = count - len(fields)
    scatter = max(1.0, float(np.nansum(residual**2)) / sensor**2 / freedom)
    apart = _hanging_together(residual)
    teaching = found.jac[:count]
    information = teaching.T @ teaching / (scatter * (1.0 + apart) / (1.0 - apart)) + np.diag(spread**-2.0)
    covariance = np.linalg.inv(information)[:-1, :-1]
    names = tuple(name if zone is None else f"{name} {zone + 1}" for name, zone in fields)
    known = np.sqrt(np.diagonal(covariance))
    weak = (known > WEAK) | (known > NOT_LEARNT * spread[:-1])
    effective = max(1.0, freedom * (1.0 - apart) / (1.0 + apart))
    return Identified(
        oven=_scaled(entered, fields, logs),
        names=names,
        fields=fields,
        factor=np.exp(logs),
        covariance=covariance,
        coverage=float(stdtrit(math.floor(effective), 0.5 + COVERAGE / 2.0)),
        misfit=math.sqrt(float(np.nanmean(residual**2))),
        not_identified=tuple(name for name, one in zip(names, weak, strict=True) if one),
    )


def survey_band(identified: Identified, survey: Survey) -> tuple[Floats, Floats]:
    """What an identified oven says of a run's bodies, those without a sensor too, and how far it may be off.

    Parameters
    ----------
    identified : Identified
        [-]
    survey : Survey
        The run, whose heat is given; it need not be the one the oven was identified from. [-]

    Returns
    -------
    tuple of arrays
        Temperatures and expanded uncertainties, each (t, 15). [K]

    Notes
    -----
    Uncertainty of the entries as far as the straightened model carries it, with the misfit of the survey added as
    one more cause, since a model that misses its sensors by so much misses other places by no less.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.2 (from memory).
    """

    def model(logs: Floats) -> Floats:
        return survey_course(_scaled(identified.oven, identified.fields, logs), survey)

    none = np.zeros(len(identified.fields))
    value, slope = model(none), _slopes(model, none)
    variance = np.einsum("pti,pq,qti->ti", slope, identified.covariance, slope) + identified.misfit**2
    return value, identified.coverage * np.sqrt(variance)


def drawn_ovens(identified: Identified, runs: int, generator: np.random.Generator) -> Oven:
    """Ovens that the survey leaves possible, as many as asked, for ``simulate``.

    Parameters
    ----------
    identified : Identified
        Every unknown of it identified, or entered with a spread. [-]
    runs : int
        [-]
    generator : numpy Generator
        [-]

    Returns
    -------
    Oven
        With (runs, ...) entries.

    Raises
    ------
    MissingInput
        If an unknown is so little known that draws of it mean nothing.

    Notes
    -----
    Source: JCGM 101:2008, propagation of distributions (from memory).
    """
    known = np.sqrt(np.diagonal(identified.covariance))
    if (known > 1.0).any():
        raise MissingInput(
            "the survey does not tell it",
            field=identified.names[int(np.argmax(known))],
            allowed="known to within its own size",
            fix="enter it with a spread, or survey with probes in the bondline",
        )
    draws = generator.multivariate_normal(np.zeros(len(known)), identified.covariance, runs)
    whole = _scaled(identified.oven, identified.fields, draws)
    return replace(whole, **{name: np.broadcast_to(getattr(whole, name), (runs, COUNTS[name])) for name in COUNTS})


def _unknowns(entered: Oven, free: tuple[Free, ...]) -> tuple[tuple[str, int | None], ...]:
    fields: list[tuple[str, int | None]] = []
    for one in free:
        if one.field not in COUNTS or one.field == "greatest_power":
            known = ", ".join(name for name in COUNTS if name != "greatest_power")
            raise BadInput("is no entry that a survey tells", field="free", value=one.field, allowed=known)
        if not one.spread > 0.0:
            raise BadInput(
                "is no spread", field="spread", value=one.spread, allowed="above 0", fix="leave the entry out"
            )
        if not np.all(np.asarray(getattr(entered, one.field)) > 0.0):
            raise BadInput("begins at zero", field=one.field, value=0.0, allowed="above 0", fix="enter a guess")
        fields += [(one.field, zone) for zone in range(COUNTS[one.field])] if one.each else [(one.field, None)]
    return tuple(fields)


def _scaled(entered: Oven, fields: tuple[tuple[str, int | None], ...], logs: Floats) -> Oven:
    """The oven with factors on its entries; (runs, p) logarithms make (runs, ...) ovens."""
    made: dict[str, Floats] = {}
    for number, (name, zone) in enumerate(fields):
        factor = np.exp(logs[..., number])
        if name not in made:
            shape = (*logs.shape[:-1], COUNTS[name])
            made[name] = np.array(np.broadcast_to(np.asarray(getattr(entered, name), dtype=float), shape))
        if zone is None:
            made[name] *= factor[..., None]
        else:
            made[name][..., zone] *= factor
    return replace(entered, **made)


def _slopes(model: Callable[[Floats], Floats], unknowns: Floats) -> Floats:
    """Temperatures' derivative by each unknown, (p, t, 15), all moved ovens run at once."""
    moves = DIFFERENCE * np.eye(len(unknowns))
    course = model(np.concatenate((unknowns + moves, unknowns - moves)))
    return (course[: len(unknowns)] - course[len(unknowns) :]) / (2.0 * DIFFERENCE)


def _hanging_together(residual: Floats) -> float:
    """Correlation of what is left over with itself one sample later, over all sensors; never below zero."""
    first, second = residual[:-1], residual[1:]
    both = np.isfinite(first) & np.isfinite(second)
    size = float(np.sum(first[both] ** 2) + np.sum(second[both] ** 2)) / 2.0
    found = float(np.sum(first[both] * second[both])) / size if size > 0.0 else 0.0
    return min(max(found, 0.0), MOST_CORRELATED)
