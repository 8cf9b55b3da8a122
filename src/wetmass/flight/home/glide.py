"""Home on wings: level out of the fall, turn towards the place, glide.

Lift follows a path at the slope of the best lift to drag, within the greatest lift coefficient and load; the
same lift to drag is taken at every Mach number.
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.legs import Body, Flown, Flyer, body, leg
from wetmass.flight.home.report import Legs, homecoming, loads
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Homecoming, Posture, Released, Way
from wetmass.record.mission import Site

ARRIVES_ABOVE = 500.0  # m over the place, to line up and land: ours
MOST_LIFT_TO_DRAG = 20.0


def glide(released: Released, way: Way, site: Site, prefix: list[np.ndarray] | None = None) -> Homecoming:
    """The stage glides to `way.place`, or as far as it goes; `way.wings` says on what."""
    if way.wings is None:
        raise ValueError("way.wings must say on what the stage glides, got none")
    made = body(released, way)
    ground = way.place.height if way.place is not None else way.landing_height
    flyer = Flyer(released, made.curves, ground=ground)
    legs, flown = _best(flyer, made, way, prefix or [])
    findings = []
    if way.place is not None:
        over = places.over_ground(flown.state, flown.time)[2] - ground
        if not _arrives(flown, over):
            short = math.hypot(*places.miss(flown.state, flown.time, way.place))
            wanted = _lift_to_drag_that_would_do(flyer, made, way, prefix or [])
            would = (
                f"A lift to drag of {wanted:.1f} would do"
                if wanted is not None
                else f"No lift to drag up to {MOST_LIFT_TO_DRAG:g} would do: stage lower and slower, or land "
                "downrange"
            )
            findings.append(
                Finding(
                    "place out of reach of the glide",
                    Weight.FAILS,
                    released.name,
                    f"comes down {short / 1e3:,.0f} km short at a lift to drag of {way.wings.lift_to_drag:g}",
                    f"over the place {ARRIVES_ABOVE:.0f} m high or more",
                    would,
                    "flown by this program",
                )
            )
    return loads(
        homecoming(
            flyer,
            legs,
            way,
            site,
            burns=bool(prefix),
            comes_home=not findings,
            findings=tuple(findings),
            assumed=(
                f"lift to drag {way.wings.lift_to_drag:g} at every Mach number; lift coefficient at most "
                f"{way.wings.most_lift:g} on {way.wings.area:.0f} m², load at most "
                f"{way.wings.load / 9.80665:.1f} g",
                "steered along the slope of the best glide",
            ),
        )
    )


def _arrives(flown: Flown, over: float) -> bool:
    return flown.status == at.ARRIVED and over >= ARRIVES_ABOVE


def _legs(made: Body, way: Way, bank: float, prefix: list[np.ndarray]) -> Legs:
    wings = way.wings
    assert wings is not None
    legs = Legs()
    for row in prefix:
        burns = row[at.THRUST] > 0.0
        name = "burn out of orbit" if burns else "in orbit"
        legs.add(
            name, row, f"{name} ends" if burns else "burn out of orbit begins", (name, 1.0) if burns else None
        )
    legs.add("coast", leg(made, Posture.END_ON, at.APEX), "apogee")

    def winged(end: int, value: float = 0.0) -> np.ndarray:
        row = leg(made, Posture.END_ON, end, value)
        row[at.AREA] = 0.0  # the polar has the body in it
        row[at.WING], row[at.WING_BEST], row[at.WING_MOST] = wings.area, wings.best_lift, wings.most_lift
        row[at.LIFT_TO_DRAG], row[at.LOAD] = wings.lift_to_drag, wings.load
        if way.place is not None:
            row[at.TO_X : at.TO_Z + 1] = places.earth_fixed(way.place)
        return row

    if way.place is not None:
        turn = winged(at.TURNED)
        turn[at.BANK] = bank
        legs.add("turn", turn, "turned to the place")
        legs.add("glide", winged(at.NEAREST), "over the place")
    else:
        legs.add("glide", winged(at.FALLEN, way.landing_height), "touch-down")
    return legs


def _best(flyer: Flyer, made: Body, way: Way, prefix: list[np.ndarray]) -> tuple[Legs, Flown]:
    """Of a turn to the left and one to the right, the one that comes nearer, then higher."""
    wings = way.wings
    assert wings is not None
    sides = (wings.bank, -wings.bank) if way.place is not None else (0.0,)
    tried = []
    for bank in sides:
        legs = _legs(made, way, bank, prefix)
        flown = flyer.fly(legs.rows, longest=4.0)
        if way.place is None:
            return legs, flown
        over = places.over_ground(flown.state, flown.time)[2]
        far = math.hypot(*places.miss(flown.state, flown.time, way.place))
        tried.append(((not _arrives(flown, over - flyer.ground), far if over < 1e3 else -over), legs, flown))
    _, legs, flown = min(tried, key=lambda one: one[0])
    return legs, flown


def _lift_to_drag_that_would_do(flyer: Flyer, made: Body, way: Way, prefix: list[np.ndarray]) -> float | None:
    def does(ratio: float) -> bool:
        wings = dataclasses.replace(way.wings, lift_to_drag=ratio)
        _, flown = _best(flyer, made, dataclasses.replace(way, wings=wings), prefix)
        return _arrives(flown, places.over_ground(flown.state, flown.time)[2] - flyer.ground)

    assert way.wings is not None
    low, high = way.wings.lift_to_drag, way.wings.lift_to_drag
    while high < MOST_LIFT_TO_DRAG:
        high = min(1.4 * high, MOST_LIFT_TO_DRAG)
        if does(high):
            break
        low = high
    else:
        return None
    for _ in range(10):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if does(middle) else (middle, high)
    return high
