"""Which samples of a long record to draw, so that no peak and no gap goes missing: the extremes of each bucket."""

import numpy as np

from bladewright.engine.arrays import Bools, Floats, Integers

#: samples kept of a bucket at most: its least, its greatest, and the first and last that are not there
KEPT = 4


def extremes(x: Floats, values: Floats, buckets: int) -> Integers:
    """Samples to draw: least and greatest of each bucket, first and last missing one, and both ends of the record.

    A line drawn through them spans, in each bucket, what the line through all samples spans, and is broken wherever
    that one is.

    Parameters
    ----------
    x : (n,) array
        Where the samples lie, increasing; any unit. [-]
    values : (n,) array
        The samples in the same order, NaN where there is none; any unit. [-]
    buckets : int
        Into how many equal parts of x the record falls: pixels, or a few to each. [-]

    Returns
    -------
    (m,) array
        Their places in the record, increasing; all of them where there are no more than two to a bucket.

    Notes
    -----
    At most four to a bucket, and the ends.

    Source: closed form; the tests hold every bucket to its own extremes.
    """
    count = len(values)
    if count <= 2 * buckets:
        return np.arange(count, dtype=np.intp)
    part = np.minimum((x - x[0]) * (buckets / (x[-1] - x[0])), buckets - 1).astype(np.intp)
    starts = np.flatnonzero(np.diff(part, prepend=-1))
    part = np.repeat(np.arange(len(starts)), np.diff(starts, append=count))
    missing = np.isnan(values)
    kept = np.concatenate(
        (
            [0, count - 1],
            _first(values == np.fmin.reduceat(values, starts)[part], part),
            _first(values == np.fmax.reduceat(values, starts)[part], part),
            _first(missing, part),
            count - 1 - _first(missing[::-1], -part[::-1]),
        )
    )
    return np.unique(kept)


def _first(marked: Bools, part: Integers) -> Integers:
    """The first marked sample of each part that has one."""
    places = np.flatnonzero(marked)
    return places[np.flatnonzero(np.diff(part[places], prepend=part[0] - 1))] if len(places) else places
