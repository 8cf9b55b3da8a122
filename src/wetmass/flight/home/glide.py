"""Home on wings: out of the fall, towards the place, round over it, down.

Lift follows a path at the slope of the best lift to drag, within the greatest lift coefficient and load; the
same lift to drag is taken at every Mach number.  The wings are banked in proportion to the turn that is left,
so that what comes over the place too high circles there.
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.legs import Body, Flown, Flyer, body, leg
from wetmass.flight.home.nearer import place_words
from wetmass.flight.home.report import Legs, homecoming, loads
from wetmass.record.digits import fixed
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Homecoming, Posture, Released, Way
from wetmass.record.mission import Site

NEAR = 3e3  # m from the place at touch-down that counts as there: the last circle, ours
MOST_LIFT_TO_DRAG = 20.0


def glide(released: Released, way: Way, site: Site, prefix: list[np.ndarray] | None = None) -> Homecoming:
    """The stage glides to `way.place`, or as far as it goes; `way.wings` says on what."""
    if way.wings is None:
        raise ValueError("way.wings must say on what the stage glides, got none")
    made = body(released, way)
    before = prefix or []
    ground = way.place.height if way.place is not None else way.landing_height
    flyer = Flyer(released, made.curves, ground=ground)
    legs = glide_legs(made, way, before)
    flown = flyer.fly(legs.rows, longest=4.0)
    findings = [] if _arrives(flown, way) else [_out_of_reach(flyer, made, way, before, flown)]
    result = loads(
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
                "steered along the slope of the best glide"
                + ("" if way.place is None else ", banked towards the place, circling over it")
                + "; the flare is left out",
            ),
        )
    )
    return dataclasses.replace(result, needed=result.used) if prefix else result


def _arrives(flown: Flown, way: Way) -> bool:
    """Whether it comes down at the place, if there is one."""
    if flown.status == at.LOST:
        return False
    return way.place is None or math.hypot(*places.miss(flown.state, flown.time, way.place)) <= NEAR


def _out_of_reach(flyer: Flyer, made: Body, way: Way, prefix: list[np.ndarray], flown: Flown) -> Finding:
    """How short it comes down, the lift to drag that would do, and the place it does reach."""
    assert way.wings is not None
    assert way.place is not None
    short = math.hypot(*places.miss(flown.state, flown.time, way.place))
    wanted = _lift_to_drag_that_would_do(flyer, made, way, prefix)
    here = places.over_ground(flown.state, flown.time)
    reached = f"a place at {place_words(here)} would do"
    would = (
        f"A lift to drag of {wanted:.1f} would do; or {reached}"
        if wanted is not None
        else f"No lift to drag up to {MOST_LIFT_TO_DRAG:g} would do; {reached}"
    )
    return Finding(
        "place out of reach of the glide",
        Weight.FAILS,
        flyer.released.name,
        f"comes down {fixed(short / 1e3)} km short at a lift to drag of {way.wings.lift_to_drag:g}",
        f"at most {NEAR / 1e3:.0f} km from the place",
        would,
        "flown by this program",
    )


def glide_legs(made: Body, way: Way, prefix: list[np.ndarray]) -> Legs:
    """Legs before, the coast to the apogee, and the glide, steered where `way` has a place."""
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
    ground = way.place.height if way.place is not None else way.landing_height
    row = leg(made, Posture.END_ON, at.FALLEN, ground)
    row[at.AREA] = 0.0  # the polar has the body in it
    row[at.WING], row[at.WING_BEST], row[at.WING_MOST] = wings.area, wings.best_lift, wings.most_lift
    row[at.LIFT_TO_DRAG], row[at.LOAD] = wings.lift_to_drag, wings.load
    if way.place is not None:
        row[at.TO_X : at.TO_Z + 1] = places.earth_fixed(way.place)
        row[at.BANK] = wings.bank
    legs.add("glide", row, "touch-down")
    return legs


def _lift_to_drag_that_would_do(flyer: Flyer, made: Body, way: Way, prefix: list[np.ndarray]) -> float | None:
    def does(ratio: float) -> bool:
        wings = dataclasses.replace(way.wings, lift_to_drag=ratio)
        better = dataclasses.replace(way, wings=wings)
        return _arrives(flyer.fly(glide_legs(made, better, prefix).rows, longest=4.0), better)

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
