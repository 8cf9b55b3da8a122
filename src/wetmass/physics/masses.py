"""What parts weigh before they are designed: mass-estimating relations, each with its source and reach.

Regressions through flown hardware.  They scatter by tens of percent: several are given for a part where
there are several, so that their spread can be seen.
"""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.physics.pattern import Letter, Relation, above_zero, kernel, relation, sqrt
from wetmass.record.constants import FOOT, POUND

AKIN = (
    "D. L. Akin, Univ. of Maryland, ENAE 791 Mass Estimating Relations (2016); coefficients read in public "
    "restatements that cite it"
)
ROHRSCHNEIDER = (
    "R. R. Rohrschneider, Mass Estimating Relationship Database for Launch Vehicle Conceptual Design, "
    "Georgia Tech (2002); read in a public restatement that cites it"
)
HEINEMAN = "W. Heineman, NASA JSC-26098 (1994); read in a public restatement that cites it"
CASTELLINI = "F. Castellini, PhD thesis, Politecnico di Milano (2012); read second-hand"
MIT_1976 = "MIT student system design report (1976), https://ssi.org/wp-content/fbs/1976-mit-sysdesign/504"
MEMORY = "from memory"

# Range of each input the regression may be trusted on.  The sources print no ranges with these
# restatements: the bounds are ours, those of the launchers such data come from.
_VOLUME = ("V", "volume of the tank", "m³", 1.0, 2000.0)
_PROPELLANT = ("m", "mass of the liquid", "kg", 1e3, 2e6)
_AREA = ("A", "wall area", "m²", 1.0, 1500.0)
_THRUST_ONE = ("T", "vacuum thrust of one engine", "N", 1e4, 8e6)
_THRUST_ALL = ("T", "vacuum thrust of all engines", "N", 1e4, 5e7)
_GROSS = ("m₀", "mass at lift-off of this stage and all above", "kg", 1e4, 3e6)
_DRY = ("m_d", "dry mass", "kg", 1e3, 2e5)
_FT3 = FOOT**3


def _simple(name: str, words: str, coefficient: float, letter: tuple, source: str) -> Relation:  # type: ignore[type-arg]
    """A relation of one coefficient, m = k·x."""

    def bare(x):  # type: ignore[no-untyped-def]
        return coefficient * x

    bare.__name__ = bare.__qualname__ = f"_{name}"
    bare = kernel(bare)

    def checked(x: float) -> float:
        above_zero(**{letter[1].replace(" ", "_"): x})
        return float(bare(x))

    checked.__name__ = checked.__qualname__ = name
    checked.__module__ = __name__
    first = f"Mass of the {words}, {coefficient:g}·{letter[0]} [kg]; {letter[1]} in {letter[2]}."
    checked.__doc__ = f"{first}\n\nSource: {source}."
    return relation(
        kernel=bare, symbol="m", words=words, unit="kg", letters={"x": Letter(*letter)}, source=source
    )(checked)


# ── tanks ────────────────────────────────────────────────────────────────────────────────────────

hydrogen_tank_by_volume = _simple("hydrogen_tank_by_volume", "hydrogen tank", 9.09, _VOLUME, AKIN)
other_tank_by_volume = _simple(
    "other_tank_by_volume", "tank for LOX, RP-1 or another dense liquid", 12.16, _VOLUME, AKIN
)
hydrogen_tank_by_mass = _simple("hydrogen_tank_by_mass", "hydrogen tank", 0.128, _PROPELLANT, AKIN)
oxygen_tank_by_mass = _simple("oxygen_tank_by_mass", "oxygen tank", 0.0107, _PROPELLANT, AKIN)
kerosene_tank_by_mass = _simple("kerosene_tank_by_mass", "kerosene tank", 0.0148, _PROPELLANT, AKIN)
hydrogen_tank_in_space = _simple("hydrogen_tank_in_space", "hydrogen tank", 0.1129, _PROPELLANT, MIT_1976)
oxygen_tank_in_space = _simple("oxygen_tank_in_space", "oxygen tank", 0.0153, _PROPELLANT, MIT_1976)
hydrogen_insulation = _simple("hydrogen_insulation", "insulation of a hydrogen tank", 2.88, _AREA, AKIN)
oxygen_insulation = _simple("oxygen_insulation", "insulation of an oxygen tank", 1.123, _AREA, AKIN)


@kernel
def _tank_with_insulation(volume):
    return POUND * 10.41 * (volume / _FT3) ** 0.75


@relation(
    kernel=_tank_with_insulation,
    symbol="m",
    words="tank with its insulation",
    unit="kg",
    letters={"volume": Letter(*_VOLUME)},
    source=HEINEMAN + ", ± 30 %",
)
def tank_with_insulation(volume: float) -> float:
    """Mass of a tank with its insulation, 10.41·V^0.75 in lb and ft³ [kg]; volume in m³.

    >>> round(tank_with_insulation(100.0))
    2163
    """
    above_zero(volume=volume)
    return _tank_with_insulation(volume)


@kernel
def _wound_gas_bottle(volume):
    return 115.3 * volume + 3.0


@relation(
    kernel=_wound_gas_bottle,
    symbol="m",
    words="gas bottle, fibre-wound",
    unit="kg",
    letters={"volume": Letter("V", "volume of the bottle", "m³", 0.01, 5.0)},
    source=AKIN,
)
def wound_gas_bottle(volume: float) -> float:
    """Mass of a fibre-wound gas bottle, 115.3·V + 3 [kg]; volume in m³.

    >>> round(wound_gas_bottle(0.1), 2)
    14.53
    """
    above_zero(volume=volume)
    return _wound_gas_bottle(volume)


@kernel
def _titanium_gas_bottle(volume):
    return 299.8 * volume + 2.0


@relation(
    kernel=_titanium_gas_bottle,
    symbol="m",
    words="gas bottle or small tank, titanium",
    unit="kg",
    letters={"volume": Letter("V", "volume of the bottle", "m³", 0.01, 5.0)},
    source=AKIN,
)
def titanium_gas_bottle(volume: float) -> float:
    """Mass of a titanium bottle, 299.8·V + 2 [kg]; volume in m³.

    >>> round(titanium_gas_bottle(0.1), 2)
    31.98
    """
    above_zero(volume=volume)
    return _titanium_gas_bottle(volume)


solid_motor_case = _simple("solid_motor_case", "case of a solid motor", 0.135, _PROPELLANT, AKIN)

# ── engines and what carries them ────────────────────────────────────────────────────────────────


@kernel
def _pump_fed_engine(thrust, area_ratio):
    return 7.81e-4 * thrust + 3.37e-5 * thrust * sqrt(area_ratio) + 59.0


@relation(
    kernel=_pump_fed_engine,
    symbol="m",
    words="one pump-fed engine",
    unit="kg",
    letters={
        "thrust": Letter(*_THRUST_ONE),
        "area_ratio": Letter("ε", "exit area over throat area", "", 5.0, 300.0),
    },
    source=AKIN + ", about slide 25 (one other restatement drops the square root)",
)
def pump_fed_engine(thrust: float, area_ratio: float) -> float:
    """Mass of one pump-fed liquid engine, 7.81e-4·T + 3.37e-5·T·√ε + 59 [kg].

    thrust      in vacuum, of one engine     [N]
    area_ratio  exit area over throat area   [-]

    >>> round(pump_fed_engine(1e6, 36.0))
    1042
    """
    above_zero(thrust=thrust, area_ratio=area_ratio)
    return _pump_fed_engine(thrust, area_ratio)


@kernel
def _engine_by_ratio(thrust, thrust_to_weight):
    return thrust / (9.80665 * thrust_to_weight)


@relation(
    kernel=_engine_by_ratio,
    symbol="m",
    words="one engine, from its thrust-to-weight ratio",
    unit="kg",
    letters={
        "thrust": Letter(*_THRUST_ONE),
        "thrust_to_weight": Letter("F/W", "vacuum thrust over weight of the engine", "", 1.5, 200.0),
    },
    source="definition; see ENGINE_RATIOS for what classes reach",
)
def engine_by_ratio(thrust: float, thrust_to_weight: float) -> float:
    """Mass of an engine from its thrust-to-weight ratio, T/(g₀·(F/W)) [kg].

    >>> round(engine_by_ratio(980_665.0, 100.0), 6)
    1000.0
    """
    above_zero(thrust=thrust, thrust_to_weight=thrust_to_weight)
    return _engine_by_ratio(thrust, thrust_to_weight)


@kernel
def _gimbals(thrust, chamber_pressure):
    return 237.8 * (thrust / chamber_pressure) ** 0.9375


@relation(
    kernel=_gimbals,
    symbol="m",
    words="gimbal and actuators of one engine",
    unit="kg",
    letters={
        "thrust": Letter(*_THRUST_ONE),
        "chamber_pressure": Letter("p_c", "chamber pressure", "Pa", 5e5, 3.5e7),
    },
    source=AKIN,
)
def gimbals(thrust: float, chamber_pressure: float) -> float:
    """Mass of an engine's gimbal, 237.8·(T/p_c)^0.9375 [kg]; thrust in N, pressure in Pa.

    >>> round(gimbals(1e6, 1e7), 1)
    27.5
    """
    above_zero(thrust=thrust, chamber_pressure=chamber_pressure)
    return _gimbals(thrust, chamber_pressure)


thrust_structure = _simple("thrust_structure", "thrust structure", 2.55e-4, _THRUST_ALL, AKIN)
thrust_structure_light = _simple(
    "thrust_structure_light",
    "thrust structure, aluminium, light end",
    2.0e-4,
    _THRUST_ALL,
    CASTELLINI + ", sec. 4.5.5",
)
thrust_structure_heavy = _simple(
    "thrust_structure_heavy",
    "thrust structure, aluminium, heavy end",
    3.6e-4,
    _THRUST_ALL,
    CASTELLINI + ", sec. 4.5.5",
)

# ── shells ───────────────────────────────────────────────────────────────────────────────────────


@kernel
def _shroud(area):
    return 4.95 * area**1.15


@relation(
    kernel=_shroud,
    symbol="m",
    words="fairing, interstage, intertank or aft skirt",
    unit="kg",
    letters={"area": Letter("A", "wall area of the shroud", "m²", 1.0, 600.0)},
    source=AKIN + ", about slide 20",
)
def shroud(area: float) -> float:
    """Mass of a fairing, interstage, intertank or skirt, 4.95·A^1.15 [kg]; area in m².

    >>> round(shroud(100.0))
    988
    """
    above_zero(area=area)
    return _shroud(area)


@kernel
def _interstage(area, diameter, kind):
    return kind * 7.7165 * area * (diameter / FOOT) ** 0.4856


@relation(
    kernel=_interstage,
    symbol="m",
    words="lower interstage",
    unit="kg",
    letters={
        "area": Letter("S", "wall area of the interstage", "m²", 1.0, 300.0),
        "diameter": Letter("D", "diameter", "m", 1.0, 10.0),
        "kind": Letter("k", "1 for aluminium, 0.7 for composite", "", 0.7, 1.0),
    },
    source=CASTELLINI + ", table 15",
)
def interstage(area: float, diameter: float, kind: float = 1.0) -> float:
    """Mass of a lower interstage, k·7.7165·S·(3.2808·D)^0.4856 [kg].

    area      of its wall                         [m²]
    diameter  of the stage                        [m]
    kind      1 for aluminium, 0.7 for composite  [-]

    >>> round(interstage(40.0, 3.7))
    1037
    """
    above_zero(area=area, diameter=diameter, kind=kind)
    return _interstage(area, diameter, kind)


# ── boxes and wires ──────────────────────────────────────────────────────────────────────────────


@kernel
def _avionics(gross_mass):
    return 10.0 * gross_mass**0.361


@relation(
    kernel=_avionics,
    symbol="m",
    words="avionics",
    unit="kg",
    letters={"gross_mass": Letter(*_GROSS)},
    source=AKIN,
)
def avionics(gross_mass: float) -> float:
    """Mass of the avionics of a vehicle, 10·m₀^0.361 [kg]; lift-off mass in kg.

    >>> round(avionics(150_000.0))
    739
    """
    above_zero(gross_mass=gross_mass)
    return _avionics(gross_mass)


@kernel
def _avionics_by_dry_mass(dry_mass):
    return POUND * 710.0 * (dry_mass / POUND) ** 0.125


@relation(
    kernel=_avionics_by_dry_mass,
    symbol="m",
    words="avionics",
    unit="kg",
    letters={"dry_mass": Letter(*_DRY)},
    source=ROHRSCHNEIDER + ", p. 13-2",
)
def avionics_by_dry_mass(dry_mass: float) -> float:
    """Mass of the avionics of a reusable vehicle, 710·m_d^0.125 in lb [kg]; dry mass in kg.

    >>> round(avionics_by_dry_mass(50_000.0))
    1375
    """
    above_zero(dry_mass=dry_mass)
    return _avionics_by_dry_mass(dry_mass)


@kernel
def _wiring(gross_mass, length):
    return 1.058 * sqrt(gross_mass) * length**0.25


@relation(
    kernel=_wiring,
    symbol="m",
    words="wiring",
    unit="kg",
    letters={"gross_mass": Letter(*_GROSS), "length": Letter("L", "length of the vehicle", "m", 5.0, 120.0)},
    source=AKIN,
)
def wiring(gross_mass: float, length: float) -> float:
    """Mass of the wiring, 1.058·√m₀·L^0.25 [kg]; lift-off mass in kg, length in m.

    >>> round(wiring(150_000.0, 40.0))
    1030
    """
    above_zero(gross_mass=gross_mass, length=length)
    return _wiring(gross_mass, length)


electrical_by_dry_mass = _simple(
    "electrical_by_dry_mass",
    "electrical conversion and distribution",
    0.062,
    _DRY,
    ROHRSCHNEIDER + ", p. 10-4",
)

# ── coming home ──────────────────────────────────────────────────────────────────────────────────


@kernel
def _runway_gear(dry_mass):
    pounds = dry_mass / POUND
    return POUND * (0.00927 + 0.001514) * pounds**1.0861


@relation(
    kernel=_runway_gear,
    symbol="m",
    words="runway landing gear, three legs with wheels",
    unit="kg",
    letters={"dry_mass": Letter(*_DRY)},
    source=ROHRSCHNEIDER + ", p. 5-8",
)
def runway_gear(dry_mass: float) -> float:
    """Mass of wheels and struts for a runway, (0.00927 + 0.001514)·m_d^1.0861 in lb [kg]; dry mass in kg.

    >>> round(runway_gear(50_000.0))
    1465
    """
    above_zero(dry_mass=dry_mass)
    return _runway_gear(dry_mass)


_LANDED = ("m_l", "mass at landing", "kg", 1e3, 2e5)
legs_light = _simple("legs_light", "legs for a vertical landing, light end", 0.03, _LANDED, MEMORY)
legs_heavy = _simple("legs_heavy", "legs for a vertical landing, heavy end", 0.10, _LANDED, MEMORY)
parachutes_light = _simple("parachutes_light", "parachutes with their gear, light end", 0.03, _LANDED, MEMORY)
parachutes_heavy = _simple("parachutes_heavy", "parachutes with their gear, heavy end", 0.07, _LANDED, MEMORY)
orbiter_heat_protection = _simple(
    "orbiter_heat_protection",
    "heat protection, as on a winged orbiter",
    6.78 * POUND / FOOT**2,
    _AREA,
    HEINEMAN + ", p. A-7 (6.78 lb/ft²)",
)
stage_heat_protection = _simple(
    "stage_heat_protection", "heat protection of a stage that returns from below 3 km/s", 8.0, _AREA, MEMORY
)

# ── breathing air ────────────────────────────────────────────────────────────────────────────────


intake_light = _simple(
    "intake_light",
    "intake and duct of a jet, light end",
    0.15,
    ("m_j", "mass of the jet engine", "kg", 50.0, 1e4),
    MEMORY,
)
intake_heavy = _simple(
    "intake_heavy",
    "intake and duct of a jet, heavy end",
    0.35,
    ("m_j", "mass of the jet engine", "kg", 50.0, 1e4),
    MEMORY,
)

# ── by part, side by side ────────────────────────────────────────────────────────────────────────

# part: (relation, {its argument: the name asked for here})
PARTS: dict[str, tuple[tuple[Relation, dict[str, str]], ...]] = {
    "LH2 tank": (
        (hydrogen_tank_by_volume, {"x": "volume"}),
        (hydrogen_tank_by_mass, {"x": "propellant_mass"}),
        (hydrogen_tank_in_space, {"x": "propellant_mass"}),
        (tank_with_insulation, {"volume": "volume"}),
    ),
    "LOX tank": (
        (other_tank_by_volume, {"x": "volume"}),
        (oxygen_tank_by_mass, {"x": "propellant_mass"}),
        (oxygen_tank_in_space, {"x": "propellant_mass"}),
        (tank_with_insulation, {"volume": "volume"}),
    ),
    "RP-1 tank": (
        (other_tank_by_volume, {"x": "volume"}),
        (kerosene_tank_by_mass, {"x": "propellant_mass"}),
    ),
    "tank": ((other_tank_by_volume, {"x": "volume"}), (tank_with_insulation, {"volume": "volume"})),
    "LH2 insulation": ((hydrogen_insulation, {"x": "area"}),),
    "LOX insulation": ((oxygen_insulation, {"x": "area"}),),
    "gas bottle": (
        (wound_gas_bottle, {"volume": "volume"}),
        (titanium_gas_bottle, {"volume": "volume"}),
    ),
    "solid motor case": ((solid_motor_case, {"x": "propellant_mass"}),),
    "engine": (
        (pump_fed_engine, {"thrust": "thrust", "area_ratio": "area_ratio"}),
        (engine_by_ratio, {"thrust": "thrust", "thrust_to_weight": "thrust_to_weight"}),
    ),
    "gimbal": ((gimbals, {"thrust": "thrust", "chamber_pressure": "chamber_pressure"}),),
    "thrust structure": (
        (thrust_structure, {"x": "total_thrust"}),
        (thrust_structure_light, {"x": "total_thrust"}),
        (thrust_structure_heavy, {"x": "total_thrust"}),
    ),
    "fairing": ((shroud, {"area": "area"}),),
    "interstage": (
        (shroud, {"area": "area"}),
        (interstage, {"area": "area", "diameter": "diameter", "kind": "kind"}),
    ),
    "avionics": (
        (avionics, {"gross_mass": "gross_mass"}),
        (avionics_by_dry_mass, {"dry_mass": "dry_mass"}),
    ),
    "wiring": (
        (wiring, {"gross_mass": "gross_mass", "length": "length"}),
        (electrical_by_dry_mass, {"x": "dry_mass"}),
    ),
    "runway gear": ((runway_gear, {"dry_mass": "dry_mass"}),),
    "landing legs": ((legs_light, {"x": "landed_mass"}), (legs_heavy, {"x": "landed_mass"})),
    "parachutes": ((parachutes_light, {"x": "landed_mass"}), (parachutes_heavy, {"x": "landed_mass"})),
    "heat protection": (
        (stage_heat_protection, {"x": "area"}),
        (orbiter_heat_protection, {"x": "area"}),
    ),
    "intake": ((intake_light, {"x": "jet_mass"}), (intake_heavy, {"x": "jet_mass"})),
}

STRETCH = 3.0  # how far beyond a relation's reach it is still given, with a note: our own choice


@dataclass(frozen=True, slots=True)
class Estimate:
    """One relation's answer for one part."""

    part: str
    relation: str
    mass: float  # kg
    source: str
    notes: tuple[str, ...] = ()


class NoRelation(ValueError):
    """No relation estimates a part; `why` not, in a clause without the part's name."""

    def __init__(self, part: str, why: str) -> None:
        super().__init__(f"{part}: {why}. Or give the mass itself")
        self.why = why


def estimates(part: str, **known: float) -> tuple[Estimate, ...]:
    """Every relation for a part that the known quantities feed, the usual one first.

    known  volume [m³], area [m²], propellant_mass, gross_mass, dry_mass, landed_mass, jet_mass [kg],
           thrust, total_thrust [N], area_ratio, thrust_to_weight, kind [-], chamber_pressure [Pa],
           diameter, length [m]

    Beyond a relation's reach a note says so; more than three times beyond, it is left out.  Raises
    NoRelation when the part has none, nothing feeds one, or all are left out, and ValueError for a known
    quantity that is not above zero.

    >>> [round(each.mass) for each in estimates("fairing", area=100.0)]
    [988]
    """
    if part not in PARTS:
        raise NoRelation("part", f"got {part!r}; there are relations for {', '.join(PARTS)}")
    above_zero(**known)
    made: list[Estimate] = []
    left_out: list[str] = []
    wanted: set[str] = set()
    for one, names in PARTS[part]:
        wanted |= set(names.values())
        if not set(names.values()) <= known.keys():
            continue
        notes, far = [], False
        values = {argument: known[name] for argument, name in names.items()}
        for argument, value in values.items():
            letter = one.letters[argument]
            if not letter.low <= value <= letter.high:
                reach = f"{letter.low:g} to {letter.high:g}, where such data come from"
                said = f"{value:.4g} {letter.unit}".strip()
                notes.append(f"{letter.words} {said} lies outside {reach}")
                far = far or not letter.low / STRETCH <= value <= letter.high * STRETCH
        if far:
            left_out.append(notes[-1])
            continue
        made.append(Estimate(part, one.__name__, one(**values), one.source, tuple(notes)))
    if not made:
        why = "; ".join(dict.fromkeys(left_out)) or f"it needs some of {', '.join(sorted(wanted))}"
        raise NoRelation(part, f"no relation can be used: {why}")
    return tuple(made)
