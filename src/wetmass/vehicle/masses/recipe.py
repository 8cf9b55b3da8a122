"""The parts of a stage as functions of its sizes: which relation gives which part.

One list serves both: the closing loop adds it up in microseconds, the table of parts shows each line.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wetmass.concept.model import EngineGroup as EngineGroupStated
from wetmass.concept.model import Stage
from wetmass.concept.pairs import parts_of
from wetmass.physics import masses as known
from wetmass.physics.jets import JET_CLASSES
from wetmass.physics.pattern import Relation
from wetmass.physics.propellants import propellant
from wetmass.physics.stages_flown import ENGINE_RATIOS, GROWTH_SOURCE, growth_allowance
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.vehicle import EngineGroup, Kind
from wetmass.vehicle.geometry.contents import entries
from wetmass.vehicle.geometry.scaling import StageSizes
from wetmass.vehicle.usual_nozzle import CHAMBER_PRESSURE, area_ratio

PI = 3.141592653589793
AREA_RATIO_WORDS = (
    "exit over throat area from thrust, exit area, chamber pressure and a thrust coefficient of 1.75"
)
PRESSURE_WORDS = "7 MPa in the chamber taken (common practice)"
NO_RELATION = (Kind.SOLID, Kind.RAMJET)  # a solid's nozzle is in its case; of ramjets we know none
USUAL_GROWTH = 0.28  # of every estimated part, where nothing is said
USUAL_GROWTH_SOURCE = (
    "mean growth of inert mass in programmes flown, abstract of Mass Growth in Space Vehicle and Exploration "
    "Architecture Development, https://discovery.researcher.life/article/"
    "mass-growth-in-space-vehicle-and-exploration-architecture-development/9b273d719a2436fa9d2924db2657f80e"
)
NO_LIQUID = ("solid",)


@dataclass(slots=True)
class At:
    """A stage at one trial: what its parts depend on."""

    load: float  # kg
    groups: tuple[EngineGroup, ...]
    sizes: StageSizes
    gross: float  # kg, this stage and all above at lift-off
    length: float  # m, of this stage and all above
    landed: float  # kg, mass as it lands
    interstage: float  # m, length of the shell up to the stage above, 0 for none
    dry: float = 0.0  # kg, so far


Amount = Callable[[At], float]


@dataclass(frozen=True, slots=True)
class Part:
    """One part: how many pieces of which input go into which relation.

    pieces  how many alike at a trial;  inputs  arguments of the relation at a trial, in its order
    """

    name: str
    growth: str  # kind in the table of growth allowances
    relation: Relation
    inputs: tuple[Amount, ...]
    pieces: Amount
    knows: tuple[tuple[str, Amount], ...]  # quantities by their name in `physics.masses.estimates`
    book: str  # name of the part there
    by_load: bool = False  # depends on the load alone
    factor: float = 1.0  # on the relation, where the middle of two ends is taken
    notes: tuple[str, ...] = ()

    def mass(self, at: At) -> float:
        """Of all pieces [kg]."""
        return self.factor * self.pieces(at) * self.relation.kernel(*[one(at) for one in self.inputs])


def _one(at: At) -> float:
    return 1.0


def stands_for(own: str, name: str) -> bool:
    """Whether a part that the user states by the name `own` takes the place of ours called `name`.

    >>> stands_for("Engines", "engines 2"), stands_for("tanks", "LOX tank"), stands_for("legs", "avionics")
    (True, True, False)
    """
    said, ours = own.casefold(), name.casefold()
    families = {
        "tanks": " tank" in ours,
        "insulation": " insulation" in ours,
        "engines": ours.startswith("engines"),
        "gimbals": ours.startswith("gimbals"),
        "intakes": ours.startswith("intakes"),
    }
    return said == ours or families.get(said, False)


def parts_for(stage: Stage, *, above: bool) -> tuple[Part, ...]:
    """The parts of a stage that there are relations for; those the user states are left out by the caller.

    above  whether another stage stands on it
    """
    made = [*_tanks(stage), *_engines(stage), *_shells(stage, above), *_boxes(), *_home(stage)]
    return tuple(made)


# ── tanks ──


def _tanks(stage: Stage) -> list[Part]:
    if parts_of(stage.propellant.pair) == NO_LIQUID:
        load = _load
        return [
            Part(
                "motor case", "structure", known.solid_motor_case, (load,), _one,
                (("propellant_mass", load),), "solid motor case", by_load=True,
                notes=("nozzle included",),
            )
        ]  # fmt: skip
    made = []
    for number, entry in enumerate(entries(stage)):
        name, count = entry.holds, entry.count
        many = f" {number + 1}" if sum(e.holds == name for e in entries(stage)) > 1 else ""
        hydrogen = name.startswith("LH2")

        def volume(at: At, number: int = number, count: int = count) -> float:
            return at.sizes.volumes[number] / count

        def mass(at: At, number: int = number, count: int = count) -> float:
            return at.sizes.masses[number] / count

        def area(at: At, number: int = number, count: int = count) -> float:
            return at.sizes.areas[number] / count

        def pieces(at: At, count: int = count) -> float:
            return float(count)

        book = {"LOX": "LOX tank", "RP-1": "RP-1 tank", "kerosene": "RP-1 tank"}.get(name, "tank")
        book = "LH2 tank" if hydrogen else book
        relation = known.hydrogen_tank_by_volume if hydrogen else known.other_tank_by_volume
        made.append(
            Part(
                f"{name} tank{many}", "structure", relation, (volume,), pieces,
                (("volume", volume), ("propellant_mass", mass)), book, by_load=True,
            )
        )  # fmt: skip
        if propellant(name).is_cryogen:
            wrap = known.hydrogen_insulation if hydrogen else known.oxygen_insulation
            odd = () if hydrogen or name == "LOX" else (f"the relation is for liquid oxygen, here {name}",)
            book = "LH2 insulation" if hydrogen else "LOX insulation"
            made.append(
                Part(f"{name} insulation{many}", "thermal", wrap, (area,), pieces, (("area", area),), book,
                     by_load=True, notes=odd)
            )  # fmt: skip
    return made


def _load(at: At) -> float:
    return at.load


# ── engines and what carries them ──


def _engines(stage: Stage) -> list[Part]:
    made: list[Part] = []
    several = len(stage.engines) > 1
    for number, stated in enumerate(stage.engines):
        name = f"engines {number + 1}" if several else "engines"
        if stated.name:
            name = f"engines: {stated.name}"
        made += _group(number, name, stated)
    if parts_of(stage.propellant.pair) != NO_LIQUID:
        made.append(
            Part(
                "thrust structure", "structure", known.thrust_structure, (_thrust,), _one,
                (("total_thrust", _thrust),), "thrust structure",
            )
        )  # fmt: skip
    return made


def _thrust(at: At) -> float:
    """Of all engines: in vacuum, of jets on the ground."""
    return sum(group.count * _of_one(group) for group in at.groups)


def _of_one(group: EngineGroup) -> float:
    return group.vacuum_thrust if group.jet is None else group.jet.static_thrust


def _group(number: int, name: str, stated: EngineGroupStated) -> list[Part]:
    kind = stated.kind
    chamber = stated.chamber_pressure.value if stated.chamber_pressure is not None else CHAMBER_PRESSURE

    def thrust(at: At) -> float:
        return _of_one(at.groups[number])

    def count(at: At) -> float:
        return float(at.groups[number].count)

    def ratio(at: At) -> float:
        if stated.area_ratio is not None:
            return stated.area_ratio.value
        return area_ratio(at.groups[number], chamber)

    if kind in NO_RELATION:
        return []
    if kind in (Kind.TURBOFAN, Kind.TURBOJET):
        middle = JET_CLASSES["turbojet"].thrust_to_weight[1]
        if kind == Kind.TURBOFAN:
            bypass = stated.bypass_ratio
            middle = _jet_ratio(bypass.value if bypass is not None else 5.0)
        if stated.afterburner:
            middle = JET_CLASSES["military turbofan, reheated"].thrust_to_weight[1]

        def loading(at: At) -> float:
            return middle

        def bare(at: At) -> float:
            return thrust(at) / (STANDARD_GRAVITY * middle)

        engine = Part(
            name, "propulsion", known.engine_by_ratio, (thrust, loading), count,
            (("thrust", thrust), ("thrust_to_weight", loading)), "engine",
            notes=(f"thrust over weight {middle:g}, usual of its class",),
        )  # fmt: skip
        intake = Part(
            f"intakes of {name}", "structure", known.intake_light, (bare,), count, (("jet_mass", bare),),
            "intake", factor=0.25 / 0.15, notes=("middle of the light and the heavy end",),
        )  # fmt: skip
        return [engine, intake]
    if kind == Kind.NUCLEAR:
        low, high = ENGINE_RATIOS["nuclear thermal"]
        middle = 0.5 * (low + high)

        def reactor(at: At) -> float:
            return middle

        return [
            Part(
                name, "propulsion", known.engine_by_ratio, (thrust, reactor), count,
                (("thrust", thrust), ("thrust_to_weight", reactor)), "engine",
                notes=(f"thrust over weight {middle:g}, middle of nuclear thermal engines; no shield",),
            )
        ]  # fmt: skip

    def pressure(at: At) -> float:
        return chamber

    taken = () if stated.chamber_pressure is not None else (PRESSURE_WORDS,)
    return [
        Part(
            name, "propulsion", known.pump_fed_engine, (thrust, ratio), count,
            (("thrust", thrust), ("area_ratio", ratio)), "engine",
            notes=(AREA_RATIO_WORDS, *taken),
        ),
        Part(
            f"gimbals of {name}", "mechanisms", known.gimbals, (thrust, pressure), count,
            (("thrust", thrust), ("chamber_pressure", pressure)), "gimbal",
            notes=taken,
        ),
    ]  # fmt: skip


def _jet_ratio(bypass: float) -> float:
    """Usual thrust over weight of the class that a bypass ratio falls in."""
    for name in ("high-bypass turbofan", "medium-bypass turbofan", "low-bypass turbofan"):
        if bypass >= JET_CLASSES[name].bypass[0]:
            return JET_CLASSES[name].thrust_to_weight[1]
    return JET_CLASSES["turbojet"].thrust_to_weight[1]


# ── shells, boxes, wires ──


def _shells(stage: Stage, above: bool) -> list[Part]:
    across = stage.diameter.value

    def skirts(at: At) -> float:
        return PI * across * max(at.sizes.skirts, 1e-6)

    def interstage(at: At) -> float:
        return PI * across * max(at.interstage, 1e-6)

    made = [
        Part(
            "skirts and intertanks", "structure", known.shroud, (skirts,), _one, (("area", skirts),),
            "fairing",
        )
    ]  # fmt: skip
    if above:
        made.append(
            Part(
                "interstage", "structure", known.shroud, (interstage,), _one,
                (("area", interstage), ("diameter", lambda at: across), ("kind", _one)), "interstage",
            )
        )  # fmt: skip
    return made


def _boxes() -> list[Part]:
    def gross(at: At) -> float:
        return at.gross

    def length(at: At) -> float:
        return at.length

    def dry(at: At) -> float:
        return max(at.dry, 1.0)

    shared = "a relation for whole vehicles, taken for this stage with all above it"
    return [
        Part(
            "avionics", "electronics over 15 kg", known.avionics, (gross,), _one,
            (("gross_mass", gross),), "avionics", notes=(shared,),
        ),
        Part(
            "wiring", "wiring", known.wiring, (gross, length), _one,
            (("gross_mass", gross), ("length", length), ("dry_mass", dry)), "wiring", notes=(shared,),
        ),
    ]  # fmt: skip


# ── coming home ──


def _home(stage: Stage) -> list[Part]:
    if stage.home is None:
        return []

    def landed(at: At) -> float:
        return at.landed

    def dry(at: At) -> float:
        return max(at.dry, 1.0)

    def base(at: At) -> float:
        return PI / 4.0 * stage.diameter.value**2

    made: list[Part] = []
    ends = ("middle of the light and the heavy end",)
    if stage.home.by in ("powered landing", "jets"):
        made.append(
            Part("landing legs", "mechanisms", known.legs_light, (landed,), _one, (("landed_mass", landed),),
                 "landing legs", factor=0.065 / 0.03, notes=ends)
        )  # fmt: skip
    if stage.home.by == "parachutes":
        made.append(
            Part("parachutes", "mechanisms", known.parachutes_light, (landed,), _one,
                 (("landed_mass", landed),), "parachutes", factor=0.05 / 0.03, notes=ends)
        )  # fmt: skip
    if stage.home.by == "glide":
        made.append(
            Part("runway gear", "mechanisms", known.runway_gear, (dry,), _one, (("dry_mass", dry),),
                 "runway gear", notes=("wings are not estimated: state them as a part",))
        )  # fmt: skip
    if stage.home.by != "ballistic":
        made.append(
            Part("heat protection of the base", "thermal", known.stage_heat_protection, (base,), _one,
                 (("area", base),), "heat protection", by_load=True)
        )  # fmt: skip
    return made


def growth_share(stage: Stage, kind: str) -> float:
    """Share by which a part of that kind is taken to grow until it flies."""
    if stage.growth is not None:
        return stage.growth.value
    if stage.maturity is None:
        return USUAL_GROWTH
    low, high = growth_allowance(kind, stage.maturity)
    return 0.5 * (low + high)


def growth_words(stage: Stage) -> str:
    """How growth is allowed for, and where that comes from."""
    if stage.growth is not None:
        return f"{stage.growth} on every part that is estimated, as stated"
    if stage.maturity is not None:
        return f"middle of the allowance for a design that is {stage.maturity} ({GROWTH_SOURCE})"
    return (
        f"{USUAL_GROWTH:.0%} on every part that is estimated, since nothing is said ({USUAL_GROWTH_SOURCE})"
    )
