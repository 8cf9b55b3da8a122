"""A vehicle whose every value is known, in SI."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from wetmass.record.constants import STANDARD_GRAVITY


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


@dataclass(frozen=True, slots=True)
class EngineGroup:
    """Engines of one kind on a stage; figures are those of one engine at full throttle."""

    name: str
    count: int | float  # a fraction only while closing is still between whole numbers
    vacuum_thrust: float  # N
    exit_area: float  # m²
    vacuum_isp: float  # s
    least_throttle: float = 1.0  # 1: cannot throttle
    ignitions: int = 1
    stops_after: float | None = None  # s after the stage ignites; None: burns to the end

    @property
    def flow(self) -> float:
        """Propellant flow of the whole group [kg/s]."""
        return self.count * self.vacuum_thrust / (self.vacuum_isp * STANDARD_GRAVITY)


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

    @property
    def load(self) -> float:
        """Everything tanked [kg]."""
        return self.burns + self.residuals + self.start_loss + self.shut_down_loss + self.reserve + self.home


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
        """Of all engines in air of `pressure` [Pa], full throttle [N]."""
        return sum(g.count * (g.vacuum_thrust - pressure * g.exit_area) for g in self.engines)

    @property
    def flow(self) -> float:
        """Propellant flow of all engines at full throttle [kg/s]."""
        return sum(group.flow for group in self.engines)

    @property
    def vacuum_isp(self) -> float:
        """Of all engines together: thrust over flow [s]."""
        return self.vacuum_thrust / (self.flow * STANDARD_GRAVITY)


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


@dataclass(frozen=True, slots=True)
class Vehicle:
    """Everything that leaves the pad."""

    name: str
    stages: tuple[Stage, ...]  # bottom first
    payload: float  # kg
    let_go: tuple[LetGo, ...] = ()
    other: tuple[MassItem, ...] = field(default=())  # carried to the end beside the payload

    @property
    def lift_off_mass(self) -> float:
        """At the moment it leaves the pad: propellant lost before that is gone [kg]."""
        return self.mass_above(0) - self.stages[0].propellant.start_loss

    def mass_above(self, index: int) -> float:
        """Stage `index` fully tanked with everything above it, as it stands on the pad [kg]."""
        return (
            sum(stage.gross_mass for stage in self.stages[index:])
            + sum(piece.mass for piece in self.let_go)
            + sum(item.mass for item in self.other)
            + self.payload
        )

    def mass_table(self) -> tuple[MassItem, ...]:
        """Every item once; the masses add up to the mass on the pad exactly as `math.fsum` adds."""
        table: list[MassItem] = []
        for stage in self.stages:
            table.extend(stage.items or (MassItem(stage.name, "dry mass", stage.dry_mass, Origin.STATED),))
            p = stage.propellant
            for item, mass in (
                ("propellant that burns", p.burns),
                ("residuals", p.residuals),
                ("start loss", p.start_loss),
                ("shut-down loss", p.shut_down_loss),
                ("performance reserve", p.reserve),
                ("propellant to come home", p.home),
            ):
                if mass:
                    table.append(MassItem(stage.name, item, mass, Origin.DERIVED))
        table.extend(MassItem("", piece.name, piece.mass, Origin.STATED) for piece in self.let_go)
        table.extend(self.other)
        table.append(MassItem("", "payload", self.payload, Origin.STATED))
        return tuple(table)
