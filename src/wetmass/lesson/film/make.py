"""The film of a flight: its moments drawn one by one, by several processes, and put together."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path

from wetmass.lesson.charts import drawn_until
from wetmass.lesson.film.bodies import bodies
from wetmass.lesson.film.encode import encoded, encoder
from wetmass.lesson.film.scene import HIGH, WIDE, Scene
from wetmass.lesson.film.stack import Stack
from wetmass.lesson.look import DARK, LIGHT
from wetmass.record.closed import Closed

SECONDS, RATE = 24.0, 25
SIZE = (1920, 1080)
_MOST_HOME = 2.2  # times the way up: a long fall under parachutes is not waited for
_AFTER = 1.03  # of the time shown: a moment of rest at the end
_AT_ONCE = 12  # pictures a process is given


def scene(closed: Closed, *, seconds: float = SECONDS, dark: bool = True) -> Scene:
    """What the film shows.  Raises ValueError where nothing was flown."""
    from wetmass.lesson.drawing import from_volumes

    flight = closed.flight
    if flight is None:
        raise ValueError("it was not flown, since it does not close: there is nothing to film")
    ways = closed.home.ways if closed.home is not None else ()
    up, home = bodies(flight, ways)
    rises = drawn_until(flight)[0]
    until = _AFTER * max([rises, *(min(one.ends, _MOST_HOME * rises) for one in home)])
    laid_out = closed.geometry if closed.geometry and closed.geometry.stages else from_volumes(closed.vehicle)
    down = (replace(e, what=f"{way.stage}: {e.what}") for way in ways for e in way.events[1:])
    events = sorted((*flight.events, *down), key=lambda one: one.time)
    shown = tuple(one for one in events if one.time <= until)
    look = DARK if dark else LIGHT
    return Scene(
        closed.name, up, home, shown, Stack(laid_out, closed.vehicle, flight), until, until / seconds, look
    )


def still(shown: Scene, time: float, size: tuple[int, int] = SIZE) -> bytes:
    """One moment as a PNG."""
    return _drawn([shown.at(time)], size[1] / HIGH)[0]


def film(
    closed: Closed, target: Path, *, seconds: float = SECONDS, rate: int = RATE,
    dark: bool = True, size: tuple[int, int] = SIZE, told: Callable[[int, int], None] = lambda done, whole: None,
) -> None:  # fmt: skip
    """Write the flight, up and home, as a film.

    target   its ending says which kind: .mp4, .webm or .gif
    seconds  it lasts;  rate  pictures a second;  size  in pixels, 16 to 9
    told     called with how many pictures are done, of how many

    Raises NoEncoder where there is no ffmpeg, ValueError for an ending, a size or a flight that cannot be,
    OSError where it cannot be written.
    """
    encoder()  # before any work is done
    if abs(size[0] * HIGH - size[1] * WIDE) > 2.0 * WIDE or size[0] % 2 or size[1] % 2:
        raise ValueError(f"a film is 16 to 9, and even both ways, got {size[0]} × {size[1]}")
    shown = scene(closed, seconds=seconds, dark=dark)
    count = max(2, round(seconds * rate))
    moments = [shown.until * i / (count - 1) for i in range(count)]
    encoded(_counted(_pictures(shown, moments, size[1] / HIGH), count, told), rate, target)


def _counted(pictures: Iterator[bytes], count: int, told: Callable[[int, int], None]) -> Iterator[bytes]:
    for done, picture in enumerate(pictures, 1):
        yield picture
        told(done, count)


def _pictures(shown: Scene, moments: list[float], scale: float) -> Iterator[bytes]:
    workers = min(os.cpu_count() or 1, 8)
    batches = [[shown.at(time) for time in several] for several in batched(moments)]
    if workers < 2 or len(batches) < 4:
        for batch in batches:
            yield from _drawn(batch, scale)
        return
    with ProcessPoolExecutor(workers, get_context("spawn")) as pool:
        for made in pool.map(_drawn, batches, [scale] * len(batches)):
            yield from made


def batched(moments: list[float]) -> Iterator[list[float]]:
    """As many at once as a process is given."""
    for i in range(0, len(moments), _AT_ONCE):
        yield moments[i : i + _AT_ONCE]


def _drawn(pictures: list[str], scale: float) -> list[bytes]:
    """Each picture as a PNG."""
    from wetmass.lesson.paper.typeset import compiled

    source = f"#set page(width: {WIDE}pt, height: {HIGH}pt, margin: 0pt)\n" + "".join(
        f'#image("{i}.svg", width: {WIDE}pt)\n' for i in range(len(pictures))
    )
    made = compiled(
        source, {str(i): svg for i, svg in enumerate(pictures)}, format="png", ppi=72.0 * scale
    )  # fmt: skip
    return made if isinstance(made, list) else [made]  # type: ignore[list-item]
