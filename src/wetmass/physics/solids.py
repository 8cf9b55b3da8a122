"""Solid motors: burning rate, grain mass flow, chamber pressure, and the thrust trace."""

from __future__ import annotations

import bisect
import itertools
import math
from dataclasses import dataclass

from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation

BRAEUNIG = (
    "R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, solid motors, "
    "http://www.braeunig.us/space/propuls.htm"
)
_RATE = ("r", "burning rate", "m/s", 0.001, 0.05)
_DENSITY = ("ρ", "density of the propellant", "kg/m³", 1500.0, 1900.0)


@kernel
def _burning_rate(coefficient, exponent, pressure):
    return 1e-3 * coefficient * (pressure / 1e6) ** exponent


@relation(
    kernel=_burning_rate,
    symbol="r",
    words="burning rate",
    unit="m/s",
    letters={
        "coefficient": Letter("a", "burning rate at 1 MPa", "mm/s", 1.0, 20.0),
        "exponent": Letter("n", "pressure exponent", "", 0.0, 0.8),
        "pressure": Letter("p", "pressure in the chamber", "Pa", 5e5, 2e7),
    },
    source=BRAEUNIG,
)
def burning_rate(coefficient: float, exponent: float, pressure: float) -> float:
    """How fast the surface recedes, r = a·(p/1 MPa)ⁿ [m/s].

    coefficient  rate at 1 MPa, in mm/s as published      [mm/s]
    exponent     0 up to, but not reaching, 1             [-]
    pressure     in the chamber                           [Pa]

    At an exponent of 1 a motor has no steady pressure; ValueError from there on.

    >>> round(1e3 * burning_rate(5.5, 0.4, 5e6), 2)
    10.47
    """
    above_zero(coefficient=coefficient, pressure=pressure)
    if not 0.0 <= exponent < 1.0:
        raise ValueError(
            f"exponent must be 0 or more and below 1 (no steady pressure beyond), got {exponent}"
        )
    return _burning_rate(coefficient, exponent, pressure)


@kernel
def _grain_flow(rate, area, density):
    return rate * area * density


@relation(
    kernel=_grain_flow,
    symbol="ṁ",
    words="gas made by the grain",
    unit="kg/s",
    letters={
        "rate": Letter(*_RATE),
        "area": Letter("A_b", "burning surface", "m²", 0.01, 300.0),
        "density": Letter(*_DENSITY),
    },
    source=BRAEUNIG,
)
def grain_flow(rate: float, area: float, density: float) -> float:
    """Gas a grain gives, ṁ = r·A_b·ρ [kg/s].

    rate     burning rate        [m/s]
    area     burning surface     [m²]
    density  of the propellant   [kg/m³]

    >>> round(grain_flow(0.01047, 31.416, 1700.0))
    559
    """
    above_zero(rate=rate, area=area, density=density)
    return _grain_flow(rate, area, density)


@kernel
def _steady_pressure(coefficient, exponent, density, characteristic_speed, area_ratio):
    per_pascal = 1e-3 * coefficient / 1e6**exponent
    return (per_pascal * density * characteristic_speed * area_ratio) ** (1.0 / (1.0 - exponent))


@relation(
    kernel=_steady_pressure,
    symbol="p",
    words="steady pressure in the chamber",
    unit="Pa",
    letters={
        "coefficient": Letter("a", "burning rate at 1 MPa", "mm/s", 1.0, 20.0),
        "exponent": Letter("n", "pressure exponent", "", 0.0, 0.6),
        "density": Letter(*_DENSITY),
        "characteristic_speed": Letter("c*", "characteristic speed", "m/s", 1400.0, 1650.0),
        "area_ratio": Letter("K", "burning surface over throat area", "", 100.0, 400.0),
    },
    source="balance of gas made, r·A_b·ρ, and gas passed, p·A_t/c*",
)
def steady_pressure(
    coefficient: float, exponent: float, density: float, characteristic_speed: float, area_ratio: float
) -> float:
    """Chamber pressure at which grain and throat agree, p = (a·ρ·c*·A_b/A_t)^(1/(1−n)) [Pa].

    coefficient           burning rate at 1 MPa             [mm/s]
    exponent              0 up to, but not reaching, 1      [-]
    density               of the propellant                 [kg/m³]
    characteristic_speed  of its gas                        [m/s]
    area_ratio            burning surface over throat area  [-]

    >>> round(steady_pressure(5.5, 0.4, 1700.0, 1550.0, 200.0) / 1e6, 2)
    5.89
    """
    above_zero(
        coefficient=coefficient,
        density=density,
        characteristic_speed=characteristic_speed,
        area_ratio=area_ratio,
    )
    if not 0.0 <= exponent < 1.0:
        raise ValueError(
            f"exponent must be 0 or more and below 1 (no steady pressure beyond), got {exponent}"
        )
    return _steady_pressure(coefficient, exponent, density, characteristic_speed, area_ratio)


def bore_surface(diameter: float, length: float) -> float:
    """Burning surface of a plain round bore, π·D·L [m²]; ends not burning.

    >>> round(bore_surface(1.0, 10.0), 3)
    31.416
    """
    above_zero(diameter=diameter, length=length)
    return math.pi * diameter * length


# ── thrust traces ────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class ThrustTrace:
    """Vacuum thrust against time since ignition, straight between the points, nothing outside them."""

    times: tuple[float, ...]  # s, rising
    thrusts: tuple[float, ...]  # N
    source: str = ""

    def __post_init__(self) -> None:
        if len(self.times) != len(self.thrusts) or len(self.times) < 2:
            raise ValueError(
                f"a thrust trace needs two or more points with a time and a thrust each, got "
                f"{len(self.times)} times and {len(self.thrusts)} thrusts"
            )
        for earlier, later in itertools.pairwise(self.times):
            if not earlier < later < math.inf:
                raise ValueError(f"times of a thrust trace must rise, got {earlier} s followed by {later} s")
        if not self.times[0] >= 0.0:
            raise ValueError(f"a thrust trace starts at ignition or after, got {self.times[0]} s")
        not_negative(**{f"thrust at {t} s": f for t, f in zip(self.times, self.thrusts, strict=True)})
        if not max(self.thrusts) > 0.0:
            raise ValueError("a thrust trace needs thrust somewhere, got 0 N throughout")

    @property
    def burn_time(self) -> float:
        """From the first to the last point [s]."""
        return self.times[-1] - self.times[0]

    @property
    def total_impulse(self) -> float:
        """∫F dt, exact for the straight pieces [N·s]."""
        points = list(zip(self.times, self.thrusts, strict=True))
        return math.fsum((b - a) * (f + g) / 2.0 for (a, f), (b, g) in itertools.pairwise(points))

    @property
    def mean_thrust(self) -> float:
        """Total impulse over burn time [N]."""
        return self.total_impulse / self.burn_time

    @property
    def peak_thrust(self) -> float:
        return max(self.thrusts)

    def thrust(self, time: float) -> float:
        """Thrust at a time since ignition [N], 0 before the first and after the last point."""
        if not self.times[0] <= time <= self.times[-1]:
            return 0.0
        i = min(bisect.bisect_right(self.times, time), len(self.times) - 1)
        t0, t1, f0, f1 = self.times[i - 1], self.times[i], self.thrusts[i - 1], self.thrusts[i]
        return f0 + (f1 - f0) * (time - t0) / (t1 - t0)

    def impulse(self, time: float) -> float:
        """Impulse given up to a time since ignition [N·s]."""
        if time <= self.times[0]:
            return 0.0
        if time >= self.times[-1]:
            return self.total_impulse
        kept = [(t, f) for t, f in zip(self.times, self.thrusts, strict=True) if t < time]
        kept.append((time, self.thrust(time)))
        return math.fsum((b - a) * (f + g) / 2.0 for (a, f), (b, g) in itertools.pairwise(kept))

    def with_total_impulse(self, total_impulse: float) -> ThrustTrace:
        """The same shape and duration with thrusts scaled to a total impulse [N·s]."""
        above_zero(total_impulse=total_impulse)
        factor = total_impulse / self.total_impulse
        return ThrustTrace(self.times, tuple(factor * f for f in self.thrusts), self.source)

    def lasting(self, burn_time: float) -> ThrustTrace:
        """The same shape and total impulse over another burn time [s]."""
        above_zero(burn_time=burn_time)
        factor = burn_time / self.burn_time
        start = self.times[0]
        return ThrustTrace(
            tuple(start + factor * (t - start) for t in self.times),
            tuple(f / factor for f in self.thrusts),
            self.source,
        )

    def propellant(self, exhaust_speed: float) -> float:
        """Propellant burnt at a constant effective exhaust speed in vacuum [kg]."""
        above_zero(exhaust_speed=exhaust_speed)
        return self.total_impulse / exhaust_speed


_SHAPES = "our own sketch of the shape a grain of that kind gives, total impulse 1 in 1 s"
SHAPES: dict[str, ThrustTrace] = {
    name: ThrustTrace(times, thrusts, _SHAPES).with_total_impulse(1.0)
    for name, times, thrusts in (
        ("neutral", (0.0, 0.02, 0.92, 1.0), (0.0, 1.0, 1.0, 0.0)),
        ("progressive", (0.0, 0.02, 0.92, 1.0), (0.0, 0.7, 1.3, 0.0)),
        ("regressive", (0.0, 0.02, 0.92, 1.0), (0.0, 1.3, 0.7, 0.0)),
        ("saddle", (0.0, 0.02, 0.20, 0.50, 0.75, 0.92, 1.0), (0.0, 1.1, 1.15, 0.85, 1.0, 0.8, 0.0)),
    )
}


def shaped_trace(shape: str, total_impulse: float, burn_time: float) -> ThrustTrace:
    """A thrust trace of a named shape: "neutral", "progressive", "regressive" or "saddle".

    A saddle eases off in mid-burn, where the air presses hardest.

    >>> trace = shaped_trace("saddle", 1e8, 110.0)
    >>> round(trace.mean_thrust), trace.burn_time
    (909091, 110.0)
    """
    if shape not in SHAPES:
        raise ValueError(f"shape: got {shape!r}; known are {', '.join(SHAPES)}. Or give times and thrusts")
    return SHAPES[shape].lasting(burn_time).with_total_impulse(total_impulse)
