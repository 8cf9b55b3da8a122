"""More relations of the catalogue: motion, engines, tanks, masses, orbits, air.

Their wrong forms are mostly not listed: `fitting` makes them by putting every slip of form into the
right one.  Same layout as `catalogue._TABLE`.
"""

from __future__ import annotations

ROLES = {
    "vb": ("end speed ; m/s ; 1 ; 12000"),
    "tb": ("burn time ; s ; 0.01 ; 1e5"),
    "hh": ("height|distance|length ; m ; 0.01 ; 1e8"),
    "Vn": ("volume ; m3 ; 0.0001 ; 1e5"),
    "Vu": ("ullage volume|ullage ; m3 ; 0.00001 ; 1e4"),
    "ml": ("mass|load|fuel|oxidiser|propellant ; kg ; 0.001 ; 1e8"),
    "rl": ("density ; kg/m3 ; 30 ; 12000"),
    "wt": ("wall ; m ; 1e-5 ; 0.2"),
    "pc": ("chamber pressure|pressure ; Pa ; 1e5 ; 5e7"),
    "cs": ("cstar ; m/s ; 500 ; 3500"),
    "cf": ("cf ; 1 ; 0.5 ; 2.5"),
    "Fs": ("thrust sl ; N ; 1 ; 2e8"),
    "ax": ("axis|semi-major|orbit radius|radius ; m ; 6.4e6 ; 1e9"),
    "ra1": ("radius ; m ; 6.4e6 ; 1e9"),
    "rb1": ("radius ; m ; 6.4e6 ; 1e9"),
    "qd": ("dynamic pressure ; Pa ; 0.1 ; 1e6"),
    "as": ("sound speed|sound ; m/s ; 150 ; 500"),
    "vx": ("speed|dv ; m/s ; 0.5 ; 40000"),
    "mx": ("mass|start|end|dry|payload|propellant ; kg ; 0.001 ; 1e8"),
    "ch": ("height|length ; m ; 0.01 ; 200"),
    "an": ("acceleration net|acceleration ; m/s2 ; 0.001 ; 500"),
    "te": ("twr ; 1 ; 0.05 ; 300"),
    "x1": ("mean speed ; m/s ; 0.5 ; 20000"),
    "SF": ("tsfc ; s/m ; 1e-6 ; 1e-3"),
    "eff": ("efficiency ; 1 ; 0.01 ; 1"),
    "rs": ("residual|usable ; 1 ; 0.0005 ; 0.2"),
    "hb": ("height ; m ; 8e4 ; 1e9"),
    "hc": ("height ; m ; 8e4 ; 1e9"),
    "lf": ("mass fraction|fraction ; 1 ; 0.001 ; 0.99"),
}

_B = (
    "R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, http://www.braeunig.us/space/propuls.htm"
)
_O = (
    "R. A. Braeunig, Rocket and Space Technology, Orbital Mechanics, http://www.braeunig.us/space/orbmech.htm"
)
_N = 'NASA Glenn Research Center, "Rocket Thrust Equation", http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html'
_S = "solid geometry"
_W = "thin-walled shells, common practice"
_M = "mechanics, common practice"

_HALF = ("the ½ is left out", "with the ½")
_NOT_UP = "stopping coast orbit apogee perigee greatest tank cylinder dome stage"

TABLE: tuple[tuple[str, str, str, str, str, str, tuple[tuple[str, str, str, str], ...]], ...] = (
    # motion
    ("way at steady acceleration", "", "area volume tank cylinder", "m", "0.5*a*t^2", _M, (("S01", "a*t^2", *_HALF),)),  # noqa: E501
    ("way at steady acceleration", "height end|height burnout|height|distance", _NOT_UP + " mean", "m", "0.5*vb*t", _M, (  # noqa: E501
        ("S01", "vb*t", "the speed at the end is taken for the whole way", "with half of it, the mean speed,"),)),  # noqa: E501
    ("way at steady acceleration", "height end|height burnout|height", _NOT_UP + " mean", "m", "0.5*vx*tb", _M, (  # noqa: E501
        ("S01", "vx*tb", "the speed at the end is taken for the whole way", "with half of it, the mean speed,"),)),  # noqa: E501
    ("way from the mean speed", "height|distance", "", "m", "x1*t", _M, ()),
    ("speed at steady acceleration", "speed|end speed", "exhaust dv orbit", "m/s", "a*t", _M, ()),
    ("time at steady acceleration", "time|burn time", "period wall", "s", "sqrt(2*hh/a)", _M, (
        ("S01", "sqrt(hh/a)", "the 2 is left out", "with the 2"),)),
    ("fall or climb speed", "speed", "exhaust dv orbit escape", "m/s", "sqrt(2*a*hh)", _M, (
        ("S01", "sqrt(a*hh)", "the 2 is left out", "with the 2"),)),
    ("speed from height", "speed fall|impact speed|speed impact|speed drop|speed", "exhaust dv orbit escape", "m/s", "sqrt(2*g*hh)", _M, (  # noqa: E501
        ("S01", "sqrt(g*hh)", "the 2 is left out", "with the 2"),)),
    ("stopping distance", "stopping|stopping height|landing height|ignition height|height|distance", "burn time end", "m", "v^2/(2*an)", _M, (  # noqa: E501
        ("S01", "v^2/an", "the half is left out", "with the half"),)),
    ("coasting height", "height|coast|coast height|greatest height|greatest", "orbit", "m", "vx^2/(2*g)", _M, (  # noqa: E501
        ("S01", "vx^2/g", "the half is left out", "with the half"),)),
    ("coasting time", "coast time|time greatest", "", "s", "v/g", _M, ()),
    ("kinetic energy", "", "potential", "kg m2/s2", "0.5*mx*vx^2", _M, (("S01", "mx*vx^2", *_HALF),)),
    ("energy of motion per mass", "energy", "potential", "m2/s2", "0.5*vx^2", _M, (("S01", "vx^2", *_HALF),)),
    ("power of the jet", "power", "heat", "kg m2/s3", "0.5*k*c^2", _M, (("S01", "k*c^2", *_HALF),)),
    ("power of the jet", "power exhaust|power", "heat", "kg m2/s3", "0.5*F*c", _M, (("S01", "F*c", *_HALF),)),
    ("dynamic pressure", "pressure|dynamic", "ambient exit chamber tank", "Pa", "0.5*rho*v^2", _M, (("S01", "rho*v^2", *_HALF),)),  # noqa: E501
    ("braking acceleration", "acceleration net|net stopping|acceleration stopping net", "", "m/s2", "F/m-g", _M, (  # noqa: E501
        ("S24", "F/m+g", "gravity has the wrong sign", "with g taken off"),)),
    ("burnout speed, straight up", "speed", "dv loss ideal exhaust orbit", "m/s", "F*tb/(m0-m1)*ln(m0/m1)-g*tb", _B, (  # noqa: E501
        ("S41", "(F/m0-g)*tb", "the first mass is kept through the whole burn", "with the mass falling as it burns"),  # noqa: E501
        ("S41", "F/m0*tb", "the first mass is kept and the weight left out", "with the rocket equation less g·t"),  # noqa: E501
    )),
    ("burnout speed, straight up", "speed|end speed|burnout speed", "loss ideal exhaust orbit", "m/s", "c*ln(m0/m1)-g*tb", _B, (  # noqa: E501
        ("S45", "c*ln(m0/m1)+g*tb", "the gravity loss is added", "with it taken off"),)),
    ("time of a fall", "time|fall", "period wall burn", "s", "sqrt(2*hh/g)", _M, (
        ("S01", "sqrt(hh/g)", "the 2 is left out", "with the 2"),)),
    ("depth of a fall", "height|distance|fall", "coast orbit", "m", "0.5*g*t^2", _M, (
        ("S01", "g*t^2", *_HALF),)),
    ("gravity at a height", "gravity|gravity acceleration|acceleration", "net loss", "m/s2", "g0*(RE/ro)^2", _O, (  # noqa: E501
        ("S06", "g0*RE/ro", "the ratio of radii is not squared", "with the square"),)),
    ("gravity at a height", "gravity|gravity acceleration|acceleration", "net loss", "m/s2", "g0*(RE/(RE+h))^2", _O, (  # noqa: E501
        ("S06", "g0*RE/(RE+h)", "the ratio of radii is not squared", "with the square"),)),
    ("semi-major axis", "axis|axis transfer|semi-major", "", "m", "RE+(hb+hc)/2", _O, (
        ("S22", "(hb+hc)/2", "Earth's radius is left out", "with Earth's radius added"),)),
    ("usable propellant", "usable|propellant usable", "volume flow", "kg", "ml*(1-rs)", _B, (
        ("S37", "ml*(1+rs)", "the residuals are added", "with them taken off"),)),
    ("descent speed", "descent speed|descent|parachute speed|speed", "exhaust dv orbit", "m/s", "sqrt(2*m*g/(rho*cd*A))", _M, (  # noqa: E501
        ("S01", "sqrt(m*g/(rho*cd*A))", "the 2 is left out", "with the 2"),
        ("S02", "sqrt(2*m/(rho*cd*A))", "g is left out of the weight", "with the weight m·g"))),
    # engines
    ("thrust in vacuum", "thrust vac", "twr ratio", "N", "k*ve+pe*Ae", _N, (
        ("S26", "k*ve-pe*Ae", "the pressure term has the wrong sign", "with pₑ·Aₑ added"),)),
    ("thrust in vacuum", "thrust vac", "twr ratio", "N", "Fs+pa*Ae", _N, (
        ("S26", "Fs-pa*Ae", "the pressure term has the wrong sign", "with pₐ·Aₑ added"),)),
    ("effective exhaust speed", "exhaust speed|exhaust", "", "m/s", "F/k", _B, ()),
    ("effective exhaust speed", "exhaust speed|exhaust", "", "m/s", "ve+(pe-pa)*Ae/k", _N, (
        ("S26", "ve-(pe-pa)*Ae/k", "the pressure term has the wrong sign", "with (pₑ − pₐ)·Aₑ/ṁ added"),)),
    ("flow through the throat", "flow", "volume", "kg/s", "pc*At/cs", _N, (
        ("S04", "pc*cs/At", "the quotient is upside down", "with c* below"),)),
    ("thrust from its coefficient", "thrust", "twr", "N", "cf*pc*At", _N, ()),
    ("thrust coefficient", "thrust fraction|cf", "mass", "1", "F/(pc*At)", _N, ()),
    ("characteristic speed", "cstar|speed", "exhaust orbit dv end", "m/s", "pc*At/k", _N, ()),
    ("throat area", "throat area|area throat", "ratio", "m2", "k*cs/pc", _N, ()),
    ("throat area", "throat area|area throat|area", "ratio exit", "m2", "F/(cf*pc)", _N, ()),
    ("area ratio", "ratio area|expansion ratio|epsilon|area ratio|expansion", "structural dry", "1", "Ae/At", _N, (  # noqa: E501
        ("S04", "At/Ae", "the ratio is upside down", "with the exit above"),
        ("S21", "(Ae/At)^0.5", "the root is taken", "without the root"))),
    ("diameter of a circle", "diameter", "ratio sphere volume", "m", "sqrt(4*A/pi)", _S, (
        ("S17", "sqrt(A/pi)", "the radius is taken for the diameter", "with √(4·A/π)"),
        ("S17", "2*sqrt(4*A/pi)", "the diameter is doubled again", "with √(4·A/π)"))),
    ("radius of a circle", "radius", "ratio sphere volume orbit", "m", "sqrt(A/pi)", _S, (
        ("S17", "sqrt(4*A/pi)", "the diameter is taken for the radius", "with √(A/π)"),)),
    ("burn time", "burn time|burn|time", "loss speed height mass propellant flow used coast", "s", "mx*I*g0/F", _B, (  # noqa: E501
        ("S02", "mx*I/F", "g₀ is left out", "with g₀"),)),
    ("burn time", "burn time|burn|time", "loss speed height mass propellant flow used coast", "s", "mx*c/F", _B, ()),  # noqa: E501
    ("propellant burned", "propellant mass|propellant|used|fuel", "volume flow ratio", "kg", "k*t", _B, (
        ("S01", "0.5*k*t", "a half is put in", "without it"),)),
    ("total impulse", "impulse total|impulse", "", "kg m/s", "F*t", _B, ()),
    ("total impulse", "impulse total|impulse", "", "kg m/s", "mp*I*g0", _B, (("S02", "mp*I", "g₀ is left out", "with g₀"),)),  # noqa: E501
    ("thrust-to-weight of an engine", "twr engine|twr", "", "1", "F/(m*g0)", _M, (("S02", "F/m", "g₀ is left out", "with g₀"),)),  # noqa: E501
    ("mass of an engine", "mass engine|mass", "propellant", "kg", "F/(te*g0)", _M, (("S02", "F/te", "g₀ is left out", "with g₀"),)),  # noqa: E501
    ("fuel flow of a jet", "flow", "", "kg/s", "F*SF", _M, ()),
    # tanks
    ("one hemispherical dome", "dome each|dome volume each", "total", "m3", "2/3*pi*r^3", _S, (
        ("S18", "4/3*pi*r^3", "both domes are counted", "with one half sphere"),
        ("S17", "2/3*pi*(2*r)^3", "the diameter is taken for the radius", "with the radius"))),
    ("cylinder with round ends", "volume tank|volume", "ring sphere frustum cone dome each", "m3", "pi*r^2*L+4/3*pi*r^3", _S, (  # noqa: E501
        ("S18", "pi*r^2*L+2/3*pi*r^3", "only one of the two domes is counted", "with both"),
        ("S18", "pi*r^2*L+8/3*pi*r^3", "the domes are counted twice", "with two half spheres"),
        ("S18", "pi*r^2*L+2*pi*r^3", "the domes are taken as full cylinder ends", "with two half spheres"),
        ("S18", "pi*r^2*L+pi*r^3", "the 4/3 is left out", "with 4/3"),
        ("S17", "pi*(2*r)^2*L+4/3*pi*r^3", "the diameter is taken for the radius", "with the radius"),
        ("S17", "pi*(2*r)^2*L+4/3*pi*(2*r)^3", "the diameter is taken for the radius", "with the radius"))),
    ("length of a cylinder", "length|length cylinder|cylinder|height tank|height cylinder|tank", "total wall", "m", "Vn/(pi*r^2)", _S, (  # noqa: E501
        ("S17", "Vn/(4*pi*r^2)", "the diameter is taken for the radius", "with the radius"),
        ("S17", "4*Vn/(pi*r^2)", "the radius is taken for the diameter", "with π·r²"),
        ("S19", "Vn/r^2", "π is left out", "with π"),
        ("S19", "Vn/(2*pi*r)", "the circumference divides", "with π·r² below"))),
    ("diameter of a sphere", "diameter sphere|sphere diameter|diameter", "throat exit", "m", "cbrt(6*Vn/pi)", _S, (  # noqa: E501
        ("S17", "cbrt(3*Vn/(4*pi))", "the radius is taken for the diameter", "with ∛(6·V/π)"),)),
    ("radius of a sphere", "radius sphere|sphere radius|radius", "throat exit orbit", "m", "cbrt(3*Vn/(4*pi))", _S, (  # noqa: E501
        ("S17", "cbrt(6*Vn/pi)", "the diameter is taken for the radius", "with ∛(3·V/4π)"),
        ("S19", "cbrt(3*Vn/pi)", "the 4 is left out", "with ∛(3·V/4π)"),
        ("S06", "sqrt(3*Vn/(4*pi))", "the square root is taken for the cube root", "with the cube root"))),
    ("surface of a sphere", "sphere area|sphere surface|surface sphere", "", "m2", "4*pi*r^2", _S, (
        ("S17", "16*pi*r^2", "the diameter is taken for the radius", "with the radius"),
        ("S19", "pi*r^2", "the circle is taken for the surface", "with 4·π·r²"))),
    ("side of a cylinder", "mantle|mantle area|wall area|side area|skin area|surface area|area cylinder|surface", "sphere dome cross throat exit", "m2", "2*pi*r*L", _S, (  # noqa: E501
        ("S17", "pi*r*L", "the radius is taken for the diameter", "with 2·π·r·L"),
        ("S17", "4*pi*r*L", "the diameter is taken for the radius", "with 2·π·r·L"),
        ("S19", "pi*r^2*L", "the volume is taken for the side", "with 2·π·r·L"))),
    ("volume of a liquid", "volume", "mixture", "m3", "ml/rl", _S, (
        ("S04", "rl/ml", "the quotient is upside down", "with the mass above"),
        ("S04", "ml*rl", "the density multiplies where it should divide", "with the mass over the density"))),
    ("mass of a liquid", "mass|load|fuel|oxidiser|propellant", "flow ratio volume fraction", "kg", "Vn*rl", _S, (  # noqa: E501
        ("S04", "Vn/rl", "the density divides where it should multiply", "with volume times density"),)),
    ("volume with its ullage", "volume tank|tank|volume total", "dome cylinder", "m3", "Vn+Vu", _S, (
        ("S37", "Vn-Vu", "the ullage is taken off", "with the ullage added"),)),
    ("hoop stress", "stress|hoop", "", "Pa", "p*r/wt", _W, (
        ("S17", "2*p*r/wt", "the diameter is taken for the radius", "with the radius"),
        ("S17", "p*r/(2*wt)", "the stress of a sphere is taken", "with p·r/t"))),
    # masses
    ("mass at burnout", "end mass|end", "fraction ratio speed height propellant", "kg", "m0-mp", _B, (
        ("S56", "m0+mp", "the propellant is added", "with it taken off"),)),
    ("mass at ignition", "start mass|start", "fraction ratio speed height propellant", "kg", "m1+mp", _B, ()),
    ("propellant from the mass ratio", "propellant mass|propellant|used|fuel", "fraction flow volume residual reserve", "kg", "mx*(R-1)", _B, (  # noqa: E501
        ("S31", "mx*R", "the start mass is taken for the propellant", "with the final mass taken off"),
        ("S04", "mx/R", "the mass ratio divides", "with R − 1"),
        ("S04", "mx*(1-1/R)", "the share of the start mass is taken of the final mass", "with R − 1"))),
    ("propellant from the mass ratio", "propellant mass|propellant|used|fuel", "fraction flow volume residual reserve", "kg", "m0*(1-1/R)", _B, (  # noqa: E501
        ("S31", "m0/R", "the final mass is taken for the propellant", "with it taken off"),
        ("S04", "m0*(R-1)", "the start mass is multiplied by R − 1", "with 1 − 1/R"))),
    ("propellant for a speed gain", "propellant mass|propellant|used|fuel", "residual reserve volume flow fraction", "kg", "mx*(exp(dv/c)-1)", _B, (  # noqa: E501
        ("S31", "mx*exp(dv/c)", "the start mass is taken for the propellant", "with the final mass taken off"),)),  # noqa: E501
    ("propellant for a speed gain", "propellant mass|propellant|used|fuel", "residual reserve volume flow fraction", "kg", "m0*(1-exp(-dv/c))", _B, (  # noqa: E501
        ("S31", "m0*exp(-dv/c)", "the final mass is taken for the propellant", "with it taken off"),)),
    ("share of propellant", "propellant fraction|propellant mass fraction|fraction propellant", "payload dry structural", "1", "1-exp(-dv/c)", _B, (  # noqa: E501
        ("S31", "exp(-dv/c)", "the share of the final mass is taken", "with one less it"),
        ("S04", "exp(dv/c)-1", "the sign of the exponent is turned", "with e to the minus Δv/c"))),
    ("share of propellant", "propellant fraction|propellant mass fraction|fraction propellant", "payload dry structural", "1", "1-1/R", _B, (  # noqa: E501
        ("S31", "1/R", "the share of the final mass is taken", "with one less it"),
        ("S05", "R-1", "propellant over final mass is taken", "with 1 − 1/R"))),
    ("share of propellant", "propellant fraction|propellant mass fraction|fraction propellant", "payload dry structural", "1", "mp/m0", _B, (  # noqa: E501
        ("S04", "m0/mp", "the quotient is upside down", "with the propellant above"),)),
    ("final mass", "end mass|end", "fraction", "kg", "m0/R", _B, (("S04", "m0*R", "the mass ratio multiplies", "with m₀/R"),)),  # noqa: E501
    ("mean mass", "mean mass", "flow", "kg", "(m0+m1)/2", _M, ()),
    ("mean acceleration", "mean acceleration", "net drag", "m/s2", "F/((m0+m1)/2)", _M, (
        ("S41", "F/m0", "the first mass is taken for the whole burn", "with the mean mass"),
        ("S41", "F/m1", "the last mass is taken for the whole burn", "with the mean mass"))),
    ("mixture by volume", "volume ratio|mixture volume", "", "1", "q*rf/ra", _B, (
        ("S27", "q*ra/rf", "the densities are swapped", "with the fuel's density above"),)),
    ("flow of the fuel", "fuel flow", "oxidiser tsfc", "kg/s", "k/(1+q)", _B, (
        ("S29", "k/q", "the flow is divided by the mixture ratio itself", "divided by one plus the mixture ratio"),  # noqa: E501
        ("S29", "k*q/(1+q)", "the share of the oxidiser is taken", "with the fuel's share"))),
    ("flow of the oxidiser", "oxidiser flow", "fuel", "kg/s", "k*q/(1+q)", _B, (
        ("S29", "k/(1+q)", "the share of the fuel is taken", "with the oxidiser's share"),
        ("S29", "k/q", "the flow is divided by the mixture ratio", "with q/(1 + q)"),
        ("S29", "k*q", "the flow is multiplied by the mixture ratio", "with one plus the mixture ratio below"))),  # noqa: E501
    # orbits
    ("transfer time", "transfer time", "", "s", "pi*sqrt(ax^3/mu)", _O, (
        ("S01", "2*pi*sqrt(ax^3/mu)", "the whole period is taken", "with half of it"),
        ("S06", "pi*sqrt(ax^2/mu)", "the axis is squared for cubed", "with the cube"))),
    ("semi-major axis", "axis|axis transfer|semi-major", "", "m", "(ra1+rb1)/2", _O, (
        ("S01", "ra1+rb1", "the half is left out", "with the half"),)),
    ("speed on an ellipse", "speed perigee|speed apogee|perigee speed|apogee speed|transfer speed|speed", "exhaust burnout dv", "m/s", "sqrt(mu*(2/ro-1/ax))", _O, (  # noqa: E501
        ("S06", "sqrt(mu*(1/ro-1/ax))", "the 2 is left out", "with 2/r"),
        ("S06", "sqrt(mu*(2/ro+1/ax))", "the sign is turned", "with 1/a taken off"),
        ("S49", "sqrt(2*mu*(2/ro-1/ax))", "a 2 too many stands under the root", "without it"))),
    ("gravity at a height", "gravity|gravity acceleration|acceleration", "net loss", "m/s2", "mu/ro^2", _O, (
        ("S06", "mu/ro", "the radius is not squared", "with the square"),)),
    ("orbit period", "period", "", "s", "2*pi*sqrt(ax^3/mu)", _O, (
        ("S06", "2*pi*sqrt(ax^2/mu)", "the radius is squared for cubed", "with the cube"),
        ("S01", "pi*sqrt(ax^3/mu)", "half the period is taken", "with 2π"))),
    ("orbit period", "period", "", "s", "2*pi*ro/vc", _O, (
        ("S01", "pi*ro/vc", "the 2 is left out", "with 2π"),)),
    # air
    ("drag", "drag", "loss", "N", "qd*cd*A", _M, ()),
    ("drag", "drag", "loss", "N", "0.5*rho*v^2*cd*A", _M, (("S01", "rho*v^2*cd*A", *_HALF),)),
    ("Mach number", "mach", "", "1", "v/as", _M, (("S04", "as/v", "the quotient is upside down", "with the speed above"),)),  # noqa: E501
    ("ballistic coefficient", "ballistic|ballistic fraction", "", "kg/m2", "mx/(cd*A)", _M, ()),
)  # fmt: skip
