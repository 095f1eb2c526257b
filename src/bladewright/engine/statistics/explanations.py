"""How well one kind of curve explains a set of readings, its size not known: to weigh explanations against others."""

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput


def log_evidence(readings: Floats, shapes: Floats, widths: Floats, noise: float) -> Floats:
    """Logarithm of the probability density of readings under sums of curves of unknown size.

    ``y ~ N(0, s**2 I + F diag(w**2) F^T)``, by ``B = F diag(w) / s`` and ``M = I + B^T B``:
    ``ln p = -(y.y / s**2 - b^T M^-1 b + ln det M) / 2``, ``b = B^T y / s``, less ``n ln(s sqrt(2 pi))``.

    Parameters
    ----------
    readings : (n,) array
        What is to be explained; nothing missing. [K]
    shapes : (g, n, p) array
        For each of ``g`` alternatives ``p`` curves of size one, in units of the readings over those of the sizes. [-]
    widths : (p,) array
        Standard deviation of each size before anything is read, in the unit of that size. [-]
    noise : float
        Standard deviation of one reading about the sum, readings independent of each other; above zero. [K]

    Returns
    -------
    Floats
        One logarithm for each alternative, natural. [1]

    Raises
    ------
    BadInput
        If the noise is not above zero.

    Notes
    -----
    An explanation with more freedom is not preferred for fitting better alone: what it could also have explained counts
    against it. The answer leans on the widths, which are somebody's choice and must be told with it.

    Source: D. J. C. MacKay, Bayesian Interpolation, Neural Computation 4 (1992) 415-447 (from memory); re-derived.
    """
    if not noise > 0.0:
        raise BadInput("not a scatter", field="noise", value=noise, allowed="above 0")
    scaled = shapes * (widths / noise)
    left = readings / noise
    inner = np.einsum("gnp,gnq->gpq", scaled, scaled) + np.eye(shapes.shape[-1])
    toward = np.einsum("gnp,n->gp", scaled, left)
    won = np.einsum("gp,gp->g", toward, np.linalg.solve(inner, toward[..., None])[..., 0])
    _, spread = np.linalg.slogdet(inner)
    evidence: Floats = -0.5 * (left @ left - won + spread) - len(readings) * np.log(noise * np.sqrt(2.0 * np.pi))
    return evidence


def likeliest_sizes(readings: Floats, shapes: Floats, widths: Floats, noise: float) -> Floats:
    """The likeliest size of each curve of one explanation.

    ``diag(w) M^-1 b`` with the ``M`` and ``b`` of the evidence.

    Parameters
    ----------
    readings : (n,) array
        What is to be explained. [K]
    shapes : (n, p) array
        The curves, each of size one, in units of the readings over those of the sizes. [-]
    widths : (p,) array
        Standard deviation of each size before anything is read, in the unit of that size. [-]
    noise : float
        Standard deviation of one reading about the sum; above zero. [K]

    Returns
    -------
    Floats
        The sizes, each in its own unit. [-]

    Raises
    ------
    BadInput
        If the noise is not above zero.

    Notes
    -----
    Drawn toward zero where the readings say little.

    Source: D. J. C. MacKay, Bayesian Interpolation, Neural Computation 4 (1992) 415-447 (from memory); re-derived.
    """
    if not noise > 0.0:
        raise BadInput("not a scatter", field="noise", value=noise, allowed="above 0")
    scaled = shapes * (widths / noise)
    inner = scaled.T @ scaled + np.eye(shapes.shape[-1])
    sizes: Floats = widths * np.linalg.solve(inner, scaled.T @ (readings / noise))
    return sizes


def shares_of(logarithms: Floats, before: Floats) -> Floats:
    """Shares of one among explanations that leave no other.

    ``P_i = p_i exp(l_i) / sum p_j exp(l_j)``.

    Parameters
    ----------
    logarithms : (k,) array
        Natural logarithm of the evidence of each. [1]
    before : (k,) array
        Share each had before anything was read; not negative, one at least above zero. [1]

    Returns
    -------
    Floats
        Shares that add up to one. [1]

    Notes
    -----
    True only as far as one of them is the case; a cause nobody listed gets no share.

    Source: T. Bayes, 1763; closed form.
    """
    weights: NDArray[np.float64] = before * np.exp(logarithms - np.max(logarithms[before > 0.0]))
    shares: Floats = weights / weights.sum()
    return shares
