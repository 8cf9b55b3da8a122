"""A vehicle laid out as the arrays that the compiled flight reads: segments, groups, pieces, curves."""

from __future__ import annotations

import functools
from dataclasses import dataclass, field, replace

import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.propagate import NO_GROUPS, NO_TRACES
from wetmass.physics.curve import spline_table, values
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE, EngineGroup, Moment, Stage, StrapOn, Vehicle

_WHEN = {Moment.HEATING: at.WHEN_HEATING, Moment.HEIGHT: at.WHEN_HEIGHT, Moment.TIME: at.WHEN_TIME}

Curve = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Program:
    """What is flown, without how it is steered."""

    segments: np.ndarray  # (k, SEGMENT_WIDTH)
    let_go: np.ndarray  # (j, LET_GO_WIDTH)
    curves: np.ndarray  # (c, m, 5)
    lift_off_mass: float  # kg
    names: tuple[str, ...]  # of the segments, for people
    stage_of: tuple[int, ...]  # stage index of each segment
    burns: tuple[bool, ...]  # segment burns, or coasts
    groups: np.ndarray = field(default_factory=lambda: NO_GROUPS)  # (g, groups.WIDTH)
    traces: np.ndarray = field(default_factory=lambda: NO_TRACES)  # (s, m, 5)
    group_names: tuple[str, ...] = ()
    strap_on_of: tuple[
        int | None, ...
    ] = ()  # of each group: index in `Vehicle.strap_ons`, None: the stage's own

    @property
    def plain(self) -> bool:
        """Whether every engine is a rocket whose thrust and flow stand in its segment's row."""
        return not len(self.groups)

    def mark_rows(self) -> int:
        """How many rows `marks` needs."""
        return len(self.segments) + len(self.let_go) + len(self.groups)

    def group_mark(self, group: int) -> int:
        """The row of `marks` in which a group is let go."""
        return len(self.segments) + len(self.let_go) + group


@dataclass(frozen=True, slots=True)
class Restart:
    """The last stage stops, coasts and burns again."""

    first_share: float  # of its propellant burnt before the coast [-]
    coast: float  # [s]


def program(vehicle: Vehicle, restart: Restart | None = None, *, to_apex: bool = False) -> Program:
    """Lay out `vehicle`; its last stage burns once, or twice with `restart`, and coasts up with `to_apex`."""
    making = _Making(vehicle)
    last = len(vehicle.stages) - 1
    for index in range(len(vehicle.stages)):
        making.stage(index, restart if index == last else None)
    if to_apex:
        row = making.row(last, ())
        row[at.END] = at.ENDS_AT_APEX
        making.add("coast", last, row, False)
    return making.program()


class _Making:
    """The rows as they are made, stage by stage."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self.rows: list[np.ndarray] = []
        self.names: list[str] = []
        self.stage_of: list[int] = []
        self.burns: list[bool] = []
        self.first_of_stage: list[int] = []
        self.curves: list[Curve] = []
        self.groups: list[np.ndarray] = []
        self.group_names: list[str] = []
        self.strap_on_of: list[int | None] = []
        self.traces: list[np.ndarray] = []
        self.early = 0.0  # kg that solids burn before it leaves the pad
        self.held = 0.0  # mass of the stage below that is let go after a hot start [kg]

    def program(self) -> Program:
        let_go = np.zeros((len(self.vehicle.let_go), at.LET_GO_WIDTH))
        for j, piece in enumerate(self.vehicle.let_go):
            segment = self.first_of_stage[piece.stage]
            let_go[j] = piece.mass, _WHEN[piece.moment], piece.value, segment, float(piece.covers)
        return Program(
            np.array(self.rows),
            let_go,
            _curves(tuple(self.curves)),
            self.vehicle.lift_off_mass - self.early,
            tuple(self.names),
            tuple(self.stage_of),
            tuple(self.burns),
            np.array(self.groups) if self.groups else NO_GROUPS,
            _padded(self.traces) if self.traces else NO_TRACES,
            tuple(self.group_names),
            tuple(self.strap_on_of),
        )

    def add(self, name: str, index: int, row: np.ndarray, burning: bool) -> None:
        self.rows.append(row)
        self.names.append(name)
        self.stage_of.append(index)
        self.burns.append(burning)

    def row(self, index: int, groups: tuple[EngineGroup, ...]) -> np.ndarray:
        """A segment's row with `groups` burning; those that cannot throttle beside others are fixed."""
        stage = self.vehicle.stages[index]
        if stage.drag_curve not in self.curves:
            self.curves.append(stage.drag_curve)
        row = np.zeros(at.SEGMENT_WIDTH)
        throttling = [g for g in groups if g.least_throttle < 1.0] or list(groups)
        for group in groups:
            one = group in throttling
            thrust, flow, area, counted = (
                (at.THROTTLED_THRUST, at.THROTTLED_FLOW, at.THROTTLED_EXIT, at.THROTTLED_COUNTED)
                if one
                else (at.FIXED_THRUST, at.FIXED_FLOW, at.FIXED_EXIT, at.FIXED_COUNTED)
            )
            row[thrust] += group.count * group.vacuum_thrust
            row[flow] += group.flow
            row[area] += group.count * group.exit_area
            row[counted] += group.flow
        row[at.LEAST_THROTTLE] = max((g.least_throttle for g in throttling), default=1.0)
        row[at.BURNING] = 1.0 if groups else 0.0
        row[at.AREA], row[at.CURVE] = stage.drag_area, float(self.curves.index(stage.drag_curve))
        return row

    # ── a stage ──

    def stage(self, index: int, restart: Restart | None) -> None:
        vehicle, stage = self.vehicle, self.vehicle.stages[index]
        beside = [(i, s) for i, s in enumerate(vehicle.strap_ons) if s.beside == index]
        self.first_of_stage.append(len(self.rows))
        self.row(index, ())  # its curve takes its place
        lost = stage.propellant.gone_before if index > 0 else 0.0  # the bottom stage loses it on the pad
        if stage.pause > 0.0 or lost > 0.0:
            row = self.row(index, ())
            row[at.END], row[at.END_VALUE], row[at.DROPPED] = at.ENDS_AT_TIME, max(stage.pause, 0.0), lost
            self.add("coast", index, row, any(s.lit_after < stage.pause for _, s in beside))
        waits = _all_wait(stage)
        if waits is not None:
            row = self.row(index, ())
            row[at.END], row[at.END_VALUE] = at.ENDS_AT_HEIGHT, waits
            self.add("coast", index, row, bool(beside))
            stage = _unruled(stage)
        own = tuple(g for g in stage.engines if g.rules is None and _plain(g))
        special = [g for g in stage.engines if g not in own]
        if not special and not beside and all(g.adapting is None for g in own):
            self._plain_burns(stage, index, restart)
        else:
            self._burns_with_groups(stage, index, own, special, beside, restart)
        self._after(stage, index)

    def _after(self, stage: Stage, index: int) -> None:
        """What is let go when the stage is done; after a hot start, a little later."""
        end, p = self.rows[-1], stage.propellant
        end[at.DROPPED] += p.shut_down_loss
        for row, owner in zip(self.rows, self.stage_of, strict=True):
            if owner == index and stage.let_go_above is not None and row[at.END] == at.ENDS_AT_BURNT:
                row[at.END_HEIGHT] = stage.let_go_above
        if index == len(self.vehicle.stages) - 1:
            return
        dropped = stage.dry_mass + p.residuals + p.reserve + p.home + p.boil_off_in_orbit
        above = self.vehicle.stages[index + 1]
        if above.hot_overlap > 0.0:
            self.held = dropped
        else:
            end[at.DROPPED] += dropped

    def _plain_burns(self, stage: Stage, index: int, restart: Restart | None) -> None:
        left = stage.propellant.burns
        if self.held:
            left = self._hot_start(stage, index, stage.engines, left)
        if restart is not None:
            self._two_burns(index, self.row(index, stage.engines), left, restart)
            return
        groups = stage.engines
        stops = sorted({g.stops_after for g in groups if g.stops_after is not None})
        began = 0.0
        for stop in stops:
            flow = sum(g.flow for g in groups)
            if flow * (stop - began) >= left:
                break  # the tanks are empty before this group would stop
            row = self.row(index, groups)
            row[at.END], row[at.END_VALUE], row[at.END_SINCE] = (
                at.ENDS_AT_BURNT,
                flow * (stop - began),
                float(len(self.rows)),
            )
            self.add("burn", index, row, True)
            left -= flow * (stop - began)
            began = stop
            groups = tuple(g for g in groups if g.stops_after is None or g.stops_after > stop)
        row = self.row(index, groups)
        row[at.END], row[at.END_VALUE], row[at.END_SINCE] = at.ENDS_AT_BURNT, left, float(len(self.rows))
        self.add("burn", index, row, True)

    def _two_burns(self, index: int, row: np.ndarray, left: float, restart: Restart) -> None:
        first, again = row, row.copy()
        first[at.END], first[at.END_VALUE], first[at.END_SINCE] = (
            at.ENDS_AT_BURNT,
            left * restart.first_share,
            float(len(self.rows)),
        )
        boiled = self.vehicle.stages[index].boil_rate * restart.coast  # no thrust: the path does not feel it
        again[at.END], again[at.END_VALUE] = at.ENDS_AT_BURNT, left - boiled
        again[at.END_SINCE] = first[at.END_SINCE]
        self.add("burn", index, first, True)
        coast = self.row(index, ())
        coast[at.END], coast[at.END_VALUE], coast[at.DROPPED] = at.ENDS_AT_TIME, restart.coast, boiled
        self.add("coast", index, coast, False)
        again[at.ATTITUDE] = at.FOLLOWS_SPEED
        self.add("second burn", index, again, True)

    def _hot_start(self, stage: Stage, index: int, groups: tuple[EngineGroup, ...], left: float) -> float:
        """Engines lit while the stage below still hangs on; returns what is left to burn [kg]."""
        flow = sum(g.flow for g in groups)
        burnt = min(stage.hot_overlap * flow, 0.5 * left)
        row = self.row(index, groups)
        row[at.END], row[at.END_VALUE], row[at.END_SINCE] = at.ENDS_AT_BURNT, burnt, float(len(self.rows))
        row[at.DROPPED] = self.held
        self.held = 0.0
        self.add("hot start", index, row, True)
        return left - burnt

    # ── groups ──

    def _burns_with_groups(
        self, stage: Stage, index: int, own: tuple[EngineGroup, ...], special: list[EngineGroup],
        beside: list[tuple[int, StrapOn]], restart: Restart | None,
    ) -> None:  # fmt: skip
        left = stage.propellant.burns
        special = special + [g for g in own if g.stops_after is not None]
        own = tuple(g for g in own if g.stops_after is None)
        if self.held:
            left = self._hot_start(stage, index, own, left)
        first, start = float(len(self.rows)), float(self.first_of_stage[index])
        row = self.row(index, own)
        traced = [g for g in special if g.trace is not None]
        if traced and len(traced) == len(stage.engines):
            row[at.END], row[at.END_VALUE] = at.ENDS_AT_TIME, max(g.trace[-1][0] for g in traced)
        else:
            row[at.END], row[at.END_VALUE], row[at.END_SINCE] = at.ENDS_AT_BURNT, left, first
        if restart is not None:
            self._two_burns(index, row, left, restart)
        else:
            self.add("burn", index, row, True)
        groups_from = len(self.groups)
        for g in special:
            share = _impulse_share(g, special)
            self._group(_own_group(g, stage, left, share), g, g.name, first, None)
            if g.adapting is not None:
                self._adapting(g, g.name, first, None)
        for g in own:
            if g.adapting is not None:
                self._adapting(g, g.name, first, None)
        longest, outlasts = None, 0.0
        full = sum(g.flow for g in own)
        core = (stage.pause if index == 0 else 0.0) + (left / full if full > 0.0 else 0.0)
        for i, strap in beside:
            until = self._strap_on(i, strap, start, full)
            if until > outlasts:
                longest, outlasts = len(self.groups) - 1, until
        if longest is not None and outlasts > 0.7 * core and restart is None:
            rest = self.row(index, ())
            rest[at.END], rest[at.END_VALUE] = at.ENDS_WITH_GROUP, float(longest)
            self.add("strap-ons alone", index, rest, True)
        for group in self.groups[groups_from:]:
            group[of.LAST] = float(len(self.rows) - 1)
        if index == 0:
            self._leave_the_pad(groups_from)

    def _group(
        self, row: np.ndarray, group: EngineGroup, name: str, first: float, strap_on: int | None
    ) -> np.ndarray:
        row[of.FIRST] = first
        self.groups.append(row)
        self.group_names.append(name)
        self.strap_on_of.append(strap_on)
        if row[of.KIND] == of.TRACE:
            table, burn = _trace(group)
            row[of.VALUES] = float(len(self.traces))
            row[of.VALUES + 1] = row[of.FLOW]  # holds the impulse until here
            row[of.VALUES + 2] = group.vacuum_isp * STANDARD_GRAVITY
            row[of.FLOW] = 0.0
            row[of.OFF_TIME] = burn
            self.traces.append(table)
        return row

    def _adapting(self, g: EngineGroup, name: str, first: float, strap_on: int | None) -> None:
        assert g.adapting is not None
        row = _blank()
        row[of.KIND], row[of.THRUST], row[of.LEAST] = of.ADAPTING, g.count * g.vacuum_thrust, g.least_throttle
        row[of.VALUES : of.VALUES + 4] = (
            g.adapting.gamma, g.adapting.pressure_ratio, g.adapting.chamber_pressure, g.adapting.efficiency,
        )  # fmt: skip
        if g.rules is None:
            self._group(row, g, name, first, strap_on)

    def _strap_on(self, number: int, strap: StrapOn, first: float, core_flow: float) -> float:
        """Its group; returns how long after the stage begins it burns at full throttle [s]."""
        one, n = strap.stage, strap.count
        p = one.propellant
        row = _blank()
        row[of.ON_VALUE] = strap.lit_after
        row[of.DROP] = n * (one.dry_mass + p.residuals + p.reserve + p.home + p.shut_down_loss)
        row[of.DROP_AFTER] = strap.let_go_after
        row[of.AREA] = n * one.drag_area
        row[of.THRUST] = n * sum(g.count * g.vacuum_thrust for g in one.engines)
        row[of.FLOW] = flow = n * one.flow
        row[of.EXIT] = n * sum(g.count * g.exit_area for g in one.engines)
        row[of.LEAST] = max(g.least_throttle for g in one.engines)
        drain = flow + (core_flow if strap.feeds else 0.0)
        burn = n * p.burns / drain
        group = one.engines[0]
        if group.trace is not None and len(one.engines) == 1:
            row[of.KIND] = of.TRACE
            row[of.FLOW] = n * p.burns * group.vacuum_isp * STANDARD_GRAVITY
            burn = group.trace[-1][0]
        else:
            row[of.KIND] = of.ROCKET
            row[of.FEEDS] = 1.0 if strap.feeds else 0.0
            stop = min((g.stops_after for g in one.engines if g.stops_after is not None), default=burn)
            if stop < burn:  # cut off before they are empty: the rest falls with them
                row[of.DROP] += n * p.burns - drain * stop
                burn = stop
            row[of.OFF_FULL if row[of.LEAST] < 1.0 else of.OFF_TIME] = burn
        self._group(row, group, one.name, first, number)
        return strap.lit_after + burn

    def _leave_the_pad(self, groups_from: int) -> None:
        """Solids with a thrust trace are lit before it moves: it leaves once thrust is above weight."""
        lit = [
            g for g in self.groups[groups_from:]
            if g[of.KIND] == of.TRACE and g[of.FIRST] == 0.0 and g[of.ON_WHEN] == of.ON_TIME
            and g[of.ON_VALUE] <= 0.0
        ]  # fmt: skip
        if not lit:
            return
        first = self.rows[0]
        steady = (
            first[at.THROTTLED_THRUST]
            + first[at.FIXED_THRUST]
            - SEA_LEVEL_PRESSURE * (first[at.THROTTLED_EXIT] + first[at.FIXED_EXIT])
        )
        for g in self.groups[groups_from:]:
            if g[of.KIND] == of.ROCKET and g[of.ON_WHEN] == of.ON_TIME and g[of.ON_VALUE] <= 0.0:
                steady += g[of.THRUST] - SEA_LEVEL_PRESSURE * g[of.EXIT]
        times = np.linspace(0.0, 10.0, 2001)
        thrust, burnt = np.full_like(times, steady), np.zeros_like(times)
        for g in lit:
            push = g[of.VALUES + 1] * np.maximum(0.0, values(times, self.traces[int(g[of.VALUES])]))
            thrust += np.maximum(0.0, push - SEA_LEVEL_PRESSURE * g[of.EXIT])
            flow = push / g[of.VALUES + 2]
            burnt += np.concatenate([[0.0], np.cumsum(0.5 * (flow[1:] + flow[:-1]) * np.diff(times))])
        weight = (self.vehicle.lift_off_mass - burnt) * STANDARD_GRAVITY
        if not (thrust >= weight).any():
            return  # it does not leave the pad; the flight shows it
        i = int(np.argmax(thrust >= weight))
        over = thrust - weight
        part = 1.0 if i == 0 else over[i - 1] / (over[i - 1] - over[i])
        moment = float(times[i - 1] + part * (times[i] - times[i - 1])) if i else 0.0
        self.early = float(np.interp(moment, times, burnt))
        for g in lit:
            g[of.VALUES + 3] = moment
            g[of.OFF_TIME] -= moment
        for g, row in enumerate(self.rows):
            if row[at.END] == at.ENDS_AT_TIME and self.burns[g] and not row[at.BURNING]:
                row[at.END_VALUE] -= moment


def _blank() -> np.ndarray:
    row = np.zeros(of.WIDTH)
    row[of.LEAST] = 1.0
    for off in (of.OFF_TIME, of.OFF_FULL, of.OFF_HEIGHT, of.OFF_MACH, of.OFF_BURNT):
        row[off] = of.NEVER
    return row


def _own_group(g: EngineGroup, stage: Stage, left: float, share: float) -> np.ndarray:
    """The row of a group of the stage's own engines."""
    row = _blank()
    row[of.COUNTED] = 1.0
    row[of.THRUST], row[of.FLOW] = g.count * g.vacuum_thrust, g.flow
    row[of.EXIT], row[of.LEAST] = g.count * g.exit_area, g.least_throttle
    rules = g.rules
    if rules is not None:
        row[of.ON_VALUE] = rules.lit_after
        if rules.lit_above is not None:
            row[of.ON_WHEN], row[of.ON_VALUE] = of.ON_HEIGHT, rules.lit_above
        elif rules.lit_above_mach is not None:
            row[of.ON_WHEN], row[of.ON_VALUE] = of.ON_MACH, rules.lit_above_mach
        row[of.OFF_HEIGHT] = of.NEVER if rules.stops_above is None else rules.stops_above
        row[of.OFF_MACH] = of.NEVER if rules.stops_above_mach is None else rules.stops_above_mach
        if rules.stops_with is not None:
            row[of.OFF_BURNT] = max(left - rules.stops_with, 1.0)
    if g.stops_after is not None:
        row[of.OFF_TIME] = max(g.stops_after - (rules.lit_after if rules else 0.0), 0.0)
    if g.jet is not None:
        row[of.KIND] = of.JET
        row[of.THRUST], row[of.FLOW] = g.count * g.jet.static_thrust, g.count * g.jet.static_fuel_flow
        row[of.VALUES : of.VALUES + 5] = (
            g.jet.jet_speed, g.jet.spool_time, g.jet.intake_diameter, g.jet.spillage, g.count,
        )  # fmt: skip
    elif g.ramjet is not None:
        row[of.KIND] = of.RAMJET
        row[of.VALUES : of.VALUES + 4] = (
            g.count * g.ramjet.capture_area, g.ramjet.burner_temperature, g.ramjet.fuel_heat,
            g.ramjet.pressure_share,
        )  # fmt: skip
    elif g.trace is not None:
        row[of.KIND] = of.TRACE
        row[of.FLOW] = share * left * g.vacuum_isp * STANDARD_GRAVITY  # impulse, see `_Making._group`
    return row


def _impulse_share(g: EngineGroup, special: list[EngineGroup]) -> float:
    """Share of the stage's propellant that a traced group burns: by count, where there are several."""
    return g.count / sum(other.count for other in special if other.trace is not None) if g.trace else 0.0


def _plain(g: EngineGroup) -> bool:
    """A rocket whose thrust is steady; what an adapting nozzle gains stands in a row of its own."""
    return g.jet is None and g.ramjet is None and g.trace is None


def _all_wait(stage: Stage) -> float | None:
    """The height the whole stage waits for before it is lit [m]."""
    heights = [g.rules.lit_above if g.rules else None for g in stage.engines]
    return min(heights) if all(h is not None for h in heights) and len(set(heights)) == 1 else None  # type: ignore[type-var]


def _unruled(stage: Stage) -> Stage:
    """The stage whose groups no longer wait for their height: the coast before them does."""
    engines = []
    for g in stage.engines:
        rules = replace(g.rules, lit_above=None)  # type: ignore[type-var]
        engines.append(replace(g, rules=None if rules == type(rules)() else rules))
    return replace(stage, engines=tuple(engines))


_TRACES: dict[Curve, np.ndarray] = {}


def _trace(group: EngineGroup) -> tuple[np.ndarray, float]:
    """(smooth curve through the thrust trace with impulse 1, s of burning)."""
    trace = group.trace
    assert trace is not None
    if trace not in _TRACES:
        times, shares = zip(*trace, strict=True)
        table = spline_table(np.array(times), np.array(shares))
        u = np.diff(table[:, 0])
        c = table[:-1]
        impulse = float(np.sum(u * (c[:, 1] + u * (c[:, 2] / 2 + u * (c[:, 3] / 3 + u * c[:, 4] / 4)))))
        table[:, 1:] /= impulse
        _TRACES[trace] = table
    return _TRACES[trace].copy(), trace[-1][0]


_TABLES: dict[Curve, np.ndarray] = {}


@functools.lru_cache(maxsize=64)
def _curves(keys: tuple[Curve, ...]) -> np.ndarray:
    """Spline tables of the drag curves, padded to one length by repeating the last row."""
    tables = []
    for key in keys:
        if key not in _TABLES:
            mach, drag = zip(*key, strict=True)
            _TABLES[key] = spline_table(np.array(mach), np.array(drag))
        tables.append(_TABLES[key])
    return _padded(tables)


def _padded(tables: list[np.ndarray]) -> np.ndarray:
    longest = max(len(table) for table in tables)
    return np.array([np.vstack([t, np.repeat(t[-1:], longest - len(t), axis=0)]) for t in tables])
