"""Nuclear thermal engines: reactor power, start-up, and the propellant that cools the core afterwards.

Concept figures only.  A reactor is a matter for licensed bodies and national law; nothing here treats
radiation, criticality or launch safety.
"""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation

CAUTION = (
    "Nuclear figures are concept figures: radiation, criticality and launch safety are not treated here and "
    "belong to licensed bodies and national law."
)
WAY_WIGNER = (
    "Way-Wigner formula, 0.0622·P·(t^−0.2 − (t + T)^−0.2), as quoted in a public answer "
    "(physics.stackexchange.com/questions/622966); rough, from seconds to weeks"
)
JET_SHARE = 0.87  # jet power over thermal power, from memory: 334 kN at 825 s from about 1570 MW
_MEMORY = "agency summaries and reference architectures, from memory"


@dataclass(frozen=True, slots=True)
class NuclearEngine:
    """A nuclear thermal engine built, tested or designed."""

    name: str
    thrust: float  # N
    isp: tuple[float, float]  # s, in vacuum unless noted
    thrust_to_weight: tuple[float, float] | None
    note: str
    source: str = _MEMORY
    status: str = "from memory"


NUCLEAR_ENGINES: dict[str, NuclearEngine] = {
    row.name: row
    for row in (
        NuclearEngine("XE-Prime", 247e3, (710.0, 710.0), None, "ground test, ground nozzle"),
        NuclearEngine("NERVA flight design", 334e3, (825.0, 825.0), (1.8, 3.0), "design"),
        NuclearEngine("small nuclear rocket engine", 73e3, (875.0, 875.0), (2.9, 2.9), "design"),
        NuclearEngine("Pewee class, 25 klbf", 111e3, (900.0, 910.0), (3.4, 3.5), "Mars architecture 5.0"),
        NuclearEngine("particle bed", 196e3, (930.0, 1000.0), (20.0, 30.0), "goal, never reached"),
        NuclearEngine("RD-0410", 35.3e3, (910.0, 910.0), (1.8, 1.8), "ground test"),
    )
}


@kernel
def _thermal_power(thrust, exhaust_speed, jet_share):
    return thrust * exhaust_speed / (2.0 * jet_share)


@relation(
    kernel=_thermal_power,
    symbol="P",
    words="thermal power of the reactor",
    unit="W",
    letters={
        "thrust": Letter("F", "thrust", "N", 1e4, 2e6),
        "exhaust_speed": Letter("c", "effective exhaust speed", "m/s", 6000.0, 10_000.0),
        "jet_share": Letter("η", "jet power over thermal power", "", 0.7, 1.0),
    },
    source="definition of jet power, F·c/2; share 0.87 from memory",
)
def thermal_power(thrust: float, exhaust_speed: float, jet_share: float = JET_SHARE) -> float:
    """Thermal power a nuclear engine needs, P = F·c/(2·η) [W].

    thrust         in vacuum                                   [N]
    exhaust_speed  effective, Isp·g₀                           [m/s]
    jet_share      jet power over thermal power, up to 1       [-]

    >>> round(thermal_power(334e3, 825 * 9.80665) / 1e6)
    1553
    """
    above_zero(thrust=thrust, exhaust_speed=exhaust_speed)
    if not 0.0 < jet_share <= 1.0:
        raise ValueError(f"jet_share must lie above 0 and at most 1, got {jet_share}")
    return _thermal_power(thrust, exhaust_speed, jet_share)


@kernel
def _decay_power(power, run_time, since):
    return 0.0622 * power * (since**-0.2 - (since + run_time) ** -0.2)


@relation(
    kernel=_decay_power,
    symbol="P_d",
    words="decay heat after shut-down",
    unit="W",
    letters={
        "power": Letter("P", "thermal power while running", "W", 1e7, 1e10),
        "run_time": Letter("T", "time the reactor ran", "s", 10.0, 1e4),
        "since": Letter("t", "time since shut-down", "s", 1.0, 1e6),
    },
    source=WAY_WIGNER,
)
def decay_power(power: float, run_time: float, since: float) -> float:
    """Heat a core still makes, P_d = 0.0622·P·(t^−0.2 − (t + T)^−0.2) [W].

    power     thermal, while running        [W]
    run_time  at that power                 [s]
    since     time since shut-down, 1 s on  [s]

    Source: Way-Wigner formula.

    >>> round(decay_power(1e9, 1800.0, 100.0) / 1e6, 1)
    11.0
    """
    above_zero(power=power, run_time=run_time)
    if not 1.0 <= since < 1e9:
        raise ValueError(f"since must be 1 s or more after shut-down (and below 1e9 s), got {since} s")
    return _decay_power(power, run_time, since)


@kernel
def _decay_energy(power, run_time, start, end):
    return (
        0.0622 / 0.8 * power * (end**0.8 - start**0.8 - (end + run_time) ** 0.8 + (start + run_time) ** 0.8)
    )


@relation(
    kernel=_decay_energy,
    symbol="E_d",
    words="decay heat made in a time after shut-down",
    unit="J",
    letters={
        "power": Letter("P", "thermal power while running", "W", 1e7, 1e10),
        "run_time": Letter("T", "time the reactor ran", "s", 10.0, 1e4),
        "start": Letter("t₁", "time since shut-down at the start", "s", 1.0, 100.0),
        "end": Letter("t₂", "time since shut-down at the end", "s", 200.0, 1e6),
    },
    source=WAY_WIGNER + ", integrated",
)
def decay_energy(power: float, run_time: float, start: float, end: float) -> float:
    """Heat a core makes between two times after shut-down, ∫P_d dt [J].

    power, run_time  as for `decay_power`
    start, end       times since shut-down, 1 s on, rising  [s]

    >>> round(decay_energy(1e9, 1800.0, 1.0, 1e5) / 1e9, 1)
    20.0
    """
    decay_power(power, run_time, start)
    if not start < end < 1e9:
        raise ValueError(f"end must come after start ({start} s), got {end} s")
    return _decay_energy(power, run_time, start, end)


@dataclass(frozen=True, slots=True)
class Transient:
    """Propellant spent outside steady running, and what it gives."""

    propellant: float  # kg
    impulse: float  # N·s
    duration: float  # s
    source: str


def start_up(thrust: float, exhaust_speed: float, duration: float, speed_share: float = 0.75) -> Transient:
    """Start of a nuclear engine: flow rises evenly from nothing, the exhaust speed lags [record].

    thrust         steady, in vacuum                                            [N]
    exhaust_speed  steady                                                       [m/s]
    duration       until full thrust; 20 to 60 s in ground tests, from memory   [s]
    speed_share    mean exhaust speed of the gas spent over the steady one; 0.75 is from memory  [-]
    """
    above_zero(thrust=thrust, exhaust_speed=exhaust_speed)
    not_negative(duration=duration)
    if not 0.0 < speed_share <= 1.0:
        raise ValueError(f"speed_share must lie above 0 and at most 1, got {speed_share}")
    propellant = thrust / exhaust_speed * duration / 2.0
    return Transient(
        propellant, propellant * speed_share * exhaust_speed, duration, "even ramp; share from memory"
    )


def cool_down(
    power: float,
    run_time: float,
    *,
    residual_power: float,
    exhaust_speed: float = 4000.0,
    jet_share: float = JET_SHARE,
) -> Transient:
    """Propellant led through the core after shut-down, until it can radiate what is left [record].

    power           thermal, while running                                                  [W]
    run_time        at that power                                                           [s]
    residual_power  decay heat that needs no more propellant                                [W]
    exhaust_speed   mean of the cooling gas; about half the steady one, from memory         [m/s]
    jet_share       jet power over heat taken up                                            [-]

    Every joule of decay heat from 1 s on goes into the gas: m = 2·η·E/c².  Raises ValueError when the core
    is not down to `residual_power` after a year.

    >>> cooled = cool_down(1.55e9, 1800.0, residual_power=5e5)
    >>> round(cooled.propellant), round(cooled.duration / 3600, 1)
    (2314, 2.8)
    """
    above_zero(power=power, run_time=run_time, residual_power=residual_power, exhaust_speed=exhaust_speed)
    if not 0.0 < jet_share <= 1.0:
        raise ValueError(f"jet_share must lie above 0 and at most 1, got {jet_share}")
    if decay_power(power, run_time, 1.0) <= residual_power:
        return Transient(0.0, 0.0, 0.0, WAY_WIGNER)
    low, high = 1.0, 3.2e7
    if decay_power(power, run_time, high) > residual_power:
        raise ValueError(
            f"residual_power: the core still makes more than {residual_power:g} W a year after shut-down; "
            "allow more or cool it another way"
        )
    for _ in range(200):
        middle = (low * high) ** 0.5
        if decay_power(power, run_time, middle) > residual_power:
            low = middle
        else:
            high = middle
    energy = decay_energy(power, run_time, 1.0, max(high, 1.0 + 1e-6))
    propellant = 2.0 * jet_share * energy / exhaust_speed**2
    return Transient(propellant, propellant * exhaust_speed, high, WAY_WIGNER)
