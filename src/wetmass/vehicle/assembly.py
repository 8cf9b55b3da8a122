"""Fill a concept's open values in and lay the vehicle out in SI."""

from __future__ import annotations

import math
from collections.abc import Mapping

from wetmass.concept import dimensions as d
from wetmass.concept.derived import FromTanks
from wetmass.concept.fields import Find
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as StatedStage
from wetmass.concept.quantity import Quantity
from wetmass.physics.aerodynamics import DRAG_COEFFICIENTS, DRAG_MACH
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.vehicle import LetGo, MassItem, Moment, Origin, Propellant, Stage, Vehicle
from wetmass.vehicle.engines import group, one_engine
from wetmass.vehicle.geometry import load_from_tanks
from wetmass.vehicle.masses import DryMasses

USUAL_PAUSE = (
    3.0  # s between a stage letting go and the next ignition, where nothing is said: common practice
)
FAIRING_HEATING = 1135.0  # W/m², where nothing is said: common practice


class Assembly:
    """A concept made ready, so that a vehicle for given open values is made quickly."""

    def __init__(self, concept: Concept) -> None:
        self.concept = concept
        self.assumed: list[str] = []
        self.engines = [[one_engine(g) for g in stage.engines] for stage in concept.stages]
        self._areas = self._drag_areas()
        self._curves = [self._curve(stage) for stage in concept.stages]
        self._pauses = [self._pause(i, stage) for i, stage in enumerate(concept.stages)]
        self._let_go = self._pieces()
        self._dry_masses = DryMasses(concept)
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
        stages = [self._stage(i, stated, values) for i, stated in enumerate(self.concept.stages)]
        aloft = payload + sum(piece.mass for piece in self._let_go)
        stages, _ = self._dry_masses.filled(stages, (), aloft)
        carried = payload
        reserve = self.concept.performance_reserve
        if reserve is not None and reserve.value > 0.0:
            stages[-1] = _with_reserve(stages[-1], carried, reserve.value)
        return Vehicle(self.concept.name, tuple(stages), payload, self._let_go)

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
        if stated.home is not None and isinstance(stated.home.propellant, Quantity):
            home = _share_or_mass(stated.home.propellant, load)
        groups = []
        for position, (kind, made) in enumerate(zip(stated.engines, self.engines[index], strict=True)):
            at = f"{where}/engines/{position + 1}"
            count = self._filled(kind.count, f"{at}/count", values)
            scale = 1.0 if kind.scale is None else self._filled(kind.scale, f"{at}/scale", values)
            groups.append(group(kind, made, kind.name or f"{stated.name} engines", count, scale))
        return Stage(
            name=stated.name,
            dry_mass=dry,
            propellant=Propellant(
                pair=p.pair,
                mixture_ratio=p.mixture_ratio.value if p.mixture_ratio else math.nan,
                burns=load - residuals - start - stop - home,
                residuals=residuals,
                start_loss=start,
                shut_down_loss=stop,
                home=home,
            ),
            engines=tuple(groups),
            diameter=stated.diameter.value,
            drag_area=self._areas[index],
            drag_curve=self._curves[index],
            pause=self._pauses[index],
            items=(MassItem(stated.name, "dry mass", dry, origin),),
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
            widest = max(widest, stage.diameter.value)
            drag = stage.drag
            if drag.area is not None:
                areas.append(drag.area.value)
            else:
                across = drag.diameter.value if drag.diameter is not None else widest
                areas.append(math.pi / 4.0 * across**2)
        return areas[::-1]

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
        if index == 0 or stage.hot_staging:
            return 0.0
        self.assumed.append(f"{stage.name}: {USUAL_PAUSE:.0f} s before ignition (common practice)")
        return USUAL_PAUSE

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
        names = [stage.name for stage in self.concept.stages]
        for part in self.concept.also_dropped:
            index = names.index(part.after_ignition_of)
            pause = self._pauses[index]
            pieces.append(LetGo(part.name, part.mass.value, Moment.TIME, part.time.value + pause, index))
        return tuple(pieces)


def _share_or_mass(stated: Quantity | None, load: float) -> float:
    if stated is None:
        return 0.0
    return stated.value * load if stated.dimension == d.NUMBER else stated.value


def _with_reserve(stage: Stage, carried: float, speed: float) -> Stage:
    """The last stage with the propellant set aside that could still give `speed` [m/s] at the end."""
    p = stage.propellant
    empty = carried + stage.dry_mass + p.residuals + p.home
    reserve = empty * math.expm1(speed / (stage.vacuum_isp * STANDARD_GRAVITY))
    kept = Propellant(
        p.pair,
        p.mixture_ratio,
        p.burns - reserve,
        p.residuals,
        p.start_loss,
        p.shut_down_loss,
        reserve,
        p.home,
    )
    return Stage(
        stage.name, stage.dry_mass, kept, stage.engines, stage.diameter, stage.drag_area, stage.drag_curve,
        stage.pause, stage.items,
    )  # fmt: skip
