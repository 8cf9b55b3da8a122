"""A picture being drawn: shapes and texts in order, texts remembered with the room they take."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from wetmass.lesson.drawing.type import Box, box
from wetmass.lesson.look import DARK, DRAWING, LIGHT, variables

Point = tuple[float, float]
SIZE, SMALL = 13.0, 12.0

_ROUND = (  # light from the left, for a body that is round
    '<linearGradient id="round" x1="0" x2="1" y1="0" y2="0"><stop offset="0" stop-color="#000" '
    'stop-opacity=".10"/><stop offset=".28" stop-color="#fff" stop-opacity=".35"/><stop offset=".62" '
    'stop-color="#000" stop-opacity=".05"/><stop offset="1" stop-color="#000" stop-opacity=".28"/>'
    "</linearGradient>"
)


def number(value: float) -> str:
    """A length of the picture, short."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


class Drawing:
    """Shapes in the units of the screen, y downwards.

    name    short, part of the ids within the picture
    title   what it is, in a few words
    words   what is to be seen, for those who cannot
    scale   units of the picture a metre
    """

    def __init__(self, name: str, title: str, words: str, scale: float) -> None:
        self.name, self.title, self.words, self.scale = name, title, words, scale
        self.texts: list[Box] = []
        self._parts: list[str] = []
        self._reach: list[float] = [0.0, 0.0, 0.0, 0.0]

    def text(
        self, x: float, y: float, text: str, *, anchor: str = "start", size: float = SIZE,
        bold: bool = False, quiet: bool = False,
    ) -> None:  # fmt: skip
        """A line of text on the base line y."""
        taken = box(text, x, y, size, anchor, bold)
        self.texts.append(taken)
        self._grow(((taken.left, taken.top), (taken.right, taken.bottom)))
        more = (' class="quiet"' if quiet else "") + (' font-weight="600"' if bold else "")
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}"{more}>'
            f"{escape(text)}</text>"
        )

    def polygon(self, points: Sequence[Point], kind: str, *, fill: str = "", words: str = "") -> None:
        """A closed shape of a class of the look; `fill` a colour of it, `words` its name when pointed at."""
        self._grow(points)
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
        style = f' style="fill:var(--{fill})"' if fill else ""
        told = f"<title>{escape(words)}</title>" if words else ""
        self._parts.append(f'<path class="{kind}" d="{path}"{style}>{told}</path>')

    def line(self, points: Sequence[Point], kind: str) -> None:
        """An open line."""
        self._grow(points)
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self._parts.append(f'<path class="{kind}" d="{path}" fill="none"/>')

    def circle(self, x: float, y: float, radius: float, kind: str, *, fill: str = "") -> None:
        """A circle."""
        self._grow(((x - radius, y - radius), (x + radius, y + radius)))
        style = f' style="fill:var(--{fill})"' if fill else ""
        self._parts.append(
            f'<circle class="{kind}" cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"{style}/>'
        )

    def _grow(self, points: Iterable[Point]) -> None:
        for x, y in points:
            self._reach = [
                min(self._reach[0], x), min(self._reach[1], y), max(self._reach[2], x), max(self._reach[3], y)
            ]  # fmt: skip

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """(left, top, width, height) of the picture."""
        pad = 6.0
        left, top, right, bottom = self._reach
        return left - pad, top - pad, right - left + 2 * pad, bottom - top + 2 * pad

    def svg(self, *, alone: bool = False) -> str:
        """The picture; `alone` when it is saved as a file of its own, with its colours in it."""
        left, top, wide, high = self.reach
        style = ""
        if alone:
            style = (
                f"<style>svg{{{variables(LIGHT)}}}@media(prefers-color-scheme:dark){{svg{{{variables(DARK)}}}}}"
                f"{DRAWING}</style>"
            )
        drawn = "".join(self._parts).replace(
            'class="shade"', f'style="fill:url(#{self.name}-round);pointer-events:none"'
        )
        label = f'aria-labelledby="{self.name}-title {self.name}-words"'
        space = ' xmlns="http://www.w3.org/2000/svg"' if alone else ""
        return (
            f'<svg{space} class="d" id="{self.name}" role="img" {label} '
            f'viewBox="{number(left)} {number(top)} {number(wide)} {number(high)}" '
            f'width="{number(wide)}" height="{number(high)}">'
            f'<title id="{self.name}-title">{escape(self.title)}</title>'
            f'<desc id="{self.name}-words">{escape(self.words)}</desc>{style}'
            f"<defs>{_ROUND.replace('round', self.name + '-round')}</defs>"
            f"{drawn}</svg>"
        )
