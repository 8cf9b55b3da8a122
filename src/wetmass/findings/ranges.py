"""Published ranges that results are held against, each with its source.

A range questions a result; it never passes one.  What is outside may be right, and then says why.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.say import said

MEMORY = "from memory"
COMMON = "common practice"
_LAUNCHERS = "13 launchers that flew, docs/explanation/real-vehicles.md"
_CLASSES = f"flown engine classes, makers' and agencies' fact sheets, {MEMORY}"
_LIMITS = f"launch users' guides and NASA Shuttle and Apollo data, {MEMORY}"
_BUDGETS = (
    f"Humble, Henry and Larson, Space Propulsion Analysis and Design, 1995, chapter 2; Sutton and Biblarz, "
    f"chapter 4 ({MEMORY}; gravity and drag columns confirmed in a public copy)"
)


@dataclass(frozen=True, slots=True)
class Range:
    """Least and most that is published of something, in SI, and where.

    unit  SI unit; "%" for a fraction that is said in percent
    """

    low: float
    high: float
    unit: str
    source: str

    def __contains__(self, value: float) -> bool:
        return self.low <= value <= self.high

    def __str__(self) -> str:
        if self.low == -math.inf:
            return f"at most {said(self.high, self.unit, 3)}"
        if self.high == math.inf:
            return f"at least {said(self.low, self.unit, 3)}"
        low, high = said(self.low, self.unit, 3), said(self.high, self.unit, 3)
        number, _, unit = low.rpartition("\u00a0")
        return f"{number if number and high.endswith(unit) else low} to {high}"


# ── thrust to weight ─────────────────────────────────────────────────────────────────────────────

LIFT_OFF_LIQUID = Range(1.17, 1.61, "", f"thrust at sea level over weight of the liquid ones of {_LAUNCHERS}")
LIFT_OFF_SOLID = Range(1.45, 2.22, "", f"the same of those with solid motors of {_LAUNCHERS}")
IGNITION_LIQUID = Range(0.09, 1.48, "", f"upper stages with liquid engines at ignition, {_LAUNCHERS}")
IGNITION_SOLID = Range(
    1.70, 2.64, "", f"upper stages with solid motors, mean thrust at ignition, {_LAUNCHERS}"
)
SEA_LEVEL_SHARE = Range(
    0.078,
    0.208,
    "%",
    f"thrust lost to the air at sea level over vacuum thrust of stages lit on the ground, {_LAUNCHERS}",
)

GIMBAL = Range(
    -math.inf, math.radians(8.0), "rad",
    "swing of large engines: 10.5° and 8.5° of the Shuttle's (read in a public restatement), 5° to 8° of F-1, J-2 "
    f"and RD-180 ({MEMORY})",
)  # fmt: skip

# ── masses ───────────────────────────────────────────────────────────────────────────────────────

FIRST_MASS_RATIO = Range(
    2.34, 6.78, "", f"lift-off over first burn-out, launchers without strap-ons of {_LAUNCHERS}"
)
UPPER_MASS_RATIO = Range(
    1.26, 7.03, "", f"ignition over burn-out with all that is above, upper stages of {_LAUNCHERS}"
)
RESIDUALS = Range(0.005, 0.02, "%", f"share of the propellant loaded, {COMMON}, {MEMORY}")
RESERVE = Range(
    0.0075, 0.02, "%",
    "share of the ideal speed. 0.75 %: NASA JSC, evaluation of solar power satellites, 1976, volume 2, "
    f"figure VI-B-4-1; 1 to 2 %: {COMMON}, {MEMORY}",
)  # fmt: skip
TANK_SLOPE = (
    12.16  # kg of bare tank a m³ of LOX, RP-1 or denser: D. L. Akin, ENAE 791 (2016), slides 5-26, read
)
TANK_SLOPE_HYDROGEN = 9.09  # the same for liquid hydrogen, same source
LIGHTEST_ENGINE = 150.0  # thrust over weight of the lightest flown class, from memory
PARTS_SOURCE = (
    "tanks: D. L. Akin, University of Maryland, ENAE 791 Mass Estimating Relations (2016), slides 5-26; "
    f"engines: thrust over weight {LIGHTEST_ENGINE:.0f}, the lightest flown class, {MEMORY}"
)

# ── engines: delivered specific impulse [s] ──────────────────────────────────────────────────────

_READ_TO = 0.01  # class figures were recalled, not read: held to within 1 %


@dataclass(frozen=True, slots=True)
class Delivered:
    """Specific impulse of flown engines with a pair: lit on the ground, and higher up [s]."""

    ground_vacuum: Range | None
    sea_level: Range | None
    upper: Range | None


def _seconds(low: float, high: float) -> Range:
    return Range(low, high, "s", _CLASSES)


_KEROSENE = Delivered(_seconds(290, 339), _seconds(255, 312), _seconds(335, 361))
_STORABLE = Delivered(_seconds(278, 316), _seconds(245, 285), _seconds(278, 325))
_PEROXIDE = Delivered(_seconds(295, 320), _seconds(245, 273), _seconds(295, 320))

DELIVERED: dict[str, Delivered] = {
    "LOX/LH2": Delivered(_seconds(421, 453), _seconds(310, 366), _seconds(421, 466)),
    "LOX/LCH4": Delivered(_seconds(340, 380), _seconds(310, 335), _seconds(340, 380)),
    "LOX/RP-1": _KEROSENE,
    "LOX/kerosene": _KEROSENE,
    "NTO/UDMH": _STORABLE,
    "NTO/Aerozine-50": _STORABLE,
    "NTO/UH25": _STORABLE,
    "NTO/MMH": Delivered(None, None, _seconds(310, 325)),
    "H2O2/RP-1": _PEROXIDE,
    "H2O2/kerosene": _PEROXIDE,
    "hydrazine": Delivered(None, None, _seconds(220, 235)),
    "H2O2": Delivered(None, None, _seconds(170, 190)),
    "solid": Delivered(_seconds(262, 288), _seconds(235, 250), _seconds(285, 305)),
}


def widened(found: Range) -> Range:
    """The range with the uncertainty of remembered class figures added at both ends."""
    return Range(found.low * (1.0 - _READ_TO), found.high * (1.0 + _READ_TO), found.unit, found.source)


FIGURES_AGREE = 0.01  # four stated figures of one engine differ by up to a percent or so: common practice

# ── what the flight puts the vehicle through ─────────────────────────────────────────────────────

FELT_LIQUID = Range(
    -math.inf, 6.0 * STANDARD_GRAVITY, "m/s²", f"large liquid launchers, 4 to 6 g₀: {_LIMITS}"
)
FELT_SOLID = Range(
    -math.inf, 12.0 * STANDARD_GRAVITY, "m/s²", f"small solid launchers, 7 to 12 g₀: {_LIMITS}"
)
PRESSURE_LIQUID = Range(-math.inf, 45e3, "Pa", f"large liquid launchers, 25 to 45 kPa: {_LIMITS}")
PRESSURE_SOLID = Range(-math.inf, 90e3, "Pa", f"small solid launchers, 50 to 90 kPa: {_LIMITS}")
Q_ALPHA = Range(-math.inf, math.radians(250.0) * 1e3, "Pa·rad", f"120 to 250 kPa·deg: {_LIMITS}")
SEPARATION_PRESSURE = Range(-math.inf, 500.0, "Pa", f"at stage separation or fairing drop: {_LIMITS}")

# ── losses to low orbit [m/s] ────────────────────────────────────────────────────────────────────

LOW_ORBIT = 1000e3  # m; the budgets are of low orbits
GRAVITY_LOSS = Range(1000.0, 1700.0, "m/s", _BUDGETS)
DRAG_LOSS = Range(40.0, 250.0, "m/s", _BUDGETS)
STEERING_LOSS = Range(-math.inf, 358.0, "m/s", _BUDGETS)  # the less the better steered
BACK_PRESSURE_LOSS = Range(
    -math.inf, 250.0, "m/s", f"first stages counted with vacuum specific impulse, 100 to 250 m/s: {MEMORY}"
)

# ── accuracy we hold ourselves to ────────────────────────────────────────────────────────────────

IDENTITY = 1e-6  # of the ideal speed: the loss budget closes
INTEGRATION = 1e-7  # relative, at insertion, against far smaller steps

# ── orbits ───────────────────────────────────────────────────────────────────────────────────────

LASTING_PERIGEE = Range(
    160e3, math.inf, "m", f"below it drag ends an orbit within a day or so: {COMMON}, {MEMORY}"
)
