"""Close a concept with the propellant in it that its stages need to come home, and fly each of them down."""

from __future__ import annotations

from collections.abc import Callable

from wetmass.closing.close import close
from wetmass.closing.mission import site_of
from wetmass.concept.fields import Find
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as StatedStage
from wetmass.flight.home import come_home, find_reserve
from wetmass.flight.home.stated import released_in, way_for
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.physics.orbits import elements
from wetmass.record.brought import Brought, Kept
from wetmass.record.closed import Closed
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.refusal import Complaint, Refusal

FIRST_SHARE = {"downrange": 0.03, "back to site": 0.15}  # of the load, kept at first: ours
MOST_SHARE = 0.6  # of the load that may be kept
THICK_AIR = 100e3  # m: an orbit that dips below it ends within one turn (common practice)
SPARE = 1.003  # what is kept at the end over what the loop found: its tolerance and half as much again
_STRAPPED = "it is strapped to another stage: its fall is not computed yet"


def bring_home(concept: Concept, *, told: Callable[[str], None] = lambda _: None) -> Brought:
    """The concept closed with every homecoming reserve found, and the way down of each stage it lets go.

    A stage that states no way home falls as it is.  The last stage is flown down only where it states a way.
    Raises Refusal for a place that is not known, or jets where a stage has none.
    """
    kept: dict[str, float] = {}
    told("flying it with nothing kept to come home")
    expended = close(concept, kept={home_path(stage): 0.0 for stage in concept.stages if stage.home})
    known: list[Kept] = []
    closed = expended
    for stage in concept.stages:
        if stage.home is None or not isinstance(stage.home.propellant, Find):
            continue
        told(f"finding what {stage.name} needs to come home")
        reserve, closed = _found(concept, stage, kept, expended)
        kept[home_path(stage)] = reserve.kept
        known.append(reserve)
    if closed is expended:
        closed = close(concept, kept=kept)
    for stage in concept.stages:
        if stage.home is not None and not isinstance(stage.home.propellant, Find):
            tanked = next((s for s in closed.vehicle.every_stage() if s.name == stage.name), None)
            if tanked is not None and tanked.propellant.home > 0.0:
                known.append(Kept(stage.name, tanked.propellant.home, False, True))
    told("flying every stage down")
    ways: list[Homecoming] = []
    not_flown: list[str] = []
    if closed.flight is not None:
        for i, stage in enumerate(closed.vehicle.stages):
            stated = _stated(concept, stage.name).home is not None
            stays = None if stated else _orbit_left_in(closed, i)
            if stays is not None:
                not_flown.append(
                    f"{stage.name}: it stays in an orbit of {stays}; how long is not computed yet"
                )
            elif stated or i + 1 < len(closed.vehicle.stages):
                ways.append(_way_down(concept, closed, i))
        not_flown += [f"{s.name}: {_STRAPPED}" for s in concept.stages if s.strapped_to is not None]
    payload = expended.payload if expended.closes else None
    return Brought(closed, tuple(ways), tuple(known), payload, tuple(not_flown))


def _orbit_left_in(closed: Closed, index: int) -> str | None:
    """The orbit in which a stage is let go, in words; None where its perigee lies in thick air."""
    assert closed.flight is not None
    state = released_in(closed.flight, index).state
    orbit = elements(state[:3], state[3:])
    low, high = orbit.perigee_radius - EARTH_RADIUS_WGS84, orbit.apogee_radius - EARTH_RADIUS_WGS84
    return f"{low / 1e3:,.0f} × {high / 1e3:,.0f} km" if low > THICK_AIR else None


def home_path(stage: StatedStage) -> str:
    """Path of the propellant a stage keeps to come home with."""
    return f"stages/{stage.name}/home/propellant"


def _found(
    concept: Concept, stage: StatedStage, kept: dict[str, float], expended: Closed
) -> tuple[Kept, Closed]:
    """What one stage has to keep, and the concept closed with it."""
    assert stage.home is not None
    last: list[Closed] = [expended]
    unknowns: list[tuple[float, ...]] = [()]

    def needed(propellant: float) -> float | None:
        closed = close(concept, kept={**kept, home_path(stage): propellant})
        last[0] = closed
        if closed.flight is None:
            return None
        index = next(i for i, s in enumerate(closed.vehicle.stages) if s.name == stage.name)
        home = _way_down(concept, closed, index, unknowns[0])
        unknowns[0] = home.unknowns
        return home.needed if home.needed is not None else home.used

    load = next(s for s in expended.vehicle.every_stage() if s.name == stage.name).propellant.load
    powered = stage.home.by in (By.POWERED, By.JETS)
    if not powered or expended.flight is None:
        return Kept(stage.name, 0.0, True, True), expended
    share = FIRST_SHARE.get(stage.home.where, 0.05)
    reserve = find_reserve(needed, share * load, most=MOST_SHARE * load)
    enough = reserve.kept
    if reserve.met:  # the loop ends within its tolerance, on either side; what is kept must do
        enough = SPARE * max(reserve.kept, reserve.needed)
        needed(enough)
    return Kept(stage.name, enough, True, reserve.met, reserve.rounds, reserve.reason), last[0]


def _way_down(concept: Concept, closed: Closed, index: int, start: tuple[float, ...] = ()) -> Homecoming:
    """What becomes of one stage of a closed concept."""
    assert closed.flight is not None
    stage = closed.vehicle.stages[index]
    stated = _stated(concept, stage.name)
    by, where = (By.BALLISTIC, "downrange") if stated.home is None else (stated.home.by, stated.home.where)
    try:
        way, _ = way_for(stage, by, where, site_of(concept))
    except ValueError as error:
        raise Refusal(
            Complaint(
                f"stages / {stage.name} / home",
                f'"{by}", "{where}"',
                "a way that this stage can take: " + str(error),
                "change by or where",
                concept.place(f"stages/{stage.name}/home"),
            )
        ) from None
    return come_home(
        released_in(closed.flight, index, _length(closed, stage.name)), way, site_of(concept), start
    )


def _length(closed: Closed, name: str) -> float | None:
    """Length of a stage as it is laid out [m]."""
    if closed.geometry is None:
        return None
    return next((stage.length for stage in closed.geometry.stages if stage.name == name), None)


def _stated(concept: Concept, name: str) -> StatedStage:
    return next(stage for stage in concept.stages if stage.name == name)
