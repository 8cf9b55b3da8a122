"""One moment of the film as a picture."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from html import escape

from wetmass.lesson.drawing.marks import round_length
from wetmass.lesson.film.bodies import EARTH, Body, at
from wetmass.lesson.film.camera import Camera, camera
from wetmass.lesson.film.stack import Stack
from wetmass.lesson.words import said
from wetmass.record.digits import fixed
from wetmass.record.flight import Event
from wetmass.record.say import said as in_people_units

WIDE, HIGH = 1920.0, 1080.0
LEFT, TOP, ACROSS, TALL = 470.0, 215.0, 1400.0, 700.0  # of the scene
STACK_X, STACK_FOOT, STACK_HIGH, STACK_WIDE = 245.0, 915.0, 640.0, 330.0
_LINES = (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)  # km, heights that may be marked
_TOLD_FOR = 3.0  # s of the film that an event is told


@dataclass(frozen=True, slots=True)
class Scene:
    """All that is the same at every moment."""

    name: str
    up: Body
    home: tuple[Body, ...]
    events: tuple[Event, ...]  # of the way up, then of the ways home
    stack: Stack
    until: float  # s of the flight
    pace: float  # s of the flight a second of the film
    look: Mapping[str, str]

    def at(self, time: float) -> str:
        """The picture of one moment as SVG."""
        parts = [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE:.0f}" height="{HIGH:.0f}" '
            f"viewBox='0 0 {WIDE:.0f} {HIGH:.0f}' font-family=\"'Source Sans 3', 'STIX Two Math'\">",
            f'<rect width="{WIDE:.0f}" height="{HIGH:.0f}" fill="{self.look["paper"]}"/>',
            self._sky(time),
            self.stack.at(time, STACK_X, STACK_FOOT, STACK_HIGH, STACK_WIDE, self.look),
            self._told(time),
            self._clock(time),
            "</svg>",
        ]
        return "".join(parts)

    # ── the way, from the side and to scale ──────────────────────────────────────────────────────

    def _sky(self, time: float) -> str:
        seen = camera((self.up, *self.home), time, self.until, ACROSS, TALL)
        look = self.look
        parts = [
            f'<svg x="{LEFT}" y="{TOP}" width="{ACROSS}" height="{TALL}" viewBox="0 0 {ACROSS} {TALL}">',
            f'<rect width="{ACROSS}" height="{TALL}" fill="{look["card"]}"/>',
        ]
        for height in range(100, 0, -10):  # thicker towards the ground
            parts.append(
                f'<path d="{_shell(seen, float(height))}" fill="{look["one"]}" fill-opacity="0.045"/>'
            )
        parts.append(f'<path d="{_shell(seen, 0.0)}" fill="{look["land"]}"/>')
        parts += self._heights(seen)
        for one, colour in ((self.up, "two"), *((body, "three") for body in self.home)):
            if time >= one.begins:
                parts.append(self._body(seen, one, time, look[colour]))
        parts.append(self._bar(seen))
        return "".join((*parts, "</svg>"))

    def _heights(self, seen: Camera) -> list[str]:
        tall = seen.high / seen.scale
        fit = [one for one in _LINES if 0.1 * tall < one < 1.1 * tall][:3]
        made = []
        for height in fit:
            line = _arc(seen, height)
            made.append(
                f'<path d="M{_joined(line)}" fill="none" stroke="{self.look["hair"]}" stroke-width="1.5" '
                'stroke-dasharray="2 7"/>'
            )
            x = seen.wide - 16.0
            y = min(line, key=lambda point: abs(point[0] - x))[1]
            if 30.0 < y < seen.high - 20.0:
                made.append(_text(x, y - 9.0, f"{height:g} km", 22, self.look["quiet"], "end"))
        return made

    def _body(self, seen: Camera, one: Body, time: float, colour: str) -> str:
        way = [seen.seen(place) for place in one.way(min(time, one.ends))]
        x, y = way[-1]
        burning = one.value("thrust", min(time, one.ends)) > 0.0 and time < one.ends
        made = [
            f'<path d="M{_joined(way)}" fill="none" stroke="{colour}" stroke-width="4" stroke-linejoin="round" '
            'stroke-linecap="round"/>'
        ]
        if burning:
            made.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="15" fill="{colour}" fill-opacity="0.35"/>')
        made.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7.5" fill="{self.look["ink"]}"/>')
        if one is not self.up:
            height, speed = one.value("height", time), one.value("air_speed", time)
            words = f"{one.name}: {in_people_units(height, 'm', 3)}, {fixed(speed)} m/s"
            if time >= one.ends:
                words = said("film/down", part=one.name)
            side = "end" if x > seen.wide - 340.0 else "start"
            below = y + 44.0 if y < seen.high - 70.0 else y - 26.0
            made.append(_text(x + (-14 if side == "end" else 14), below, words, 26, colour, side))
        return "".join(made)

    def _bar(self, seen: Camera) -> str:
        length = round_length(220.0 / seen.scale * 1e3)
        long = length / 1e3 * seen.scale
        x, y = 24.0, seen.high - 30.0
        return (
            f'<path d="M{x} {y - 9}V{y}H{x + long:.1f}V{y - 9}" fill="none" stroke="{self.look["ink"]}" '
            f'stroke-width="2.5"/>{_text(x + long + 14.0, y + 3.0, in_people_units(length, "m"), 24, self.look["ink"])}'
        )

    # ── numbers and words ────────────────────────────────────────────────────────────────────────

    def _told(self, time: float) -> str:
        up, look = self.up, self.look
        now = min(time, up.ends)
        speed = up.value("air_speed", now)
        shown = (
            ("film/height", in_people_units(up.value("height", now), "m", 3)),
            ("film/speed", f"{fixed(speed)} m/s"),
            ("film/felt", f"{fixed(up.felt(now), 1)} g₀"),
            ("film/pressure", f"{fixed(up.value('dynamic_pressure', now) / 1e3, 1)} kPa"),
            ("film/mass", in_people_units(up.value("mass", now), "kg", 3)),
        )
        made = [_text(70.0, 110.0, self.name, 54, look["ink"], weight=600)]
        for i, (key, value) in enumerate(shown):
            x = LEFT + i * 285.0
            made.append(_text(x, 112.0, value, 50, look["ink" if time <= up.ends else "quiet"], weight=600))
            made.append(_text(x, 152.0, said(key), 25, look["quiet"]))
        state = self.stack.working(now) if time <= up.ends else said("film/ended")
        made.append(_text(70.0, 152.0, state, 27, look["quiet"]))
        recent = [one for one in self.events if 0.0 <= (time - one.time) / self.pace < _TOLD_FOR]
        if recent:
            made.append(_text(LEFT, 965.0, recent[-1].what, 36, look["ink"], weight=600))
        return "".join(made)

    def _clock(self, time: float) -> str:
        look, y, left, right = self.look, 1012.0, 70.0, WIDE - 50.0
        wide = right - left
        made = [
            f'<rect x="{left}" y="{y}" width="{wide}" height="6" rx="3" fill="{look["hair"]}"/>',
            f'<rect x="{left}" y="{y}" width="{wide * min(time / self.until, 1.0):.1f}" height="6" rx="3" '
            f'fill="{look["two"]}"/>',
        ]
        for one in self.events:
            if one.time <= self.until:
                x = left + wide * one.time / self.until
                made.append(
                    f'<rect x="{x - 1.5:.1f}" y="{y - 5}" width="3" height="16" fill="{look["quiet"]}"/>'
                )
        words = said("film/clock", time=fixed(time), pace=fixed(self.pace))
        made.append(_text(left, y + 46.0, words, 25, look["quiet"]))
        made.append(_text(right, y + 46.0, said("film/scale"), 25, look["quiet"], "end"))
        return "".join(made)


def _arc(seen: Camera, height: float, points: int = 60) -> list[tuple[float, float]]:
    """The part of a shell so high [km] that can be seen, from left to right."""
    half = 0.75 * seen.wide / seen.scale
    middle = math.asin(max(-1.0, min(1.0, seen.middle[0] / EARTH))) * EARTH
    least, most = max(middle - half, -0.5 * math.pi * EARTH), min(middle + half, 0.5 * math.pi * EARTH)
    return [seen.seen(at(least + (most - least) * i / points, height)) for i in range(points + 1)]


def _shell(seen: Camera, height: float) -> str:
    line = _arc(seen, height)
    foot = max(seen.high + 50.0, *(y for _, y in line))
    return f"M{_joined(line)}L{line[-1][0]:.1f} {foot:.1f}L{line[0][0]:.1f} {foot:.1f}Z"


def _joined(points: list[tuple[float, float]]) -> str:
    return "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _text(
    x: float, y: float, words: str, size: float, colour: str, anchor: str = "start", weight: int = 400
) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}" fill="{colour}" text-anchor="{anchor}" '
        f'font-weight="{weight}">{escape(words)}</text>'
    )


Told = Callable[[int, int], None]
