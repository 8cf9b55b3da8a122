"""The vehicle itself beside the way: what still flies, tanks filled by what is left, a flame while it burns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from wetmass.lesson.drawing.shapes import Shape, fairing, hulls, inside
from wetmass.lesson.drawing.staging import Parting, partings
from wetmass.lesson.drawing.whole import extent
from wetmass.lesson.film.bodies import Body
from wetmass.lesson.look import propellant_colour
from wetmass.lesson.words import said
from wetmass.record.flight import Flight
from wetmass.record.geometry import Geometry
from wetmass.record.vehicle import Vehicle


@dataclass(frozen=True)
class Stack:
    """A flight's vehicle through time."""

    geometry: Geometry
    vehicle: Vehicle
    flight: Flight

    @cached_property
    def partings(self) -> list[Parting]:
        """When what is let go."""
        return partings(self.geometry, self.vehicle, self.flight)

    @cached_property
    def _size(self) -> tuple[float, float]:
        shell = fairing(self.geometry)
        every = [*hulls(self.geometry, self.vehicle), *([shell] if shell else [])]
        left, right, _, top = extent([*every, *inside(self.geometry, self.vehicle)])
        return right - left, top

    def _now(self, time: float) -> tuple[tuple[str, ...], bool]:
        """(stages gone, whether the fairing is still on)."""
        gone: tuple[str, ...] = ()
        on = self.geometry.fairing is not None
        for one in self.partings[1:]:
            if one.time <= time:
                gone = (*gone, *one.leaves)
                on = on and one.shell != "leaves"
        return gone, on

    def working(self, time: float) -> str:
        """The stage at work, in words."""
        number = round(Body("", self.flight.trajectory).value("stage", time))
        name = self.vehicle.stages[min(max(number, 1), len(self.vehicle.stages)) - 1].name
        return said("film/stage", part=name)

    @cached_property
    def _burnt(self) -> dict[str, tuple[list[float], list[float]]]:
        """By stage: moments, and the share of its load that is left then."""
        track = self.flight.trajectory
        times, masses, at_work = track["time"], track["mass"], track["stage"]
        made: dict[str, tuple[list[float], list[float]]] = {}
        for number, stage in enumerate(self.vehicle.stages, 1):
            load = max(stage.propellant.load, 1e-9)
            strapped = {one.stage.name: one for one in self.vehicle.strap_ons if one.beside == number - 1}
            together = load + sum(one.count * one.stage.propellant.load for one in strapped.values())
            moments, left, used = [0.0], [1.0], 0.0
            for i in range(1, len(times)):
                flowed = masses[i - 1] - masses[i]
                alike = round(at_work[i]) == number == round(at_work[i - 1])  # else something is let go
                if alike and times[i] > times[i - 1] and flowed > 0.0:
                    moments.append(float(times[i - 1]))
                    left.append(left[-1])
                    used += float(flowed)
                    moments.append(float(times[i]))
                    left.append(max(0.0, 1.0 - used / together))
            made[stage.name] = (moments, left)
            for name in strapped:
                made[name] = self._strapped(name)
        return made

    def _strapped(self, name: str) -> tuple[list[float], list[float]]:
        out = next((e.time for e in self.flight.events if e.what.startswith(f"{name} burn")), None)
        return [0.0, out or self.flight.duration], [1.0, 0.0]

    def left(self, stage: str, time: float) -> float:
        """Share of a stage's load still aboard."""
        import numpy as np

        moments, shares = self._burnt.get(stage, ([0.0], [1.0]))
        return float(np.interp(time, moments, shares))

    def at(
        self, time: float, x: float, foot: float, high: float, wide: float, look: Mapping[str, str]
    ) -> str:  # fmt: skip
        """The picture: what flies now, cut open, standing where it stood on the pad."""
        across, top = self._size
        scale = min(high / top, wide / across)
        gone, shell_on = self._now(time)
        names = [one.name for one in self.geometry.stages if one.name not in gone]
        made = [self._flame(time, names, x, foot, scale, look)]
        for shape in inside(self.geometry, self.vehicle, names):
            made.append(
                _path(shape.points, x, foot, scale, look["gas" if shape.tank else "metal"], look["edge"])
            )
            if shape.tank is None:
                continue
            low = min(z for _, z in shape.points)
            level = low + self.left(shape.stage, time) * (shape.level - low)
            liquid = replace(shape, level=level).liquid
            if len(liquid) > 2:
                colour = look[propellant_colour(shape.tank.holds)]
                made.append(_path(liquid, x, foot, scale, colour, "none"))
            made.append(_path(shape.points, x, foot, scale, "none", look["line"]))
        skins: list[Shape] = list(hulls(self.geometry, self.vehicle, names))
        shell = fairing(self.geometry)
        if shell is not None and shell_on:
            skins.append(shell)
        made += [_path(one.points, x, foot, scale, "none", look["line"]) for one in skins]
        return "".join(made)

    def _flame(
        self, time: float, names: list[str], x: float, foot: float, scale: float, look: Mapping[str, str]
    ) -> str:
        body = Body("", self.flight.trajectory)
        thrust, most = body.value("thrust", time), float(self.flight.trajectory["thrust"].max())
        lit = [one for one in self.geometry.stages if one.name in names and one.engines]
        if thrust <= 0.0 or not lit or time > body.ends:
            return ""
        lowest = min(lit, key=lambda one: one.foot)
        strength = (thrust / most) ** 0.25
        half = 0.5 * max(lowest.engines_across, 0.3 * lowest.diameter)
        long = 0.09 * self._size[1] * strength * (1.0 + 0.06 * ((time * 7.3) % 1.0))
        z = lowest.foot
        points = [
            (-half, z), (half, z), (0.55 * half, z - 0.6 * long), (0.0, z - long), (-0.55 * half, z - 0.6 * long)
        ]  # fmt: skip
        return _path(points, x, foot, scale, look["two"], "none", 0.8)


def _path(
    points: object, x: float, foot: float, scale: float, fill: str, stroke: str, opacity: float = 1.0
) -> str:  # fmt: skip
    path = "L".join(f"{x + a * scale:.1f} {foot - b * scale:.1f}" for a, b in points)  # type: ignore[attr-defined]
    return (
        f'<path d="M{path}Z" fill="{fill}" stroke="{stroke}" stroke-width="1.6" stroke-linejoin="round" '
        f'fill-opacity="{opacity}"/>'
    )
