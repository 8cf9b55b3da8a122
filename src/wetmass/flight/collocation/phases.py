"""An ascent as phases, each smooth inside, and what stands over them.

The order of the phases is that of a flight (`cutting`), which is also the first guess; their lengths, the
steering and the payload stay open.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.collocation.dynamics import (
    COASTING,
    HOLDING,
    STEERED,
    TILTING,
    VERTICAL,
    ZERO_LIFT,
    Turn,
)
from wetmass.flight.collocation.mesh import Mesh
from wetmass.flight.program import Program
from wetmass.flight.propagate import NO_GROUPS


class Freedom(StrEnum):
    """How freely the ascent may be steered."""

    LAW = "zero-lift turn until the air is thin, then free"
    LIMITED = "free from the end of the vertical rise, q-alpha limited"
    FREE = "free from the end of the vertical rise"


# what ends a phase besides the end of its segment; the number is a height [m], a pressure [Pa], a heating
# [W/m²], seconds (SINCE), a Mach number, or which group (the last four)
HEIGHT, TILTED, TURNED, PRESSURE, HEATING, FELT, FULL_AGAIN, SINCE, MACH = (
    "height", "tilted", "turned", "pressure", "heating", "felt", "full again", "since", "mach",
)  # fmt: skip
WAITED, LASTED, AT_FULL, STAGE_BURNT, HUNG = (
    "waited", "lasted", "at full", "stage burnt", "hung",
)  # fmt: skip

_KINDS = {
    at.VERTICAL: VERTICAL,
    at.TILTING: TILTING,
    at.HOLDING: HOLDING,
    at.ZERO_LIFT: ZERO_LIFT,
    at.FREE: STEERED,
}


@dataclass(frozen=True, slots=True)
class Phase:
    """One smooth piece of the ascent, with its first guess."""

    steering: int  # one of `layout.PHASES`: what the pilot is at, burning or not
    segment: int  # row of the program
    row: np.ndarray  # (SEGMENT_WIDTH,) of it as it burns
    throttles: bool  # the throttle is a control here; else full
    ends: tuple[str, float] | None  # condition at its end besides those of the segment
    ends_segment: bool  # its end is what the segment's row says: a time, an amount burnt, a height
    dropped: float  # mass let go at its end [kg]
    exposed: bool  # the payload's cover is gone: the heating limit holds
    mesh: Mesh
    duration: float  # s
    state: np.ndarray  # (7, 1 + size) place [m], speed [m/s], mass [kg]
    direction: np.ndarray  # (3, size) of the thrust
    throttle: np.ndarray  # (size,)
    groups: np.ndarray = field(default_factory=lambda: NO_GROUPS)  # engines with rules, as they are now
    left: float | None = None  # what is left after its end, payload apart, where unburnt propellant goes [kg]
    holds: bool = False  # throttled just so that the felt acceleration stays at its limit, as a flight does
    free: bool = False  # steered freely whatever `steering` says, once off the vertical

    @property
    def kind(self) -> str:
        """The rule that points the thrust, or a coast."""
        if not self.row[at.BURNING] > 0.0:
            return COASTING
        return STEERED if self.free and self.steering != at.VERTICAL else _KINDS[self.steering]

    def ends_when(self, what: str) -> bool:
        """Whether its end is this event."""
        return self.ends is not None and self.ends[0] == what

    def on(self, mesh: Mesh, start: float, end: float) -> Phase:
        """The part of this phase between two shares of its duration, on another mesh."""
        places = start + (end - start) * mesh.places()
        states = self.state @ self.mesh.carried(places, controls=False)
        controls = self.mesh.carried(places[1:], controls=True)
        return replace(
            self,
            mesh=mesh,
            duration=self.duration * (end - start),
            state=states,
            direction=unit(self.direction @ controls),
            throttle=self.throttle @ controls,
        )


@dataclass(frozen=True, slots=True)
class Outline:
    """All phases, and what stands over them."""

    phases: tuple[Phase, ...]
    program: Program
    freedom: Freedom
    restart: bool  # the last stage burns twice: first share and coast are open
    turn: Turn
    tilt: float  # rad
    azimuth: float  # rad
    payload: float  # kg
    bare_mass: float  # kg at lift-off without payload

    def with_meshes(self, meshes: list[Mesh], points: int | None = None) -> Outline:
        """The same on other meshes, the guess carried over by the polynomials of the old ones."""
        changed = []
        for phase, mesh in zip(self.phases, meshes, strict=True):
            mesh = Mesh(mesh.edges, points or mesh.points)
            changed.append(phase.on(mesh, 0.0, 1.0))
        return replace(self, phases=tuple(changed))


def unit(directions: np.ndarray) -> np.ndarray:
    return directions / np.linalg.norm(directions, axis=0)
