"""Saturn V AS-506: what the evaluation report says of its ascent, beside ours."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from vehicles.build import RELEASE
from vehicles.figures import FILE, case, number
from vehicles.flying import Flown, Question, most
from wetmass.record.flight import Flight

TRANSLUNAR = "saturn_v: Apollo 11 translunar, flown"
SHOWN = 720.0  # s: to parking orbit

# our words for an event, and its name in tests/data/flights.yaml
EVENTS = (
    ("greatest dynamic pressure", "max_q"),
    ("S-IC: some engines stop", "sic_centre_cutoff"),
    ("S-IC burns out", "sic_outboard_cutoff"),
    ("S-II: some engines stop", "sii_centre_cutoff"),
    ("S-II burns out", "sii_outboard_cutoff"),
    ("S-IVB stops to coast", "sivb_cutoff_1"),
)


def ours() -> Flown:
    """Our best ascent with the propellant kept that AS-506 had left."""
    found = case(TRANSLUNAR)
    flown = most(Question(found, kept=number(found.vehicle["stages"][2]["usable_left_kg"])))
    if not flown.met:
        raise SystemExit("the ascent was not found: this is a defect, please report it")
    return flown


def flown_events() -> dict[str, Mapping[str, Any]]:
    """Events of the flight, by name."""
    from ruamel.yaml import YAML

    text = (FILE.parent / "flights.yaml").read_text(encoding="utf-8")
    return {event["id"]: event for event in YAML(typ="safe").load(text)["saturn_v_as506"]["events"]}


def table(flight: Flight, published: Mapping[str, Mapping[str, Any]]) -> str:
    """Time, height, speed, path and dynamic pressure of each event: flown, then ours."""
    out = [
        "AS-506 flown, and our best ascent with the payload that fits what was left in the tanks",
        f"{'event':<30}{'time s':>16}{'height km':>18}{'inertial m/s':>18}{'path °, air':>18}{'q kPa':>14}",
    ]
    for words, name in EVENTS:
        here = next(e for e in flight.events if e.what == words)
        theirs = published[name]
        pairs = (
            (theirs["t_s"], here.time + RELEASE, 1),
            (theirs["h_km"], here.height / 1e3, 1),
            (theirs["vs_m_s"], here.speed, 0),
            (theirs.get("fpa_e_deg", math.nan), math.degrees(here.path_angle), 2),
        )
        cells = [f"{a:.{n}f} {b:.{n}f}" for a, b, n in pairs]
        pressure = theirs.get("q_Pa")
        q = f"{pressure / 1e3:.1f} {here.dynamic_pressure / 1e3:.1f}" if pressure is not None else ""
        out.append(f"{words:<30}{cells[0]:>16}{cells[1]:>18}{cells[2]:>18}{cells[3]:>18}{q:>14}".rstrip())
    return "\n".join(out) + "\n"


def chart(flight: Flight, published: Mapping[str, Mapping[str, Any]]) -> Any:
    """Height, inertial speed and dynamic pressure over time: our line, and the flown events as rings."""
    import altair as alt

    panels = (
        ("height, km", "height", 1e3, "h_km"),
        ("speed in axes that do not turn, m/s", "speed", 1.0, "vs_m_s"),
        ("dynamic pressure, kPa", "dynamic_pressure", 1e3, "q_Pa"),
    )
    times = flight.trajectory["time"] + RELEASE
    until = times <= SHOWN
    made = []
    for title, column, factor, key in panels:
        lasts = SHOWN if key != "q_Pa" else 180.0
        line = [
            {"t": float(t), "y": float(v) / factor}
            for t, v in zip(times[until], flight.trajectory[column][until], strict=True)
            if t <= lasts
        ]
        rings = [
            {"t": float(e["t_s"]), "y": float(e[key]) / (1e3 if key == "q_Pa" else 1.0), "name": name}
            for name, e in published.items()
            if key in e and not isinstance(e["t_s"], str) and 0.0 <= e["t_s"] <= lasts
        ]
        made.append(_panel(alt, title, line, rings, lasts))
    return alt.vconcat(*made).properties(title="Apollo 11: flown (rings) and our best ascent (line)")


def _panel(alt: Any, title: str, line: list[dict], rings: list[dict], lasts: float) -> Any:
    from wetmass.lesson.look import LIGHT

    x = alt.X("t:Q", title="time since range zero, s", scale=alt.Scale(domain=[0.0, lasts]))
    y = alt.Y("y:Q", title=title)
    curve = alt.Chart(alt.Data(values=line)).mark_line(color=LIGHT["one"], strokeWidth=2)
    marks = alt.Chart(alt.Data(values=rings)).mark_point(color=LIGHT["two"], size=70, strokeWidth=2)
    return alt.layer(curve.encode(x=x, y=y), marks.encode(x=x, y=y, tooltip="name:N")).properties(
        width=560, height=190
    )
