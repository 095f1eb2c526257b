"""The ends of bonded doublers and laps: peel under a shear that stays, and the load that no longer overlap raises."""

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.doubler import Step, doubler_end
from bladewright.engine.strength.ductile_lap import Ductility, lap_capacity
from bladewright.engine.strength.peel import EdgeLoad, edge_peel, end_peel
from bladewright.selfcheck.case import Case

SOURCE = "L. J. Hart-Smith, NASA CR-112235, 1973 (formulas from memory); closed form recomputed"
VOLKERSEN = "O. Volkersen, 1938 (from memory), a doubler held at its inner end, c p lambda tanh(lambda L); recomputed"
HETENYI = "M. Hetenyi, Beams on Elastic Foundation, 1946, end of a long beam (from memory); recomputed"
FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
SHEET, SKIN = Sheet(72e9, 0.0016, 0.33), Sheet(72e9, 0.0034, 0.33)
TOUGH = Ductility(yield_stress=35e6, plastic_strain=0.4)

CASES: tuple[Case, ...] = (
    # (3 E_a (1 - nu**2) t / (E t_a))**(1/4) = (3 * 2.2e9 * 0.8911 * 0.0016 / (72e9 * 0.0001))**(1/4)
    Case(SOURCE, "peel over shear at a yielded end [1]", lambda: end_peel(1.0, 0.0, SHEET, FILM), 1.06921358, 1e-7),
    # 2 sqrt(E t t_a tau (tau / 2 G + gamma)) = 2 sqrt(1.152e8 * 1e-4 * 35e6 * (0.021875 + 0.4))
    Case(
        SOURCE, "load of a long lap of like sheets [N/m]",
        lambda: lap_capacity(0.5, SHEET, SHEET, FILM, TOUGH).load, 824863.625, 0.1, "seven digits",
    ),
    # lambda**2 = 8e12 (1/1.152e8 + 1/2.448e8), c = 1.6/5: 0.32 * 1e5 * 319.568745 * tanh(6.3913749)
    Case(
        VOLKERSEN, "shear at the end of a doubler [Pa]",
        lambda: float(doubler_end(1e5, (Step(0.02, SHEET),), SKIN, FILM).shear[0]), 10226142.4, 1.0, "eight digits",
    ),
    # beta**4 = 2.2e9 / (4 * 27.5793963 * 1e-4): 2 beta 100 + 2 beta**2 * 0.5
    Case(HETENYI, "peel of an edge pulled and bent [Pa]",
         lambda: edge_peel(EdgeLoad(100.0, 0.5), SHEET, FILM), 580221.104, 0.1, "seven digits"),
)  # fmt: skip
