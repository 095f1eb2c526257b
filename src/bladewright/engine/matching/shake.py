"""The force that unlike mates put on the hub once a revolution."""

from bladewright.errors import BadInput


def hub_force(first_moment: float, rotor_speed: float) -> float:
    """Rotating force in the plane of the rotor from what two opposite blades differ by in first moment of mass.

    ``F = dS W**2``; for a chordwise difference of mass centre ``dS = M dx``.

    Parameters
    ----------
    first_moment : float
        Difference of mass times arm: spanwise from the rotor axis, or chordwise. [kg m]
    rotor_speed : float
        Not negative. [rad/s]

    Returns
    -------
    float
        Seen from the fuselage it goes round once a revolution, equal fore-and-aft and sideways. [N]

    Raises
    ------
    BadInput
        If the rotor speed is negative.

    Notes
    -----
    Rigid blades and hub. What the cabin feels depends on the fuselage's own modes: this is no vibration level.

    Source: elementary mechanics.
    """
    if rotor_speed < 0.0:
        raise BadInput("is less than nothing", field="rotor_speed", value=rotor_speed, allowed="zero or more")
    return first_moment * rotor_speed**2
