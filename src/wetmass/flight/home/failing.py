"""How a way home says that something does not hold."""

from __future__ import annotations

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
    more = f", {needed - released.propellant:,.0f} kg more {SHOWN}" if flown else ""
    return failing(
        released,
        "too little propellant to come home",
        f"{released.propellant:,.0f} kg",
        f"at least {needed:,.0f} kg{aside}",
        f"Keep {needed:,.0f} kg{more}",
    )
