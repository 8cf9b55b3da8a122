"""Hand-made records for tests of what reads them.  The numbers are invented, but add up."""

import dataclasses
import math
from pathlib import Path

import numpy as np

from wetmass.concept import load, loads
from wetmass.record.closed import Closed, Found, Held
from wetmass.record.flight import (
    COLUMNS,
    Event,
    Flight,
    Losses,
    Peak,
    ReachedOrbit,
    StageShare,
    SteeringUsed,
    Trajectory,
)
from wetmass.record.vehicle import (
    EngineGroup,
    LetGo,
    MassItem,
    Moment,
    Origin,
    Propellant,
    Stage,
    Vehicle,
)

FILE = Path(__file__).parent / "data" / "concept.yaml"
G = 9.80665
DRAG = ((0.0, 0.25), (0.8, 0.26), (1.2, 0.48), (5.0, 0.22))


def concept(**replaced):
    """Dunlin as stated; `replaced` gives texts to put in place of others: {old: new}."""
    text = FILE.read_text(encoding="utf-8")
    for old, new in replaced.pop("swap", {}).items():
        assert old in text, f"{old!r} does not stand in the file"
        text = text.replace(old, new)
    assert not replaced
    return loads(text, "concept.yaml")


def dunlin():
    """The concept as it is."""
    return load(FILE)


def vehicle():
    first = Stage(
        name="first",
        dry_mass=7600.0,
        propellant=Propellant("LOX/LCH4", 3.4, burns=78_078.0, residuals=510.0, start_loss=400.0),
        engines=(EngineGroup("first engines", 7, 231_750.0, 0.2147, 341.0, 0.45),),
        diameter=3.1,
        drag_area=7.548,
        drag_curve=DRAG,
        items=(MassItem("first", "dry mass", 7600.0, Origin.STATED),),
    )
    second = Stage(
        name="second",
        dry_mass=2040.0,
        propellant=Propellant("LOX/LCH4", 3.4, burns=23_200.0, residuals=188.0, reserve=84.0),
        engines=(EngineGroup("second engines", 1, 240_000.0, 2.011, 363.0, 0.45, 2),),
        diameter=3.1,
        drag_area=7.548,
        drag_curve=DRAG,
        pause=4.0,
        items=(MassItem("second", "dry mass", 2040.0, Origin.DERIVED),),
    )
    return Vehicle("Dunlin", (first, second), 3000.0, (LetGo("fairing", 600.0, Moment.HEATING, 1135.0),))


EVENTS = (
    # what, time, height, air speed, speed, path angle, downrange, mass, q, felt
    ("lift-off", 0.0, 20.0, 0.0, 451.0, math.pi / 2, 0.0, 115_300.0, 0.0, 12.3),
    ("tilt begins", 9.1, 140.0, 31.0, 452.0, 1.57, 0.0, 116_000.0, 590.0, 13.0),
    ("greatest dynamic pressure", 66.0, 10_900.0, 480.0, 660.0, 1.0, 4000.0, 90_000.0, 34_000.0, 17.0),
    ("first burns out", 167.0, 71_000.0, 2491.0, 2590.0, 0.44, 121_000.0, 37_222.0, 130.0, 44.13),
    ("second lights", 171.0, 75_400.0, 2465.0, 2570.0, 0.43, 131_000.0, 29_112.0, 70.0, 0.0),
    ("fairing let go", 221.0, 112_000.0, 2710.0, 2800.0, 0.36, 231_000.0, 24_800.0, 1.2, 9.8),
    ("second stops to coast", 520.0, 180_000.0, 8010.0, 7990.0, 0.01, 1_700_000.0, 5800.0, 0.0, 44.13),
    ("second lights again", 3110.0, 520_000.0, 7410.0, 7420.0, 0.0, 17_000_000.0, 5800.0, 0.0, 0.0),
    ("in orbit: last cut-off", 3115.0, 520_000.0, 7591.0, 7605.0, 0.0, 17_030_000.0, 5312.0, 0.0, 44.13),
)

FIRST = Losses(3781.0, 1050.0, 70.0, 10.0, 160.0, 2491.0, 0.0)
SECOND = Losses(5800.0, 480.0, 0.0, 220.0, 0.0, 5100.0, 14.0)
WHOLE = Losses(9581.0, 1530.0, 70.0, 230.0, 160.0, 7591.0, 14.0)


def trajectory(rows=5):
    values = np.zeros((rows, len(COLUMNS)))
    values[:, 0] = np.linspace(0.0, 3115.0, rows)
    values[:, 1] = 1.0
    values[:, 2] = np.linspace(20.0, 520e3, rows)
    return Trajectory(COLUMNS, values)


def flight(**changes):
    made = Flight(
        vehicle=vehicle(),
        events=tuple(Event(*row) for row in EVENTS),
        trajectory=trajectory(),
        losses=WHOLE,
        stages=(
            StageShare("first", 3781.0, 167.0, 1.30, 2491.0, 2590.0, 71e3, 121e3, 167.0, 0.44, FIRST),
            StageShare("second", 5800.0, 344.3, 0.84, 7591.0, 7605.0, 520e3, 17.03e6, 3115.0, 0.0, SECOND),
        ),
        orbit=ReachedOrbit(520e3, 520e3, 1e-9, math.radians(97.5), 0.0, 1.0),
        steering=SteeringUsed("zero-lift turn, then free", math.radians(190.0), 0.02, 150.0, 50e3, 5e3),
        dynamic_pressure=Peak(34e3, 66.0, 10.9e3),
        felt_acceleration=Peak(44.13, 167.0, 71e3),
        q_alpha=Peak(math.radians(100.0) * 1e3, 150.0, 50e3),
        heating=Peak(9e6, 110.0, 30e3),
        accuracy=2e-9,
    )
    return dataclasses.replace(made, **changes)


def closed(**changes):
    """Dunlin closed; `changes` replaces fields."""
    flown = flight()
    made = Closed(
        name="Dunlin",
        closes=True,
        reason="",
        vehicle=flown.vehicle,
        flight=flown,
        payload=3000.0,
        payload_asked=None,
        most_payload=3000.0,
        left_over=0.0,
        short_by=0.0,
        found=(
            Found("payload", 3000.0, "kg"),
            Found("stages/first/propellant/mass", 78_988.0, "kg"),
            Found("stages/second/propellant/mass", 23_472.0, "kg"),
        ),
        held=(
            Held("lift-off thrust to weight", "at least", 1.30, 1.30, "", True, True),
            Held("lift-off mass", "at most", 120e3, 115_300.0, "kg", True, False),
            Held("greatest felt acceleration", "at most", 4.5 * G, 44.13, "m/s²", True, True),
            Held("greatest dynamic pressure", "at most", 38e3, 34e3, "Pa", True, False),
            Held("greatest q-alpha", "at most", 2094.395, 1745.329, "Pa·rad", True, False),
        ),
        steps=(),
        not_yet=(
            ("stages/first/dry mass", "its spread is not carried into the result yet"),
            ("stages/first/home", "bringing stages home is not computed yet"),
        ),
        assumed=("drag: the typical curve",),
        flights=1200,
        seconds=0.4,
    )  # fmt: skip
    return dataclasses.replace(made, **changes)
