"""Stages on stages: ideal speed gain of a stack, and the best split of a speed gain between its stages.

Ideal: no gravity, no air.  Structural fraction is dry over dry and propellant of the stage.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.physics.pattern import above_zero, not_negative
from wetmass.physics.rocket import ideal_speed_gain


@dataclass(frozen=True, slots=True)
class Burn:
    """One stage of a stack, from its ignition to its burn-out."""

    start_mass: float  # kg, all that flies
    end_mass: float  # kg, before anything is dropped
    speed_gain: float  # m/s, ideal


def burns(
    dry: Sequence[float],
    propellant: Sequence[float],
    exhaust_speed: Sequence[float],
    payload: float,
    dropped: Sequence[float] | None = None,
) -> tuple[Burn, ...]:
    """Ideal burns of a stack of stages, first stage first.

    dry            of each stage, dropped at its burn-out                        [kg]
    propellant     burnt by each stage                                           [kg]
    exhaust_speed  effective, of each stage                                      [m/s]
    payload        on top                                                        [kg]
    dropped        other mass each stage still carries and then drops, such as a
                   fairing; none by default                                      [kg]

    Raises ValueError when the rows are not of one length or a mass or speed is out of range.

    >>> [round(burn.speed_gain) for burn in burns([1000.0], [9000.0], [3000.0], 0.0)]
    [6908]
    """
    other = list(dropped) if dropped is not None else [0.0] * len(dry)
    count = len(dry)
    if count < 1 or not len(propellant) == len(exhaust_speed) == len(other) == count:
        raise ValueError(
            "dry, propellant, exhaust_speed and dropped must have one entry for each stage, got "
            f"{count}, {len(propellant)}, {len(exhaust_speed)} and {len(other)}"
        )
    not_negative(payload=payload)
    mass = payload
    found = []
    for stage in range(count - 1, -1, -1):
        not_negative(dry=dry[stage], propellant=propellant[stage], dropped=other[stage])
        end = mass + dry[stage] + other[stage]
        start = end + propellant[stage]
        above_zero(end_mass=end)
        found.append(Burn(start, end, ideal_speed_gain(exhaust_speed[stage], start, end)))
        mass = start
    return tuple(reversed(found))


@dataclass(frozen=True, slots=True)
class Split:
    """A speed gain divided between stages so that the payload fraction is greatest."""

    mass_ratios: tuple[float, ...]  # of each stage with all it carries, first stage first; 1 where not needed
    speed_gains: tuple[float, ...]  # m/s
    stage_fractions: tuple[float, ...]  # mass each stage carries over its mass at ignition with that
    payload_fraction: float  # payload over mass of the stack
    multiplier: float  # s/m, of Lagrange: relative payload lost for 1 m/s more

    def stages(self, payload: float, structural_fractions: Sequence[float]) -> list[tuple[float, float]]:
        """Dry mass and propellant of each stage under a payload [kg], first stage first."""
        above_zero(payload=payload)
        made = []
        on_top = payload
        pairs = list(zip(self.stage_fractions, structural_fractions, strict=True))
        for carried, fraction in reversed(pairs):
            stage = on_top * (1.0 / carried - 1.0)
            made.append((stage * fraction, stage * (1.0 - fraction)))
            on_top += stage
        return made[::-1]


def greatest_speed_gain(exhaust_speeds: Sequence[float], structural_fractions: Sequence[float]) -> float:
    """What a stack could reach with no payload at all and endless lower stages, Σ c·ln(1/ε) [m/s].

    >>> round(greatest_speed_gain([3000.0, 3000.0], [0.1, 0.1]))
    13816
    """
    _check(exhaust_speeds, structural_fractions)
    return sum(c * math.log(1.0 / e) for c, e in zip(exhaust_speeds, structural_fractions, strict=True))


def best_split(
    speed_gain: float, exhaust_speeds: Sequence[float], structural_fractions: Sequence[float]
) -> Split:
    """The split of an ideal speed gain between stages that carries the most payload.

    speed_gain            of the whole stack, ideal                        [m/s]
    exhaust_speeds        effective, of each stage, first stage first      [m/s]
    structural_fractions  dry over dry and propellant of each stage, 0 to 1

    With structural fractions that do not change with size.  In the logarithms of the mass ratios the
    payload is a concave function and the speed gain a straight one, so the one solution found is the best;
    a stage that would be better left out gets mass ratio 1.  The multiplier is found by halving an
    interval until it cannot be halved.
    Raises ValueError when the speed gain is at or past `greatest_speed_gain`, naming that limit.
    Source: Lagrange multiplier; H. D. Curtis, Orbital Mechanics for Engineering Students (from memory).

    >>> split = best_split(9000.0, [3000.0, 3000.0], [0.1, 0.1])
    >>> [round(gain) for gain in split.speed_gains], round(split.payload_fraction, 4)
    ([4500, 4500], 0.0187)
    """
    _check(exhaust_speeds, structural_fractions)
    not_negative(speed_gain=speed_gain)
    limit = greatest_speed_gain(exhaust_speeds, structural_fractions)
    if not speed_gain < limit:
        raise ValueError(
            f"speed_gain must be below {limit:.6g} m/s, the most these stages reach with no payload at all "
            f"(sum of c·ln(1/ε)), got {speed_gain:.6g} m/s"
        )
    pairs = list(zip(exhaust_speeds, structural_fractions, strict=True))

    def ratios(w: float) -> list[float]:
        # from 1/(1 − ε·R) = c/w; a smaller w, more speed
        return [max(1.0, (1.0 - w / c) / e) for c, e in pairs]

    low, high = 0.0, max(c * (1.0 - e) for c, e in pairs)
    while low < (w := 0.5 * (low + high)) < high:
        if sum(c * math.log(ratio) for (c, _), ratio in zip(pairs, ratios(w), strict=True)) > speed_gain:
            low = w
        else:
            high = w
    found = ratios(high)
    carried = [(1.0 - e * ratio) / (ratio * (1.0 - e)) for (_, e), ratio in zip(pairs, found, strict=True)]
    return Split(
        mass_ratios=tuple(found),
        speed_gains=tuple(c * math.log(ratio) for (c, _), ratio in zip(pairs, found, strict=True)),
        stage_fractions=tuple(carried),
        payload_fraction=math.prod(carried),
        multiplier=1.0 / high,
    )


def _check(exhaust_speeds: Sequence[float], structural_fractions: Sequence[float]) -> None:
    if not exhaust_speeds or len(exhaust_speeds) != len(structural_fractions):
        raise ValueError(
            "exhaust_speeds and structural_fractions must have one entry for each stage, got "
            f"{len(exhaust_speeds)} and {len(structural_fractions)}"
        )
    for speed, fraction in zip(exhaust_speeds, structural_fractions, strict=True):
        above_zero(exhaust_speed=speed, structural_fraction=fraction)
        if not fraction < 1.0:
            raise ValueError(f"structural_fraction must be below 1, got {fraction}")
