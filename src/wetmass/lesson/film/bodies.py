"""What moves in the film: the vehicle on its way up, and each stage on its way home."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.flight import Flight, Trajectory
from wetmass.record.homecoming import Homecoming

if TYPE_CHECKING:
    import numpy as np

EARTH = 6371.0  # km, mean radius: for the picture alone (IUGG)
Point = tuple[float, float]


@dataclass(frozen=True)
class Body:
    """One track, seen from the side: the plane of its way over the ground, the site at (0, 0), in km."""

    name: str
    track: Trajectory

    @property
    def begins(self) -> float:
        """First moment recorded [s]."""
        return float(self.track["time"][0])

    @property
    def ends(self) -> float:
        """Last moment recorded [s]."""
        return float(self.track["time"][-1])

    def value(self, key: str, time: float) -> float:
        """A column at a moment; its last value after the end."""
        import numpy as np

        return float(np.interp(time, self.track["time"], self.track[key]))

    @cached_property
    def _places(self) -> np.ndarray:
        import numpy as np

        out = self.track["downrange"] / 1e3 / EARTH
        radius = EARTH + self.track["height"] / 1e3
        return np.stack([radius * np.sin(out), radius * np.cos(out) - EARTH], axis=1)

    def place(self, time: float) -> Point:
        """Where it is [km]."""
        return at(self.value("downrange", time) / 1e3, self.value("height", time) / 1e3)

    def way(self, time: float) -> list[Point]:
        """Where it was until now [km]."""
        before = self.track["time"] <= time
        step = max(1, int(before.sum()) // 300)
        points = [(float(x), float(y)) for x, y in self._places[before][::step]]
        return [*points, self.place(min(max(time, self.begins), self.ends))]

    def felt(self, time: float) -> float:
        """Felt acceleration [g₀]."""
        return self.value("felt_acceleration", time) / STANDARD_GRAVITY


def at(out: float, high: float) -> Point:
    """A place so far along the ground and so high [km], seen from the side.

    >>> at(0.0, 10.0)
    (0.0, 10.0)
    """
    turn = out / EARTH
    return (EARTH + high) * math.sin(turn), (EARTH + high) * math.cos(turn) - EARTH


def bodies(flight: Flight, ways: tuple[Homecoming, ...]) -> tuple[Body, tuple[Body, ...]]:
    """(the vehicle, the stages that come down)."""
    up = Body(flight.vehicle.name, flight.trajectory)
    return up, tuple(Body(way.stage, way.trajectory) for way in ways)
