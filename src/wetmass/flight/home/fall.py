"""Down without engines: a free fall, or under parachutes."""

from __future__ import annotations

from wetmass.flight.home import layout as at
from wetmass.flight.home.legs import Body, Flyer, body, leg
from wetmass.flight.home.report import DEBRIS, Legs, homecoming, loads
from wetmass.physics.entry import BROADSIDE_SOURCE, END_ON_SOURCE
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Canopies, Homecoming, Posture, Released, Way
from wetmass.record.mission import Site

SOFT_SPLASH = 25.0  # m/s: a large booster's published splash speed, 22.9 m/s, was survived again and again
DROGUE_PRESSURE = 10e3  # Pa: usual for a ribbon drogue of a large booster, from memory


def drag_words(way: Way) -> str:
    """What was assumed of the drag, in words."""
    sources = {
        Posture.END_ON: END_ON_SOURCE,
        Posture.BROADSIDE: BROADSIDE_SOURCE,
        Posture.TUMBLING: f"mean over a turn end over end of broadside ({BROADSIDE_SOURCE}) and end-on "
        f"({END_ON_SOURCE})",
    }
    return f"drag {way.posture.value}: {sources[way.posture]}"


def fall(released: Released, way: Way, site: Site) -> Homecoming:
    """The stage falls as it is, to the height of the ground of `way`."""
    made = body(released, way)
    flyer = Flyer(released, made.curves, ground=way.landing_height)
    legs = Legs()
    add_coast(legs, made, way)
    legs.add("fall", leg(made, way.posture, at.FALLEN, way.landing_height), "impact")
    note = Finding(
        "falls away",
        Weight.CAUTION,
        released.name,
        "comes down without control",
        "only where the range keeps people, ships and aircraft away",
        "Close the area of the impact spread, or bring the stage home",
        "common practice",
    )
    return homecoming(
        flyer,
        legs,
        way,
        site,
        comes_home=True,
        burns=False,
        findings=(note,),
        assumed=(drag_words(way),),
        cautions=(DEBRIS,),
    )


def add_coast(legs: Legs, made: Body, way: Way, posture: Posture | None = None) -> None:
    """The climb to the apogee (of no length where the stage sinks already)."""
    legs.add("coast", leg(made, posture or way.posture, at.APEX), "apogee")


# ── parachutes ───────────────────────────────────────────────────────────────────────────────────


def under_parachutes(released: Released, way: Way, site: Site) -> Homecoming:
    """The stage falls, opens its sets of parachutes one after another, and sinks to the ground."""
    made = body(released, way)
    flyer = Flyer(released, made.curves, ground=way.landing_height)
    legs = parachute_legs(made, way)
    flown = flyer.fly(legs.rows)
    forces, findings = _openings(flyer, way, legs, flown.marks)
    sinking = _sinking(flown)
    last = max(way.canopies, key=lambda one: one.drag_area)
    most = way.splash_limit or SOFT_SPLASH
    if sinking > most:
        wanted = last.drag_area * (sinking / most) ** 2
        findings.append(
            Finding(
                "touch-down speed",
                Weight.FAILS,
                released.name,
                f"{sinking:.1f} m/s",
                f"at most {most:.3g} m/s into the sea",
                f"A drag area of {wanted:.0f} m² instead of {last.drag_area:.0f} m² would do",
                "the splash speed stated"
                if way.splash_limit
                else "a large booster was re-used after 22.9 m/s into the sea (NASA Marshall, 1984)",
            )
        )
    comes_home = not any(one.weight is Weight.FAILS for one in findings)
    return loads(
        homecoming(
            flyer,
            legs,
            way,
            site,
            comes_home=comes_home,
            burns=False,
            findings=tuple(findings),
            assumed=(drag_words(way),),
            opening_forces=tuple(forces),
        )
    )


def _do(canopies: Canopies, verb: str) -> str:
    """What a set does, in words: one drogue opens, three mains open."""
    return f"{canopies.name} {verb}{'s' if canopies.count == 1 else ''}"


def parachute_legs(made: Body, way: Way) -> Legs:
    """Coast, fall, then a leg for each step of each set of parachutes."""
    legs = Legs()
    add_coast(legs, made, way)
    sets = sorted(way.canopies, key=lambda one: -one.height)
    legs.add("fall", leg(made, way.posture, at.FALLEN, sets[0].height), _do(sets[0], "open"))
    for i, canopies in enumerate(sets):
        after = sets[i + 1] if i + 1 < len(sets) else None
        before = 0.0
        for share, wait in canopies.reefed:
            row = _hanging(made, canopies, before, share, at.TIME, wait)
            if after is not None:
                row[at.OTHER_END], row[at.OTHER_VALUE] = at.FALLEN, after.height
            legs.add(f"under {canopies.name}, {100 * share:.0f} %", row, _do(canopies, "disreef"))
            before = share
        end = after.height if after is not None else way.landing_height
        row = _hanging(made, canopies, before, 1.0, at.FALLEN, end)
        told = _do(after, "open") if after is not None else "touch-down"
        legs.add(f"under {canopies.name}", row, told)
    gone = [one.let_go for one in sets]
    opens = [i for i, name in enumerate(legs.ends) if "open" in name]
    for i, mass in zip(opens, gone, strict=True):
        legs.rows[i][at.DROPPED] = mass
    return legs


def _hanging(made: Body, canopies: Canopies, before: float, share: float, end: int, value: float):
    # hanging under parachutes a stage sinks end on: its own drag hardly counts beside theirs
    row = leg(made, Posture.END_ON, end, value)
    row[at.CHUTE_FROM], row[at.CHUTE_TO] = before * canopies.drag_area, share * canopies.drag_area
    row[at.CHUTE_TIME] = canopies.filling
    return row


def _sinking(flown) -> float:
    from wetmass.flight.home import places

    _, _, up = places.frame(flown.state)
    return -float(places.ground_velocity(flown.state) @ up)


def _openings(flyer: Flyer, way: Way, legs: Legs, marks) -> tuple[list, list[Finding]]:
    """Opening force of each set as it is first pulled open, and findings about it."""
    import numpy as np

    from wetmass.flight.home.motion import rates_seen

    forces, findings = [], []
    dy, says = np.zeros(at.WIDTH), np.zeros(at.SAYS_WIDTH)
    for canopies in sorted(way.canopies, key=lambda one: -one.height):
        first = next(i for i, name in enumerate(legs.names) if name.startswith(f"under {canopies.name}"))
        time, state = float(marks[first - 1, 0]), marks[first - 1, 1:]
        rates_seen(time, time, state, legs.rows[first], flyer.curves, flyer.wind, dy, says)
        q = float(says[at.SAYS_PRESSURE])
        share = canopies.reefed[0][0] if canopies.reefed else 1.0
        forces.append((canopies.name, q * share * canopies.drag_area * canopies.opening_factor))
        if len(forces) == 1 and (says[at.SAYS_MACH] > 1.5 or q > 3.0 * DROGUE_PRESSURE):
            findings.append(
                Finding(
                    "parachute opens too fast",
                    Weight.DOUBT,
                    flyer.released.name,
                    f"Mach {says[at.SAYS_MACH]:.1f}, {q / 1e3:.0f} kPa",
                    "Mach 1.5 and 30 kPa for a ribbon drogue",
                    "Open lower, or slow down first",
                    "from memory: Knacke, NWC TP 6575",
                )
            )
    return forces, findings
