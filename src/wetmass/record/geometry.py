"""Where everything stands: tanks, engines, stages and fairing, in metres.

Heights of a stage count from its lowest point, the exits of its engines; heights of the vehicle from the
lowest point of the bottom stage.  (x, y) is the plan view, the axis at (0, 0).
"""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.record.finding import Finding
from wetmass.record.vehicle import Origin

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Size:
    """One size of a tank and who stated it."""

    name: str  # "diameter", "length", "tube diameter", …
    value: float  # m
    origin: Origin


@dataclass(frozen=True, slots=True)
class Wall:
    """One part of a tank's wall."""

    part: str  # "bottom", "barrel", "top", …
    area: float  # m²
    thickness: float  # m
    governed_by: str  # "pressure", "axial load" or "least thickness"
    mass: float  # kg


@dataclass(frozen=True, slots=True)
class TankWalls:
    """Wall thicknesses of one tank: concept figures, never a design of a pressure vessel."""

    material: str
    pressure: float  # Pa, greatest inside over outside, head of liquid included
    load: float  # N, along the axis, on a barrel that is the skin of the stage
    parts: tuple[Wall, ...]
    mass: float  # kg, of one tank
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TankGeometry:
    """One tank of the list, or several alike.  Volumes, areas and masses are those of all of them."""

    stage: str
    holds: str
    shape: str
    count: int
    sizes: tuple[Size, ...]
    found: str  # name of the size that was solved for, "" where all were stated
    density: float  # kg/m³ of the liquid as loaded
    temperature: float | None  # K as loaded, None: as usually loaded
    ullage: float  # share of the volume left to gas
    mass: float  # kg of liquid
    needed: float  # m³ that this mass needs, ullage included
    volume: float  # m³ there is
    wall_area: float  # m²
    wetted_area: float  # m² of wall reached by the liquid
    level: float  # m, surface of the liquid above the tank's lowest point
    surface: float  # m², free surface
    centre: float  # m, centre of the liquid, in the stage
    foot: float  # m, lowest point of the inside, in the stage
    height: float  # m, of the inside
    across: float  # m, diameter of one tank
    envelope: float  # m, circle round all that stand at this height for this entry
    hole: float  # m, free circle through the middle
    positions: tuple[tuple[float, float], ...]  # m, axes in plan view, one for each tank
    outline: tuple[
        tuple[float, float], ...
    ]  # (radius, height above its foot) of one tank's half section, bottom to top
    shares_bulkhead: bool  # with the tank above it
    shared_below: bool  # the tank below it shares its upper dome with this one
    inside: str  # what the tank holds that this one stands in, "" for none
    boil_off: float | None = None  # kg a day, None where nothing is said
    walls: TankWalls | None = None

    @property
    def top(self) -> float:
        """Highest point of the inside, in the stage [m]."""
        return self.foot + self.height

    def size(self, name: str) -> float:
        """The size of that name [m]; KeyError names those there are."""
        for each in self.sizes:
            if each.name == name:
                return each.value
        raise KeyError(f"no size {name!r}; there are {', '.join(each.name for each in self.sizes)}")


@dataclass(frozen=True, slots=True)
class EnginePlan:
    """Engines of one group in plan view: their exits, at the height 0 of the stage."""

    group: str
    count: int
    exit_diameter: float  # m
    clearance: float  # m, free room kept between two exits
    positions: tuple[tuple[float, float], ...]  # m
    ring_radius: float  # m, of the outermost axes
    across: float  # m, circle round all exits of this group
    way: str  # how they are placed
    most_that_fit: int | None  # of this kind alone in the stage's circle, None where not told
    source: str


@dataclass(frozen=True, slots=True)
class StageGeometry:
    """One stage; `count` alike where it is strapped on."""

    name: str
    count: int
    diameter: float  # m, of its body as stated
    foot: float  # m, its lowest point in the vehicle
    length: float  # m, from the exits to the top of its highest tank
    stated_length: float | None  # m
    engine_length: float  # m, exits to the head of the engines
    engine_length_source: str
    skirts: float  # m, length of body that no tank's wall closes
    tanks: tuple[TankGeometry, ...]  # from the top, as listed
    engines: tuple[EnginePlan, ...]
    engines_across: float  # m, circle round all exits
    troubles: tuple[Finding, ...] = ()  # what could not be laid out

    @property
    def top(self) -> float:
        """Its highest point in the vehicle [m]."""
        return self.foot + self.length


@dataclass(frozen=True, slots=True)
class FairingGeometry:
    """The shell over the payload: a cylinder under half an ellipsoid."""

    diameter: float  # m
    length: float  # m, with the nose
    nose: float  # m, length of the nose
    foot: float  # m, in the vehicle
    area: float  # m², of its wall
    outline: tuple[tuple[float, float], ...]  # (radius, height above its foot)


@dataclass(frozen=True, slots=True)
class Geometry:
    """The whole vehicle."""

    stages: tuple[StageGeometry, ...]  # in the order of the concept, the bottom one first
    fairing: FairingGeometry | None
    height: float  # m
    width: float  # m, the greatest diameter stated
    assumed: tuple[str, ...] = ()  # what was taken where nothing was said

    @property
    def slenderness(self) -> float:
        """Height over greatest diameter [-]."""
        return self.height / self.width
