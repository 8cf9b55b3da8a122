"""Letters and the source that relations of orbits have in common."""

from __future__ import annotations

from wetmass.physics.pattern import Letter

BRAEUNIG = "R. A. Braeunig, Rocket and Space Technology, Example Problems"
PAGE = "http://www.braeunig.us/space/problem.htm"
RADIUS = Letter("r", "distance from the centre", "m", 6.4e6, 5e8)
MU = Letter("μ", "gravitational parameter", "m³/s²", 3e14, 5e14)
AXIS = Letter("a", "semi-major axis", "m", 6.5e6, 5e7)
