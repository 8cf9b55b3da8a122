"""The kinds of slips, what they are called, and how common each is in hand working.

The commonness is our own ordering, common practice rather than a survey: it only decides between
slips that the digits cannot tell apart.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of slip: a fixed code, its name, and how common it is (1: everyday, 0.01: rare)."""

    code: str
    name: str
    common: float


_TABLE = """
S01 0.80 a half missing or doubled
S02 0.90 g₀ left out, or in twice
S03 0.90 the common logarithm for the natural one
S04 0.85 a ratio upside down
S05 0.75 wrong masses in the ratio
S06 0.40 wrong power or sign of a power
S07 0.85 a thousand lost between units
S08 0.60 the decimal point
S09 0.55 pounds-force and newtons
S10 0.35 pounds of force and pounds of mass without g
S11 0.45 pounds and kilograms
S12 0.30 tons that are not tonnes
S13 0.40 feet, statute and nautical miles
S14 0.70 the calculator in radians
S15 0.25 a wrong zero or scale: gauge, bar, psi, Celsius
S16 0.50 hours taken as seconds, or g₀ with a fuel flow per hour
S17 0.90 diameter for radius, or the reverse
S18 0.50 end domes
S19 0.45 a factor of π or another of a round shape
S20 0.50 the one in the ring of engines
S21 0.55 area ratio and diameter ratio
S22 0.80 height for orbit radius
S23 0.75 sea level and vacuum figures
S24 0.50 weight or gravity in the wrong place
S25 0.60 specific impulses averaged straight
S26 0.50 pressure term of the thrust
S27 0.60 mixture ratio by volume and by mass
S28 0.60 densities averaged straight
S29 0.70 fuel and oxidiser shares
S30 0.75 one engine or all of them
S31 0.75 masses left out or counted twice
S32 0.65 the spent stage kept
S33 0.40 stages run together into one
S34 0.55 definition of the structural fraction
S35 0.55 percent and fraction
S36 0.20 equal split between unequal stages
S37 0.55 residuals, reserve or fairing left out
S38 0.20 wrong tank filled
S39 0.55 growth allowance applied twice or left out
S40 0.70 the ideal speed taken as flown
S41 0.55 first mass kept through the burn
S42 0.45 minutes taken as seconds
S43 0.50 coast left out
S44 0.35 rounded early
S45 0.65 Earth's rotation
S46 0.55 the heading angle
S47 0.45 arc for chord in a plane change
S48 0.55 transfer by subtracting circular speeds
S49 0.60 escape and circular speed
S50 0.10 formula beyond its range
S51 0.65 the weight left out of the stopping burn
S52 0.55 canopy radius and diameter
S53 0.55 air of the wrong height
S54 0.40 heat by the hour or by the mole
S55 0.22 a digit or a number miscopied
S56 0.20 a bracket or a sign lost in the keying
"""

KINDS: dict[str, Kind] = {}
for _row in _TABLE.strip().splitlines():
    _code, _common, _name = _row.split(" ", 2)
    KINDS[_code] = Kind(_code, _name, float(_common))
