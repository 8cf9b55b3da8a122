"""Close a concept with the propellant in it that its stages need to come home, and fly each of them down."""

from __future__ import annotations

import dataclasses
import time
from collections.abc import Callable, Mapping

from wetmass.closing.again import Known, known
from wetmass.closing.close import Answer, answered, spread_by_guesses, told_of
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
from wetmass.record.brought import Brought, Kept
from wetmass.record.closed import Closed
from wetmass.record.homecoming import Homecoming, Released
from wetmass.record.vehicle import Stage

FIRST_SHARE = {
    "downrange": 0.03,
    "back to site": 0.15,
}  # of the load, kept where a way with none is not found
USUAL_SHARE = 0.05  # … for a named place: ours
MOST_SHARE = 0.6  # of the load that may be kept
THICK_AIR = 100e3  # m: an orbit that dips below it ends within one turn (common practice)
SPARE = 1.0025  # what is kept over what is needed: a little more than the loop's tolerance
SWEEPS = 3  # over the stages, where several keep something


def bring_home(
    concept: Concept, *, falls: int = 400, seed: int = 1, told: Callable[[str], None] = lambda _: None
) -> Closed:
    """The concept closed with every homecoming reserve found; `home` says how each stage comes down.

    falls, seed  how often the fall of a stage that does not steer is drawn by chance, and which draw
    told         called with a few words whenever another part of the work begins

    A stage that states no way home falls as it is.  A stage left in orbit is flown down only where it
    states a way.
    """
    return brought_home(concept, falls=falls, seed=seed, told=told)[0]


def brought_home(
    concept: Concept, answer: Answer | None = None, kept: Mapping[str, float] | None = None, *,
    falls: int = 400, seed: int = 1, told: Callable[[str], None] = lambda _: None,
) -> tuple[Closed, Answer | None, dict[str, float]]:  # fmt: skip
    """The same with the answer of the last closing, and what is kept by path [kg].

    answer  the concept solved with `kept`, to go on from: what a concept near it was found to keep
    """
    loop = _Loop(concept, told, falls, seed)
    if answer is not None:
        loop.near, loop.kept, loop.answer = known(answer), dict(kept or {}), answer
        loop.last = (dict(kept or {}), told_of(concept, answer, time.perf_counter()))
    return loop.closed(), loop.answer, loop.kept


def opened_home(concept: Concept) -> list[str]:
    """Paths of what stages must keep to come home and leave open."""
    return [
        home_path(stage)
        for stage in concept.stages
        if stage.home is not None and isinstance(stage.home.propellant, Find)
    ]


def home_path(stage: StatedStage) -> str:
    """Path of the propellant a stage keeps to come home with."""
    return f"stages/{stage.name}/home/propellant"


class _Loop:
    """Closings of one concept, each searched from the last."""

    def __init__(self, concept: Concept, told: Callable[[str], None], falls: int, seed: int) -> None:
        self.concept, self.told = concept, told
        self.falls, self.seed = falls, seed
        self.near: Known | None = None
        self.answer: Answer | None = None  # of the last closing
        self.kept: dict[str, float] = {}
        self.found: dict[str, Kept] = {}
        self.unknowns: dict[str, tuple[float, ...]] = {}
        self.last: tuple[dict[str, float], Closed] | None = None
        self.flights, self.seconds = 0, 0.0

    def closed(self) -> Closed:
        """The answer."""
        stages = self.concept.stages
        nothing = {home_path(s): 0.0 for s in stages if s.home is not None and s.home.propellant is not None}
        expended = self._close(nothing)
        opened = [s for s in stages if s.home is not None and isinstance(s.home.propellant, Find)]
        closed = expended
        for sweep in range(SWEEPS if len(opened) > 1 else 1):
            before = dict(self.kept)
            for stage in opened:
                self.told(f"finding what {stage.name} needs to come home")
                self._find(stage, expended)
            moved = [
                abs(self.kept[path] - before.get(path, 0.0)) / max(self.kept[path], 1.0) for path in self.kept
            ]
            if sweep and max(moved) < 3e-3:
                break
        if nothing:
            closed = self._close(self.kept)
        self.told("flying every stage down")
        brought = self._brought(closed, expended)
        closed = dataclasses.replace(closed, home=brought, flights=self.flights, seconds=self.seconds)
        spread = spread_by_guesses(self.concept, self.answer) if self.answer is not None else None
        return closed if spread is None else dataclasses.replace(closed, spread=spread, not_yet=())

    def _close(self, kept: dict[str, float]) -> Closed:
        if self.last is not None and self.last[0] == kept:
            return self.last[1]
        began = time.perf_counter()
        answer = answered(self.concept, kept=kept, known=self.near, told=self.told)
        closed = told_of(self.concept, answer, began)
        self.near, self.answer = known(answer) or self.near, answer
        self.last = (dict(kept), closed)
        self.flights, self.seconds = self.flights + closed.flights, self.seconds + closed.seconds
        return closed

    # ── what one stage keeps ──

    def _find(self, stage: StatedStage, expended: Closed) -> None:
        path = home_path(stage)
        load = _named(expended, stage.name).propellant.load
        before = self.kept.get(path)
        assert stage.home is not None

        def needed(propellant: float) -> float | None:
            closed = self._close({**self.kept, path: propellant})
            if closed.flight is None:
                return None
            home = self._down(closed, stage.name, last=False)
            wanted = home.used if home.way.from_orbit else home.needed
            return None if wanted is None else SPARE * wanted

        if expended.flight is None or self._stays(expended, stage.name):
            self.kept[path] = 0.0
            self.found[path] = Kept(stage.name, path, 0.0, True, True)
            return
        if before is None:  # what the way home of the vehicle that keeps nothing would need
            lacking = needed(0.0) if not self.kept else None
            before = FIRST_SHARE.get(stage.home.where, USUAL_SHARE) * load
            before = before if lacking is None else min(-lacking / FIRST_SLOPE, 0.5 * MOST_SHARE * load)
        reserve = find_reserve(needed, before, most=MOST_SHARE * load)
        self.kept[path] = reserve.kept
        self.found[path] = Kept(
            stage.name, path, reserve.kept, True, reserve.met, reserve.rounds, reserve.reason
        )

    # ── the way down ──

    def _down(self, closed: Closed, name: str, last: bool) -> Homecoming:
        """What becomes of one stage of a closed concept; `last` with all that is told of it."""
        assert closed.flight is not None
        stage, stated = _named(closed, name), self._stated(name)
        let_go = released_in(closed.flight, name, _length(closed, name))
        way, assumed = way_home(self.concept, stage, stated.home)
        if way.from_orbit and _orbit_of(let_go) is None:
            way = dataclasses.replace(way, from_orbit=False)
            assumed = (*assumed, "it is let go below an orbit: no burn out of one is needed")
        site = site_of(self.concept)
        home = come_home(let_go, way, site, self.unknowns.get(name, ()), advice=last)
        self.unknowns[name] = home.unknowns
        if last and not home.burns and way.by in ("ballistic", "parachutes"):
            from wetmass.flight.home.spread import spread as spread_of

            home = dataclasses.replace(
                home, spread=spread_of(let_go, way, flights=self.falls, seed=self.seed)
            )
        self.flights += home.flights
        return dataclasses.replace(home, assumed=(*home.assumed, *assumed), count=stated.count)

    def _brought(self, closed: Closed, expended: Closed) -> Brought:
        kept = list(self.found.values())
        for stage in self.concept.stages:
            if stage.home is not None and not isinstance(stage.home.propellant, Find):
                tanked = _named(closed, stage.name).propellant.home
                if tanked > 0.0:
                    kept.append(Kept(stage.name, home_path(stage), tanked, False, True))
        ways: list[Homecoming] = []
        not_flown: list[str] = []
        impact_points = ()
        if closed.flight is not None:
            from wetmass.flight.home.impact import impact_track

            impact_points = impact_track(closed.flight.trajectory)
            for name in (stage.name for stage in closed.vehicle.every_stage()):
                stays = self._stays(closed, name)
                if stays:
                    not_flown.append(f"{name}: {stays}")
                elif name != closed.vehicle.stages[-1].name or self._stated(name).home is not None:
                    ways.append(self._down(closed, name, last=True))
        return Brought(
            ways=tuple(sorted(ways, key=lambda home: home.events[0].time)),
            kept=tuple(kept),
            payload=_carries(closed),
            expended_payload=_carries(expended) if expended.closes else None,
            lift_off_mass=closed.vehicle.lift_off_mass,
            expended_lift_off_mass=expended.vehicle.lift_off_mass if expended.closes else None,
            impact_points=impact_points,
            not_flown=tuple(not_flown),
        )

    def _stays(self, closed: Closed, name: str) -> str:
        """Why a stage is not flown down; "" where it is."""
        assert closed.flight is not None
        if let_go_at(closed.flight, name) is None:
            return "it is never let go"
        orbit = _orbit_of(released_in(closed.flight, name))
        home = self._stated(name).home
        if orbit is None or (home is not None and home.from_orbit):
            return ""
        stays = f"it stays in an orbit of {orbit}; how long is not computed"
        return stays if home is None else f'{stays}. Say "from orbit: yes" in its home to bring it down'

    def _stated(self, name: str) -> StatedStage:
        return next(stage for stage in self.concept.stages if stage.name == name)


def _carries(closed: Closed) -> float:
    """The most it carries [kg]: what was sized for, or what it could."""
    return closed.payload if closed.most_payload is None else closed.most_payload


def _named(closed: Closed, name: str) -> Stage:
    return next(stage for stage in closed.vehicle.every_stage() if stage.name == name)


def _orbit_of(let_go: Released) -> str | None:
    """The orbit in which a stage is let go, in words; None where its perigee lies in thick air."""
    orbit = elements(let_go.state[:3], let_go.state[3:])
    low, high = orbit.perigee_radius - EARTH_RADIUS_WGS84, orbit.apogee_radius - EARTH_RADIUS_WGS84
    return f"{low / 1e3:,.0f} × {high / 1e3:,.0f} km" if low > THICK_AIR else None


def _length(closed: Closed, name: str) -> float | None:
    """Length of a stage as it is laid out [m]."""
    if closed.geometry is None:
        return None
    return next((stage.length for stage in closed.geometry.stages if stage.name == name), None)
