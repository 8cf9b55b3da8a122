"""Fill a concept's open values in and lay the vehicle out in SI."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from wetmass.concept import dimensions as d
from wetmass.concept.arrival import speed_kept
from wetmass.concept.derived import FromTanks
from wetmass.concept.find import Find
from wetmass.concept.model import Concept
from wetmass.concept.model import EngineGroup as StatedGroup
from wetmass.concept.model import Stage as StatedStage
from wetmass.concept.pairs import pair_of
from wetmass.concept.quantity import Quantity
from wetmass.physics.aerodynamics import DRAG_COEFFICIENTS, DRAG_MACH
from wetmass.physics.chamber import USUAL_EFFICIENCY
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.say import said
from wetmass.record.vehicle import (
    EngineGroup,
    LetGo,
    MassItem,
    Moment,
    Origin,
    Propellant,
    Stage,
    StrapOn,
    Vehicle,
)
from wetmass.vehicle.boiling import Boiling
from wetmass.vehicle.engines import Made, group, one_engine, solid_thrust, with_failure, with_load
from wetmass.vehicle.geometry import load_from_tanks
from wetmass.vehicle.masses import DryMasses
from wetmass.vehicle.nuclear import cooling, start_up_loss

USUAL_PAUSE = (
    3.0  # s between a stage letting go and the next ignition, where nothing is said: common practice
)
FAIRING_HEATING = 1135.0  # W/m², where nothing is said: common practice
HOT_OVERLAP = 1.0  # s that a stage burns before the one below is let go, where it is lit hot: ours


class Assembly:
    """A concept made ready, so that a vehicle for given open values is made quickly."""

    def __init__(self, concept: Concept) -> None:
        self.concept = concept
        self.assumed: list[str] = []
        self.core = tuple(stage for stage in concept.stages if stage.strapped_to is None)
        self.engines: list[list[Made]] = []
        for stage in concept.stages:
            ratio = stage.mixture_ratio
            figures = stage.propellant.pair, ratio if ratio is not None else math.nan
            self.engines.append([one_engine(g, *figures) for g in stage.engines])
            self._say(stage)
        self._areas = self._drag_areas()
        self._curves = [self._curve(stage) for stage in concept.stages]
        self._pauses = [self._pause(i, stage) for i, stage in enumerate(concept.stages)]
        reserve = concept.performance_reserve
        self._kept = speed_kept(concept.mission, concept.site.latitude.value)  # m/s, in the last stage
        self._kept += reserve.value if reserve is not None else 0.0
        self._let_go = self._pieces()
        self._dry_masses = DryMasses(concept)
        self._boiling = Boiling(concept, self.core)
        self.assumed += self._boiling.assumed
        self._from_tanks = {
            f"stages/{stage.name}/propellant/mass": load_from_tanks(stage)
            for stage in concept.stages
            if isinstance(stage.propellant.mass, FromTanks)
        }

    def vehicle(self, values: Mapping[str, float]) -> Vehicle:
        """The vehicle with each open value, by its path, taken from `values` (SI); they overrule stated ones.

        Raises KeyError when an open value is missing.
        """
        payload = self._filled(self.concept.payload, "payload", values)
        made = {s.name: self._stage(i, s, values) for i, s in enumerate(self.concept.stages)}
        stages = [made[stated.name] for stated in self.core]
        strap_ons = tuple(
            self._strap_on(stated, made[stated.name]) for stated in self.concept.stages if stated.strapped_to
        )
        aloft = payload + sum(piece.mass for piece in self._let_go)
        stages, strap_ons = self._dry_masses.filled(stages, strap_ons, aloft)
        stages = self._boiling.taken_off(stages)
        carried = payload
        if self._kept > 0.0:
            stages[-1] = _with_reserve(stages[-1], carried, self._kept)
        return Vehicle(self.concept.name, tuple(stages), payload, self._let_go, strap_ons=tuple(strap_ons))

    def _strap_on(self, stated: StatedStage, stage: Stage) -> StrapOn:
        names = [s.name for s in self.core]
        return StrapOn(
            stage,
            stated.count,
            names.index(stated.strapped_to),  # type: ignore[arg-type]
            lit_after=stated.lit_after.value if stated.lit_after else 0.0,
            let_go_after=stated.let_go_after.value if stated.let_go_after else 0.0,
            feeds=stated.crossfeed,
        )

    # ── one stage ──

    def _stage(self, index: int, stated: StatedStage, values: Mapping[str, float]) -> Stage:
        where = f"stages/{stated.name}"
        load = self._filled(stated.propellant.mass, f"{where}/propellant/mass", values)
        if isinstance(stated.dry_mass, Quantity):
            dry, origin = self._filled(stated.dry_mass, f"{where}/dry mass", values), Origin.STATED
        elif stated.structural_fraction is None:  # follows from the rest, put in once all stages are known
            dry, origin = 0.0, Origin.DERIVED
        else:
            share = stated.structural_fraction.value
            dry, origin = load * share / (1.0 - share), Origin.DERIVED
        p = stated.propellant
        residuals = _share_or_mass(p.residuals, load)
        start = p.start_loss.value if p.start_loss else 0.0
        stop = p.shut_down_loss.value if p.shut_down_loss else 0.0
        home = 0.0
        if f"{where}/home/propellant" in values:
            home = values[f"{where}/home/propellant"]
        elif stated.home is not None and isinstance(stated.home.propellant, Quantity):
            home = _share_or_mass(stated.home.propellant, load)
        groups: list[EngineGroup] = []
        for position, (kind, made) in enumerate(zip(stated.engines, self.engines[index], strict=True)):
            at = f"{where}/engines/{position + 1}"
            count = self._filled(kind.count, f"{at}/count", values)
            scale = 1.0 if kind.scale is None else self._filled(kind.scale, f"{at}/scale", values)
            groups += with_failure(kind, group(kind, made, _called(stated, position), count, scale))
            if kind.kind == "nuclear":
                start += start_up_loss(groups[-1], kind)
        burns = load - residuals - start - stop - home
        extra = p.extra_fuel.value if p.extra_fuel is not None else 0.0
        if p.extra_fuel is None and stated.home is not None and stated.home.by == "jets":
            extra = home if pair_of(p.pair) is not None else 0.0
        if any(kind.kind == "nuclear" for kind in stated.engines):
            cooled = cooling(groups, burns)
            stop, burns = stop + cooled, burns - cooled
        if any(kind.stops_with or kind.trace for kind in stated.engines):
            groups = [_loaded(g, kind, burns, groups) for g, kind in zip(groups, _each(stated), strict=True)]
        return Stage(
            name=stated.name,
            dry_mass=dry,
            propellant=Propellant(
                pair=p.pair,
                mixture_ratio=stated.mixture_ratio or math.nan,
                burns=burns,
                residuals=residuals,
                start_loss=start,
                shut_down_loss=stop,
                home=home,
                extra_fuel=extra,
            ),
            engines=tuple(groups),
            diameter=stated.diameter.value,
            drag_area=self._areas[index],
            drag_curve=self._curves[index],
            pause=self._pauses[index],
            items=(MassItem(stated.name, "dry mass", dry, origin),),
            hot_overlap=HOT_OVERLAP if stated.hot_staging and stated.strapped_to is None else 0.0,
            let_go_above=stated.let_go_above.value if stated.let_go_above else None,
        )

    def _filled(self, stated: object, path: str, values: Mapping[str, float]) -> float:
        if isinstance(stated, Find) or path in values:
            return values[path]
        if isinstance(stated, FromTanks):
            return self._from_tanks[path]
        return stated.value if isinstance(stated, Quantity) else float(stated)  # type: ignore[arg-type]

    # ── what does not change while closing ──

    def _drag_areas(self) -> list[float]:
        """Reference area while each stage is the lowest: stated, else the widest circle that flies then."""
        fairing = self.concept.fairing
        widest = fairing.diameter.value if fairing and fairing.diameter else 0.0
        areas: list[float] = []
        for stage in reversed(self.concept.stages):
            drag = stage.drag
            if stage.strapped_to is None:
                widest = max(widest, stage.diameter.value)
                across = widest
            else:  # of one, added to that of the stage it hangs on
                across = stage.diameter.value
                beside = next(s for s in self.core if s.name == stage.strapped_to)
                if beside.drag.area is not None or beside.drag.diameter is not None:
                    across = 0.0  # the drag stated there is that of everything that flies
            if drag.area is not None:
                areas.append(drag.area.value)
            else:
                across = drag.diameter.value if drag.diameter is not None else across
                areas.append(math.pi / 4.0 * across**2)
        return areas[::-1]

    def _say(self, stage: StatedStage) -> None:
        """What is taken for granted where nothing is said of it."""
        for position, kind in enumerate(stage.engines):
            name = _called(stage, position)
            if kind.from_chamber and kind.efficiency is None:
                self.assumed.append(
                    f"{name}: {said(USUAL_EFFICIENCY, '%')} of the ideal exhaust speed (common practice: 90 to 98 %)"
                )
            if kind.trace is not None:
                self.assumed.append(
                    f"{name}: mean thrust stands for it where lift-off thrust to weight is asked (its trace is flown)"
                )
            if kind.afterburner:
                self.assumed.append(
                    f"{name}: 1000 m/s of jet with the afterburner (from memory); between Mach 0.5 and 1.6 this is "
                    "within 35\u00a0% of a published relation"
                )
            if kind.kind == "turbofan" and kind.bypass_ratio is None:
                self.assumed.append(f"{name}: bypass ratio 5 (common practice)")
            if kind.kind == "ramjet" and kind.burner_temperature is None:
                self.assumed.append(f"{name}: 2200 K after burning (from memory)")
            if kind.kind == "nuclear":
                self.assumed.append(
                    f"{name}: decay heat leaves with propellant until 0.03 % of full power is left (ours); "
                    "its thrust is not counted"
                )
        if stage.hot_staging:
            self.assumed.append(
                f"{stage.name}: lit {HOT_OVERLAP:.0f} s before the stage below is let go (ours)"
            )
        if stage.strapped_to is not None and stage.drag.area is None:
            self.assumed.append(
                f"{stage.name}: each adds its cross-section to the drag area of the stage beside it (ours)"
            )

    def _curve(self, stage: StatedStage) -> tuple[tuple[float, float], ...]:
        curve = stage.drag.curve
        if isinstance(curve, str):
            if not any("drag curve" in line for line in self.assumed):
                self.assumed.append(
                    f"drag curve “{curve}” (from memory: a class of slender vehicles, not one)"
                )
            return tuple(zip(DRAG_MACH, DRAG_COEFFICIENTS[curve], strict=True))
        return curve

    def _pause(self, index: int, stage: StatedStage) -> float:
        if stage.pause_before_ignition is not None:
            return stage.pause_before_ignition.value
        if stage is self.core[0] or stage.hot_staging or stage.strapped_to is not None:
            return 0.0
        if self._waits(stage):
            return 0.0
        self.assumed.append(f"{stage.name}: {USUAL_PAUSE:.0f} s before ignition (common practice)")
        return USUAL_PAUSE

    @staticmethod
    def _waits(stage: StatedStage) -> bool:
        """Whether it coasts up to a height before it is lit."""
        return all(g.lit_above is not None for g in stage.engines)

    def _pieces(self) -> tuple[LetGo, ...]:
        pieces = []
        fairing = self.concept.fairing
        if fairing is not None:
            if fairing.drop_height is not None:
                moment, value = Moment.HEIGHT, fairing.drop_height.value
            elif fairing.drop_time is not None:
                moment, value = Moment.TIME, fairing.drop_time.value
            else:
                moment = Moment.HEATING
                value = fairing.drop_heating.value if fairing.drop_heating else FAIRING_HEATING
            pieces.append(LetGo("fairing", fairing.mass.value, moment, value))
        names = [stage.name for stage in self.core]
        for part in self.concept.also_dropped:
            stated = next(s for s in self.concept.stages if s.name == part.after_ignition_of)
            index = names.index(stated.strapped_to or stated.name)
            pause = self._pauses[self.concept.stages.index(stated)]
            after = part.time.value + pause
            pieces.append(LetGo(part.name, part.mass.value, Moment.TIME, after, index, covers=False))
        return tuple(pieces)


def _each(stage: StatedStage) -> list[StatedGroup]:
    """The stated group of each group made: engines that fail are one of their own."""
    return [kind for kind in stage.engines for _ in range(1 if kind.out is None else 2)]


def _loaded(made: EngineGroup, stated: StatedGroup, burns: float, groups: list[EngineGroup]) -> EngineGroup:
    """The group once what burns is known."""
    motors = sum(g.count for g in groups if g.trace is not None)
    return solid_thrust(with_load(made, stated, burns), burns, motors)


def _called(stage: StatedStage, position: int) -> str:
    stated = stage.engines[position]
    several = len(stage.engines) > 1
    kinds = {"turbofan": "turbofans", "turbojet": "turbojets", "ramjet": "ramjets"}
    what = kinds.get(stated.kind, "rockets" if several else "engines")
    return stated.name or f"{stage.name} {what}"


def _share_or_mass(stated: Quantity | None, load: float) -> float:
    if stated is None:
        return 0.0
    return stated.value * load if stated.dimension == d.NUMBER else stated.value


def _with_reserve(stage: Stage, carried: float, speed: float) -> Stage:
    """The last stage with the propellant set aside that could still give `speed` [m/s] at the end."""
    p = stage.propellant
    empty = carried + stage.dry_mass + p.residuals + p.home + p.boil_off_in_orbit
    reserve = empty * math.expm1(speed / (stage.vacuum_isp * STANDARD_GRAVITY))
    return replace(stage, propellant=replace(p, burns=p.burns - reserve, reserve=reserve))
