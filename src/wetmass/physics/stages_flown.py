"""Stages and engines that flew, to hold a concept against; growth of masses as a design matures."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from wetmass.physics.pattern import above_zero

_SHEETS = "users' guides and agency data sheets, ± 5 %, from memory"
_MAKERS = "makers' and agencies' data, from memory"
_ZANDBERGEN = (
    "B. Zandbergen, TU Delft, Launch Vehicle Design tutorial 4, "
    "https://www.scribd.com/document/693651025/Tutorial-4-v23-With-Solutions-2"
)


@dataclass(frozen=True, slots=True)
class FlownStage:
    """A stage without what it carries."""

    name: str
    propellants: str
    propellant: float  # kg
    dry: float  # kg
    source: str
    status: str

    @property
    def structural_fraction(self) -> float:
        """Dry over dry and propellant."""
        return self.dry / (self.dry + self.propellant)


def _stage(name: str, pair: str, propellant: float, dry: float) -> FlownStage:
    return FlownStage(name, pair, propellant, dry, _SHEETS, "from memory")


STAGES: dict[str, FlownStage] = {
    row.name: row
    for row in (
        _stage("Saturn V S-IC", "LOX/RP-1", 2_077_000, 130_500),
        _stage("Saturn V S-II", "LOX/LH2", 451_700, 36_200),
        _stage("Saturn V S-IVB", "LOX/LH2", 106_900, 11_300),
        _stage("Titan II stage 1", "NTO/Aerozine-50", 111_100, 6_740),
        _stage("Titan II stage 2", "NTO/Aerozine-50", 26_500, 2_400),
        _stage("Atlas V common core", "LOX/RP-1", 284_089, 21_054),
        _stage("Centaur, single engine", "LOX/LH2", 20_830, 2_243),
        _stage("Delta IV common core", "LOX/LH2", 199_640, 26_760),
        _stage("Delta IV second stage, 5 m", "LOX/LH2", 27_220, 3_490),
        _stage("Ariane 5 EPC", "LOX/LH2", 173_300, 14_700),
        _stage("Ariane 5 ESC-A", "LOX/LH2", 14_900, 4_540),
        _stage("H-IIA first stage", "LOX/LH2", 101_100, 12_900),
        _stage("H-IIA second stage", "LOX/LH2", 16_900, 3_100),
        _stage("Shuttle External Tank (no engines)", "LOX/LH2", 721_000, 26_500),
        _stage("Shuttle solid booster", "AP/Al/HTPB", 501_000, 87_500),
        _stage("Ariane 5 EAP", "AP/Al/HTPB", 240_000, 33_000),
        FlownStage("Vega stage 1", "AP/Al/HTPB", 88_300, 7_420, _ZANDBERGEN, "read"),
        FlownStage("Vega stage 2", "AP/Al/HTPB", 23_900, 1_850, _ZANDBERGEN, "read"),
        FlownStage("Vega stage 3", "AP/Al/HTPB", 10_120, 810, _ZANDBERGEN, "read"),
        FlownStage("Vega stage 4", "NTO/UDMH", 550, 418, _ZANDBERGEN, "read"),
    )
}


def flown_stage(name: str) -> FlownStage:
    """The stage of that name.  Raises ValueError with the nearest names when there is none.

    >>> round(flown_stage("saturn v s-ic").structural_fraction, 3)
    0.059
    """
    keys = {each.casefold(): row for each, row in STAGES.items()}
    if row := keys.get(name.casefold()):
        return row
    near = difflib.get_close_matches(name.casefold(), keys, n=3, cutoff=0.3)
    known = ", ".join(keys[each].name for each in near) or ", ".join(STAGES)
    raise ValueError(f"stage: got {name!r}; known near it: {known}")


def dry_mass_by_analogy(name: str, propellant_mass: float) -> tuple[float, tuple[str, ...]]:
    """(dry mass [kg], notes) of a stage with the named one's structural fraction; propellant in kg.

    Small stages carry more structure for their propellant, so a note is added beyond a factor of three
    in size (our own choice).

    >>> round(dry_mass_by_analogy("Saturn V S-IVB", 106_900.0)[0])
    11300
    """
    above_zero(propellant_mass=propellant_mass)
    row = flown_stage(name)
    size = propellant_mass / row.propellant
    notes = [f"{row.name}: {row.source}"]
    if not 1.0 / 3.0 <= size <= 3.0:
        notes.append(
            f"{size:.3g} times the propellant of {row.name}: its fraction may not carry over "
            "(smaller stages are heavier for what they hold)"
        )
    fraction = row.structural_fraction
    return propellant_mass * fraction / (1.0 - fraction), tuple(notes)


# vacuum thrust over weight of the engine, by class
ENGINE_RATIOS: dict[str, tuple[float, float]] = {
    "LOX/RP-1 booster": (70.0, 140.0),
    "LOX/LCH4 booster": (80.0, 150.0),
    "LOX/LH2 booster": (45.0, 75.0),
    "LOX/LH2 upper stage": (35.0, 62.0),
    "storable booster": (80.0, 115.0),
    "nuclear thermal": (2.0, 8.0),
}
ENGINE_RATIOS_SOURCE = _MAKERS


@dataclass(frozen=True, slots=True)
class FlownEngine:
    """A rocket engine that flew."""

    name: str
    vacuum_thrust: float  # N
    vacuum_isp: float  # s
    sea_level_isp: float | None  # s
    mass: float  # kg
    chamber_pressure: float  # Pa
    area_ratio: float
    source: str = _MAKERS
    status: str = "from memory"

    @property
    def thrust_to_weight(self) -> float:
        return self.vacuum_thrust / (9.80665 * self.mass)


ENGINES: dict[str, FlownEngine] = {
    row.name: row
    for row in (
        FlownEngine("RS-25", 2279e3, 452.3, 366.0, 3526.0, 20.6e6, 69.0),
        FlownEngine("F-1", 7770e3, 304.0, 263.0, 8391.0, 7.0e6, 16.0),
        FlownEngine("J-2", 1033e3, 421.0, None, 1788.0, 5.26e6, 27.5),
        FlownEngine("RL10A-4-2", 99.2e3, 451.0, None, 168.0, 4.2e6, 84.0),
        FlownEngine("RL10B-2", 110.1e3, 465.5, None, 301.0, 4.4e6, 285.0),
        FlownEngine("RD-180", 4150e3, 337.8, 311.3, 5480.0, 26.7e6, 36.9),
        FlownEngine("NK-33", 1638e3, 331.0, 297.0, 1222.0, 14.8e6, 27.7),
        FlownEngine("RS-68A", 3560e3, 412.0, 362.0, 6740.0, 10.3e6, 21.5),
        FlownEngine("Vulcain 2", 1359e3, 431.0, None, 2100.0, 11.7e6, 58.0),
        FlownEngine("LE-7A", 1098e3, 440.0, None, 1800.0, 12.1e6, 52.0),
        FlownEngine("HM7B", 64.8e3, 446.0, None, 165.0, 3.7e6, 83.0),
    )
}

# ── growth ───────────────────────────────────────────────────────────────────────────────────────

GROWTH_SOURCE = (
    "ANSI/AIAA S-120A-2015, Mass Properties Control for Space Systems, mass growth allowance by design "
    "maturity, from memory"
)
MATURITIES = ("estimated", "layout", "preliminary", "released", "existing", "measured")
_KINDS = (
    "electronics to 5 kg", "electronics 5 to 15 kg", "electronics over 15 kg", "structure", "brackets",
    "battery", "solar array", "thermal", "mechanisms", "propulsion", "wiring", "instruments",
)  # fmt: skip
_GROWTH: tuple[tuple[tuple[float, float], ...], ...] = (
    ((20, 35), (15, 25), (10, 20), (18, 25), (30, 50), (20, 25),
     (30, 50), (30, 50), (18, 25), (15, 25), (50, 100), (25, 75)),
    ((15, 30), (10, 20), (5, 15), (10, 20), (15, 30), (10, 20),
     (10, 20), (15, 30), (10, 15), (10, 20), (15, 45), (20, 30)),
    ((8, 20), (3, 15), (3, 12), (4, 15), (8, 15), (5, 15),
     (5, 15), (8, 15), (5, 15), (5, 15), (10, 25), (10, 25)),
    ((3, 10), (2, 10), (2, 10), (2, 6), (3, 8), (3, 7),
     (3, 7), (3, 8), (3, 4), (2, 7), (3, 10), (3, 6)),
    ((1, 5), (1, 3), (1, 3), (1, 3), (1, 5), (1, 3),
     (1, 3), (1, 5), (1, 3), (1, 3), (1, 5), (1, 3)),
    ((0, 0),) * 12,
)  # fmt: skip
GROWTH_KINDS = _KINDS


def growth_allowance(kind: str, maturity: str) -> tuple[float, float]:
    """(low, high) share by which a mass is expected to grow until it flies [-].

    kind      one of GROWTH_KINDS, such as "structure"
    maturity  one of MATURITIES, from "estimated" to "measured"

    Mass margin is held on top of growth; neither stands for the other.  Raises ValueError for other names.
    Source: ANSI/AIAA S-120A-2015, from memory.

    >>> growth_allowance("structure", "layout")
    (0.1, 0.2)
    """
    if kind not in _KINDS:
        raise ValueError(f"kind: got {kind!r}; known are {', '.join(_KINDS)}")
    if maturity not in MATURITIES:
        raise ValueError(f"maturity: got {maturity!r}; known are {', '.join(MATURITIES)}")
    low, high = _GROWTH[MATURITIES.index(maturity)][_KINDS.index(kind)]
    return low / 100.0, high / 100.0
