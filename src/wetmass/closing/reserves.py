"""What stages keep to come home: closings and ways down in turn, until what is kept is what is needed."""

from __future__ import annotations

import dataclasses
import math
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from wetmass.closing.again import Known, known
from wetmass.closing.close import Answer, answered, told_of
from wetmass.closing.mission import site_of
from wetmass.closing.ways import way_home
from wetmass.concept.find import Find
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as StatedStage
from wetmass.flight.home import come_home, find_reserve
from wetmass.flight.home.reserve import FIRST_SLOPE
from wetmass.flight.home.stated import let_go_at, released_in
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.physics.orbits import elements
from wetmass.record.brought import Kept
from wetmass.record.closed import Closed
from wetmass.record.digits import fixed
from wetmass.record.homecoming import Homecoming, Released, Way
from wetmass.record.vehicle import Stage

FIRST_SHARE = {
    "downrange": 0.03,
    "back to site": 0.15,
}  # of the load, kept where a way with none is not found
USUAL_SHARE = 0.05  # … for a named place: ours
MOST_SHARE = 0.6  # of the load that may be kept
THICK_AIR = 100e3  # m: an orbit that dips below it ends within one turn (common practice)
TOLERANCE = 3e-4  # of what is kept: so near to what is needed
SPARE = 1.0025  # what is kept over what is needed: some more than that, for a search may end elsewhere in its valley
WORTH_ANEW = 5e-3  # of what is kept: so much less makes it worth finding anew
SWEEPS = 3  # over the stages, where several keep something

Solver = Callable[..., Answer]  # `close.answered`, or one that takes the same and is more thorough


@dataclass(frozen=True)
class Homeward:
    """What the stages of a concept keep, and how they come down: where a concept near it starts.

    kept  propellant by path [kg]   ways  `Homecoming.unknowns` by stage
    """

    kept: Mapping[str, float] = field(default_factory=dict)
    ways: Mapping[str, tuple[float, ...]] = field(default_factory=dict)


def opened_home(concept: Concept) -> list[str]:
    """Paths of what stages must keep to come home and leave open."""
    return [home_path(stage) for stage in _opened(concept)]


def home_path(stage: StatedStage) -> str:
    """Path of the propellant a stage keeps to come home with."""
    return f"stages/{stage.name}/home/propellant"


def answered_home(
    concept: Concept, start: Known | None = None, near: Homeward | None = None, solve: Solver = answered,
    told: Callable[[str], None] = lambda _: None,
) -> tuple[Answer, Homeward]:  # fmt: skip
    """The concept solved with what its stages need to come home kept in them, and that.

    start, near  what is known of a concept near it; from nothing where None
    solve        who closes it with what is kept held

    Nothing is flown down that does not ask for propellant, and no fall is drawn by chance: `bring_home` does
    that.  Where a stage does not come home with what it keeps, the answer's reason says so.
    """
    paths = opened_home(concept)
    nothing = dict.fromkeys(paths, 0.0)
    loop = Reserves(concept, solve, told)
    loop.near = start
    if near is not None and paths and set(near.kept) == set(paths):
        loop.kept, loop.ways = dict(near.kept), dict(near.ways)
    first = loop.close(loop.kept or nothing)
    if first.flight is None and loop.kept:  # with less kept it may get there
        loop.kept = {}
        first = loop.close(nothing)
    answer = loop.answer
    assert answer is not None
    if not paths or answer.reason:
        return answer, Homeward(loop.kept or nothing, loop.ways)
    failed = loop.find(first)
    if failed is not None and near is not None:  # what a concept near it keeps may be far off
        loop.kept, loop.ways = {}, {}
        failed = loop.find(loop.close(nothing))
    loop.close(loop.kept)
    answer = loop.answer
    if failed is not None and not answer.reason:
        answer = dataclasses.replace(answer, reason=f"{failed.stage} does not come home: {failed.reason}")
    return answer, Homeward(loop.kept, loop.ways)


def wanted_by(concept: Concept, answer: Answer, home: Homeward) -> dict[str, float]:
    """What each stage of a concept near a solved one would have to keep when all keep what those do [kg], by path.

    answer, home  of the one near it.  A stage that does not come home at all, or a concept that is not solved,
    has nan.
    """
    loop = Reserves(concept)
    loop.near, loop.ways = known(answer), dict(home.ways)
    closed = loop.close(home.kept)
    wanted = {}
    for stage in _opened(concept):
        found = None if closed.flight is None else loop.wants(closed, stage.name)
        wanted[home_path(stage)] = math.nan if found is None else found
    return wanted


class Reserves:
    """Closings of one concept, each searched from the last, and the ways down between them."""

    def __init__(
        self, concept: Concept, solve: Solver = answered, told: Callable[[str], None] = lambda _: None
    ) -> None:
        self.concept, self.solve, self.told = concept, solve, told
        self.near: Known | None = None
        self.answer: Answer | None = None  # of the last closing
        self.kept: dict[str, float] = {}
        self.found: dict[str, Kept] = {}
        self.ways: dict[str, tuple[float, ...]] = {}
        self.last: tuple[dict[str, float], Closed] | None = None
        self.flights, self.seconds = 0, 0.0

    def close(self, kept: Mapping[str, float]) -> Closed:
        """The concept closed with so much kept by path [kg]."""
        if self.last is not None and self.last[0] == kept:
            return self.last[1]
        began = time.perf_counter()
        answer = self.solve(self.concept, kept=kept, known=self.near, told=self.told)
        closed = told_of(self.concept, answer, began)
        self.near, self.answer = known(answer) or self.near, answer
        self.last = (dict(kept), closed)
        self.flights, self.seconds = self.flights + closed.flights, self.seconds + closed.seconds
        return closed

    def find(self, before: Closed) -> Kept | None:
        """Find what every stage keeps that leaves it open; the first that does not come home with it, None where all do.

        before  the concept closed with less kept or about that
        """
        opened = _opened(self.concept)
        for sweep in range(SWEEPS if len(opened) > 1 else 1):
            last = dict(self.kept)
            for stage in opened:
                self.told(f"finding what {stage.name} needs to come home")
                self._find(stage, before)
            moved = [
                abs(self.kept[path] - last.get(path, 0.0)) / max(self.kept[path], 1.0) for path in self.kept
            ]
            if sweep and max(moved) < 3e-3:
                break
        return next((one for one in self.found.values() if not one.met), None)

    def _find(self, stage: StatedStage, before: Closed) -> None:
        path = home_path(stage)
        load = named(before, stage.name).propellant.load
        guess = self.kept.get(path)
        assert stage.home is not None

        def needed(propellant: float) -> float | None:
            closed = self.close({**self.kept, path: propellant})
            return None if closed.flight is None else self.wants(closed, stage.name)

        if before.flight is None or self.stays(before, stage.name):
            self.kept[path] = 0.0
            self.found[path] = Kept(stage.name, path, 0.0, True, True)
            return
        from_nothing = guess is None
        if guess is None:  # what the way home of the vehicle that keeps nothing would need
            lacking = needed(0.0) if not self.kept else None
            guess = FIRST_SHARE.get(stage.home.where, USUAL_SHARE) * load
            guess = guess if lacking is None else min(-lacking / FIRST_SLOPE, 0.5 * MOST_SHARE * load)
        most = MOST_SHARE * load
        reserve = find_reserve(needed, min(guess, most), most=most, tolerance=TOLERANCE)
        if from_nothing and reserve.met:
            self.ways.pop(stage.name, None)  # let go slower now, other engine counts may do with less
            wanted = needed(reserve.kept)
            if wanted is not None and wanted < (1.0 - WORTH_ANEW) * reserve.kept:
                reserve = find_reserve(needed, min(wanted, most), most=most, tolerance=TOLERANCE)
        self.kept[path] = reserve.kept
        self.found[path] = Kept(
            stage.name, path, reserve.kept, True, reserve.met, reserve.rounds, reserve.reason
        )

    def wants(self, closed: Closed, name: str) -> float | None:
        """What a stage of a closed concept has to keep to come down [kg]; None where it does not at all."""
        home, _ = self.down(closed, name)
        wanted = home.used if home.way.from_orbit else home.needed
        return None if wanted is None else SPARE * wanted

    def down(
        self, closed: Closed, name: str, advice: bool = False
    ) -> tuple[Homecoming, tuple[Released, Way]]:
        """What becomes of one stage of a closed concept; with what it was let go as, and the way it was given.

        advice  whether to look for a place in reach where the one asked for is not
        """
        assert closed.flight is not None
        stage, stated = named(closed, name), self.stated(name)
        let_go = released_in(closed.flight, name, _length(closed, name))
        way, assumed = way_home(self.concept, stage, stated.home)
        if way.from_orbit and _orbit_of(let_go) is None:
            way = dataclasses.replace(way, from_orbit=False)
            assumed = (*assumed, "it is let go below an orbit: no burn out of one is needed")
        home = come_home(let_go, way, site_of(self.concept), self.ways.get(name, ()), advice=advice)
        self.ways[name] = home.unknowns
        self.flights += home.flights
        home = dataclasses.replace(home, assumed=(*home.assumed, *assumed), count=stated.count)
        return home, (let_go, way)

    def stays(self, closed: Closed, name: str) -> str:
        """Why a stage is not flown down; "" where it is."""
        assert closed.flight is not None
        if let_go_at(closed.flight, name) is None:
            return "it is never let go"
        orbit = _orbit_of(released_in(closed.flight, name))
        home = self.stated(name).home
        if orbit is None or (home is not None and home.from_orbit):
            return ""
        stays = f"it stays in an orbit of {orbit}; how long is not computed"
        return stays if home is None else f'{stays}. Say "from orbit: yes" in its home to bring it down'

    def stated(self, name: str) -> StatedStage:
        """The stage of that name as the file says it."""
        return next(stage for stage in self.concept.stages if stage.name == name)


def named(closed: Closed, name: str) -> Stage:
    """The stage of that name as it came out."""
    return next(stage for stage in closed.vehicle.every_stage() if stage.name == name)


def _opened(concept: Concept) -> list[StatedStage]:
    return [s for s in concept.stages if s.home is not None and isinstance(s.home.propellant, Find)]


def _orbit_of(let_go: Released) -> str | None:
    """The orbit in which a stage is let go, in words; None where its perigee lies in thick air."""
    orbit = elements(let_go.state[:3], let_go.state[3:])
    low, high = orbit.perigee_radius - EARTH_RADIUS_WGS84, orbit.apogee_radius - EARTH_RADIUS_WGS84
    return f"{fixed(low / 1e3)} × {fixed(high / 1e3)} km" if low > THICK_AIR else None


def _length(closed: Closed, name: str) -> float | None:
    """Length of a stage as it is laid out [m]."""
    if closed.geometry is None:
        return None
    return next((stage.length for stage in closed.geometry.stages if stage.name == name), None)
