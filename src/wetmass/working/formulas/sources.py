"""Where the relations come from, by the short names used beside them."""

_BRAEUNIG = "R. A. Braeunig, Rocket and Space Technology"

SOURCES = {
    "braeunig rockets": f"{_BRAEUNIG}, Rocket Propulsion, http://www.braeunig.us/space/propuls.htm",
    "braeunig orbits": f"{_BRAEUNIG}, Orbital Mechanics, http://www.braeunig.us/space/orbmech.htm",
    "nasa thrust": 'NASA Glenn Research Center, "Rocket Thrust Equation", '
    "http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html",
    "akin": "D. L. Akin, ENAE 791 lectures, University of Maryland",
    "solids": "solid geometry",
    "pappus": "solid geometry; Pappus for the ring",
    "shells": "thin-walled shells, common practice",
    "steady": "mechanics of steady acceleration, common practice",
    "mechanics": "mechanics, common practice",
    "air": "aerodynamics, common practice",
    "heat": "heat balance, common practice",
    "packing": "geometry of equal circles on a ring",
}
