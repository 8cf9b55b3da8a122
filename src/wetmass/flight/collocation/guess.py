"""A simple first guess for an ascent, without any search for the orbit; and corners found afterwards."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.dynamics import COASTING
from wetmass.flight.collocation.mesh import Mesh

BURNOUT_ANGLE = math.radians(28.0)  # of the path above the horizon where the first stage is empty
THROTTLED = 1.0 - 1e-4  # a throttle below this is off its stop


def simple_guess(ascent: Ascent) -> np.ndarray:
    """Unknowns of a flight that leaves well and ends anywhere: the starts stated, one tilt found by halving.

    The tilt is that after which a zero-lift turn leaves the first stage at 28° above the horizon.
    """
    x = np.array([unknown.start for unknown in ascent.unknowns])
    low, high = math.log(1e-3), math.log(0.5)
    for _ in range(14):
        x[0] = math.exp(0.5 * (low + high))
        if ascent.path_angle_after_first_stage(x) > BURNOUT_ANGLE:
            low = math.log(x[0])
        else:
            high = math.log(x[0])
    return x


def with_corners(outline: ph.Outline) -> ph.Outline:
    """The outline with a boundary wherever its throttle leaves or meets the stop, for an exact corner."""
    phases: list[ph.Phase] = []
    for phase in outline.phases:
        if not phase.throttles or phase.kind == COASTING:
            phases.append(phase)
            continue
        phases.extend(_cut_at_corners(phase))
    return replace(outline, phases=tuple(phases))


def _cut_at_corners(phase: ph.Phase) -> list[ph.Phase]:
    below = phase.throttle < THROTTLED
    places = phase.mesh.places()
    # corner between two points: where the throttle changes side
    corners = [
        (float(places[i + 1] if below[i + 1] else places[i + 2]), bool(below[i + 1]))
        for i in range(len(below) - 1)
        if below[i] != below[i + 1]
    ]
    edges = [0.0, *(place for place, _ in corners), 1.0]
    parts = []
    limited = bool(below[0])
    for k in range(len(edges) - 1):
        start, end = edges[k], edges[k + 1]
        last = k == len(edges) - 2
        if end - start < 1e-9:
            limited = not limited
            continue
        ends = phase.ends if last else ((ph.FULL_AGAIN, 0.0) if limited else (ph.FELT, 0.0))
        count = max(2, math.ceil(phase.mesh.intervals * (end - start)))
        mesh = Mesh.even(count, phase.mesh.points)
        parts.append(
            replace(
                phase.on(mesh, start, end),
                throttles=limited,
                ends=ends,
                dropped=phase.dropped if last else 0.0,
            )
        )
        limited = not limited
    return parts
