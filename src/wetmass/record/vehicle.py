"""A vehicle whose every value is known, in SI."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from wetmass.record.constants import STANDARD_GRAVITY

SEA_LEVEL_PRESSURE = 101_325.0  # Pa, US Standard Atmosphere 1976


class Origin(StrEnum):
    """Who stated a number."""

    STATED = "stated"  # by the user
    FOUND = "found"  # by closing the loop
    DERIVED = "derived"  # from stated numbers, by a formula
    ASSUMED = "assumed"  # a default of ours, named in the result


@dataclass(frozen=True, slots=True)
class MassItem:
    """One line of the mass table."""

    part: str  # "first stage", "payload", …
    item: str  # "dry mass", "propellant that burns", "residuals", …
    mass: float  # kg
    origin: Origin


class Kind(StrEnum):
    """How an engine makes thrust."""

    ROCKET = "rocket"
    NUCLEAR = "nuclear"
    SOLID = "solid"
    TURBOFAN = "turbofan"
    TURBOJET = "turbojet"
    RAMJET = "ramjet"


@dataclass(frozen=True, slots=True)
class Rules:
    """When a group is lit and when it stops, apart from its stage; whatever comes first stops it."""

    lit_after: float = 0.0  # s after its stage begins to burn
    lit_above: float | None = None  # m
    lit_above_mach: float | None = None
    stops_above: float | None = None  # m
    stops_above_mach: float | None = None
    stops_with: float | None = None  # kg of the stage's propellant that still burns


@dataclass(frozen=True, slots=True)
class Jet:
    """What a turbofan or turbojet needs beside a rocket's figures; one engine."""

    static_thrust: float  # N, at sea level
    static_fuel_flow: float  # kg/s
    jet_speed: float  # m/s, static thrust over air flow
    spool_time: float  # s, time constant
    intake_diameter: float  # m; 0: closed by doors when off
    spillage: float = 0.92  # jet speed over flight speed when off [-]


@dataclass(frozen=True, slots=True)
class Ramjet:
    """A ramjet; one engine."""

    capture_area: float  # m²
    burner_temperature: float  # K
    fuel_heat: float  # J/kg
    pressure_share: float = 0.85  # total pressure kept by burner and nozzle [-]


@dataclass(frozen=True, slots=True)
class Adapting:
    """A nozzle that suits itself to the pressure outside, between its fixed bell and ideal expansion."""

    gamma: float  # isentropic exponent of the exhaust [-]
    pressure_ratio: float  # exit over chamber pressure at full expansion [-]
    chamber_pressure: float  # Pa
    efficiency: float  # 0: as a fixed bell; 1: ideal expansion at every height [-]
    sea_level_gain: float  # N, thrust gained at sea level


@dataclass(frozen=True, slots=True)
class EngineGroup:
    """Engines of one kind on a stage; figures are those of one engine at full throttle.

    A jet has its thrust in `jet`, and `vacuum_thrust` 0: it takes no part in what rockets are measured by.
    """

    name: str
    count: int | float  # a fraction only while closing is still between whole numbers
    vacuum_thrust: float  # N
    exit_area: float  # m²
    vacuum_isp: float  # s
    least_throttle: float = 1.0  # 1: cannot throttle
    ignitions: int = 1
    stops_after: float | None = None  # s after the stage ignites; None: burns to the end
    kind: Kind = Kind.ROCKET
    rules: Rules | None = None  # None: burns with its stage
    jet: Jet | None = None
    ramjet: Ramjet | None = None
    adapting: Adapting | None = None
    trace: tuple[tuple[float, float], ...] | None = None  # solids: (s since ignition, share); None: steady

    @property
    def flow(self) -> float:
        """Propellant flow of the whole group, jets apart [kg/s]."""
        return self.count * self.vacuum_thrust / (self.vacuum_isp * STANDARD_GRAVITY)

    def thrust(self, pressure: float) -> float:
        """Of the whole group at rest in air of `pressure` [Pa], full throttle [N].

        Exact in vacuum and at sea level; between, jets and what a nozzle gains go with the pressure.
        """
        one = self.vacuum_thrust - pressure * self.exit_area
        if self.jet is not None:
            one += self.jet.static_thrust * pressure / SEA_LEVEL_PRESSURE
        if self.adapting is not None:
            one += self.adapting.sea_level_gain * pressure / SEA_LEVEL_PRESSURE
        return self.count * one

    @property
    def lit_on_the_ground(self) -> bool:
        """Whether it burns as its stage is lit."""
        rules = self.rules
        if rules is None:
            return True
        return rules.lit_after <= 0.0 and rules.lit_above is None and rules.lit_above_mach is None


@dataclass(frozen=True, slots=True)
class Propellant:
    """The load of one stage, by what becomes of it; the parts add up to the load.  All in kg."""

    pair: str
    mixture_ratio: float  # oxidiser to fuel, by mass
    burns: float  # through the engines, on the way up
    residuals: float = 0.0  # cannot be used, stays aboard
    start_loss: float = 0.0  # leaves before the engines push
    shut_down_loss: float = 0.0  # leaves after they stop pushing
    reserve: float = 0.0  # performance reserve, stays aboard a nominal flight
    home: float = 0.0  # to come home with
    boil_off: float = 0.0  # boils away before its engines are lit
    boil_off_coasting: float = 0.0  # boils away between two burns
    boil_off_in_orbit: float = 0.0  # boils away after the last cut-off, aboard until then
    extra_fuel: float = 0.0  # part of the above: fuel beyond the mixture ratio, which jets burn

    @property
    def load(self) -> float:
        """Everything tanked [kg]."""
        used = self.burns + self.residuals + self.start_loss + self.shut_down_loss + self.reserve + self.home
        return used + self.boil_off + self.boil_off_coasting + self.boil_off_in_orbit

    @property
    def gone_before(self) -> float:
        """Gone by the time the engines push [kg]."""
        return self.start_loss + self.boil_off

    @property
    def kept(self) -> float:
        """Still aboard after the last cut-off [kg]."""
        return self.residuals + self.reserve + self.home + self.boil_off_in_orbit

    @property
    def oxidiser(self) -> float:
        """Oxidiser of a pair, as loaded [kg]."""
        return (self.load - self.extra_fuel) * self.mixture_ratio / (1.0 + self.mixture_ratio)


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage; bottom stage first in `Vehicle.stages`."""

    name: str
    dry_mass: float  # kg
    propellant: Propellant
    engines: tuple[EngineGroup, ...]
    diameter: float  # m
    drag_area: float  # m², reference area of the vehicle while this stage is the lowest
    drag_curve: tuple[tuple[float, float], ...]  # (Mach, drag coefficient)
    pause: float = 0.0  # s between the stage below letting go and ignition
    items: tuple[MassItem, ...] = ()  # what the dry mass is made of, where known
    hot_overlap: float = 0.0  # s it burns before the stage below is let go
    boil_rate: float = 0.0  # kg/s of its propellant, while it waits or coasts
    let_go_above: float | None = None  # m: cut off and let go at this height, if it comes before burn-out

    @property
    def gross_mass(self) -> float:
        """Dry mass and everything tanked [kg]."""
        return self.dry_mass + self.propellant.load

    @property
    def structural_fraction(self) -> float:
        """Dry mass over dry mass and propellant [-]."""
        return self.dry_mass / self.gross_mass

    @property
    def vacuum_thrust(self) -> float:
        """Of all engines [N]."""
        return sum(group.count * group.vacuum_thrust for group in self.engines)

    def thrust(self, pressure: float) -> float:
        """Of all engines lit with the stage, at rest in air of `pressure` [Pa], full throttle [N]."""
        return sum(g.thrust(pressure) for g in self.engines if g.lit_on_the_ground)

    @property
    def flow(self) -> float:
        """Propellant flow of all engines at full throttle [kg/s]."""
        return sum(group.flow for group in self.engines)

    @property
    def vacuum_isp(self) -> float:
        """Of all rocket engines together: thrust over flow [s]; 0 where there are only jets."""
        return self.vacuum_thrust / (self.flow * STANDARD_GRAVITY) if self.flow else 0.0


@dataclass(frozen=True, slots=True)
class StrapOn:
    """Stages alike that burn beside another one."""

    stage: Stage  # one of them
    count: int
    beside: int  # index of the stage they burn beside
    lit_after: float = 0.0  # s after that stage begins (its pause counts)
    let_go_after: float = 0.0  # s after they burn out
    feeds: bool = False  # they feed the engines of that stage while they burn

    @property
    def gross_mass(self) -> float:
        """Of all of them [kg]."""
        return self.count * self.stage.gross_mass


class Moment(StrEnum):
    """When a mass is let go."""

    HEATING = "heating"  # free-molecular heating below `value` W/m², once it has been above
    HEIGHT = "height"  # above `value` m
    TIME = "time"  # `value` s after the stage `stage` begins (its pause counts)


@dataclass(frozen=True, slots=True)
class LetGo:
    """A mass dropped apart from the stages: fairing, escape tower, interstage ring."""

    name: str
    mass: float  # kg
    moment: Moment
    value: float
    stage: int = 0  # index of the stage for Moment.TIME
    covers: bool = True  # whether the payload lies bare once it is gone: a fairing, not a ring


@dataclass(frozen=True, slots=True)
class Vehicle:
    """Everything that leaves the pad."""

    name: str
    stages: tuple[Stage, ...]  # bottom first
    payload: float  # kg
    let_go: tuple[LetGo, ...] = ()
    other: tuple[MassItem, ...] = field(default=())  # carried to the end beside the payload
    strap_ons: tuple[StrapOn, ...] = ()

    @property
    def lift_off_mass(self) -> float:
        """At the moment it leaves the pad: propellant lost before that is gone [kg]."""
        lost = sum(s.count * s.stage.propellant.start_loss for s in self.strap_ons if s.beside == 0)
        return self.mass_above(0) - self.stages[0].propellant.start_loss - lost

    def lift_off_thrust(self, pressure: float = SEA_LEVEL_PRESSURE) -> float:
        """Of all that burns as it leaves the pad, at rest in air of `pressure` [Pa] [N]."""
        total = self.stages[0].thrust(pressure) if self.stages[0].pause <= 0.0 else 0.0
        for s in self.strap_ons:
            if s.beside == 0 and s.lit_after <= 0.0:
                total += s.count * s.stage.thrust(pressure)
        return total

    def every_stage(self) -> tuple[Stage, ...]:
        """All stages, what is strapped on before the stage it burns beside."""
        found: list[Stage] = []
        for index, stage in enumerate(self.stages):
            found += [s.stage for s in self.strap_ons if s.beside == index]
            found.append(stage)
        return tuple(found)

    def mass_above(self, index: int) -> float:
        """Stage `index` fully tanked with everything above it, as it stands on the pad [kg]."""
        return (
            sum(stage.gross_mass for stage in self.stages[index:])
            + sum(s.gross_mass for s in self.strap_ons if s.beside >= index)
            + sum(piece.mass for piece in self.let_go)
            + sum(item.mass for item in self.other)
            + self.payload
        )

    def mass_table(self) -> tuple[MassItem, ...]:
        """Every item once; the masses add up to the mass on the pad exactly as `math.fsum` adds."""
        table: list[MassItem] = []
        counts = {s.stage.name: s.count for s in self.strap_ons}
        for stage in self.every_stage():
            n = counts.get(stage.name, 1)
            name = stage.name if n == 1 else f"{n} × {stage.name}"
            items = stage.items or (MassItem(stage.name, "dry mass", stage.dry_mass, Origin.STATED),)
            table.extend(MassItem(name, i.item, n * i.mass, i.origin) for i in items)
            p = stage.propellant
            for item, mass in (
                ("propellant that burns", p.burns),
                ("residuals", p.residuals),
                ("start loss", p.start_loss),
                ("shut-down loss", p.shut_down_loss),
                ("performance reserve", p.reserve),
                ("propellant to come home", p.home),
                ("boil-off before ignition", p.boil_off),
                ("boil-off while coasting", p.boil_off_coasting),
                ("boil-off in orbit", p.boil_off_in_orbit),
            ):
                if mass:
                    table.append(MassItem(name, item, n * mass, Origin.DERIVED))
        table.extend(MassItem("", piece.name, piece.mass, Origin.STATED) for piece in self.let_go)
        table.extend(self.other)
        table.append(MassItem("", "payload", self.payload, Origin.STATED))
        return tuple(table)
