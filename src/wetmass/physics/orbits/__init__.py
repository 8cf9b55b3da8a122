"""Two-body orbits, changes between them, launch into them, and what the Earth's bulge does to them.

Radii are from the centre; heights of perigee and apogee are above 6378.137 km at every latitude.
Angles in radians.  `gm` is the gravitational parameter of the body, the Earth's unless said.
"""

from wetmass.physics.orbits.bulge import TROPICAL_YEAR, node_drift, sun_synchronous_inclination
from wetmass.physics.orbits.changes import (
    hohmann_duration,
    hohmann_first,
    hohmann_second,
    turned_speed_change,
)
from wetmass.physics.orbits.launch import (
    ground_azimuth,
    ground_speed,
    inclination_of_heading,
    launch_azimuth,
    reachable_inclinations,
)
from wetmass.physics.orbits.motion import Elements, elements, orbit_kernel, propagated
from wetmass.physics.orbits.speeds import (
    axis_of_period,
    circular_speed,
    escape_speed,
    injection_speed,
    orbit_speed,
    period,
)

__all__ = [
    "TROPICAL_YEAR",
    "Elements",
    "axis_of_period",
    "circular_speed",
    "elements",
    "escape_speed",
    "ground_azimuth",
    "ground_speed",
    "hohmann_duration",
    "hohmann_first",
    "hohmann_second",
    "inclination_of_heading",
    "injection_speed",
    "launch_azimuth",
    "node_drift",
    "orbit_kernel",
    "orbit_speed",
    "period",
    "propagated",
    "reachable_inclinations",
    "sun_synchronous_inclination",
    "turned_speed_change",
]
