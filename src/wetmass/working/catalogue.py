"""Relations a working commonly uses, with their source, and the wrong forms a hand falls into.

A relation is recognised by the ideas in the name of the line (see `names.tags`); its arguments are
found among the numbers of the line and the values of the page by name, dimension and usual range.
Formulas are written in the grammar of workings itself.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from wetmass.working import registry
from wetmass.working.catalogue_more import ROLES, TABLE
from wetmass.working.catalogue_wide import WIDE_ROLES, rows
from wetmass.working.tree import Node


@dataclass(frozen=True, slots=True)
class Role:
    """One argument of a relation."""

    letter: str
    ideas: tuple[frozenset[str], ...]  # any of these sets of ideas names it
    unit: str  # SI
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Wrong:
    """A wrong form: the kind of slip it is, its formula, what was done, what should be done."""

    kind: str
    formula: str
    cause: str
    cure: str


@dataclass(frozen=True, slots=True)
class Form:
    """A relation in one of its forms."""

    name: str
    ideas: tuple[frozenset[str], ...]
    without: frozenset[str]  # ideas that say it is another quantity
    unit: str
    formula: str
    roles: tuple[Role, ...]
    source: str
    wrong: tuple[Wrong, ...]
    sure: bool  # whether the name of the line alone settles the relation


def _ideas(text: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(option.split()) for option in text.split("|"))


# letter: ideas ; unit ; usual range (SI)
_ROLES = {
    "c": ("exhaust speed ; m/s ; 500 ; 100000"),
    "I": ("isp ; s ; 60 ; 10000"),
    "m0": ("start mass|start ; kg ; 0.01 ; 1e8"),
    "m1": ("end mass|end|dry mass ; kg ; 0.001 ; 1e8"),
    "R": ("mass ratio|ratio ; 1 ; 1.01 ; 60"),
    "mp": ("propellant mass|propellant|used ; kg ; 0.001 ; 1e8"),
    "md": ("dry mass|dry ; kg ; 0.001 ; 1e7"),
    "dv": ("dv ; m/s ; 20 ; 20000"),
    "g0": ("g0 ; m/s2 ; 9.7 ; 10"),
    "g": ("gravity acceleration|gravity moon|gravity mars|g0 ; m/s2 ; 0.1 ; 30"),
    "F": ("thrust ; N ; 0.1 ; 2e8"),
    "Fv": ("thrust vac ; N ; 1 ; 2e8"),
    "m": ("mass ; kg ; 0.001 ; 1e8"),
    "k": ("flow ; kg/s ; 1e-6 ; 1e5"),
    "rho": ("density ; kg/m3 ; 1e-12 ; 1.6"),
    "v": ("speed ; m/s ; 0.5 ; 20000"),
    "t": ("burn time|time ; s ; 0.01 ; 1e7"),
    "a": ("acceleration ; m/s2 ; 0.001 ; 2000"),
    "r": ("radius ; m ; 0.005 ; 60"),
    "d": ("diameter ; m ; 0.01 ; 120"),
    "L": ("length|height ; m ; 0.01 ; 200"),
    "Rr": ("ring radius|major radius|cross|radius ; m ; 0.05 ; 60"),
    "rr": ("tube radius|minor radius|tube|radius ; m ; 0.01 ; 30"),
    "p": ("pressure ; Pa ; 1000 ; 1e8"),
    "s": ("stress ; Pa ; 1e6 ; 5e9"),
    "mu": ("mu ; m3/s2 ; 1e11 ; 1e21"),
    "ro": ("orbit radius|radius ; m ; 6.4e6 ; 1e9"),
    "h": ("height ; m ; 8e4 ; 1e9"),
    "RE": ("earth radius ; m ; 6.3e6 ; 6.4e6"),
    "q": ("mixture ratio|mixture ; 1 ; 0.2 ; 25"),
    "mt": ("propellant mass|propellant ; kg ; 0.01 ; 1e8"),
    "ra": ("oxidiser density|density lox ; kg/m3 ; 700 ; 2000"),
    "rf": ("fuel density ; kg/m3 ; 40 ; 1600"),
    "n": ("engine count|count ; 1 ; 2 ; 60"),
    "A": ("area ; m2 ; 1e-5 ; 1e4"),
    "Ae": ("exit area ; m2 ; 1e-5 ; 100"),
    "pe": ("exit pressure ; Pa ; 10 ; 1e6"),
    "pa": ("ambient pressure|pressure ; Pa ; 0 ; 1.1e5"),
    "ve": ("exhaust speed ; m/s ; 500 ; 6000"),
    "i": ("inclination ; 1 ; 0.0001 ; 3.2"),
    "az": ("azimuth ; 1 ; 0 ; 6.3"),
    "phi": ("latitude ; 1 ; -1.6 ; 1.6"),
    "di": ("plane change|inclination|angle|plane ; 1 ; 0.0001 ; 3.2"),
    "cd": ("cd ; 1 ; 0.05 ; 3"),
    "F1": ("thrust booster|thrust ; N ; 1 ; 2e8"),
    "F2": ("thrust core|thrust ; N ; 1 ; 2e8"),
    "I1": ("isp booster|isp ; s ; 60 ; 1300"),
    "I2": ("isp core|isp ; s ; 60 ; 1300"),
    "de": ("exit diameter ; m ; 0.005 ; 10"),
    "dt": ("throat diameter ; m ; 0.002 ; 4"),
    "P": ("heat leak|heat|leak|power ; W ; 0.001 ; 1e8"),
    "H": ("latent heat|latent ; J/kg ; 1000 ; 5e6"),
    "vi": ("dv ideal|dv ; m/s ; 200 ; 20000"),
    "lo": ("loss ; m/s ; 1 ; 6000"),
    "mpl": ("payload mass|payload ; kg ; 0.1 ; 1e6"),
    "mo": ("oxidiser mass|oxidiser ; kg ; 0.01 ; 1e8"),
    "mf": ("fuel mass|fuel ; kg ; 0.01 ; 1e8"),
    "v0": ("orbit speed|speed ; m/s ; 3000 ; 12000"),
    "v1": ("speed ; m/s ; 500 ; 12000"),
    "v2": ("speed ; m/s ; 500 ; 12000"),
    "Vt": ("volume propellant total|volume total|volume ; m3 ; 0.01 ; 1e5"),
    "ep": ("expansion ratio|area ratio|epsilon|expansion ; 1 ; 1.5 ; 400"),
    "At": ("throat area ; m2 ; 1e-6 ; 10"),
    "Wt": ("weight ; N ; 0.1 ; 2e8"),
    "vc": ("circular speed|orbit speed|speed ; m/s ; 200 ; 12000"),
    "w": ("rotation gain|rotation|gain ; m/s ; 1 ; 480"),
} | ROLES | WIDE_ROLES  # fmt: skip

_BRAEUNIG = (
    "R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, http://www.braeunig.us/space/propuls.htm"
)
_ORBIT = (
    "R. A. Braeunig, Rocket and Space Technology, Orbital Mechanics, http://www.braeunig.us/space/orbmech.htm"
)
_NASA = 'NASA Glenn Research Center, "Rocket Thrust Equation", http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html'
_SOLID = "solid geometry; Pappus for the ring"
_SHELL = "thin-walled shells, common practice"
_MECH = "mechanics of steady acceleration, common practice"
_UMD = "D. L. Akin, ENAE 791 lectures, University of Maryland"
_PACK = "geometry of equal circles on a ring"

_S02 = "g₀ is left out"
_OFF_G = "with g₀"

# name ; ideas of the line ; without ; unit ; formula ; source ; wrong forms (kind: formula: cause: cure)
_TABLE: tuple[tuple[str, str, str, str, str, str, tuple[tuple[str, str, str, str], ...]], ...] = (
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "I*g0*ln(m0/m1)", _BRAEUNIG, (  # noqa: E501
        ("S02", "I*ln(m0/m1)", _S02, _OFF_G),
        ("S03", "I*g0*log10(m0/m1)", "log₁₀ is used for ln", "with ln"),
        ("S04", "I*g0*ln(m1/m0)", "the masses are upside down in the logarithm", "with the start mass above"),
        ("S05", "I*g0*ln((m0-m1)/m1)", "propellant over final mass stands in the logarithm",
         "with start over final mass"),
        ("S05", "I*g0*ln(m0/(m0-m1))", "the propellant stands below as if it were the final mass",
         "with the final mass below"),
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "c*ln(m0/m1)", _BRAEUNIG, (  # noqa: E501
        ("S03", "c*log10(m0/m1)", "log₁₀ is used for ln", "with ln"),
        ("S04", "c*ln(m1/m0)", "the masses are upside down in the logarithm", "with the start mass above"),
        ("S05", "c*ln((m0-m1)/m1)", "propellant over final mass stands in the logarithm",
         "with start over final mass"),
        ("S05", "c*ln(m0/(m0-m1))", "the propellant stands below as if it were the final mass",
         "with the final mass below"),
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "I*g0*ln(R)", _BRAEUNIG, (  # noqa: E501
        ("S02", "I*ln(R)", _S02, _OFF_G),
        ("S03", "I*g0*log10(R)", "log₁₀ is used for ln", "with ln"),
        ("S04", "I*g0*ln(1/R)", "the ratio in the logarithm is upside down", "with the larger mass above"),
        ("S05", "I*g0*ln(R-1)", "propellant over final mass stands in the logarithm", "with start over final mass"),  # noqa: E501
        ("S03", "I*g0*R", "the ratio itself is used, its logarithm not taken", "with its logarithm"),
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "c*ln(R)", _BRAEUNIG, (
        ("S03", "c*log10(R)", "log₁₀ is used for ln", "with ln"),
        ("S04", "c*ln(1/R)", "the ratio in the logarithm is upside down", "with the larger mass above"),
        ("S05", "c*ln(R-1)", "propellant over final mass stands in the logarithm", "with start over final mass"),  # noqa: E501
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "I*g0*ln((mp+m1)/m1)", _BRAEUNIG, (  # noqa: E501
        ("S05", "I*g0*ln(mp/m1)", "propellant over final mass stands in the logarithm", "with start over final mass"),  # noqa: E501
        ("S02", "I*ln((mp+m1)/m1)", _S02, _OFF_G),
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "c*ln((mp+m1)/m1)", _BRAEUNIG, (  # noqa: E501
        ("S05", "c*ln(mp/m1)", "propellant over final mass stands in the logarithm", "with start over final mass"),  # noqa: E501
    )),
    ("rocket equation", "dv|ideal speed", "loss total plane transfer rotation", "m/s", "c*ln(m0/(m0-mp))", _BRAEUNIG, (  # noqa: E501
        ("S05", "c*ln(m0/mp)", "the propellant stands below as if it were the final mass", "with the final mass below"),  # noqa: E501
    )),
    ("propellant for a speed gain", "propellant mass|propellant|used", "residual reserve volume flow fuel oxidiser",  # noqa: E501
     "kg", "m0*(1-exp(-dv/c))", _BRAEUNIG, (
        ("S31", "m0*exp(-dv/c)", "the final mass is taken for the propellant", "with it taken off"),
        ("S04", "m0*(exp(dv/c)-1)", "the sign of the exponent is turned", "with e to the minus Δv/c"),)),
    ("propellant for a speed gain", "propellant mass|propellant|used", "residual reserve volume flow fuel oxidiser",  # noqa: E501
     "kg", "m1*(exp(dv/c)-1)", _BRAEUNIG, (
        ("S31", "m1*exp(dv/c)", "the start mass is taken for the propellant", "with the final mass taken off"),  # noqa: E501
        ("S04", "m1*(1-exp(-dv/c))", "the sign of the exponent is turned", "with e to the plus Δv/c"),)),
    ("start mass for a speed gain", "start mass|start", "total sum fraction", "kg", "m1*exp(dv/(I*g0))", _BRAEUNIG, (  # noqa: E501
        ("S02", "m1*exp(dv/I)", _S02, _OFF_G),
        ("S04", "m1*exp(-dv/(I*g0))", "the sign of the exponent is turned", "with e to the plus Δv/c"),)),
    ("start mass for a speed gain", "start mass|start", "total sum fraction", "kg", "m1*exp(dv/c)", _BRAEUNIG, (  # noqa: E501
        ("S04", "m1*exp(-dv/c)", "the sign of the exponent is turned", "with e to the plus Δv/c"),
        ("S03", "m1*10^(dv/c)", "10 is raised in place of e", "with e"),)),
    ("mass ratio for a speed gain", "mass ratio", "mixture payload structural dry fraction", "1", "exp(dv/(I*g0))", _BRAEUNIG, (  # noqa: E501
        ("S02", "exp(dv/I)", _S02, _OFF_G),
        ("S04", "exp(-dv/(I*g0))", "the sign of the exponent is turned", "with e to the plus Δv/c"),)),
    ("mass ratio for a speed gain", "mass ratio", "mixture payload structural dry fraction", "1", "exp(dv/c)", _BRAEUNIG, (  # noqa: E501
        ("S04", "exp(-dv/c)", "the sign of the exponent is turned", "with e to the plus Δv/c"),
        ("S04", "exp(c/dv)", "the quotient in the exponent is upside down", "with Δv over c"),
        ("S03", "10^(dv/c)", "10 is raised in place of e", "with e"),)),
    ("propellant for a speed gain", "propellant mass|propellant|used", "residual reserve volume flow fuel oxidiser",  # noqa: E501
     "kg", "m0*(1-exp(-dv/(I*g0)))", _BRAEUNIG, (("S02", "m0*(1-exp(-dv/I))", _S02, _OFF_G),)),
    ("propellant for a speed gain", "propellant mass|propellant|used", "residual reserve volume flow fuel oxidiser",  # noqa: E501
     "kg", "m1*(exp(dv/(I*g0))-1)", _BRAEUNIG, (("S02", "m1*(exp(dv/I)-1)", _S02, _OFF_G),)),
    ("mass ratio", "mass ratio", "mixture payload structural dry fraction", "1", "m0/m1", _BRAEUNIG, (
        ("S04", "m1/m0", "the ratio is upside down", "with start over final mass"),
        ("S05", "(m0-m1)/m1", "propellant over final mass is taken", "with start over final mass"),
        ("S05", "m0/(m0-m1)", "start mass over propellant is taken", "with start over final mass"),
    )),
    ("mass ratio", "mass ratio", "mixture payload structural fraction", "1", "(mp+md)/md", _BRAEUNIG, (
        ("S05", "mp/md", "propellant over dry mass is taken", "with start over final mass"),
        ("S04", "md/(mp+md)", "the ratio is upside down", "with start over final mass"),
    )),
    ("effective exhaust speed", "exhaust speed|exhaust", "", "m/s", "I*g0", _BRAEUNIG, (
        ("S02", "I", _S02, _OFF_G), ("S02", "I/g0", "g₀ divides where it should multiply", "with Isp times g₀"))),  # noqa: E501
    ("specific impulse", "isp", "mean", "s", "F/(k*g0)", _BRAEUNIG, (
        ("S02", "F/k", _S02, _OFF_G),)),
    ("specific impulse", "isp", "mean", "s", "c/g0", _BRAEUNIG, (
        ("S02", "c", _S02, _OFF_G), ("S02", "c*g0", "g₀ multiplies where it should divide", "with c over g₀"))),  # noqa: E501
    ("mass flow", "flow", "fuel oxidiser volume tsfc", "kg/s", "F/(I*g0)", _BRAEUNIG, (
        ("S02", "F/I", _S02, _OFF_G), ("S56", "F/I*g0", "the bracket below the line is lost", "with the bracket"),  # noqa: E501
        ("S04", "I*g0/F", "the quotient is upside down", "with thrust above"))),
    ("mass flow", "flow", "fuel oxidiser volume", "kg/s", "F/c", _BRAEUNIG, ()),
    ("mass flow", "flow", "fuel oxidiser volume", "kg/s", "n*F/(I*g0)", _BRAEUNIG, (
        ("S30", "F/(I*g0)", "only one engine is counted", "with all engines"),)),
    ("mass flow", "flow", "fuel oxidiser volume", "kg/s", "mp/t", _BRAEUNIG, (
        ("S04", "t/mp", "the quotient is upside down", "with the propellant above"),)),
    ("thrust", "thrust", "twr weight ratio structure mass loss fraction cf isp", "N", "k*I*g0", _BRAEUNIG, (
        ("S02", "k*I", _S02, _OFF_G),)),
    ("thrust", "thrust", "twr weight ratio structure mass loss fraction cf isp", "N", "k*c", _BRAEUNIG, ()),
    ("thrust of a cluster", "thrust total|thrust start|thrust liftoff", "twr weight ratio structure mass loss fraction cf isp",  # noqa: E501
     "N", "n*F", _NASA, (("S30", "F", "only one engine is counted", "with all engines"),
                         ("S30", "n*n*F", "the engines are counted twice", "with each engine once"))),
    ("thrust with its pressure term", "thrust", "vac twr weight ratio structure mass loss fraction", "N", "k*ve+(pe-pa)*Ae", _NASA, (  # noqa: E501
        ("S26", "k*ve", "the pressure term is left out", "with the pressure term"),
        ("S26", "k*ve-(pe-pa)*Ae", "the pressure term has the wrong sign", "with (pₑ − pₐ)·Aₑ added"),
        ("S26", "k*ve+pe*Ae", "the pressure outside is left out", "with pₑ − pₐ"),
    )),
    ("thrust with its pressure term", "thrust", "vac twr weight ratio structure mass loss fraction", "N", "k*c", _NASA, (  # noqa: E501
        ("S26", "k*c+(pe-pa)*Ae", "the pressure term is added to an effective exhaust speed that holds it already",  # noqa: E501
         "without adding it again"),
        ("S26", "k*c-(pe-pa)*Ae", "the pressure term is added to an effective exhaust speed that holds it already",  # noqa: E501
         "without adding it again"),
        ("S26", "k*c+2*(pe-pa)*Ae", "the pressure term goes in twice", "without adding it again"),
    )),
    ("thrust in air", "thrust sl|thrust liftoff|thrust", "twr weight ratio structure mass loss fraction vac total", "N", "Fv-pa*Ae",  # noqa: E501
     _NASA, (
        ("S26", "Fv+pa*Ae", "the pressure of the air is added", "with pₐ·Aₑ taken off"),
        ("S23", "Fv", "the vacuum thrust is taken at sea level", "with pₐ·Aₑ taken off"),)),
    ("thrust-to-weight", "twr", "", "1", "F/(m*g)", _MECH, (
        ("S02", "F/m", "the weight is taken without g", "with the weight m·g"),
        ("S04", "m*g/F", "the quotient is upside down", "with the thrust above"),
        ("S24", "F/(m*9.80665)", "the weight on Earth is used", "with the gravity of the place"),
        ("S24", "F/(m*9.81)", "the weight on Earth is used", "with the gravity of the place"),
    )),
    ("thrust-to-weight", "twr", "", "1", "n*F/(m*g)", _MECH, (
        ("S30", "F/(m*g)", "only one engine is counted", "with all engines"),
        ("S02", "n*F/m", "the weight is taken without g", "with the weight m·g"))),
    ("burn time", "burn time|burn", "loss speed height mass propellant flow used", "s", "mp/k", _BRAEUNIG, (
        ("S04", "k/mp", "the quotient is upside down", "with the propellant above"),
        ("S05", "m0/k", "the start mass is divided by the flow", "with the propellant"),
    )),
    ("burn time", "burn time|burn", "loss speed height mass propellant flow used", "s", "(m0-m1)/k", _BRAEUNIG, (  # noqa: E501
        ("S05", "m0/k", "the start mass is divided by the flow", "with the propellant"),
        ("S05", "m1/k", "the final mass is divided by the flow", "with the propellant"))),
    ("dynamic pressure", "dynamic pressure", "", "Pa", "0.5*rho*v^2", _MECH, (
        ("S01", "rho*v^2", "the ½ is left out", "with the ½"),
        ("S06", "0.5*rho*v", "the speed is not squared", "with the square"),
        ("S53", "0.5*1.225*v^2", "the density at sea level is used", "with the density at that height"),
    )),
    ("distance at steady acceleration", "height|distance", "stopping coast orbit apogee perigee greatest length tank",  # noqa: E501
     "m", "0.5*a*t^2", _MECH, (
        ("S01", "a*t^2", "the ½ is left out", "with the ½"),
        ("S06", "0.5*a*t", "the time is not squared", "with the square"))),
    ("acceleration", "acceleration", "net", "m/s2", "F/m", _MECH, (
        ("S04", "m/F", "the quotient is upside down", "with the thrust above"),)),
    ("net acceleration", "acceleration net", "", "m/s2", "F/m-g", _MECH, (
        ("S24", "F/m", "the weight is left out", "with g taken off"),
        ("S24", "F/m-2*g", "gravity is taken off twice", "with g taken off once"),
        ("S24", "F/m+g", "gravity has the wrong sign", "with g taken off"),
    )),
    ("coasting height", "coast|coast height|height coast", "total greatest", "m", "v^2/(2*g)", _MECH, (
        ("S01", "v^2/g", "the half is left out", "with the half"),
        ("S06", "v/(2*g)", "the speed is not squared", "with the square"))),
    ("stopping distance", "stopping|stopping height|landing height|ignition height", "burn time", "m",
     "v^2/(2*(F/m-g))", _MECH, (
        ("S51", "v^2/(2*F/m)", "the weight is left out of the braking", "with g taken off F/m"),
        ("S01", "v^2/(F/m-g)", "the half is left out", "with the half"),
        ("S51", "v^2/(2*(F/m+g))", "gravity has the wrong sign", "with g taken off F/m"),
    )),
    ("gravity loss", "gravity loss", "rate", "m/s", "g*t", _MECH, ()),
    ("burnout speed, straight up", "speed end|burnout speed|end speed", "dv loss ideal exhaust", "m/s",
     "F*t/(m0-m1)*ln(m0/m1)-g*t", _BRAEUNIG, (
        ("S41", "(F/m0-g)*t", "the first mass is kept through the whole burn", "with the mass falling as it burns"),  # noqa: E501
        ("S41", "(F/((m0+m1)/2)-g)*t", "the mean mass is kept through the whole burn",
         "with the mass falling as it burns"),
        ("S41", "F/m0*t", "the first mass is kept and the weight left out", "with the rocket equation less g·t"),  # noqa: E501
        ("S24", "F*t/(m0-m1)*ln(m0/m1)", "the gravity loss is left out", "with g·t taken off"),
    )),
    ("circle", "area", "ratio surface wall side skin cylinder sphere", "m2", "pi*r^2", _SOLID, (
        ("S17", "pi*r^2/4", "the radius is taken for the diameter", "with π·r²"),
        ("S19", "2*pi*r", "the circumference is taken", "with π·r²"),)),
    ("circle", "area", "ratio surface wall side skin cylinder sphere", "m2", "pi/4*d^2", _SOLID, (
        ("S17", "pi*d^2", "the diameter is taken for the radius", "with π/4·d²"),
        ("S17", "pi/2*d^2", "the diameter is halved once instead of squared in half", "with π/4·d²"),)),
    ("cylinder", "volume tank|volume cylinder|volume", "ring sphere dome frustum cone total", "m3", "pi/4*d^2*L", _SOLID, (  # noqa: E501
        ("S17", "pi*d^2*L", "the diameter is taken for the radius", "with π/4·d²"),
        ("S17", "pi/2*d^2*L", "the diameter is halved once only", "with π/4·d²"),
        ("S19", "d^2*L/4", "π is left out", "with π"),
    )),
    ("cylinder", "volume tank|volume cylinder|volume", "ring sphere dome frustum cone total", "m3", "pi*r^2*L", _SOLID, (  # noqa: E501
        ("S17", "pi/4*r^2*L", "the radius is taken for the diameter", "with π·r²"),
        ("S17", "4*pi*r^2*L", "the diameter is taken for the radius", "with π·r²"),
        ("S19", "2*pi*r*L", "the side wall area is taken", "with π·r²·L"),
    )),
    ("sphere", "volume sphere|sphere", "ring cylinder wall stress", "m3", "4/3*pi*r^3", _SOLID, (
        ("S17", "4/3*pi*(2*r)^3", "the diameter is taken for the radius", "with the radius"),
        ("S18", "pi*r^3", "the 4/3 is left out", "with 4/3"),
        ("S18", "2/3*pi*r^3", "a half sphere is taken", "with the whole sphere"),
        ("S06", "4*pi*r^2", "the surface is taken for the volume", "with 4/3·π·r³"),
    )),
    ("sphere", "volume sphere|sphere", "ring cylinder wall stress", "m3", "pi/6*d^3", _SOLID, (
        ("S17", "4/3*pi*d^3", "the diameter is taken for the radius", "with the radius"),)),
    ("two hemispherical domes", "dome|volume dome", "each cylinder root-2 elliptical total tank", "m3", "4/3*pi*r^3", _SOLID, (  # noqa: E501
        ("S18", "2/3*pi*r^3", "only one of the two domes is counted", "with both"),
        ("S18", "2*pi*r^3", "the domes are taken as full cylinder ends", "with two half spheres"),
        ("S17", "4/3*pi*(2*r)^3", "the diameter is taken for the radius", "with the radius"),
    )),
    ("ring", "ring volume", "", "m3", "2*pi^2*Rr*rr^2", _SOLID, (
        ("S19", "2*pi*Rr*rr^2", "the second π is left out", "with π²"),
        ("S19", "pi^2*Rr*rr^2", "the 2 is left out", "with 2·π²"),
        ("S17", "2*pi^2*(2*Rr)*rr^2", "the ring's diameter is taken for its radius", "with the radius"),
        ("S17", "2*pi^2*Rr*(2*rr)^2", "the tube's diameter is taken for its radius", "with the radius"),
        ("S56", "2*pi^2*Rr^2*rr", "the wrong radius is squared", "with the tube radius squared"),
    )),
    ("frustum", "frustum volume|frustum|cone volume", "", "m3", "pi*L/3*(Rr^2+Rr*rr+rr^2)", _SOLID, (
        ("S19", "pi*L*((Rr+rr)/2)^2", "the mean radius is used", "with R² + R·r + r²"),
        ("S19", "pi*L*(Rr^2+Rr*rr+rr^2)", "the third is left out", "with the third"),
        ("S19", "pi*L/3*(Rr^2+rr^2)", "the middle term R·r is left out", "with R² + R·r + r²"),
    )),
    ("wall under pressure, cylinder", "wall", "sphere dome mass", "m", "p*r/s", _SHELL, (
        ("S17", "2*p*r/s", "the diameter is taken for the radius", "with the radius"),
        ("S17", "p*r/(2*s)", "the formula for a sphere is used on a cylinder", "with p·r/σ"),
    )),
    ("wall under pressure, cylinder", "wall", "sphere dome mass", "m", "p*d/(2*s)", _SHELL, (
        ("S17", "p*d/s", "the diameter is taken for the radius", "with p·D/(2·σ)"),
        ("S17", "p*d/(4*s)", "the formula for a sphere is used on a cylinder", "with p·D/(2·σ)"),
    )),
    ("wall under pressure, sphere", "wall sphere|wall dome", "mass", "m", "p*r/(2*s)", _SHELL, (
        ("S17", "p*r/s", "the formula for a cylinder is used on a sphere", "with p·r/(2·σ)"),
    )),
    ("circular speed", "orbit speed|circular speed|circular|orbit|speed", "escape period radius height dv losses gain "  # noqa: E501
     "transfer exhaust end perigee apogee",
     "m/s", "sqrt(mu/ro)", _ORBIT, (
        ("S49", "sqrt(2*mu/ro)", "the escape speed is worked out", "without the 2"),
        ("S06", "mu/ro", "the root is not taken", "with the root"),
    )),
    ("circular speed", "orbit speed|circular speed|circular|speed", "escape period radius dv losses gain transfer end "  # noqa: E501
     "burnout exhaust", "m/s", "sqrt(mu/(RE+h))", _ORBIT, (
        ("S22", "sqrt(mu/h)", "the height stands where the orbit radius belongs", "with Earth's radius added"),  # noqa: E501
        ("S49", "sqrt(2*mu/(RE+h))", "the escape speed is worked out", "without the 2"),
        ("S22", "sqrt(mu/RE)", "the height is left out of the orbit radius", "with the height added"),
    )),
    ("escape speed", "escape speed|escape", "", "m/s", "sqrt(2*mu/ro)", _ORBIT, (
        ("S49", "sqrt(mu/ro)", "the circular speed is worked out", "with the 2"),
        ("S49", "2*sqrt(mu/ro)", "the 2 stands outside of the root", "under the root"),)),
    ("escape speed", "escape speed|escape", "", "m/s", "sqrt(2*mu/(RE+h))", _ORBIT, (
        ("S49", "sqrt(mu/(RE+h))", "the circular speed is worked out", "with the 2"),
        ("S22", "sqrt(2*mu/h)", "the height stands where the orbit radius belongs", "with Earth's radius added"))),  # noqa: E501
    ("orbit radius", "orbit radius|radius", "tank nozzle throat exit tube ring", "m", "RE+h", _ORBIT, (
        ("S22", "h", "Earth's radius is left out", "with Earth's radius added"),)),
    ("orbit period", "period", "", "s", "2*pi*sqrt(ro^3/mu)", _ORBIT, (
        ("S06", "2*pi*sqrt(ro^2/mu)", "the radius is squared for cubed", "with the cube"),
        ("S19", "sqrt(ro^3/mu)", "2π is left out", "with 2π"),
        ("S19", "pi*sqrt(ro^3/mu)", "the 2 is left out", "with 2π"))),
    ("orbit period", "period", "", "s", "2*pi*sqrt((RE+h)^3/mu)", _ORBIT, (
        ("S22", "2*pi*sqrt(h^3/mu)", "the height stands where the orbit radius belongs", "with Earth's radius added"),  # noqa: E501
        ("S19", "sqrt((RE+h)^3/mu)", "2π is left out", "with 2π"))),
    ("plane change", "plane change|plane|plane dv", "", "m/s", "2*v0*sin(di/2)", _ORBIT, (
        ("S47", "v0*(1-cos(di))", "1 − cos Δi is used", "with 2·v·sin(Δi/2)"),
        ("S47", "v0*di", "the arc is taken for the chord", "with 2·v·sin(Δi/2)"),
        ("S47", "v0*sin(di)", "v·sin(Δi) is used", "with 2·v·sin(Δi/2)"),
        ("S47", "2*v0*sin(di)", "the angle is not halved", "with 2·v·sin(Δi/2)"),
        ("S47", "v0*sin(di/2)", "the 2 is left out", "with 2·v·sin(Δi/2)"),
    )),
    ("transfer between circular orbits", "transfer|dv transfer|transfer total", "time period first second perigee apogee burn",  # noqa: E501
     "m/s", "v1*((2*v1^2/(v1^2+v2^2))^0.5-1)+v2*(1-(2*v2^2/(v1^2+v2^2))^0.5)", _ORBIT, (
        ("S48", "v1-v2", "the two circular speeds are subtracted", "with the two burns of the transfer ellipse"),)),  # noqa: E501
    ("launch azimuth", "azimuth", "sin cos", "1", "asin(cos(i)/cos(phi))", _ORBIT, (
        ("S46", "acos(cos(i)/cos(phi))", "acos is used for asin", "with asin"),
        ("S46", "i", "the inclination is taken as the heading", "with asin(cos i / cos φ)"),
        ("S46", "asin(sin(i)/sin(phi))", "sines stand for cosines", "with cosines"),
        ("S46", "asin(cos(phi)/cos(i))", "the quotient is upside down", "with cos i above"),
        ("S46", "asin(sin(i)/cos(phi))", "sin i stands for cos i", "with cos i"),
        ("S46", "pi/2-asin(cos(i)/cos(phi))", "the heading is counted from east", "counted from north"),
    )),
    ("gain from rotation", "rotation gain|rotation", "orbit", "m/s", "465.1*cos(phi)", _ORBIT, (
        ("S14", "465.1*cos(phi*57.29577951308232)", "the angle is keyed in degrees with the calculator in radians",  # noqa: E501
         "in degrees"),
        ("S45", "465.1*sin(phi)", "the sine is used for the cosine", "with the cosine"),
    )),
    ("fuel share", "fuel|fuel mass", "oxidiser flow volume density tank ratio fraction", "kg", "mt/(1+q)", _BRAEUNIG, (  # noqa: E501
        ("S29", "mt/q", "the total is divided by the mixture ratio itself", "divided by one plus the mixture ratio"),  # noqa: E501
        ("S29", "mt*q/(1+q)", "the share of the oxidiser is taken", "with the fuel's share"),
        ("S29", "mt*q", "the total is multiplied by the mixture ratio", "divided by one plus the mixture ratio"),  # noqa: E501
        ("S29", "mt/(1+1/q)", "the share of the oxidiser is taken", "with the fuel's share"),
    )),
    ("oxidiser share", "oxidiser|oxidiser mass", "fuel flow volume density tank ratio fraction", "kg", "mt*q/(1+q)",  # noqa: E501
     _BRAEUNIG, (
        ("S29", "mt/(1+q)", "the share of the fuel is taken", "with the oxidiser's share"),
        ("S29", "mt-mt/q", "the fuel is taken as total over mixture ratio", "with one plus the mixture ratio below"),  # noqa: E501
        ("S29", "mt*q", "the total is multiplied by the mixture ratio", "with one plus the mixture ratio below"),  # noqa: E501
    )),
    ("fuel from oxidiser", "fuel|fuel mass", "oxidiser flow volume density tank ratio fraction", "kg", "mo/q", _BRAEUNIG, (  # noqa: E501
        ("S29", "mo*q", "the mixture ratio multiplies where it should divide", "with the oxidiser over the mixture ratio"),)),  # noqa: E501
    ("oxidiser from fuel", "oxidiser|oxidiser mass", "fuel flow volume density tank ratio fraction", "kg", "mf*q", _BRAEUNIG, (  # noqa: E501
        ("S29", "mf/q", "the mixture ratio divides where it should multiply", "with the fuel times the mixture ratio"),)),  # noqa: E501
    ("propellant burned", "propellant mass|propellant|used", "residual reserve volume flow fuel oxidiser usable load "  # noqa: E501
     "fraction", "kg", "m0-m1", _BRAEUNIG, (
        ("S56", "m0+m1", "the masses are added", "with the final mass taken off"),)),
    ("escape from a circular orbit", "escape speed|escape", "", "m/s", "vc*2^0.5", _ORBIT, (
        ("S49", "2*vc", "the circular speed is doubled", "times the root of two"),
        ("S49", "1.5*vc", "half is added to the circular speed", "times the root of two"),)),
    ("circumference", "ring length|length ring|circumference", "", "m", "2*pi*Rr", _SOLID, (
        ("S17", "pi*Rr", "the radius is taken for the diameter", "with 2·π·R"),
        ("S17", "4*pi*Rr", "the diameter is taken for the radius", "with 2·π·R"),
        ("S19", "2*Rr", "π is left out", "with π"),)),
    ("circumference", "circumference", "", "m", "pi*d", _SOLID, (
        ("S17", "2*pi*d", "the diameter is taken for the radius", "with π·d"),)),
    ("volume of the oxidiser", "oxidiser volume", "density ratio", "m3", "Vt*(q/ra)/(q/ra+1/rf)", _BRAEUNIG, (
        ("S27", "Vt*q/(1+q)", "the mixture ratio by mass is taken as one by volume", "with each density"),)),
    ("volume of the fuel", "fuel volume", "density ratio", "m3", "Vt*(1/rf)/(q/ra+1/rf)", _BRAEUNIG, (
        ("S27", "Vt/(1+q)", "the mixture ratio by mass is taken as one by volume", "with each density"),
        ("S27", "Vt/q", "the mixture ratio by mass is taken as one by volume", "with each density"),)),
    ("exit diameter", "exit diameter", "", "m", "dt*ep^0.5", _NASA, (
        ("S21", "dt*ep", "the area ratio is taken as a ratio of diameters", "with its root"),)),
    ("exit area", "exit area", "ratio throat", "m2", "At*ep", _NASA, (
        ("S21", "At*ep^0.5", "the root of the area ratio is taken", "with the area ratio itself"),
        ("S21", "At*ep^2", "the area ratio is squared", "with the area ratio itself"))),
    ("thrust-to-weight", "twr", "engine", "1", "F/Wt", _MECH, (
        ("S04", "Wt/F", "the quotient is upside down", "with the thrust above"),)),
    ("mixture ratio", "mixture ratio", "volume", "1", "mo/mf", _BRAEUNIG, (
        ("S29", "mf/mo", "oxidiser and fuel are swapped", "with the oxidiser above"),)),
    ("bulk density", "bulk density|mean density|density propellant|density mixture", "", "kg/m3",
     "(1+q)/(q/ra+1/rf)", _BRAEUNIG, (
        ("S28", "(q*ra+rf)/(1+q)", "the densities are averaged by mass", "with the volumes added"),
        ("S28", "(ra+rf)/2", "the densities are averaged straight", "with the volumes added"),
        ("S27", "(q/ra+1/rf)/(1+q)", "the quotient is upside down", "the right way up"),
    )),
    ("mean specific impulse", "isp mean|isp total", "", "s", "(F1+F2)/(F1/I1+F2/I2)", _BRAEUNIG, (
        ("S25", "(I1+I2)/2", "the impulses are averaged straight", "weighted by flow, ΣF / Σ(F/Isp)"),
        ("S25", "I1+I2", "the impulses are added", "weighted by flow, ΣF / Σ(F/Isp)"),
        ("S25", "(F1*I1+F2*I2)/(F1+F2)", "the impulses are averaged by thrust", "weighted by flow, ΣF / Σ(F/Isp)"),  # noqa: E501
    )),
    ("area ratio", "ratio area|expansion ratio|epsilon|area ratio|expansion", "structural dry", "1", "(de/dt)^2", _NASA, (  # noqa: E501
        ("S21", "de/dt", "the ratio of diameters is not squared", "with the square"),
        ("S04", "(dt/de)^2", "the ratio is upside down", "with the exit above"))),
    ("ring of engines", "ring ratio|ring radius|packing|ring", "volume tank", "1", "1+1/sin(3.141592653589793/n)", _PACK, (  # noqa: E501
        ("S20", "1/sin(3.141592653589793/n)", "the 1 of the engine's own radius is left out", "with the 1"),
        ("S20", "n/3.141592653589793", "the circumference is shared out", "with 1 + 1/sin(π/n)"),
        ("S20", "n^0.5", "areas are compared", "with 1 + 1/sin(π/n)"))),
    ("structural fraction", "dry fraction|structural fraction|epsilon", "expansion area payload", "1", "md/(md+mp)", _UMD, (  # noqa: E501
        ("S34", "md/mp", "dry mass over propellant is taken", "over dry mass and propellant together"),
        ("S34", "mp/(md+mp)", "the propellant fraction is taken", "with the dry mass above"),
    )),
    ("payload fraction", "payload fraction|payload ratio", "", "1", "mpl/m0", _UMD, (
        ("S35", "100*mpl/m0", "the percentage is given as a plain number", "as a fraction"),)),
    ("boil-off", "boiloff", "", "kg", "P*t/H", _MECH, (
        ("S54", "P*t/3600/H", "hours are taken as seconds", "with 3600 s to the hour"),
        ("S54", "P*t/86400/H", "days are taken as seconds", "with 86 400 s to the day"))),
    ("gain from rotation along the heading", "rotation gain|rotation", "orbit", "m/s", "465.1*cos(phi)*sin(az)", _ORBIT, (  # noqa: E501
        ("S46", "465.1*cos(phi)*cos(az)", "the cosine of the heading is used for its sine", "with the sine of the heading"),  # noqa: E501
        ("S45", "465.1*sin(phi)*sin(az)", "the sine of the latitude is used for its cosine", "with the cosine"),)),  # noqa: E501
    ("speed reached", "speed achieved|speed insertion|achieved|speed orbit insertion|speed end|end speed", "exhaust dv", "m/s", "vi-lo", _MECH, (  # noqa: E501
        ("S40", "vi", "the ideal speed is taken as flown", "with the losses taken off"),
        ("S40", "vi-2*lo", "the losses are taken off twice", "with the losses taken off once"),
        ("S40", "vi+lo", "the losses are added", "with the losses taken off"),
    )),
    ("descent speed", "descent speed|descent|parachute speed", "", "m/s", "sqrt(2*m*g/(rho*cd*A))", _MECH, (
        ("S01", "sqrt(m*g/(rho*cd*A))", "the 2 is left out", "with the 2"),
        ("S52", "sqrt(2*m*g/(rho*cd*4*A))", "the canopy diameter is taken for its radius", "with the right one"))),  # noqa: E501
    ("descent speed", "descent speed|descent|parachute speed", "", "m/s", "sqrt(2*m*g/(rho*cd*pi/4*d^2))", _MECH, (  # noqa: E501
        ("S52", "sqrt(2*m*g/(rho*cd*pi*d^2))", "the canopy diameter is taken for its radius", "with π/4·d²"),)),  # noqa: E501
)  # fmt: skip


def _role(letter: str) -> Role:
    ideas, unit, low, high = (piece.strip() for piece in _ROLES[letter].split(";"))
    return Role(letter, _ideas(ideas), unit, float(low), float(high))


@functools.cache
def forms(all_of_them: bool = False) -> tuple[Form, ...]:
    """The relations of the catalogue; `all_of_them` with those of `catalogue_more`."""
    made = []
    for name, ideas, without, unit, formula, source, wrong in (
        *_TABLE,
        *((*TABLE, *rows()) if all_of_them else ()),
    ):
        letters = [letter for letter in names_in(formula) if letter in _ROLES]
        made.append(
            Form(
                name,
                _ideas(ideas),
                frozenset(without.split()),
                unit,
                formula,
                tuple(_role(letter) for letter in letters),
                source,
                tuple(Wrong(*row) for row in wrong),
                True,
            )
        )
    if all_of_them:
        for words, ideas, unit, mark, source, letters in registry.relations():
            roles = tuple(Role(letter, _ideas(its), of, low, high) for letter, its, of, low, high in letters)
            made.append(Form(words, _ideas(ideas), frozenset(), unit, mark, roles, source, (), True))
    return tuple(made)


@functools.cache
def formula_tree(formula: str) -> Node:
    """A formula of the catalogue as a tree whose letters are unknown names."""
    if formula in registry.TREES:
        return registry.TREES[formula]
    from wetmass.working.grammar import PI, Parser, Reading
    from wetmass.working.tokens import tokens

    parser = Parser(tokens(formula), lambda text: PI if text == "pi" else None, Reading())
    return parser.side().tree


@functools.cache
def names_in(formula: str) -> tuple[str, ...]:
    """The letters of a formula in the order they first stand."""
    from wetmass.working.tree import unknowns

    return tuple(dict.fromkeys(unknowns(formula_tree(formula))))
