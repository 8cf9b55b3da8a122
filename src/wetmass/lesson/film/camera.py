"""How much of the way is seen at each moment: from near the pad at first, farther and farther off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.lesson.film.bodies import Body, Point

LEAST = 14.0  # km across, at first
LEAD = 0.03  # of the whole time that it looks ahead, so that nothing leaves the picture
ROOM = 1.28  # of the picture over what is in it


@dataclass(frozen=True, slots=True)
class Camera:
    """A window on the way: its middle [km] and the kilometres that a unit of the picture stands for."""

    middle: Point
    scale: float  # units of the picture a kilometre
    wide: float
    high: float

    def seen(self, place: Point) -> Point:
        """A place [km] in the window, y downwards."""
        return (
            self.wide / 2.0 + (place[0] - self.middle[0]) * self.scale,
            self.high / 2.0 - (place[1] - self.middle[1]) * self.scale,
        )


def camera(tracks: Sequence[Body], time: float, until: float, wide: float, high: float) -> Camera:
    """The window that holds all that was flown so far and a little ahead, the pad in it."""
    ahead = min(time + LEAD * until, until)
    points = [(0.0, 0.0)]
    for one in tracks:
        if one.begins <= ahead:
            points += one.way(ahead)
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, top = min(y for _, y in points), max(y for _, y in points)
    across = max(ROOM * (right - left), ROOM * (top - low) * wide / high, LEAST)
    # the ground stays below while it is near; the middle moves on smoothly, as its parts do
    tall = across * high / wide
    middle = (left + right) / 2.0, max((low + top) / 2.0, low + 0.36 * tall)
    return Camera(middle, wide / across, wide, high)
