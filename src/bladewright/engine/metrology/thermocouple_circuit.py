"""What an instrument shows when the wire, its terminals or its settings are not what it takes them for."""

import numpy as np
from numpy.typing import ArrayLike

from bladewright.engine.arrays import Floats
from bladewright.engine.metrology.thermocouple import (
    ThermocoupleType,
    thermocouple_temperature,
    thermocouple_voltage,
)


def shown_temperature(
    junction: ArrayLike,
    terminal: ArrayLike,
    wire: ThermocoupleType,
    selected: ThermocoupleType,
    assumed_terminal: ArrayLike,
) -> Floats:
    """Temperature an instrument shows for a junction, from its wire, its terminals and its settings.

    The terminals see ``E_w(t) - E_w(t_c)``; the instrument adds what it believes its terminals stand for and looks the
    sum up: ``E_s(t') = E_w(t) - E_w(t_c) + E_s(t_a)``.

    Parameters
    ----------
    junction : (...) array
        True temperature of the measuring junction; NaN stays NaN. [K]
    terminal : (...) array
        True temperature of the terminals, where wire turns to copper. [K]
    wire : ThermocoupleType
        Type of the wire that is connected. [-]
    selected : ThermocoupleType
        Type the instrument is set to. [-]
    assumed_terminal : (...) array
        Temperature the instrument takes its terminals to have; 273.15 where it adds nothing. [K]

    Returns
    -------
    Floats
        What is shown. [K]

    Raises
    ------
    BadInput
        If a type is not one of K, J and T.
    OutsideValidity
        If a temperature or the voltage is outside a type's range.

    Notes
    -----
    With ``wire == selected`` this is the error of the cold junction alone; with both terminals at 273.15 K the error of
    the type alone. At room temperature a wrong type shows almost the right figure: only heat tells.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (reference functions); the sum is that of the circuit.
    """
    seen = thermocouple_voltage(junction, wire) - thermocouple_voltage(terminal, wire)
    return thermocouple_temperature(seen + thermocouple_voltage(assumed_terminal, selected), selected)


def shown_with_crossed_leads(
    junction: ArrayLike, head: ArrayLike, terminal: ArrayLike, letter: ThermocoupleType
) -> Floats:
    """Temperature an instrument shows when the extension leads are crossed at both of their ends.

    The leads then take away what they should add: ``E(t') = E(t) - E(t_h) - (E(t_h) - E(t_c)) + E(t_c)``.

    Parameters
    ----------
    junction : (...) array
        True temperature of the measuring junction. [K]
    head : (...) array
        Temperature where the wire meets the extension leads. [K]
    terminal : (...) array
        Temperature of the terminals, which the instrument knows. [K]
    letter : ThermocoupleType
        Type of wire, leads and instrument. [-]

    Returns
    -------
    Floats
        What is shown: too low by about twice the difference between head and terminals. [K]

    Raises
    ------
    BadInput
        If the type is not one of K, J and T.
    OutsideValidity
        If a temperature or the voltage is outside the type's range.

    Notes
    -----
    Leads crossed at one end only show themselves: the reading falls as the junction warms.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (reference function); the sum is that of the circuit.
    """
    at_junction, at_head, at_terminal = (thermocouple_voltage(place, letter) for place in (junction, head, terminal))
    return thermocouple_temperature(np.asarray(at_junction - 2.0 * at_head + 2.0 * at_terminal), letter)
