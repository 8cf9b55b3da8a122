"""How thick a tank's wall is: inside pressure by membrane stress, axial load by buckling.

Concept figures only.  Pressure vessels and thin shells under load can injure and kill: real ones are
designed, made and proof-tested by licensed people under the code that applies where they are used.
"""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.physics.materials import UNCREWED, DesignFactors, Material
from wetmass.physics.pattern import (
    Letter,
    above_zero,
    absolute,
    exp,
    greatest,
    kernel,
    not_negative,
    relation,
    sqrt,
    within,
)
from wetmass.physics.tanks import (
    CylinderTank,
    FrustumTank,
    SphereTank,
    SpheroidTank,
    Tank,
    TorusTank,
    dome_area,
)
from wetmass.physics.tanks.solid import rising_root

CAUTION = (
    "Wall thicknesses are concept figures. Pressure vessels can injure and kill: leave their design, making "
    "and proof test to licensed practice."
)
MEMBRANE = (
    "membrane theory of thin shells of revolution (equilibrium alone), checked here against its equations"
)
SP_8007 = (
    "NASA SP-8007, Buckling of Thin-Walled Circular Cylinders (1968 revision), isotropic cylinders under "
    "axial compression; formula read in public restatements"
)
BUCKLING_REACH = 1500.0  # radius over thickness up to which the knock-down curve was drawn: SP-8007

_PRESSURE = ("p", "design pressure, factor included", "Pa", 1e4, 5e6)
_STRENGTH = ("σ", "strength allowed", "Pa", 1e8, 2e9)
_WELD = ("e", "weld efficiency", "", 0.4, 1.0)


@kernel
def _cylinder_wall(pressure, diameter, strength, weld_efficiency):
    return pressure * diameter / (2.0 * strength * weld_efficiency)


@relation(
    kernel=_cylinder_wall,
    symbol="t",
    words="wall of a cylinder by hoop stress",
    unit="m",
    letters={
        "pressure": Letter(*_PRESSURE),
        "diameter": Letter("D", "diameter", "m", 0.2, 12.0),
        "strength": Letter(*_STRENGTH),
        "weld_efficiency": Letter(*_WELD),
    },
    source=MEMBRANE,
)
def cylinder_wall(pressure: float, diameter: float, strength: float, weld_efficiency: float = 1.0) -> float:
    """Thickness of a cylinder's wall from its hoop stress, t = p·D/(2·σ·e) [m].

    pressure         inside over outside, times the design factor  [Pa]
    diameter         of the cylinder                               [m]
    strength         the stress allowed                            [Pa]
    weld_efficiency  strength of the seams over that of the sheet  [-]

    Holds for walls thin beside the radius.  Raises ValueError for values not above zero, efficiency above 1.

    >>> round(1e3 * cylinder_wall(350e3 * 1.4, 5.0, 427e6, 0.85), 3)
    3.375
    """
    above_zero(pressure=pressure, diameter=diameter, strength=strength, weld_efficiency=weld_efficiency)
    within(0.0, 1.0, weld_efficiency=weld_efficiency)
    return _cylinder_wall(pressure, diameter, strength, weld_efficiency)


@kernel
def _dome_wall(pressure, diameter, height, strength, weld_efficiency):
    radius = diameter / 2.0
    k = radius / height
    # in multiples of p·R/t: crown both ways, rim along the meridian, rim along the hoop
    worst = greatest(greatest(k / 2.0, 0.5), absolute(1.0 - k * k / 2.0))
    return worst * pressure * radius / (strength * weld_efficiency)


@relation(
    kernel=_dome_wall,
    symbol="t",
    words="wall of an ellipsoidal dome",
    unit="m",
    letters={
        "pressure": Letter(*_PRESSURE),
        "diameter": Letter("D", "diameter at the rim", "m", 0.2, 12.0),
        "height": Letter("h", "height of the dome", "m", 0.1, 6.0),
        "strength": Letter(*_STRENGTH),
        "weld_efficiency": Letter(*_WELD),
    },
    source=MEMBRANE,
)
def dome_wall(
    pressure: float, diameter: float, height: float, strength: float, weld_efficiency: float = 1.0
) -> float:
    """Thickness of an ellipsoidal dome's wall from its greatest membrane stress [m].

    t = max(k/2, ½, |1 − k²/2|)·p·R/(σ·e), k = R/h: crown, rim along the meridian, rim along the hoop.
    A hemisphere (k = 1) gives the sphere's p·R/(2·σ·e).  Flatter than k = √2 the rim is pressed inwards:
    the thickness covers the stress, not the buckling of the rim (see `rim_is_pressed_inwards`).

    height  of the dome, above zero  [m];  the rest as for `cylinder_wall`.

    >>> round(1e3 * dome_wall(490e3, 5.0, 2.5, 427e6, 0.85), 4)
    1.6876
    """
    above_zero(pressure=pressure, diameter=diameter, height=height, strength=strength)
    above_zero(weld_efficiency=weld_efficiency)
    within(0.0, 1.0, weld_efficiency=weld_efficiency)
    return _dome_wall(pressure, diameter, height, strength, weld_efficiency)


def rim_is_pressed_inwards(diameter: float, height: float) -> bool:
    """Is the dome flatter than radius : height = √2, so that pressure squeezes its rim?

    >>> rim_is_pressed_inwards(4.0, 1.0), rim_is_pressed_inwards(4.0, 1.5)
    (True, False)
    """
    above_zero(diameter=diameter, height=height)
    return (diameter / 2.0 / height) ** 2 > 2.0


@kernel
def _torus_wall(pressure, ring_diameter, tube_diameter, strength, weld_efficiency):
    big, small = ring_diameter / 2.0, tube_diameter / 2.0
    return pressure * small * (2.0 * big - small) / (2.0 * (big - small) * strength * weld_efficiency)


@relation(
    kernel=_torus_wall,
    symbol="t",
    words="wall of a ring tank",
    unit="m",
    letters={
        "pressure": Letter(*_PRESSURE),
        "ring_diameter": Letter("D", "diameter of the circle through the tube's middle", "m", 3.0, 12.0),
        "tube_diameter": Letter("d", "diameter of the tube", "m", 0.1, 2.5),
        "strength": Letter(*_STRENGTH),
        "weld_efficiency": Letter(*_WELD),
    },
    source=MEMBRANE,
)
def torus_wall(
    pressure: float,
    ring_diameter: float,
    tube_diameter: float,
    strength: float,
    weld_efficiency: float = 1.0,
) -> float:
    """Thickness of a ring tank's wall at its inside, where it is stressed most [m].

    t = p·r·(2·R − r)/(2·(R − r)·σ·e) with R, r half the two diameters.  Arguments as for `cylinder_wall`.

    >>> round(1e3 * torus_wall(490e3, 4.0, 1.0, 427e6, 0.85), 4)
    0.7875
    """
    above_zero(
        pressure=pressure, tube_diameter=tube_diameter, strength=strength, weld_efficiency=weld_efficiency
    )
    within(0.0, 1.0, weld_efficiency=weld_efficiency)
    if not ring_diameter > tube_diameter:
        raise ValueError(
            f"ring_diameter must exceed tube_diameter ({tube_diameter} m), got {ring_diameter} m"
        )
    return _torus_wall(pressure, ring_diameter, tube_diameter, strength, weld_efficiency)


# ── axial load ───────────────────────────────────────────────────────────────────────────────────


@kernel
def _knock_down(radius, thickness):
    return 1.0 - 0.901 * (1.0 - exp(-sqrt(radius / thickness) / 16.0))


@relation(
    kernel=_knock_down,
    symbol="γ",
    words="buckling knock-down factor",
    unit="",
    letters={
        "radius": Letter("R", "radius of the cylinder", "m", 0.5, 6.0),
        "thickness": Letter("t", "thickness of the wall", "m", 0.005, 0.05),
    },
    source=SP_8007,
)
def knock_down(radius: float, thickness: float) -> float:
    """Buckling load of real cylinders over perfect ones, γ = 1 − 0.901·(1 − e^(−√(R/t)/16)) [-].

    radius     of the cylinder  [m]
    thickness  of its wall      [m]

    A lower bound to tests up to R/t = 1500; beyond it raises ValueError.  Source: NASA SP-8007.

    >>> round(knock_down(2.0, 0.004), 4)
    0.3217
    """
    above_zero(radius=radius, thickness=thickness)
    if radius / thickness > BUCKLING_REACH:
        raise ValueError(
            f"radius over thickness must be at most {BUCKLING_REACH:g}, the reach of the tests behind the "
            f"knock-down factor (NASA SP-8007), got {radius / thickness:.4g}"
        )
    return _knock_down(radius, thickness)


@kernel
def _buckling_load(radius, thickness, modulus, poisson):
    perfect = modulus * thickness / (radius * sqrt(3.0 * (1.0 - poisson * poisson)))
    return 2.0 * 3.141592653589793 * radius * thickness * _knock_down(radius, thickness) * perfect


@relation(
    kernel=_buckling_load,
    symbol="P",
    words="axial load at which the wall buckles",
    unit="N",
    letters={
        "radius": Letter("R", "radius of the cylinder", "m", 0.5, 6.0),
        "thickness": Letter("t", "thickness of the wall", "m", 0.005, 0.05),
        "modulus": Letter("E", "Young's modulus", "Pa", 5e10, 2.1e11),
        "poisson": Letter("ν", "Poisson's ratio", "", 0.25, 0.35),
    },
    source=SP_8007,
)
def buckling_load(radius: float, thickness: float, modulus: float, poisson: float) -> float:
    """Axial load at which a plain, unpressurised cylinder buckles, P = 2π·γ·E·t²/√(3·(1 − ν²)) [N].

    radius, thickness  as for `knock_down`         [m]
    modulus            Young's modulus             [Pa]
    poisson            Poisson's ratio, 0 to 0.5   [-]

    For unstiffened, moderately long cylinders; stiffeners carry far more for their mass.

    >>> round(buckling_load(2.0, 0.004, 73e9, 0.33) / 1e3)
    1444
    """
    above_zero(modulus=modulus)
    within(0.0, 0.5, poisson=poisson)
    knock_down(radius, thickness)
    return _buckling_load(radius, thickness, modulus, poisson)


def axial_wall(
    load: float, moment: float, diameter: float, modulus: float, poisson: float, *, pressure: float = 0.0
) -> float:
    """Thickness a plain cylinder needs so as not to buckle [m].

    load      axial force, factor included                             [N]
    moment    bending moment, factor included; counts as 2·M/R of load [N·m]
    diameter  of the cylinder                                          [m]
    modulus   Young's modulus                                          [Pa]
    poisson   Poisson's ratio                                          [-]
    pressure  lowest inside pressure while loaded: takes p·π·R² off    [Pa]

    The rounding-out of dents by pressure, a further help, is left out.  0 where pressure carries it all;
    R/1500 for light loads, the thinnest wall the curve was drawn for.  Raises ValueError when the wall
    would be thicker than R/50.  Source: NASA SP-8007.

    >>> round(1e3 * axial_wall(1.4437e6, 0.0, 4.0, 73e9, 0.33), 2)
    4.0
    """
    not_negative(load=load, moment=moment, pressure=pressure)
    above_zero(diameter=diameter, modulus=modulus)
    within(0.0, 0.5, poisson=poisson)
    radius = diameter / 2.0
    needed = load + 2.0 * moment / radius - pressure * 3.141592653589793 * radius**2
    if needed <= 0.0:
        return 0.0
    thinnest, thickest = radius / BUCKLING_REACH, radius / 50.0
    if _buckling_load(radius, thickest, modulus, poisson) < needed:
        raise ValueError(
            f"load: {needed:.4g} N needs a wall thicker than radius/50 ({thickest:.4g} m) as a plain "
            "cylinder; stiffen it, widen it or pressurise it"
        )
    return rising_root(lambda t: _buckling_load(radius, t, modulus, poisson) - needed, thinnest, thickest)


# ── a whole tank ─────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class WallPart:
    """One part of a tank's wall."""

    part: str
    area: float  # m²
    thickness: float  # m
    governed_by: str  # "pressure", "axial load" or "least thickness"
    mass: float  # kg


@dataclass(frozen=True, slots=True)
class Walls:
    """The walls of one tank.  `notes` say what the figures do not cover."""

    parts: tuple[WallPart, ...]
    mass: float  # kg
    notes: tuple[str, ...]


def tank_walls(
    tank: Tank,
    pressure: float,
    stuff: Material,
    *,
    factors: DesignFactors = UNCREWED,
    weld_efficiency: float = 0.85,
    load: float = 0.0,
    moment: float = 0.0,
    least: float = 0.0,
    extra: float = 0.0,
) -> Walls:
    """Wall thicknesses and mass of a cylinder, sphere, spheroid, ring or cone tank.

    pressure         greatest inside over outside, head of liquid included         [Pa]
    stuff            the material
    factors          design factors on ultimate and yield
    weld_efficiency  seams over sheet; used unless the material says what a weld holds  [-]
    load, moment     on a cylinder's straight part, factors not included           [N], [N·m]
    least            thinnest wall that can be made or handled                     [m]
    extra            share added for weld lands, rings, bosses                     [-]

    Raises ValueError for shapes it has no membrane formula for (annulus, nested, cluster: ask part by part).
    """
    above_zero(pressure=pressure)
    not_negative(load=load, moment=moment, least=least, extra=extra)
    if not 0.0 < weld_efficiency <= 1.0:
        raise ValueError(f"weld_efficiency must lie above 0 and at most 1, got {weld_efficiency}")
    seam = stuff.welded_ultimate / stuff.ultimate if stuff.welded_ultimate else weld_efficiency
    # one stress that respects both factors
    strength = min(stuff.ultimate * seam / factors.ultimate, stuff.yielding / factors.yielding)
    notes = [CAUTION, f"material values: {stuff.source}", f"factors: {factors.source}"]
    parts: list[WallPart] = []

    def add(part: str, area: float, by_pressure: float, by_load: float = 0.0) -> None:
        thickness = max(by_pressure, by_load, least)
        why = (
            "pressure"
            if thickness == by_pressure
            else "axial load"
            if thickness == by_load
            else "least thickness"
        )
        parts.append(WallPart(part, area, thickness, why, area * thickness * stuff.density * (1.0 + extra)))

    def dome(part: str, diameter: float, ratio: float) -> None:
        if ratio == 0.0:
            notes.append(f"{part}: a flat end bends; no thickness is given for it here")
            return
        height = ratio * diameter / 2.0
        if rim_is_pressed_inwards(diameter, height):
            notes.append(f"{part}: flatter than √2 : 1, its rim is pressed inwards and may need a ring")
        add(part, dome_area(diameter, height), dome_wall(pressure, diameter, height, strength))

    if isinstance(tank, CylinderTank | FrustumTank):
        if isinstance(tank, CylinderTank):
            ends, slant = (tank.diameter, tank.diameter), 1.0
        else:
            ends = (tank.bottom_diameter, tank.top_diameter)
            slant = (1.0 + ((ends[1] - ends[0]) / 2.0 / tank.length) ** 2) ** 0.5
        dome("bottom", ends[0], tank.bottom.height_ratio)
        if tank.length > 0.0:
            area = 3.141592653589793 * (ends[0] + ends[1]) / 2.0 * tank.length * slant
            axial = axial_wall(
                factors.ultimate * load, factors.ultimate * moment, min(ends), stuff.modulus, stuff.poisson
            )
            add("barrel", area, cylinder_wall(pressure, max(ends) * slant, strength), axial)
            if load or moment:
                notes.append(f"buckling as a plain cylinder without inside pressure: {SP_8007}")
        dome("top", ends[1], tank.top.height_ratio)
    elif isinstance(tank, SphereTank):
        dome("lower half", tank.diameter, 1.0)
        dome("upper half", tank.diameter, 1.0)
    elif isinstance(tank, SpheroidTank):
        dome("lower half", tank.diameter, tank.pole_to_pole / tank.diameter)
        dome("upper half", tank.diameter, tank.pole_to_pole / tank.diameter)
    elif isinstance(tank, TorusTank):
        add("ring", tank.wall_area, torus_wall(pressure, tank.ring_diameter, tank.tube_diameter, strength))
    else:
        raise ValueError(
            f"tank: no membrane formula here for {type(tank).__name__}; ask for its parts one by one"
        )
    return Walls(tuple(parts), sum(part.mass for part in parts), tuple(notes))
