"""One quantity of the flight against time, with its events numbered and its greatest value told."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from wetmass.lesson.look import LIGHT
from wetmass.lesson.words import said as worded
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import readable
from wetmass.record.flight import Flight
from wetmass.record.system import METRIC, System

if TYPE_CHECKING:
    import numpy as np

WIDE, HIGH = 330, 150
LARGE = (520, 150)
THOUSANDS = "replace(format(datum.value, ',~'), ',', '\u2009')"  # set apart by a thin space, as everywhere
_LONG_COAST = 0.4  # of the whole time: a coast as long would press all else together
_AFTER = 1.04  # of the time drawn: room after the last event
_APART = 13.0  # units of the picture between two numbers


@dataclass(frozen=True, slots=True)
class Quantity:
    """A column of the trajectory, and the unit it is drawn in."""

    key: str
    unit: str
    factor: float
    colour: str
    peak: bool = True  # its greatest value is worth telling

    @property
    def words(self) -> str:
        """What it is."""
        return worded(f"drawn/quantities/{self.key}")


QUANTITIES: tuple[Quantity, ...] = (
    Quantity("height", "km", 1e3, "one"),
    Quantity("air_speed", "m/s", 1.0, "one"),
    Quantity("mass", "t", 1e3, "five", peak=False),
    Quantity("felt_acceleration", "g₀", STANDARD_GRAVITY, "two"),
    Quantity("dynamic_pressure", "kPa", 1e3, "two"),
    Quantity("thrust", "kN", 1e3, "three"),
)


_COUNTED = {  # SI unit, and how many of another system's largest unit for it an axis counts in
    "height": ("m", 1), "air_speed": ("m/s", 1), "mass": ("kg", 1000), "dynamic_pressure": ("Pa", 1),
    "thrust": ("N", 1000),
}  # fmt: skip


def quantities(units: System = METRIC) -> tuple[Quantity, ...]:
    """What is drawn against time, in these units."""
    return tuple(_counted(one, units) for one in QUANTITIES)


def _counted(quantity: Quantity, units: System) -> Quantity:
    si, many = _COUNTED.get(quantity.key, ("", 1))
    if si not in units.units:
        return quantity
    _, factor, name = units.units[si][0]
    return replace(quantity, unit=f"k{name}" if many == 1000 else name, factor=many * factor)


def drawn_until(flight: Flight) -> tuple[float, bool]:
    """(time up to which it is drawn, whether a long coast is left out) [s]."""
    times = [event.time for event in flight.events]
    whole = times[-1] - times[0]
    at, thrust = flight.trajectory["time"], flight.trajectory["thrust"]
    for one, other in itertools.pairwise(times):
        if other - one > _LONG_COAST * whole:
            between = thrust[(at > one + 0.02 * (other - one)) & (at < other - 0.02 * (other - one))]
            if len(between) and not between.any():
                return one, True
    return times[-1], False


@dataclass(frozen=True, slots=True)
class Axes:
    """What a place in the plot stands for."""

    wide: float  # of the plot, in the picture's units
    high: float
    until: float  # s, at the right edge; 0 at the left
    low: float  # at the foot, in the unit drawn
    top: float
    unit: str


def axes(flight: Flight, quantity: Quantity) -> Axes:
    """The axes of the chart of one quantity."""
    until = drawn_until(flight)[0] * _AFTER
    _, values = _drawn(flight, quantity)
    most = max([float(values.max()) if len(values) else 0.0, 1e-9])
    least = min([0.0, float(values.min())]) if len(values) else 0.0
    return Axes(WIDE, HIGH, until, least, 1.2 * most, quantity.unit)


def _drawn(flight: Flight, quantity: Quantity) -> tuple[np.ndarray, np.ndarray]:
    track = flight.trajectory
    inside = track["time"] <= drawn_until(flight)[0] * _AFTER
    return track["time"][inside], track[quantity.key][inside] / quantity.factor


def over_time(flight: Flight, quantity: Quantity, *, named: bool = False) -> Any:
    """The chart of one quantity; `named` for a large one without a title, its events in words."""
    import altair as alt

    wide, high = LARGE if named else (WIDE, HIGH)
    until, _ = drawn_until(flight)
    times, values = _drawn(flight, quantity)
    drawn = axes(flight, quantity)
    data = [{"t": float(t), "y": float(y)} for t, y in zip(*thinned(times, values), strict=True)]
    x = alt.X(
        "t:Q", title=worded("drawn/time"),
        scale=alt.Scale(domain=[0.0, drawn.until], nice=False),
        axis=alt.Axis(grid=False, tickCount=6, labelExpr=THOUSANDS),
    )  # fmt: skip
    y = alt.Y(
        "y:Q", title=None, scale=alt.Scale(domain=[drawn.low, drawn.top], nice=False),
        axis=alt.Axis(tickCount=4, domain=False, ticks=False, minExtent=36, labelExpr=THOUSANDS),
    )  # fmt: skip
    base = alt.Chart(alt.Data(values=tuple(data)))
    curve = base.mark_line(color=LIGHT[quantity.colour], strokeWidth=2, clip=True).encode(x=x, y=y)
    layers = [*_events(alt, flight, until, named), curve]
    if quantity.peak and len(values):
        shown = times <= until
        layers.append(_peak(alt, times[shown], values[shown], until, quantity))
    chart = alt.layer(*layers).properties(width=wide, height=high)
    return chart if named else chart.properties(
        title=alt.TitleParams(f"{quantity.words}, {quantity.unit}", anchor="start", offset=22),
    )  # fmt: skip


def thinned(times: np.ndarray, values: np.ndarray, most: int = 240) -> tuple[np.ndarray, np.ndarray]:
    """Fewer points where there are more than can be seen; jumps of the mass and thrust are kept."""
    import numpy as np

    if len(times) <= most:
        return times, values
    span = float(np.ptp(values)) or 1.0
    keep = np.zeros(len(times), dtype=bool)
    keep[np.linspace(0, len(times) - 1, most).astype(int)] = True
    jumps = np.flatnonzero(np.abs(np.diff(values)) > 0.02 * span)
    keep[jumps] = keep[jumps + 1] = True
    return times[keep], values[keep]


def spread_out(places: Sequence[float], apart: float) -> list[float]:
    """Places moved to the right as far as needed to stand `apart`.

    >>> spread_out([0.0, 1.0, 50.0], 13.0)
    [0.0, 13.0, 50.0]
    """
    made: list[float] = []
    for place in places:
        made.append(place if not made else max(place, made[-1] + apart))
    return made


def _events(alt: Any, flight: Flight, until: float, named: bool) -> list[Any]:
    whole, high = LARGE if named else (WIDE, HIGH)
    shown = [
        (event.what if named else str(i), event.time)
        for i, event in enumerate(flight.events, 1)
        if event.time <= until * _AFTER
    ]
    wide = whole / (until * _AFTER)
    places = spread_out([time * wide for _, time in shown], _APART + 4.0 if named else _APART)
    rows = [
        {"t": time, "n": words, "at": place / wide}
        for (words, time), place in zip(shown, places, strict=True)
    ]  # fmt: skip
    base = alt.Chart(alt.Data(values=tuple(rows)))
    scale = alt.Scale(domain=[0.0, until * _AFTER], nice=False)
    rule = base.mark_rule(color=LIGHT["hair"], strokeWidth=1).encode(
        x=alt.X("t:Q", scale=scale), y=alt.value(-4), y2=alt.value(high)
    )
    lead = base.mark_rule(color=LIGHT["hair"], strokeWidth=1).encode(
        x=alt.X("t:Q", scale=scale), x2="at:Q", y=alt.value(-4), y2=alt.value(-9)
    )
    if named:
        mark = base.mark_text(
            color=LIGHT["quiet"], fontSize=12, angle=315, align="left", baseline="middle", dx=2
        )
    else:
        mark = base.mark_text(color=LIGHT["quiet"], fontSize=11, baseline="middle")
    text = mark.encode(x=alt.X("at:Q", scale=scale), y=alt.value(-12 if named else -14), text="n:N")
    return [rule, lead, text]


def _peak(alt: Any, times: np.ndarray, values: np.ndarray, until: float, quantity: Quantity) -> Any:
    top = int(values.argmax())
    share = float(times[top]) / until
    rows = [
        {
            "t": float(times[top]), "y": float(values[top]),
            "text": worded(
                "drawn/peak", value=readable(float(values[top]), 4), unit=quantity.unit,
                time=readable(float(times[top]), 3),
            ),
        }
    ]  # fmt: skip
    base = alt.Chart(alt.Data(values=tuple(rows))).encode(x="t:Q", y="y:Q")
    dot = base.mark_point(color=LIGHT[quantity.colour], filled=True, size=30, opacity=1)
    align, aside = "center", 0
    if share > 0.7:
        align, aside = "right", 4
    elif share < 0.3:
        align, aside = "left", -4 if share > 0.05 else 6  # clear of the axis
    text = base.mark_text(
        color=LIGHT["ink"], align=align, dx=aside, dy=-11, fontSize=12, fontWeight=600
    ).encode(text="text:N")  # fmt: skip
    return alt.layer(dot, text)
