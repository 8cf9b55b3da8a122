"""The figures of an engine: thrust and specific impulse at sea level and in vacuum, and what they imply.

Propellant flow is the same at any outside pressure, so the two thrusts stand to each other as the two
specific impulses do, and their difference is one exit area times the pressure of the air.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY

_GLENN = (
    'NASA Glenn Research Center, "Rocket Thrust Equation", '
    "http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html (thrust with back-pressure)"
)
_VACUUM = Letter("F_vac", "thrust in vacuum", "N", 1e5, 5e7)
_SEA = Letter("F_sl", "thrust at sea level", "N", 1e3, 1e5)
_PRESSURE = Letter("p₀", "pressure of the air at sea level", "Pa", 9e4, 1.1e5)


@kernel
def _exit_area(vacuum_thrust, sea_level_thrust, pressure):
    return (vacuum_thrust - sea_level_thrust) / pressure


@relation(
    kernel=_exit_area,
    symbol="Aₑ",
    words="area of the nozzle exit",
    unit="m²",
    letters={"vacuum_thrust": _VACUUM, "sea_level_thrust": _SEA, "pressure": _PRESSURE},
    source=_GLENN,
)
def exit_area(vacuum_thrust: float, sea_level_thrust: float, pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Exit area that two thrusts imply, (F_vac − F_sl)/p₀ [m²].

    vacuum_thrust     [N]
    sea_level_thrust  at full flow, not above that in vacuum  [N]
    pressure          of the air at sea level                 [Pa]

    Holds while the nozzle flows full.  Raises ValueError when the thrust at sea level is the greater.

    >>> round(exit_area(2_278_800.0, 1_859_400.0), 3)
    4.139
    """
    above_zero(vacuum_thrust=vacuum_thrust, pressure=pressure)
    not_negative(sea_level_thrust=sea_level_thrust)
    if sea_level_thrust > vacuum_thrust:
        raise ValueError(
            f"sea_level_thrust must not be above vacuum_thrust, {vacuum_thrust} N, got {sea_level_thrust} N"
        )
    return _exit_area(vacuum_thrust, sea_level_thrust, pressure)


@kernel
def _vacuum_thrust(sea_level_thrust, exit_area, pressure):
    return sea_level_thrust + pressure * exit_area


@relation(
    kernel=_vacuum_thrust,
    symbol="F_vac",
    words="thrust in vacuum",
    unit="N",
    letters={
        "sea_level_thrust": _SEA,
        "exit_area": Letter("Aₑ", "area of the nozzle exit", "m²", 0.0, 100.0),
        "pressure": _PRESSURE,
    },
    source=_GLENN,
)
def vacuum_thrust(sea_level_thrust: float, exit_area: float, pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Thrust in vacuum of an engine known at sea level, F_sl + p₀·Aₑ [N].

    sea_level_thrust  [N]
    exit_area         [m²]
    pressure          of the air at sea level  [Pa]

    Raises ValueError for a negative argument.

    >>> vacuum_thrust(100_000.0, 0.2, 100_000.0)
    120000.0
    """
    not_negative(sea_level_thrust=sea_level_thrust, exit_area=exit_area, pressure=pressure)
    return _vacuum_thrust(sea_level_thrust, exit_area, pressure)


@kernel
def _impulse_in_proportion(isp_s, thrust, other_thrust):
    return isp_s * other_thrust / thrust


@relation(
    kernel=_impulse_in_proportion,
    symbol="Isp₂",
    words="specific impulse at another outside pressure",
    unit="s",
    letters={
        "isp_s": Letter("Isp₁", "specific impulse", "s", 50.0, 1000.0),
        "thrust": Letter("F₁", "thrust there", "N", 1e3, 1e7),
        "other_thrust": Letter("F₂", "thrust at the other pressure", "N", 1e3, 1e7),
    },
    source="same propellant flow at both pressures; definition of specific impulse",
)
def impulse_in_proportion(isp_s: float, thrust: float, other_thrust: float) -> float:
    """Specific impulse at another outside pressure, Isp₁·F₂/F₁ [s].

    isp_s         where `thrust` holds                  [s]
    thrust        there                                 [N]
    other_thrust  at the other pressure, same flow      [N]

    Raises ValueError for an argument not above zero.

    >>> impulse_in_proportion(300.0, 1e6, 1.1e6)
    330.0
    """
    above_zero(isp_s=isp_s, thrust=thrust, other_thrust=other_thrust)
    return _impulse_in_proportion(isp_s, thrust, other_thrust)


@kernel
def _figures_disagreement(vacuum_thrust, sea_level_thrust, vacuum_isp_s, sea_level_isp_s):
    return vacuum_thrust * sea_level_isp_s / (sea_level_thrust * vacuum_isp_s) - 1.0


@relation(
    kernel=_figures_disagreement,
    symbol="δ",
    words="disagreement of the engine's figures",
    unit="",
    letters={
        "vacuum_thrust": _VACUUM,
        "sea_level_thrust": _SEA,
        "vacuum_isp_s": Letter("Isp_vac", "specific impulse in vacuum", "s", 100.0, 500.0),
        "sea_level_isp_s": Letter("Isp_sl", "specific impulse at sea level", "s", 100.0, 500.0),
    },
    source="same propellant flow at both pressures; definition of specific impulse",
)
def figures_disagreement(
    vacuum_thrust: float, sea_level_thrust: float, vacuum_isp_s: float, sea_level_isp_s: float
) -> float:
    """Ratio of the thrusts over ratio of the specific impulses, less one: 0 when the four figures agree.

    vacuum_thrust, sea_level_thrust  [N]
    vacuum_isp_s, sea_level_isp_s    [s]

    Published figures, rounded or of different builds, differ by up to a percent or so (common practice).
    Raises ValueError for an argument not above zero.

    >>> round(figures_disagreement(2_278_800.0, 1_859_400.0, 452.3, 366.0), 4)
    -0.0083
    """
    above_zero(
        vacuum_thrust=vacuum_thrust,
        sea_level_thrust=sea_level_thrust,
        vacuum_isp_s=vacuum_isp_s,
        sea_level_isp_s=sea_level_isp_s,
    )
    return _figures_disagreement(vacuum_thrust, sea_level_thrust, vacuum_isp_s, sea_level_isp_s)


# ── all figures from those known ─────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Engine:
    """An engine at full flow, as the flight needs it; also the sum of several."""

    vacuum_thrust: float  # N
    mass_flow: float  # kg/s
    exit_area: float  # m²
    disagreement: float = 0.0  # of four stated figures, see `figures_disagreement`

    @property
    def vacuum_exhaust_speed(self) -> float:
        """Effective exhaust speed in vacuum [m/s]."""
        return self.vacuum_thrust / self.mass_flow

    @property
    def vacuum_isp_s(self) -> float:
        """Specific impulse in vacuum [s]."""
        return self.vacuum_exhaust_speed / STANDARD_GRAVITY

    def thrust(self, ambient_pressure: float) -> float:
        """Thrust at an outside pressure [Pa], while the nozzle flows full [N]."""
        return self.vacuum_thrust - ambient_pressure * self.exit_area

    def isp_s(self, ambient_pressure: float) -> float:
        """Specific impulse at an outside pressure [Pa] [s]."""
        return self.thrust(ambient_pressure) / (self.mass_flow * STANDARD_GRAVITY)


def engine(
    *,
    vacuum_thrust: float | None = None,
    sea_level_thrust: float | None = None,
    vacuum_isp_s: float | None = None,
    sea_level_isp_s: float | None = None,
    exit_area: float | None = None,
    pressure: float = SEA_LEVEL_PRESSURE,
) -> Engine:
    """An engine from the figures that are known.

    vacuum_thrust, sea_level_thrust  [N]
    vacuum_isp_s, sea_level_isp_s    [s]
    exit_area                        [m²]
    pressure                         of the air at sea level  [Pa]

    Needed are a thrust, a specific impulse, and a third figure that says what the air costs: the other
    thrust, the other specific impulse, or the exit area.  A vacuum thrust and a vacuum specific impulse
    alone make an engine for vacuum (no exit area).  When both thrusts and both specific impulses are stated
    the thrusts and the vacuum impulse rule, and `disagreement` says how far the fourth is off.
    Raises ValueError naming what is missing, or figures by which the air would help.

    >>> made = engine(sea_level_thrust=210e3, sea_level_isp_s=309.0, vacuum_isp_s=341.0)
    >>> round(made.vacuum_thrust), round(made.exit_area, 4), round(made.mass_flow, 2)
    (231748, 0.2146, 69.3)
    """
    stated = {
        "vacuum_thrust": vacuum_thrust,
        "sea_level_thrust": sea_level_thrust,
        "vacuum_isp_s": vacuum_isp_s,
        "sea_level_isp_s": sea_level_isp_s,
    }
    above_zero(pressure=pressure, **{name: value for name, value in stated.items() if value is not None})
    if exit_area is not None:
        not_negative(exit_area=exit_area)
    lost = None if exit_area is None else pressure * exit_area
    if exit_area is not None and vacuum_thrust and vacuum_isp_s and not (sea_level_thrust or sea_level_isp_s):
        # a large bell made for vacuum: what it would do at sea level need not be above zero
        flow = vacuum_thrust / (vacuum_isp_s * STANDARD_GRAVITY)
        return Engine(vacuum_thrust=vacuum_thrust, mass_flow=flow, exit_area=exit_area)
    ratio = None  # of vacuum to sea level, thrust and specific impulse alike
    if vacuum_thrust and sea_level_thrust:
        ratio = vacuum_thrust / sea_level_thrust
    elif vacuum_isp_s and sea_level_isp_s:
        ratio = vacuum_isp_s / sea_level_isp_s
    elif lost is not None and vacuum_thrust:
        ratio = vacuum_thrust / (vacuum_thrust - lost) if lost < vacuum_thrust else math.inf
    elif lost is not None and sea_level_thrust:
        ratio = (sea_level_thrust + lost) / sea_level_thrust
    elif vacuum_thrust and vacuum_isp_s:
        ratio = 1.0
    if ratio is None or not (vacuum_thrust or sea_level_thrust) or not (vacuum_isp_s or sea_level_isp_s):
        raise ValueError(
            "an engine needs a thrust, a specific impulse and one more figure of thrust, specific impulse or "
            f"exit area, got {', '.join(name for name, value in stated.items() if value) or 'none'}"
            f"{' and exit_area' if exit_area is not None else ''}"
        )
    if not 1.0 <= ratio < math.inf:
        raise ValueError(
            "figures in vacuum must not be below those at sea level, and these must be above 0: "
            f"got a ratio of vacuum to sea level of {ratio:.6g}"
        )
    if vacuum_thrust is None:
        assert sea_level_thrust is not None
        vacuum_thrust = sea_level_thrust * ratio
    off = 0.0
    if sea_level_thrust and vacuum_isp_s and sea_level_isp_s:
        off = ratio * sea_level_isp_s / vacuum_isp_s - 1.0
    if vacuum_isp_s is None:
        assert sea_level_isp_s is not None
        vacuum_isp_s = sea_level_isp_s * ratio
    return Engine(
        vacuum_thrust=vacuum_thrust,
        mass_flow=vacuum_thrust / (vacuum_isp_s * STANDARD_GRAVITY),
        exit_area=vacuum_thrust * (1.0 - 1.0 / ratio) / pressure,
        disagreement=off,
    )


def cluster(engines: Iterable[tuple[Engine, float]]) -> Engine:
    """Engines burning together: sums of thrust, flow and exit area.

    engines  pairs of an engine and how many of it (a part of one for a throttled engine)

    Raises ValueError when there is none, or a count is not above zero.

    >>> one = Engine(vacuum_thrust=100e3, mass_flow=30.0, exit_area=0.1)
    >>> cluster([(one, 7)]).mass_flow
    210.0
    """
    pairs = list(engines)
    if not pairs:
        raise ValueError("a cluster needs at least one engine, got none")
    for _, count in pairs:
        above_zero(count=count)
    return Engine(
        vacuum_thrust=sum(made.vacuum_thrust * count for made, count in pairs),
        mass_flow=sum(made.mass_flow * count for made, count in pairs),
        exit_area=sum(made.exit_area * count for made, count in pairs),
    )
