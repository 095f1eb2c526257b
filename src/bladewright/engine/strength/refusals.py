"""What every function of this room refuses before it reckons: a number that cannot be a load, a length or a share."""

import math
from collections.abc import Mapping

from bladewright.errors import BadInput


def require_positive(values: Mapping[str, float]) -> None:
    """Raise ``BadInput`` unless every value is finite and more than nought.

    Parameters
    ----------
    values : mapping of str to float
        Each by the name of its field. [-]

    Raises
    ------
    BadInput
        Naming the first field that is not.
    """
    for field, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput("not a positive number", field=field, value=value, allowed="more than 0")


def require_not_negative(values: Mapping[str, float]) -> None:
    """Raise ``BadInput`` unless every value is finite and not below nought.

    Parameters
    ----------
    values : mapping of str to float
        Each by the name of its field. [-]

    Raises
    ------
    BadInput
        Naming the first field that is not.
    """
    for field, value in values.items():
        if not (math.isfinite(value) and value >= 0.0):
            raise BadInput("negative, or not a number", field=field, value=value, allowed="0 or more")


def require_at_least_one(values: Mapping[str, float]) -> None:
    """Raise ``BadInput`` unless every factor is finite and one or more, so that none makes a figure kinder.

    Parameters
    ----------
    values : mapping of str to float
        Each by the name of its field. [-]

    Raises
    ------
    BadInput
        Naming the first field that is not.
    """
    for field, value in values.items():
        if not (math.isfinite(value) and value >= 1.0):
            raise BadInput(
                "a factor that would make the figure kinder", field=field, value=value, allowed="1 or more",
                fix="enter how many times worse it makes it",
            )  # fmt: skip
