"""Sound concepts made by chance, each flown to its orbit from nothing: how many are solved, how fast.

    python benchmarks/corpus.py [--count 240] [--seed 1] [--only 17] [--workers 2] [--out corpus.json]

A concept counts as sound by rules that use no trajectory, stated before any is flown:

- ideal speed gain with the reference payload at least 12 % above need, need = speed on the orbit's perigee
  ellipse from 185 km, what circularises it, − rotation gain + usual losses of 1600 m/s (common practice);
- lift-off thrust-to-weight 1.15 to 2;
- each upper stage at ignition at least 0.2, and 0.7 of the weight that its speed does not carry yet,
  1 − (v/v_circular)², v taken as ideal gain so far less 1500 m/s;
- structural fractions and specific impulses in the bands of `KINDS` (common practice);
- one concept in five carries strap-ons beside a first stage that burns 1.1 to 3 times as long (`_strapped`),
  the ideal gain of what burns together counted at the mean exhaust speed; once they are gone the stage keeps
  at least 0.7 of the weight that its speed does not carry yet.

The payload is then the unknown that is made best; the search starts from the reference payload and the
starts of `Ascent`, nothing else.
"""

from __future__ import annotations

import argparse
import json
import math
import platform
import random
import statistics
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from wetmass.flight.ascent import Ascent, Steering, Unknown
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, surface_speed
from wetmass.record.mission import Limits, Orbit, Site
from wetmass.record.vehicle import EngineGroup, LetGo, Moment, Propellant, Stage, StrapOn, Vehicle

G0 = 9.80665
USUAL_LOSSES = 1600.0  # m/s
LEAST_MARGIN, MOST_MARGIN = 0.12, 0.35
STRAPPED = 0.2  # of the concepts carry strap-ons
PARKING = EARTH_RADIUS_WGS84 + 185e3
DRAG = ((0, 0.25), (0.5, 0.23), (0.8, 0.26), (0.95, 0.36), (1.05, 0.46), (1.2, 0.48), (1.5, 0.43), (2, 0.36),
        (3, 0.28), (4, 0.24), (5, 0.22), (8, 0.2))  # fmt: skip
# propellants: specific impulse at sea level, in vacuum as upper stage [s], structural fraction, throttles
KINDS = {
    "kerosene": ((280.0, 312.0), (335.0, 350.0), (0.06, 0.10), True),
    "methane": ((305.0, 330.0), (355.0, 375.0), (0.06, 0.11), True),
    "hydrogen": ((355.0, 370.0), (440.0, 462.0), (0.09, 0.14), True),
    "storable": ((250.0, 262.0), (310.0, 325.0), (0.06, 0.11), True),
    "solid": ((240.0, 258.0), (280.0, 294.0), (0.08, 0.12), False),
}
SITES = (  # latitude, longitude [deg]; invented places, headings free
    ("equator", 2.0, -50.0),
    ("Skerry", 14.2, -40.0),
    ("south", -28.6, 0.0),
    ("middle", 34.0, 140.0),
    ("high", 46.0, 60.0),
    ("north", 63.0, 20.0),
)


@dataclass(frozen=True, slots=True)
class Case:
    """One sound concept and where it goes."""

    number: int
    vehicle: Vehicle  # with the reference payload
    site: Site
    orbit: Orbit
    limits: Limits
    coasting: bool
    tags: tuple[str, ...]
    margin: float  # ideal speed gain over need, less 1
    lowest: float  # thrust-to-weight of the weakest upper stage

    def ascent(self) -> Ascent:
        """The problem as `flight.optimum.best` takes it."""
        reference = self.vehicle.payload
        dry = self.vehicle.stages[-1].dry_mass
        most = 20.0 * reference + dry
        return Ascent(
            self.site,
            self.orbit,
            self.limits,
            Steering(),
            lambda values: replace(self.vehicle, payload=float(values[0])),
            (Unknown("payload", max(0.2 * reference, 0.1 * dry), -0.5 * dry, most, reference),),
            lambda vehicle, trial: ([], []),
            lambda vehicle, trial: -vehicle.payload / (reference + dry),
            self.coasting,
        )


def need(orbit: Orbit, site: Site) -> float:
    """Speed an orbit needs from a site by hand, usual losses included [m/s]."""
    if orbit.c3 is not None:
        ellipse, last = math.sqrt(orbit.c3 + 2.0 * GM / PARKING), 0.0
    else:
        ellipse, last = _ellipse(orbit)
    inclination = orbit.inclination if orbit.inclination is not None else abs(site.latitude)
    east = math.cos(inclination) / math.cos(site.latitude)
    gain = surface_speed(site.latitude, 0.0) * max(-1.0, min(1.0, east))
    return ellipse + last - gain + USUAL_LOSSES


def _ellipse(orbit: Orbit) -> tuple[float, float]:
    """Speed on the ellipse from the parking height to the apogee, and what raises its perigee there [m/s]."""
    top = EARTH_RADIUS_WGS84 + orbit.apogee
    ellipse = math.sqrt(GM * (2.0 / PARKING - 2.0 / (PARKING + top)))
    last = math.sqrt(GM * (2.0 / top - 2.0 / (EARTH_RADIUS_WGS84 + orbit.perigee + top)))
    return ellipse, last - math.sqrt(GM * (2.0 / top - 2.0 / (PARKING + top)))


def target(chance: random.Random, latitude: float) -> tuple[Orbit, bool, str]:
    """An orbit asked for, whether with a coast and restart, and what it is called."""
    least = abs(latitude)
    what = chance.choices(
        ("low", "sun-synchronous", "ellipse", "transfer", "high circle", "escape"), (32, 18, 14, 16, 11, 9)
    )[0]
    inclination = math.radians(chance.uniform(least + 1.0, 85.0))
    going = chance.choice(("north", "south"))
    if what == "low":
        height = chance.uniform(185e3, 450e3)
        if chance.random() < 0.3:
            return Orbit(height, height, None), False, what
        return Orbit(height, height, inclination, going), False, what
    if what == "sun-synchronous":
        height = chance.uniform(450e3, 800e3)
        return (
            Orbit(height, height, math.radians(97.2 + 1.4 * (height - 450e3) / 350e3), going),
            height > 550e3,
            what,
        )
    if what == "ellipse":
        low = chance.uniform(185e3, 300e3)
        return Orbit(low, low + chance.uniform(5e5, 4e6), inclination, going), False, what
    if what == "escape":
        height, c3 = chance.uniform(185e3, 300e3), chance.uniform(0.0, 20e6)
        return (
            Orbit(height, math.inf, inclination if chance.random() < 0.5 else None, going, c3=c3),
            False,
            what,
        )
    if what == "transfer":
        return Orbit(chance.uniform(185e3, 300e3), 35_786e3, None), False, what
    height = chance.uniform(600e3, 1500e3)
    return Orbit(height, height, inclination, going), True, what


def concept(number: int, seed: int) -> Case:
    """Sound concept `number` of a series: the first one drawn that keeps the rules."""
    chance = random.Random(f"{seed}/{number}")
    while True:
        found = _drawn(number, chance)
        if found is not None:
            return found


def _drawn(number: int, chance: random.Random) -> Case | None:
    name, latitude, longitude = chance.choice(SITES)
    site = Site(math.radians(latitude), math.radians(longitude), chance.uniform(0.0, 200.0))
    orbit, coasting, what = target(chance, latitude)
    count = chance.choices((2, 3, 4), (50, 35, 15))[0]
    margin = chance.uniform(LEAST_MARGIN, 0.30)
    gain = need(orbit, site) * (1.0 + margin)
    kinds = [chance.choice(("kerosene", "methane", "hydrogen", "storable", "solid"))]
    while len(kinds) < count:
        kinds.append(chance.choices(tuple(KINDS), (20, 20, 35, 15, 10))[0])
    if coasting and kinds[-1] == "solid":
        kinds[-1] = "storable"  # must burn twice
    impulse, fraction = [], []
    for index, kind in enumerate(kinds):
        low, high, structural, _ = KINDS[kind]
        sea = chance.uniform(*low)
        impulse.append((sea, sea + 0.4 * (high[0] - low[0])) if index == 0 else (0.0, chance.uniform(*high)))
        fraction.append(chance.uniform(*structural) * (1.0 if index == 0 else 1.15))
    shares = [i[1] * chance.uniform(0.7, 1.3) * (0.85 if k == 0 else 1.0) for k, i in enumerate(impulse)]
    gains = [gain * share / sum(shares) for share in shares]
    # sizes from the top, for a payload of one
    fairing = chance.uniform(0.1, 0.35)
    above, sizes = 1.0 + fairing, []
    for k in range(count - 1, -1, -1):
        ratio = math.exp(gains[k] / (impulse[k][1] * G0))
        if fraction[k] * ratio > 0.75:
            return None
        mass = above * (ratio - 1.0) / (1.0 - fraction[k] * ratio)
        sizes.append((mass, above + mass))
        above += mass
    sizes.reverse()
    scale = math.exp(chance.uniform(math.log(15e3), math.log(2e6))) / above
    if scale > 150e3:
        return None
    # thrust
    weights, before, weakest = [], 0.0, math.inf
    for k in range(count):
        if k == 0:
            weights.append(chance.uniform(1.15, 2.0))
        else:
            carried = min(1.0, max(0.0, before - 1500.0) / 7800.0)
            least = max(0.2, 0.7 * (1.0 - carried * carried))
            weights.append(least * math.exp(chance.uniform(0.0, math.log(2.0 / least)) * chance.random()))
            weakest = min(weakest, weights[-1])
        before += gains[k]
    area = math.pi / 4.0 * (0.30 * (scale * above) ** (1.0 / 3.0) / 4.5) ** 2
    stages = []
    for k, kind in enumerate(kinds):
        sea, vacuum = impulse[k]
        push = weights[k] * G0 * sizes[k][1] * scale
        engines = max(1, round(chance.uniform(1.0, 5.0)))
        least = chance.choice((0.4, 0.5, 0.65, 1.0)) if KINDS[kind][3] else 1.0
        if k == 0:
            thrust, exit_area = push * vacuum / sea, (push * vacuum / sea - push) / 101_325.0
        else:
            thrust, exit_area = push, push * 0.6e-5
        propellant = sizes[k][0] * scale * (1.0 - fraction[k])
        stages.append(
            Stage(
                f"stage {k + 1}",
                sizes[k][0] * scale * fraction[k],
                Propellant(kind, 1.0, burns=0.995 * propellant, residuals=0.005 * propellant),
                (EngineGroup("engine", engines, thrust / engines, exit_area / engines, vacuum, least, 2),),
                math.sqrt(4.0 * area / math.pi),
                area,
                DRAG,
                pause=0.0 if k == 0 else chance.uniform(1.0, 8.0),
            )
        )
    cover = LetGo("fairing", fairing * scale, Moment.HEATING, 1135.0)
    vehicle = Vehicle(f"concept {number}", tuple(stages), scale, (cover,))
    strapped = chance.random() < STRAPPED
    if strapped:
        found = _strapped(vehicle, chance, kinds[0])
        if found is None:
            return None
        vehicle, more = found
        margin = (gain + more) / need(orbit, site) - 1.0
        if margin > MOST_MARGIN:
            return None
    limits = Limits()
    if chance.random() < 0.7:
        limits = Limits(chance.uniform(4.0, 6.5) * G0, chance.uniform(35e3, 60e3))
    tags = (what, f"{count} stages", kinds[-1], *(("coast",) if coasting else ()))
    tags += ("weak upper stage",) if weakest < 0.45 else ()
    tags += ("strap-ons",) if strapped else ()
    return Case(number, vehicle, site, orbit, limits, coasting, (*tags, name), margin, weakest)


def _strapped(vehicle: Vehicle, chance: random.Random, kind: str) -> tuple[Vehicle, float] | None:
    """The vehicle with strap-ons, its first stage's thrust lowered so that it lasts; and the gain [m/s] they add.

    None where a rule is broken.
    """
    first, *rest = vehicle.stages
    if kind == "solid":
        return None
    low, high, structural, throttles = KINDS[chance.choice(("solid", "solid", "kerosene", "methane"))]
    count = chance.choice((2, 2, 3, 4, 6))
    lasts = chance.uniform(1.1, 3.0)  # the first stage, for each second of theirs
    gross = chance.uniform(0.3, 2.0) * first.gross_mass
    fraction = chance.uniform(*structural)
    sea = chance.uniform(*low)
    vacuum = sea + 0.4 * (high[0] - low[0])
    weight = chance.uniform(1.15, 2.0) * G0 * (vehicle.lift_off_mass + gross)
    # thrusts at sea level: together `weight`, flows so that the first stage lasts as said
    core = first.engines[0]
    burns, strapped_burns = first.propellant.burns, gross * (1.0 - fraction) * 0.995
    core_sea = core.count * (core.vacuum_thrust - 101_325.0 * core.exit_area)
    core_speed = core.vacuum_isp * G0 * core_sea / (core.count * core.vacuum_thrust)
    time = (burns / lasts * core_speed + strapped_burns * sea * G0) / weight
    share = burns / (lasts * time) * core_speed / core_sea
    engine = replace(core, vacuum_thrust=core.vacuum_thrust * share, exit_area=core.exit_area * share)
    push, flow = strapped_burns / time * sea * G0, strapped_burns / time
    thrust = flow * vacuum * G0
    area = first.drag_area * (gross / count / first.gross_mass) ** (2.0 / 3.0)
    one = Stage(
        "strap-on",
        gross * fraction / count,
        Propellant("strap-on", 1.0, burns=strapped_burns / count, residuals=gross * (1 - fraction) * 0.005 / count),
        (EngineGroup("strap-on engine", 1, thrust / count, (thrust - push) / 101_325.0 / count, vacuum,
                     0.5 if throttles else 1.0),),
        math.sqrt(4.0 * area / math.pi), area, DRAG,
    )  # fmt: skip
    whole = vehicle.lift_off_mass + gross
    together = burns / lasts
    speed = (together * core.vacuum_isp + strapped_burns * vacuum) / (together + strapped_burns) * G0
    before = speed * math.log(whole / (whole - together - strapped_burns))
    left = vehicle.lift_off_mass - together
    after = core.vacuum_isp * G0 * math.log(left / (vehicle.lift_off_mass - burns))
    carried = min(1.0, max(0.0, before - 1500.0) / 7800.0)
    if engine.count * engine.vacuum_thrust / (left * G0) < max(0.2, 0.7 * (1.0 - carried * carried)):
        return None
    alone = core.vacuum_isp * G0 * math.log(vehicle.lift_off_mass / (vehicle.lift_off_mass - burns))
    stages = (replace(first, engines=(engine,)), *rest)
    return replace(vehicle, stages=stages, strap_ons=(StrapOn(one, count, 0),)), before + after - alone


def machine() -> str:
    """One line on the machine and the versions that matter."""
    import os

    import numba
    import scipy

    return (
        f"{platform.machine()}, {len(os.sched_getaffinity(0))} of {os.cpu_count()} cores, Python {platform.python_version()}, "
        f"numba {numba.__version__}, scipy {scipy.__version__}"
    )


def flown(case: Case) -> dict[str, object]:
    """What became of one case."""
    from wetmass.flight.optimum import best

    ascent = case.ascent()
    begun = time.process_time()
    try:
        found = best(ascent)
    except Exception as error:  # a benchmark goes on, and says so
        words = f"error: {type(error).__name__}: {error}"
        return _row(case, False, time.process_time() - begun, 0, words, 0.0)
    spent = time.process_time() - begun
    reason = "" if found.met else f"{found.message}, breach {found.worst:.1e}"
    return _row(case, found.met, spent, found.flights, reason, float(found.x[-1]))


def _numbered(number: int, seed: int) -> dict[str, object]:
    return flown(concept(number, seed))


def _row(case: Case, met: bool, spent: float, flights: int, reason: str, payload: float) -> dict[str, object]:
    return {
        "number": case.number, "met": met, "seconds": spent, "flights": flights, "reason": reason,
        "payload": payload, "reference": case.vehicle.payload, "margin": case.margin, "lowest": case.lowest,
        "tags": case.tags,
    }  # fmt: skip


def main() -> None:
    """Print the share solved, times, and each case that was not."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=240)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, nargs="*")
    parser.add_argument("--out", type=Path)
    parser.add_argument("--workers", type=int, default=1, help="processes at a time")
    told = parser.parse_args()
    flown(concept(0, told.seed))  # compiles
    numbers = list(told.only or range(1, told.count + 1))
    with ProcessPoolExecutor(told.workers) as crew:
        rows = list(crew.map(_numbered, numbers, [told.seed] * len(numbers)))
    if told.out:
        told.out.write_text(json.dumps(rows, default=str))
    print(f"machine: {machine()}")
    solved = [row for row in rows if row["met"]]
    print(f"solved from nothing: {len(solved)} of {len(rows)} ({100 * len(solved) / len(rows):.1f} %)")
    for word, some in (("solved", solved), ("all", rows)):
        seconds = sorted(float(row["seconds"]) for row in some)
        if seconds:
            print(
                f"processor time, {word}: median {statistics.median(seconds):.2f} s, 90 % within "
                f"{seconds[int(0.9 * (len(seconds) - 1))]:.2f} s, longest {seconds[-1]:.2f} s"
            )
    every, good = (
        Counter(t for row in rows for t in row["tags"]),
        Counter(t for row in solved for t in row["tags"]),
    )
    print("by kind: " + ", ".join(f"{tag} {good[tag]}/{every[tag]}" for tag in sorted(every)))
    below = [row for row in solved if float(row["payload"]) < float(row["reference"])]
    print(f"solved with less than the reference payload: {len(below)}")
    for row in rows:
        if not row["met"]:
            print(
                f"  {row['number']:>4}: {row['reason']}; {', '.join(row['tags'])}; margin "
                f"{100 * row['margin']:.0f} %, weakest upper stage {row['lowest']:.2f}, "
                f"{row['seconds']:.1f} s"
            )


if __name__ == "__main__":
    main()
