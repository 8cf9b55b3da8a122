"""What each tank of a stage holds: masses to volumes, and back where the sizes are stated."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.concept import dimensions as d
from wetmass.concept.model import Stage, Tank
from wetmass.concept.pairs import pair_of, parts_of
from wetmass.concept.tank_shapes import Shape, shape_of
from wetmass.physics.propellants import SECONDS_A_DAY, boil_off_per_day, density
from wetmass.record.say import said

USUAL_ULLAGE = 0.03  # share of a tank, where no tank is stated: common practice
INTEGRAL = (
    0.98  # of the stage's diameter: a barrel as wide is taken for the skin of the stage, our own choice
)
SOLID_VOIDS = 0.10  # share of a motor's case that is bore and ends, where nothing is said: common practice


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a stage's tanks, made ready."""

    tank: Tank
    holds: str  # the propellant by its own name
    shape: Shape
    density: float  # kg/m³
    ullage: float
    around: int | None  # position of the entry it is built into
    within: int | None  # position of the entry that is built into it
    shares_below: bool  # the next entry shares its upper dome with this one

    @property
    def count(self) -> int:
        return self.tank.count

    @property
    def is_open(self) -> bool:
        """Whether its size follows from its load."""
        return bool(self.shape.open) and self.tank.volume is None

    def is_skin(self, diameter: float) -> bool:
        """Whether its barrel is the skin of a stage of that diameter [m]: a stated one, as wide."""
        stated = self.shape.sizes.get("diameter", 0.0)
        return self.shape.kind in ("cylinder", "frustum") and stated >= INTEGRAL * diameter

    def volume_for(self, mass: float) -> float:
        """Volume that one of them needs for `mass` [kg] in all of them [m³]."""
        return mass / self.count / (self.density * (1.0 - self.ullage))

    def mass_in(self, volume: float) -> float:
        """Mass [kg] in all of them, of `volume` [m³] each, ullage left free."""
        return volume * self.count * self.density * (1.0 - self.ullage)


def tanks_of(stage: Stage, small: bool = False) -> tuple[tuple[Tank, ...], str]:
    """The tanks of a stage, and in words what was taken where none is stated ("" otherwise).

    small  the load is too small for cylinders as wide as the stage
    """
    if stage.tanks:
        return stage.tanks, ""
    parts = parts_of(stage.propellant.pair)
    ullage = SOLID_VOIDS if parts == ("solid",) else USUAL_ULLAGE
    free = f"{said(ullage, '%')} left free (no tank is stated)"
    if small:
        made = tuple(
            Tank.model_validate({"holds": held, "shape": "sphere", "ullage": repr(ullage)}) for held in parts
        )
        return made, f"{stage.name}: {len(parts)} round tank{'s' * (len(parts) > 1)}, {free}"
    made = tuple(
        Tank.model_validate(
            {"holds": held, "shape": "cylinder", "ullage": repr(ullage), "shares bulkhead": number > 0}
        )
        for number, held in enumerate(parts)
    )
    what = "a motor case" if parts == ("solid",) else f"{len(parts)} cylinder tank{'s' * (len(parts) > 1)}"
    return made, f"{stage.name}: {what} as wide as the stage, {free}"


def entries(stage: Stage, small: bool = False) -> tuple[Entry, ...]:
    """The tanks of a stage made ready, in the order of the list, the topmost first; `small` as in `tanks_of`."""
    stated, _ = tanks_of(stage, small)
    made = []
    names = [stage.held(tank.holds) for tank in stated]
    for number, tank in enumerate(stated):
        around = within = None
        if tank.inside is not None:
            around = next(
                i for i, name in enumerate(names) if name == stage.held(tank.inside) and not stated[i].inside
            )
        for i, other in enumerate(stated):
            if other.inside is not None and stage.held(other.inside) == names[number] and not tank.inside:
                within = i
        shared = number + 1 < len(stated) and stated[number + 1].shares_bulkhead
        made.append(
            Entry(
                tank=tank,
                holds=names[number],
                shape=shape_of(tank, stage.diameter.value, shared_below=shared),
                density=density(names[number], tank.at.value if tank.at is not None else None),
                ullage=tank.ullage.value if tank.ullage is not None else 0.0,
                around=around,
                within=within,
                shares_below=shared,
            )
        )
    return tuple(made)


def shares(stage: Stage, ratio: float) -> dict[str, float]:
    """Share of the load by propellant, at a mixture ratio by mass."""
    pair = pair_of(stage.propellant.pair)
    if pair is None:
        return {stage.propellant.pair: 1.0}
    return {pair.oxidiser.name: ratio / (1.0 + ratio), pair.fuel.name: 1.0 / (1.0 + ratio)}


def room(entry: Entry, every: tuple[Entry, ...]) -> float | None:
    """Volume of one tank of an entry, from its sizes or as stated [m³]; None where it follows from its load.

    Of a tank with another one in it, the room that is left, where both are known.
    """
    if entry.tank.volume is not None:
        return entry.tank.volume.value
    if entry.shape.open:
        return None
    whole = entry.shape.known().volume
    if entry.within is None:
        return whole
    inner = room(every[entry.within], every)
    return None if inner is None else whole - inner


def load_from_tanks(stage: Stage) -> float:
    """Propellant load [kg] that fits into tanks whose sizes are stated, at the stage's mixture ratio.

    The tighter of the two propellants sets it; what room is left for the other is a finding.
    """
    every = entries(stage)
    limits, extra = [], stated_extra(stage)
    parts = shares(stage, stage.mixture_ratio or 1.0)
    for held, share in parts.items():
        fits = 0.0
        for entry in every:
            volume = room(entry, every)
            if entry.holds == held and volume is not None:
                fits += entry.mass_in(volume)
        beside = extra if held == list(parts)[-1] else 0.0  # fuel comes last
        limits.append((fits - beside) / share + extra)
    return min(limits)


def stated_extra(stage: Stage) -> float:
    """Fuel stated beyond the mixture ratio [kg]."""
    extra = stage.propellant.extra_fuel
    return extra.value if extra is not None else 0.0


def masses(
    stage: Stage,
    load: float,
    ratio: float,
    every: tuple[Entry, ...] | None = None,
    extra_fuel: float | None = None,
) -> list[float]:
    """Mass of liquid in each entry, all its tanks together [kg].

    load        everything in them [kg], of which
    extra_fuel  is fuel beyond the mixture ratio [kg]; as stated where None

    Tanks of known size are filled first, the rest is shared evenly by those whose size is open; where
    none is open, all are filled alike.
    """
    every = entries(stage) if every is None else every
    out = [0.0] * len(every)
    extra = stated_extra(stage) if extra_fuel is None else extra_fuel
    parts = shares(stage, ratio)
    for held, share in parts.items():
        total = share * (load - extra) + (extra if held == list(parts)[-1] else 0.0)
        numbers = [i for i, entry in enumerate(every) if entry.holds == held]
        rooms = {i: room(every[i], every) for i in numbers}
        known = {i: every[i].mass_in(v) for i, v in rooms.items() if v is not None}
        opened = [i for i in numbers if rooms[i] is None]
        fits = sum(known.values())
        if opened:
            units = sum(every[i].count for i in opened)
            for i in opened:
                out[i] = (total - fits) * every[i].count / units
            out = [known.get(i, mass) for i, mass in enumerate(out)]
        elif fits > 0.0:
            for i, mass in known.items():
                out[i] = total * mass / fits
    return out


def boil_off(entry: Entry, mass: float) -> float | None:
    """What boils away from an entry that holds `mass` [kg] in a day [kg], None where nothing is said."""
    stated = entry.tank.boil_off
    if stated is None:
        return None
    if stated.dimension == d.POWER:
        return boil_off_per_day(entry.holds, stated.value)
    return stated.value * SECONDS_A_DAY * (mass if stated.dimension == d.FREQUENCY else 1.0)
