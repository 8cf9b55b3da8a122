"""The sentences a concept is told in.  {key} is a value of the file; a fragment is said where all its values are.

A fragment may be several, of which the first that fits is said.
"""

from __future__ import annotations

Fragment = str | tuple[str, ...]
Template = tuple[Fragment, ...]

_CONCEPT: tuple[Template, ...] = (
    ("It is launched from {site/latitude}, {site/longitude}", ", {site/height} above the sea",
     ", on headings from {site/headings}"),
    ("It is let go in flight at {site/launch/height}", ", flying at {site/launch/speed}",
     ", {site/launch/path angle} above the horizon"),
    (("It is to go to {mission/to}", "It is to reach an orbit of {mission/perigee} by {mission/apogee}",
      "It is to leave with a C3 of {mission/C3}", "It is to climb to {mission/height}"),
     ", by a perigee of {mission/perigee}", ", with an apogee of {mission/apogee}", ", with a C3 of {mission/C3}",
     ", reached at {mission/at}", ", at {mission/speed}", ", {mission/path angle} above the horizon",
     ", heading {mission/heading}", ", inclined {mission/inclination}",
     ", its perigee {mission/argument of perigee} from the node", ", bound {mission/declination} from the equator",
     ", going {mission/going}", ", inserted {mission/insertion}", ", coasting {mission/parking} high"),
    ("There, {mission/arrival/by} does what is left to do", ", at a specific impulse of {mission/arrival/isp}"),
    ("It stays in orbit for {mission/stay in orbit}",),
    ("It carries {payload} of payload",),
    ("A fairing of {fairing/mass} covers it", ", {fairing/diameter} across", ", {fairing/length} long",
     ", with a nose of {fairing/nose}", ", let go at {fairing/drop height}", ", let go after {fairing/drop time}",
     ", let go when heating falls below {fairing/drop heating}"),
    ("A speed of {performance reserve} is kept in reserve for a day that is not average",),
)  # fmt: skip

_STAGE: tuple[Template, ...] = (
    ("It is strapped to {strapped to}", ", {count} of them", ", lit {lit after} after it", ", let go {let go after} "
     "after burning out", ", feeding its engines: {crossfeed}"),
    ("It is {diameter} across", ", {length} long"),
    (("Its dry mass is {dry mass}, by a structural fraction of {structural fraction}",
      "Empty, it weighs {dry mass}",
      "Its dry mass is {structural fraction} of dry mass and propellant together"),
     ", with a growth allowance for {maturity}", ", with {growth} for growth"),
    ("It burns {propellant/pair}",
     (", {propellant/mixture ratio} to one by mass", ", {propellant/mixture ratio by volume} to one by volume")),
    ("It is loaded with {propellant/mass} of propellant", ", of which {propellant/residuals} cannot be used",
     ", {propellant/start loss} goes before it moves", ", {propellant/shut-down loss} is lost after cut-off"),
    ("It waits {pause before ignition} before it is lit",),
    ("It is lit while the stage below still hangs on: {hot staging}",),
    ("It is cut off and let go at {let go above}",),
    ("Its engines stand {engine layout/way}", ", swing {engine layout/gimbal} either way",
     ", {engine layout/gap} apart"),
    ("It comes down by {home/by}", ", {home/where}", ", keeping {home/propellant} of propellant for that",
     " and {home/margin} more"),
    ("It meets the water at {home/splash speed} at most",),
    ("Coming down, it feels at most {home/limits/felt acceleration}", ", under {home/limits/dynamic pressure} at most",
     ", heated by {home/limits/heating} at most"),
    ("It glides with a lift to drag of {home/lift to drag}", ", on wings of {home/wing area}"),
    ("It cruises at {home/cruise speed}", ", {home/cruise height} high", ", against {home/headwind} of wind"),
    ("It lands on {home/landing engines} engines", ", touching down at {home/touch-down speed}"),
)  # fmt: skip

_ENGINE: tuple[Template, ...] = (
    (("{count} {kind} engines, the {name}", "{count} engines, the {name}", "{count} {kind} engines", "{count} engines",
      "One {kind} engine, the {name}", "One {kind} engine", "One engine, the {name}"),
     ("; each pushes {thrust/sea level} on the ground and {thrust/vacuum} in vacuum",
      "; each pushes {thrust/sea level} on the ground", "; each pushes {thrust/vacuum} in vacuum"),
     (", with a specific impulse of {isp/sea level} on the ground and {isp/vacuum} in vacuum",
      ", with a specific impulse of {isp/sea level} on the ground",
      ", with a specific impulse of {isp/vacuum} in vacuum"),
     (", through a nozzle {exit diameter} wide", ", through a nozzle of {exit area}")),
    ("It throttles down to {minimum throttle}", ", and can be lit {ignitions} times"),
    ("It can be lit {ignitions} times",),
    ("Its chamber is at {chamber pressure}", ", its nozzle {area ratio} times as wide as its throat",
     ", at an efficiency of {efficiency}"),
    ("Its nozzle is {nozzle}", ", adapting {adapts} of the way", ", at a chamber pressure of {chamber pressure}"),
    ("It passes {bypass ratio} times as much air by its core as through it",),
    ("It is lit above {lit above}", ", and starts up in {start up}"),
    ("It stops above {stops above}", ", or above Mach {stops above mach}"),
    ("It is made {scale} times its size",),
    ("Of them fail {out}",),
)  # fmt: skip

_TANK: tuple[Template, ...] = (
    (("{count} {shape} tanks hold {holds}", "A {shape} tank holds {holds}"),
     ", {diameter} across", ", {length} long", ", with domes {dome height} high", ", its tube {tube diameter} thick",
     ", with {ullage} left to gas", ", loaded at {at}", ", sharing a bulkhead with the one above: {shares bulkhead}",
     ", beside the one before: {beside}", ", inside the {inside}"),
)  # fmt: skip

_LIMITS: tuple[Template, ...] = (
    ("Felt acceleration stays below {felt acceleration}",),
    ("Dynamic pressure stays below {dynamic pressure}",),
    ("Dynamic pressure times angle of attack stays below {q-alpha}",),
    ("Heating without the fairing stays below {heating}",),
)

TOLD: dict[str, tuple[Template, ...]] = {
    "concept": _CONCEPT,
    "stage": _STAGE,
    "engine": _ENGINE,
    "tank": _TANK,
    "part": (("{name} weighs {mass}",),),
    "place": (
        ("{name} lies {from site} from the site", ", on a heading of {heading}"),
        ("{name} lies at {latitude}, {longitude}", ", {height} above the sea"),
    ),
    "dropped part": (
        (
            "The {name} weighs {mass}",
            ", and is let go with the ignition of {after ignition of}",
            ", {time} after it",
        ),
    ),
    "parachute": (
        (
            ("{count} parachutes, the {name}, open at {opens at}", "The {name} opens at {opens at}"),
            ", with a drag area of {drag area}",
            ", filling in {filling}",
        ),
    ),
    "limits": _LIMITS,
}
OBJECTIVES = {"most": "The most {value} is sought.", "least": "The least {value} is sought."}
ASKED = "{name} must be {value}."
CLAIM = "{name} is said to be {value}."
