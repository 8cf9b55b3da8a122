"""A flight home flown once more with everything recorded, as a `Homecoming`."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.legs import Flown, Flyer
from wetmass.physics.heating import free_molecular_kernel
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.flight import Event, Peak, Trajectory
from wetmass.record.homecoming import HOME_COLUMNS, Burn, ComeDown, Homecoming, Way
from wetmass.record.mission import Site

MOST_ROWS = 6000
THIN_AIR = 100e3  # m: from about here up a stage is smaller than the way between two hits (USSA 1976)
CONCEPT_ONLY = (
    "A concept study: it keeps nobody safe. Whether a stage may fall, land or fly over anywhere is for the "
    "range, its safety office and the licensing authority to decide; look at who lives and sails below the "
    "track yourself."
)
DEBRIS = (
    "A stage that falls without control may break up; pieces then come down over a far longer and wider area "
    "than this point."
)
INDICATIVE = (
    "Heating is the convective flux at the stagnation point of a sphere as wide as the stage (Sutton and "
    "Graves); for a blunt base, among plumes or when tumbling it only tells one way home from another."
)
_COLUMN = {column.key: i for i, column in enumerate(HOME_COLUMNS)}


@dataclass
class Legs:
    """Legs by name, with what the reader is told when each ends and which burn it is."""

    rows: list[np.ndarray] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    ends: list[str] = field(default_factory=list)
    burns: list[tuple[str, float] | None] = field(default_factory=list)  # (what, engines lit)

    def add(self, name: str, row: np.ndarray, ends: str, burn: tuple[str, float] | None = None) -> None:
        """Append a leg; `ends` names the event at its end, "" for none."""
        self.rows.append(row)
        self.names.append(name)
        self.ends.append(ends)
        self.burns.append(burn)


def homecoming(
    flyer: Flyer,
    legs: Legs,
    way: Way,
    site: Site,
    *,
    comes_home: bool,
    burns: bool = True,
    start: tuple[float, np.ndarray] | None = None,
    **more: Any,
) -> Homecoming:
    """The record of the flight of `legs`; `more` goes to `Homecoming` as it is."""
    flown = flyer.fly(legs.rows, record=MOST_ROWS, start=start)
    values, says = _values(flown, legs, flyer, site)
    summary = flown.summary
    made_burns = _burns(flown, legs, says) if burns else ()
    peaks = {
        name: Peak(*(float(v) for v in summary[place : place + 3]))
        for name, place in (
            ("dynamic_pressure", at.PEAK_PRESSURE),
            ("felt_acceleration", at.PEAK_FELT),
            ("heating", at.PEAK_HEATING),
            ("apogee", at.PEAK_HEIGHT),
        )
    }
    peaks["molecular_heating"] = _thin_air(values)
    dropped = sum(float(row[at.DROPPED]) for row in legs.rows[: flown.ended])
    used = flyer.released.mass - dropped - float(flown.state[at.MASS])
    assumed = tuple(more.pop("assumed", ()))
    cautions = (CONCEPT_ONLY, *more.pop("cautions", ()), INDICATIVE)
    return Homecoming(
        stage=flyer.released.name,
        way=way,
        comes_home=comes_home,
        events=_events(flown, legs, values),
        trajectory=Trajectory(HOME_COLUMNS, values),
        legs=tuple(legs.names),
        heat_load=float(flown.state[at.HEAT]),
        down=come_down(flown, site, way.place),
        burns=made_burns,
        used=used if used > 1e-6 else 0.0,
        reserve=flyer.released.propellant,
        assumed=assumed,
        cautions=cautions,
        flights=flyer.flights,
        **peaks,
        **more,
    )


def _thin_air(values: np.ndarray) -> Peak:
    """The greatest free-molecular heating where air is as thin as that; 0 where it never gets so high."""
    high = values[values[:, _COLUMN["height"]] > THIN_AIR]
    if not len(high):
        return Peak(0.0, float(values[0, 0]), float(values[0, _COLUMN["height"]]))
    row = high[int(np.argmax(high[:, _COLUMN["molecular_heating"]]))]
    return Peak(*(float(row[_COLUMN[key]]) for key in ("molecular_heating", "time", "height")))


def loads(result: Homecoming) -> Homecoming:
    """The record with a finding for each load above what `way` allows on the way down."""
    from wetmass.record.finding import Finding, Weight

    way, found = result.way, list(result.findings)
    for what, peak, limit, unit, size in (
        ("dynamic pressure on the way home", result.dynamic_pressure, way.pressure_limit, "kPa", 1e3),
        (
            "felt acceleration on the way home",
            result.felt_acceleration,
            way.acceleration_limit,
            "g",
            STANDARD_GRAVITY,
        ),
        ("heating on the way home", result.heating, way.heating_limit, "kW/m²", 1e3),
    ):
        if peak.value > limit * 1.001:
            found.append(
                Finding(
                    what,
                    Weight.DOUBT,
                    result.stage,
                    f"{peak.value / size:.1f} {unit} at {peak.height / 1e3:.0f} km",
                    f"at most {limit / size:.1f} {unit}",
                    f"Build it for {peak.value / size:.1f} {unit}, or slow it with engines first",
                    "limit stated, or this program's",
                )
            )
    return dataclasses.replace(result, findings=tuple(found))


def come_down(flown: Flown, site: Site, place: Site | None) -> ComeDown:
    """Where the flight ended."""
    latitude, longitude, _ = places.over_ground(flown.state, flown.time)
    here = (latitude, longitude)
    missed = 0.0 if place is None else places.distance(here, (place.latitude, place.longitude))
    over = places.ground_velocity(flown.state)
    _, _, up = places.frame(flown.state)
    return ComeDown(
        flown.time,
        latitude,
        longitude,
        places.distance(here, (site.latitude, site.longitude)),
        missed,
        float(np.linalg.norm(over)),
        -float(over @ up),
    )


def _values(flown: Flown, legs: Legs, flyer: Flyer, site: Site) -> tuple[np.ndarray, np.ndarray]:
    from wetmass.flight.home.motion import rates_seen

    values = np.zeros((len(flown.rows), len(HOME_COLUMNS)))
    said = np.zeros((len(flown.rows), at.SAYS_WIDTH))
    dy = np.zeros(at.WIDTH)
    began = {0: flyer.released.time if not len(flown.rows) else float(flown.rows[0, at.ROW_TIME])}
    for i in range(1, len(legs.rows)):
        began[i] = float(flown.marks[i - 1, 0])
    for row, value, says in zip(flown.rows, values, said, strict=True):
        time, index, state = float(row[at.ROW_TIME]), int(row[at.ROW_LEG]), row[at.ROW_STATE :]
        rates_seen(time, began[index], state, legs.rows[index], flyer.curves, flyer.wind, dy, says)
        latitude, longitude, height = places.over_ground(state, time)
        over = places.ground_velocity(state)
        north, east, up = places.frame(state)
        level_north, level_east, climb = float(over @ north), float(over @ east), float(over @ up)
        fast = math.hypot(level_north, level_east, climb)
        from_site = places.distance((latitude, longitude), (site.latitude, site.longitude))
        q, air_speed = says[at.SAYS_PRESSURE], says[at.SAYS_AIR_SPEED]
        density = 2.0 * q / air_speed**2 if air_speed > 0.0 else 0.0
        value[:19] = (
            time,
            index + 1,
            height,
            math.degrees(latitude),
            math.degrees(longitude),
            from_site,
            fast,
            float(np.linalg.norm(state[3:6])),
            math.degrees(math.asin(max(-1.0, min(1.0, climb / fast)))) if fast > 0.0 else 0.0,
            math.degrees(math.atan2(level_east, level_north)) % 360.0,
            state[at.MASS],
            says[at.SAYS_THRUST],
            says[at.SAYS_DRAG],
            says[at.SAYS_FELT],
            q,
            says[at.SAYS_MACH],
            says[at.SAYS_HEATING],
            free_molecular_kernel(density, air_speed),
            state[at.HEAT],
        )
        value[19:] = state[:6]
    return values, said


def event(what: str, value: np.ndarray) -> Event:
    """The event `what` at one row of the trajectory."""
    v = {key: float(value[i]) for key, i in _COLUMN.items()}
    return Event(
        what,
        v["time"],
        v["height"],
        v["air_speed"],
        v["speed"],
        math.radians(v["path_angle"]),
        v["downrange"],
        v["mass"],
        v["dynamic_pressure"],
        v["felt_acceleration"],
    )


def _events(flown: Flown, legs: Legs, values: np.ndarray) -> tuple[Event, ...]:
    found = [event("let go", values[0])]
    leg = flown.rows[:, at.ROW_LEG]
    for i, name in enumerate(legs.ends):
        inside = np.nonzero(leg == i)[0]
        if len(inside) == 0:
            break
        stopped = flown.status != at.ARRIVED and i == flown.ended
        if stopped:
            found.append(event("meets the ground", values[inside[-1]]))
        elif name and (len(inside) > 1 or i == len(legs.rows) - 1 or legs.burns[i] is None):
            found.append(event(name, values[inside[-1]]))
    highest = {
        "greatest dynamic pressure": "dynamic_pressure",
        "greatest felt acceleration": "felt_acceleration",
    }
    for what, key in highest.items():
        place = int(np.argmax(values[:, _COLUMN[key]]))
        if 0 < place < len(values) - 1:
            found.append(event(what, values[place]))
    return tuple(sorted(found, key=lambda one: one.time))


def _burns(flown: Flown, legs: Legs, says: np.ndarray) -> tuple[Burn, ...]:
    made = []
    leg = flown.rows[:, at.ROW_LEG]
    for i, burn in enumerate(legs.burns):
        inside = np.nonzero(leg == i)[0]
        if burn is None or len(inside) < 2:
            continue
        what, count = burn
        first, last = inside[0], inside[-1]
        start, end = flown.rows[first, at.ROW_STATE :], flown.rows[last, at.ROW_STATE :]
        made.append(
            Burn(
                what,
                count,
                float(legs.rows[i][at.THROTTLE]),
                float(flown.rows[first, 0]),
                float(says[first, at.SAYS_HEIGHT]),
                float(says[first, at.SAYS_AIR_SPEED]),
                float(flown.rows[last, 0] - flown.rows[first, 0]),
                float(start[at.MASS] - end[at.MASS]),
                float(end[at.SPENT] - start[at.SPENT]),
                float(says[first, at.SAYS_THRUST] / (start[at.MASS] * STANDARD_GRAVITY)),
                float(says[last, at.SAYS_THRUST] / (end[at.MASS] * STANDARD_GRAVITY)),
            )
        )
    return tuple(made)
