"""How a way home says that something does not hold."""

from __future__ import annotations

from wetmass.record.digits import fixed
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Released

SHOWN = "(the flight shown has it)"


def failing(released: Released, rule: str, got: str, accepted: str, remedy: str) -> Finding:
    """A finding that fails, with the remedy that would do."""
    return Finding(rule, Weight.FAILS, released.name, got, accepted, remedy, "flown by this program")


def too_little(released: Released, needed: float, *, aside: str = "", flown: bool = True) -> Finding:
    """Less propellant aboard than the way home takes.

    needed  what would do [kg];  aside  put behind it;  flown  the flight that is shown has that much aboard
    """
    more = f", {fixed(needed - released.propellant)} kg more {SHOWN}" if flown else ""
    return failing(
        released,
        "too little propellant to come home",
        f"{fixed(released.propellant)} kg",
        f"at least {fixed(needed)} kg{aside}",
        f"Keep {fixed(needed)} kg{more}",
    )
