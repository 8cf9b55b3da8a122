"""What a propellant pair gives in a chamber and nozzle: ideal figures, and what an efficiency leaves of them.

The ideal figures are those of chemical equilibrium that shifts all the way to the exit.  They come from a
table (`combustion_tables`); `wetmass.physics.chemistry` computes them where Cantera is installed.

Letters: p_c chamber pressure [Pa], r mixture ratio by mass, ε exit over throat area, η delivered over ideal
exhaust speed in vacuum, c* characteristic speed [m/s], C_F thrust coefficient in vacuum.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.nozzle import area_ratio as area_ratio_of
from wetmass.physics.nozzle import exit_mach
from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation
from wetmass.physics.tanks.solid import rising_root

LEAST_EFFICIENCY = 0.5
EQUILIBRIUM = "chemical equilibrium shifting to the exit"
ENTHALPIES = "formation enthalpies from memory"
TABLE = f"{EQUILIBRIUM}, interpolated in a table computed with Cantera 3.2.0, NASA polynomials; {ENTHALPIES}"
USUAL_EFFICIENCY = 0.95  # delivered over ideal: flown engines reach 0.90 to 0.98 by it, common practice

_ETA = Letter("η", "delivered over ideal exhaust speed", "", 0.5, 1.0)
_STAR = Letter("c*", "ideal characteristic speed", "m/s", 1000.0, 3000.0)
_COEFFICIENT = Letter("C_F", "ideal thrust coefficient in vacuum", "", 1.2, 2.2)
_PRESSURE = Letter("p_c", "pressure in the chamber", "Pa", 1e6, 3.5e7)
_WIDE = Letter("ε", "exit area over throat area", "", 4.0, 400.0)


@kernel
def _delivered_speed(efficiency, characteristic_speed, coefficient):
    return efficiency * characteristic_speed * coefficient


@relation(
    kernel=_delivered_speed,
    symbol="c",
    words="exhaust speed delivered in vacuum",
    unit="m/s",
    letters={"efficiency": _ETA, "characteristic_speed": _STAR, "coefficient": _COEFFICIENT},
    source="definitions of characteristic speed and thrust coefficient",
)
def delivered_speed(efficiency: float, characteristic_speed: float, coefficient: float) -> float:
    """Effective exhaust speed an engine delivers in vacuum, c = η·c*·C_F [m/s].

    efficiency            delivered over ideal, above 0 and up to 1  [-]
    characteristic_speed  ideal                                      [m/s]
    coefficient           of thrust in vacuum, ideal                 [-]

    >>> delivered_speed(0.95, 2000.0, 1.8)
    3420.0
    """
    above_zero(
        efficiency=efficiency, characteristic_speed=characteristic_speed, coefficient=coefficient
    )  # fmt: skip
    if efficiency > 1.0:
        raise ValueError(f"efficiency must be at most 1, got {efficiency}")
    return _delivered_speed(efficiency, characteristic_speed, coefficient)


@kernel
def _speed_in_air(vacuum_speed, characteristic_speed, area_ratio, chamber_pressure, ambient_pressure):
    return vacuum_speed - ambient_pressure * area_ratio * characteristic_speed / chamber_pressure


@relation(
    kernel=_speed_in_air,
    symbol="c",
    words="exhaust speed delivered in air",
    unit="m/s",
    letters={
        "vacuum_speed": Letter("c_vac", "exhaust speed delivered in vacuum", "m/s", 2500.0, 4800.0),
        "characteristic_speed": _STAR,
        "area_ratio": _WIDE,
        "chamber_pressure": _PRESSURE,
        "ambient_pressure": Letter("pₐ", "pressure outside", "Pa", 0.0, 101_325.0),
    },
    source="thrust with back-pressure, (pₑ − pₐ)·Aₑ, over the flow p_c·A_t/c*",
)
def speed_in_air(
    vacuum_speed: float,
    characteristic_speed: float,
    area_ratio: float,
    chamber_pressure: float,
    ambient_pressure: float,
) -> float:
    """Effective exhaust speed an engine delivers in air while it flows full, c − pₐ·ε·c*/p_c [m/s].

    vacuum_speed          delivered in vacuum      [m/s]
    characteristic_speed  ideal                    [m/s]
    area_ratio            exit over throat         [-]
    chamber_pressure      [Pa]
    ambient_pressure      outside, 0 in vacuum     [Pa]

    The flow through the throat is the ideal one, so the loss to the air does not hang on the efficiency.
    Below zero the air takes more than the engine gives.  Raises ValueError outside these senses.

    >>> round(speed_in_air(3300.0, 1850.0, 20.0, 10e6, 101_325.0))
    2925
    """
    above_zero(
        vacuum_speed=vacuum_speed, characteristic_speed=characteristic_speed, area_ratio=area_ratio,
        chamber_pressure=chamber_pressure,
    )  # fmt: skip
    not_negative(ambient_pressure=ambient_pressure)
    return _speed_in_air(vacuum_speed, characteristic_speed, area_ratio, chamber_pressure, ambient_pressure)


@kernel
def _exit_area(thrust, vacuum_speed, characteristic_speed, area_ratio, chamber_pressure):
    return area_ratio * characteristic_speed / chamber_pressure * thrust / vacuum_speed


@relation(
    kernel=_exit_area,
    symbol="Aₑ",
    words="area of one nozzle exit",
    unit="m²",
    letters={
        "thrust": Letter("F_vac", "thrust in vacuum", "N", 1e3, 2e7),
        "vacuum_speed": Letter("c_vac", "exhaust speed delivered in vacuum", "m/s", 2500.0, 4800.0),
        "characteristic_speed": _STAR,
        "area_ratio": _WIDE,
        "chamber_pressure": _PRESSURE,
    },
    source="definition of characteristic speed: A_t = ṁ·c*/p_c, Aₑ = ε·A_t, ṁ = F/c",
)
def exit_area(
    thrust: float,
    vacuum_speed: float,
    characteristic_speed: float,
    area_ratio: float,
    chamber_pressure: float,
) -> float:
    """Exit of an engine of a thrust, Aₑ = ε·c*/p_c·F/c [m²].

    thrust                in vacuum            [N]
    vacuum_speed          delivered in vacuum  [m/s]
    characteristic_speed  ideal                [m/s]
    area_ratio            exit over throat     [-]
    chamber_pressure      [Pa]

    >>> round(exit_area(1e6, 3300.0, 1850.0, 20.0, 10e6), 4)
    1.1212
    """
    above_zero(
        thrust=thrust, vacuum_speed=vacuum_speed, characteristic_speed=characteristic_speed,
        area_ratio=area_ratio, chamber_pressure=chamber_pressure,
    )  # fmt: skip
    return _exit_area(thrust, vacuum_speed, characteristic_speed, area_ratio, chamber_pressure)


@dataclass(frozen=True, slots=True)
class IdealEngine:
    """An engine in ideal shifting equilibrium, and what an efficiency leaves of it."""

    pair: str
    mixture_ratio: float
    chamber_pressure: float  # Pa
    area_ratio: float
    temperature: float  # K, in the chamber
    molar_mass: float  # kg/kmol, in the chamber
    gamma: float  # isentropic exponent in the chamber, in equilibrium
    characteristic_speed: float  # m/s, ideal
    vacuum_coefficient: float  # ideal
    exit_pressure: float  # Pa
    ideal_vacuum_speed: float  # m/s, effective exhaust speed in vacuum
    efficiency: float
    source: str
    way: str = "by the table"  # how the chemistry came about, in words

    @property
    def vacuum_speed(self) -> float:
        """Effective exhaust speed delivered in vacuum [m/s]."""
        return delivered_speed(self.efficiency, self.characteristic_speed, self.vacuum_coefficient)

    def speed_in_air(self, ambient_pressure: float) -> float:
        """Effective exhaust speed delivered in air [m/s], flowing full, see `speed_in_air`."""
        return speed_in_air(
            self.vacuum_speed, self.characteristic_speed, self.area_ratio, self.chamber_pressure,
            ambient_pressure,
        )  # fmt: skip

    @property
    def expansion_gamma(self) -> float:
        """The constant exponent that gives the same fall of pressure at the same area ratio."""
        fall = self.exit_pressure / self.chamber_pressure
        return rising_root(lambda g: self.area_ratio - area_ratio_of(fall, g), 1.02, 1.66)

    @property
    def exit_mach(self) -> float:
        """Mach number at the exit, by that exponent [-]."""
        return exit_mach(self.exit_pressure / self.chamber_pressure, self.expansion_gamma)


def pairs_with_tables() -> tuple[str, ...]:
    """Pairs for which `ideal_engine` has a table."""
    from wetmass.physics.combustion_tables import TABLES

    return tuple(TABLES)


def within_reach(
    pair: str, chamber_pressure: float, mixture_ratio: float, area_ratio: float, efficiency: float
) -> str:
    """The pair by its own name; ValueError, as of `ideal_engine`, outside the reach of its table."""
    from wetmass.physics.combustion_tables import AREA_RATIOS, TABLES
    from wetmass.physics.propellants import pair as known_pair

    name = known_pair(pair).name
    if name not in TABLES:
        raise ValueError(f"pair: no performance table for {name}; tables hold {', '.join(TABLES)}")
    ratios, _ = TABLES[name]
    if not ratios[0] <= mixture_ratio <= ratios[-1]:
        raise ValueError(
            f"mixture_ratio must lie between {ratios[0]} and {ratios[-1]}, the reach of the performance "
            f"table for {name}, got {mixture_ratio}"
        )
    if not 1e6 <= chamber_pressure <= 35e6:
        raise ValueError(f"chamber_pressure must lie between 1 MPa and 35 MPa, got {chamber_pressure} Pa")
    if not AREA_RATIOS[0] <= area_ratio <= AREA_RATIOS[-1]:
        raise ValueError(
            f"area_ratio must lie between {AREA_RATIOS[0]} and {AREA_RATIOS[-1]}, got {area_ratio}"
        )
    if not LEAST_EFFICIENCY <= efficiency <= 1.0:
        raise ValueError(
            f"efficiency must lie between {LEAST_EFFICIENCY} and 1 of the ideal exhaust speed, "
            f"got {efficiency}"
        )
    return name


def ideal_engine(
    pair: str, chamber_pressure: float, mixture_ratio: float, area_ratio: float, efficiency: float
) -> IdealEngine:
    """What a propellant pair gives in a chamber and nozzle, by the table [record].

    pair              "LOX/LCH4" and the like (see `pairs_with_tables`)
    chamber_pressure  2 to 25 MPa                                               [Pa]
    mixture_ratio     by mass, within the pair's table                          [-]
    area_ratio        exit over throat, 4 to 400                                [-]
    efficiency        delivered over ideal vacuum exhaust speed, up to 1; flown engines reach 0.90 to 0.98
                      by this measure, gas-generator cycles least               [-]

    Chemical equilibrium shifting to the exit, tabulated (`combustion_tables`), interpolated.  Chamber
    pressures down to 1 and up to 35 MPa are extrapolated.  Raises ValueError outside.

    >>> engine = ideal_engine("LOX/LH2", 20.6e6, 6.0, 69.0, 1.0)
    >>> round(engine.ideal_vacuum_speed / 9.80665, 1)
    462.9
    """
    from wetmass.physics.combustion_tables import AREA_RATIOS, PRESSURES, TABLES

    name = within_reach(pair, chamber_pressure, mixture_ratio, area_ratio, efficiency)
    ratios, rows = TABLES[name]

    heights = tuple(math.log(p) for p in PRESSURES)
    widths = tuple(math.log(e) for e in AREA_RATIOS)

    def at(column) -> float:  # type: ignore[no-untyped-def]
        """Through the mixture ratios nearest, and through all pressures."""
        first = min(max(_below(ratios, mixture_ratio) - 1, 0), len(ratios) - 4)
        near = range(first, first + 4)
        along = tuple(
            _through(
                heights, tuple(column(rows[i][j]) for j in range(len(heights))), math.log(chamber_pressure)
            )
            for i in near
        )
        return _through(tuple(ratios[i] for i in near), along, mixture_ratio)

    def along_nozzle(index: int) -> float:
        first = min(max(_below(AREA_RATIOS, area_ratio) - 1, 0), len(widths) - 4)
        near = range(first, first + 4)
        values = tuple(at(lambda row, k=k: row[index][k]) for k in near)
        return _through(tuple(widths[k] for k in near), values, math.log(area_ratio))

    cstar = at(lambda row: row[3])
    coefficient = along_nozzle(4)
    return IdealEngine(
        name, mixture_ratio, chamber_pressure, area_ratio, at(lambda row: row[0]), at(lambda row: row[1]),
        at(lambda row: row[2]), cstar, coefficient, chamber_pressure * math.exp(-along_nozzle(5)),
        cstar * coefficient, efficiency,
        TABLE,
    )  # fmt: skip


def _below(points: tuple[float, ...], x: float) -> int:
    return max(i for i, p in enumerate(points) if p <= x)


def _through(xs: tuple[float, ...], ys: tuple[float, ...], x: float) -> float:
    """Polynomial through the points (Lagrange)."""
    total = 0.0
    for i, y in enumerate(ys):
        term = y
        for j, other in enumerate(xs):
            if j != i:
                term *= (x - other) / (xs[i] - other)
        total += term
    return total
