"""The tables that `real_vehicles.py` prints."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from vehicles.bands import Band
from vehicles.by_hand import LEAST_LOST, MOST_LOST, allowed
from vehicles.figures import Case, remembered
from vehicles.flying import Flown
from wetmass.flight.ascent import Steering
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.flight import Flight

REASONS = Path(__file__).with_name("reasons.yaml")


def _yaml(file: Path) -> dict[str, Any]:
    from ruamel.yaml import YAML

    return YAML(typ="safe").load(file.read_text(encoding="utf-8"))


@dataclass
class Line:
    """One case, as far as it was flown."""

    case: Case
    flown: Flown | None = None
    band: Band | None = None
    reserve: tuple[float, float] | None = None
    reconstructed: Flown | None = None
    _flight: Flight | None = None

    @property
    def counts(self) -> bool:
        return self.flown is not None and self.flown.met

    @property
    def flight(self) -> Flight:
        if self._flight is None:
            assert self.flown is not None
            self._flight = self.flown.recorded()
        return self._flight


def head() -> str:
    """What the numbers are, before them."""
    return (
        "Payloads of real launchers, predicted and published\n"
        f"steering, all cases: {Steering().words()};\n"
        "  'two burns' = coast and restart of the last stage, its second burn linear in pitch off the speed\n"
        "residuals: 1 % of a liquid load unless the stage has its own figure; solids none\n"
        "on the pad: 0.46 of the full flow from the start of the engines to release (AS-506)\n"
        "first stages burn as long as an opened source says; an escape coasts 21.5 min at the least\n"
        "heating without the fairing stays below what let it go, 1,135 W/m²\n"
        "hydrogen stages lit in flight: 0.25 % of the load lost at each start, 0.39 % an hour of coast (AS-506)\n"
        "reserve, one rule: 0.75 % of the total ideal speed, kept in the last stage; 'reserve' = payload\n"
        "  change at 0.5 % and at 1.5 %\n"
        "band: each input that print gives two ends for is put to each end alone (so are the residual rule,\n"
        "  0.5 and 2 %, and the drag curve, low and high, from memory), the best ascent is found again\n"
        "  (effects below 0.5 %, and all of them with --quick-band: to first order), and the payload\n"
        "  changes are combined as root-sum-square,\n"
        "  upwards and downwards; rival = the band holds another printed figure of the same payload\n"
        "by hand: payload by the rocket equation with the same reserve and no trajectory, at the most and at the\n"
        f"  least that flown launchers lost ({MOST_LOST:.0f} and {LEAST_LOST:.0f} m/s); empty where their like did not fly\n"
        "memory: inputs from memory / all inputs\n"
    )


_HEAD = (
    f"{'case':<40}{'predicted':>10}{'published':>10}{'error':>8}  {'band':<15}{'in?':<5}{'by hand':<16}"
    f"{'reserve':<15}{'max q':>7}{'q-alpha':>9}{'memory':>8}  burns"
)


def table(title: str, lines: Sequence[Line]) -> str:
    """One table; masses in kg, pressure in kPa, q-alpha in kPa·deg."""
    out = [title, _HEAD, "-" * len(_HEAD)]
    for line in lines:
        case = line.case
        published = case.published
        memory, total = remembered(case)
        start = f"{case.key[:39]:<40}"
        flown = line.flown
        assert flown is not None
        if not flown.met:
            why = f"no way to the orbit was found ({flown.optimum.message})"
            out.append(f"{start}{'—':>10}{published:>10,.0f}  {why}")
            continue
        spread = inside = reserve = ""
        if line.band is not None:
            down, up = (100.0 * x / flown.payload for x in (line.band.down, line.band.up))
            spread = f"−{down:.1f} +{up:.1f} %"
            inside = "yes" if line.band.covers_best(flown) else ("rival" if line.band.covers(flown) else "no")
        if line.reserve is not None:
            reserve = "{:+.1f} {:+.1f} %".format(*(100.0 * x / flown.payload for x in line.reserve))
        burns = "two burns" if flown.ascent.coasting else "one burn"
        ends = allowed(case)
        hand = "" if ends is None else "{:,.0f}–{:,.0f}".format(*ends)
        out.append(
            f"{start}{flown.payload:>10,.0f}{published:>10,.0f}{100 * flown.error:>+7.1f}%  "
            f"{spread:<15}{inside:<5}{hand:<16}{reserve:<15}{line.flight.dynamic_pressure.value / 1e3:>7.1f}"
            f"{math.degrees(line.flight.q_alpha.value) / 1e3:>9.0f}{memory:>5}/{total:<3} {burns}"
        )
        if line.reconstructed is not None:
            again = line.reconstructed
            out.append(
                f"{'  … with the propellant that was left':<40}{again.payload:>10,.0f}{published:>10,.0f}"
                f"{100 * again.error:>+7.1f}%  a reconstruction: 2,638 kg kept, no reserve rule"
            )
    return "\n".join(out) + "\n"


def summary(lines: Sequence[Line]) -> str:
    """Medians with and without the cases apart, by case and by launcher, and how often the band holds."""
    out = []
    for words, chosen in (("fair cases", [x for x in lines if x.case.fair]), ("all cases", list(lines))):
        flown = [line for line in chosen if line.counts]
        if not flown:
            continue
        sizes = [abs(line.flown.error) for line in flown if line.flown]
        signed = [line.flown.error for line in flown if line.flown]
        each: dict[str, list[float]] = {}
        for line in flown:
            assert line.flown is not None
            each.setdefault(line.case.vehicle["id"], []).append(abs(line.flown.error))
        launchers = [statistics.median(errors) for errors in each.values()]
        text = (
            f"{words}: {len(flown)} flown of {len(chosen)}; median error {statistics.median(sizes):.1%} "
            f"(signed {statistics.median(signed):+.1%}), by launcher {statistics.median(launchers):.1%}; "
            f"within 10 %: {sum(s <= 0.1 for s in sizes)} of {len(sizes)}"
        )
        banded = [line for line in flown if line.band is not None]
        if banded:
            held = sum(line.band.covers_best(line.flown) for line in banded if line.band and line.flown)
            text += f"; band holds the published payload in {held} of {len(banded)}"
        out.append(text)
    return "\n".join(out) + "\n"


def misses(lines: Sequence[Line]) -> str:
    """Likely reasons of what is off, and what moves each payload most."""
    why = _yaml(REASONS)
    out = ["What moves it most (payload change at the two ends of print), and why it misses"]
    for line in lines:
        if not line.counts:
            continue
        parts = []
        if line.band is not None:
            assert line.flown is not None
            largest = sorted(line.band.effects, key=lambda e: -max(abs(e.low), abs(e.high)))[:3]
            parts = [
                f"{e.what} {100 * e.low / line.flown.payload:+.1f}/{100 * e.high / line.flown.payload:+.1f} %"
                for e in largest
            ]
            if line.band.first_order:
                parts.append(f"to first order only: {', '.join(sorted(set(line.band.first_order)))}")
        out.append(f"  {line.case.key}: {'; '.join(parts)}")
        reason = why.get(line.case.key) or why.get(line.case.vehicle["id"])
        if reason:
            out.append(f"      {reason}")
    return "\n".join(out) + "\n"


def profile(line: Line) -> str:
    """The timeline of one flight."""
    if not line.counts:
        return ""
    flight = line.flight
    out = [f"{line.case.key}: {flight!r}"]
    head = f"{'time s':>8} {'event':<40}{'height km':>10}{'air m/s':>9}{'inertial':>9}{'path °':>8}{'g':>6}"
    out.append(f"{head}{'kg':>12}")
    for e in flight.events:
        out.append(
            f"{e.time:8.1f} {e.what:<40}{e.height / 1e3:>10.2f}{e.air_speed:>9.1f}{e.speed:>9.1f}"
            f"{math.degrees(e.path_angle):>8.2f}{e.felt_acceleration / STANDARD_GRAVITY:>6.2f}"
            f"{e.mass:>12,.0f}"
        )
    loss = flight.losses
    out.append(
        f"ideal {loss.ideal:.0f} = gained {loss.air_speed_gained:.0f} + gravity {loss.gravity:.0f} "
        f"+ steering {loss.steering:.0f} + drag {loss.drag:.0f} + back-pressure {loss.back_pressure:.0f} m/s"
    )
    return "\n".join(out) + "\n"
