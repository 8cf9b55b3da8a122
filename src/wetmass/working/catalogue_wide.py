"""Relations without listed wrong forms: `fitting` makes those by putting every slip of form into the right one.  # noqa: E501

One relation a line: name ; ideas in the name of the line (options by |) ; ideas that say it is another
quantity ; unit ; formula ; source.  A relation without ideas is known by its numbers and unit alone.
"""

from __future__ import annotations

WIDE_ROLES = {
    "gam": "gamma ; 1 ; 1.05 ; 1.7",
    "Rg": "gas radius|gas ; m2/s2 K ; 50 ; 5000",
    "Tc": "chamber temperature|temperature ; K ; 150 ; 6000",
    "Mm": "molar|molar mass|molecular ; kg/mol ; 0.001 ; 0.1",
    "Ru": "universal|gas ; kg m2/s2 mol K ; 8.3 ; 8.4",
    "xt": "term|pressure term ; 1 ; 0.001 ; 0.99",
    "dp": "pressure rise|pump pressure|pressure head|pressure ; Pa ; 1e4 ; 1e8",
    "Eg": "energy|chemical energy ; kg m2/s2 ; 1 ; 1e16",
    "C3": "c3 ; m2/s2 ; 1 ; 2e8",
    "vs": "escape speed|speed ; m/s ; 100 ; 60000",
    "th": "angle|gimbal|pitch|elevation|deflection|slope ; 1 ; 0.0001 ; 1.6",
    "LD": "glideratio|lift drag|lift ; 1 ; 0.3 ; 60",
    "om": "rotation|angular|omega ; 1/s ; 1e-6 ; 100",
    "Tp": "period|time ; s ; 100 ; 1e8",
    "u": "ullage ; 1 ; 0.001 ; 0.4",
    "gr": "growth|margin|allowance ; 1 ; 0.001 ; 0.8",
    "sf": "safety|proof|burst ; 1 ; 1.01 ; 5",
    "te2": "twr ; 1 ; 0.05 ; 300",
    "Wf": "flux|heat flux ; kg/s3 ; 0.01 ; 1e9",
    "cp": "heat capacity|specific heat|capacity ; m2/s2 K ; 100 ; 20000",
    "dT": "temperature rise|temperature difference|temperature ; K ; 0.1 ; 5000",
    "It": "impulse total|impulse ; kg m/s ; 0.1 ; 1e12",
    "Cy": "acceleration|load ; m/s2 ; 0.01 ; 2000",
    "En": "efficiency ; 1 ; 0.01 ; 1",
    "hd": "dome height|height dome|height ; m ; 0.01 ; 30",
    "Ri": "inner radius|radius ; m ; 0.01 ; 30",
    "rt1": "radius orbit start|radius perigee|radius|orbit radius ; m ; 1.5e6 ; 1e9",
    "rt2": "radius orbit end|radius apogee|radius|orbit radius ; m ; 1.5e6 ; 1e9",
    "dd": "engine diameter|spacing|pitch|diameter ; m ; 0.02 ; 10",
    "Qv": "volume flow|flow volume ; m3/s ; 1e-7 ; 100",
    "TS": "tsfc|flow ratio ; s/m ; 1e-7 ; 1e-2",
    "cda": "drag area ; m2 ; 0.001 ; 1e5",
    "muo": "mu ; m3/s2 ; 1e9 ; 2e14",
    "rm": "orbit radius|radius ; m ; 1.6e6 ; 1e8",
    "azn": "azimuth ; rad ; 0 ; 6.3",
    "hr": "range|hop|hop distance ; m ; 1 ; 1e7",
    "rad": "radius ; m ; 1e6 ; 1e9",
    "Ee": "energy specific|energy|heat ; m2/s2 ; 1000 ; 2e8",
}  # fmt: skip

_MECHANICS = "mechanics, common practice"
_ROCKET = (
    "R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, http://www.braeunig.us/space/propuls.htm"
)
_ORBITS = (
    "R. A. Braeunig, Rocket and Space Technology, Orbital Mechanics, http://www.braeunig.us/space/orbmech.htm"
)
_NASA = 'NASA Glenn Research Center, "Rocket Thrust Equation", http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html'
_SHAPES = "solid geometry"
_SHELLS = "thin-walled shells, common practice"
_AIR = "aerodynamics, common practice"
_HEAT = "heat balance, common practice"

_TABLES = {
    _MECHANICS: """
burnout speed, straight up ; end speed|speed end|speed burnout|speed ; exhaust dv orbit loss ideal ; m/s ; vi-g*tb  # noqa: E501
speed after a steady push ; end speed|speed ; exhaust dv orbit loss ideal ; m/s ; v+a*t
speed at steady net acceleration ; speed|end speed ; exhaust dv orbit ; m/s ; an*t
time of rise ; time rise|time coast|rise time|time greatest|time ; burn period orbit transfer flight fall ; s ; v/g  # noqa: E501
time of flight ; time flight|flight time|time hop ; burn period ; s ; 2*v/g
time of flight at an angle ; time flight|flight time|time hop|time ; burn period ; s ; 2*v*sin(th)/g
time of braking ; time landing|time stopping|time burn landing|time ; period fall ; s ; v/an
range of a throw ; range|hop|hop distance|distance hop ; ; m ; vx^2/g
range of a throw at an angle ; range|hop|distance ; ; m ; vx^2*sin(2*th)/g
speed for a throw ; speed ; exhaust dv orbit ; m/s ; sqrt(hr*g)
height of a throw ; height|greatest height|greatest ; ; m ; (vx*sin(th))^2/(2*g)
vertical part of a speed ; vertical speed|speed up|up|v_up|climb speed ; exhaust ; m/s ; vx*sin(th)
level part of a speed ; horizontal speed|speed downrange|horizontal|downrange ; exhaust ; m/s ; vx*cos(th)
way at steady acceleration ; height|distance ; greatest orbit stopping coast tank ; m ; 0.5*an*t^2
potential energy ; energy potential|potential|energy height ; ; kg m2/s2 ; mx*g*hh
centripetal acceleration ; acceleration centripetal|centripetal|acceleration ; net ; m/s2 ; vx^2/ro
height of a coast ; ; radius range hop orbit ; m ; vx^2/(2*g)
turn radius ; radius|turn ; ; m ; vx^2/a
dynamic pressure ; ; chamber exit ; Pa ; 0.5*rho*v^2
time of a fall ; ; period ; s ; sqrt(2*hh/g)
cylinder ; ; ; m3 ; pi/4*d^2*L
cylinder ; ; ; m3 ; pi*r^2*L
weight ; weight ; twr flow ; N ; mx*g
thrust for a ratio to weight ; thrust|thrust needed ; engine flow loss each ; N ; te2*mx*g
hover thrust ; thrust hover|hover|thrust needed ; fuel ; N ; mx*g
net force ; net thrust|net ; ; N ; F-mx*g
mean acceleration ; acceleration mean|mean acceleration ; ; m/s2 ; dv/tb
felt acceleration ; acceleration felt|felt|acceleration end|acceleration start|acceleration ; net gravity mean ; m/s2 ; F/mx  # noqa: E501
net acceleration ; acceleration net|acceleration start|acceleration liftoff|net|upward acceleration ; felt ; m/s2 ; F/mx-g  # noqa: E501
momentum ; momentum ; ; kg m/s ; mx*vx
""",
    _ROCKET: """
rocket equation ; ; ; m/s ; I*g0*ln(m0/m1)
rocket equation ; ; ; m/s ; c*ln(m0/m1)
mass flow ; ; ; kg/s ; F/(I*g0)
thrust ; ; ; N ; k*I*g0
specific impulse ; ; ; s ; F/(k*g0)
propellant for a push ; propellant|propellant mass|fuel|used ; volume flow ratio fraction ; kg ; F*t/c
propellant for a push ; propellant|propellant mass|fuel|used ; volume flow ratio fraction ; kg ; F*t/(I*g0)
propellant of an impulse ; propellant|propellant mass|fuel|used ; volume flow ratio fraction ; kg ; It/(I*g0)
burn time from impulse ; burn time|time burn|time ; ; s ; It/F
mean thrust ; thrust mean|mean thrust|thrust ; twr ; N ; It/tb
specific impulse from total impulse ; isp ; ; s ; It/(mp*g0)
exhaust speed from total impulse ; exhaust speed ; ; m/s ; It/mp
start mass from the mass ratio ; start mass|start ; fraction propellant ; kg ; mx*R
dry mass from a structural fraction ; dry|dry mass ; fraction ; kg ; lf*mp/(1-lf)
mass of several ; total mass|mass total|mass all ; ; kg ; n*mx
flow of all engines ; flow total|flow all|flow ; each one fuel oxidiser ; kg/s ; n*k
flow from a load ; flow ; volume ; kg/s ; mp/tb
fuel burned by all ; fuel|propellant|used|fuel hover ; flow ; kg ; n*k*t
usable propellant ; usable|usable propellant|propellant usable ; ; kg ; mt*(1-rs)
residual propellant ; residual|residual propellant ; ; kg ; mt*rs
grown mass ; mass|dry|dry mass|predicted ; propellant fuel oxidiser ; kg ; mx*(1+gr)
propellant from flow and time ; propellant|used ; flow volume ; kg ; k*tb
mixture ratio of two flows ; mixture ratio|mixture ; volume ; 1 ; k/mf
""",
    _NASA: """
ideal exhaust speed ; exhaust speed|exhaust|speed ; sound orbit ; m/s ; sqrt(2*gam/(gam-1)*Rg*Tc*(1-xt))
ideal exhaust speed ; exhaust speed|exhaust|speed ; sound orbit ; m/s ; sqrt(2*gam/(gam-1)*Rg*Tc*(1-(pe/pc)^((gam-1)/gam)))  # noqa: E501
ideal exhaust speed ; exhaust speed|exhaust|speed ; sound orbit ; m/s ; sqrt(2*gam/(gam-1)*Ru*Tc/Mm*(1-(pe/pc)^((gam-1)/gam)))  # noqa: E501
limit of the exhaust speed ; exhaust speed|greatest exhaust|limit ; sound ; m/s ; sqrt(2*gam/(gam-1)*Rg*Tc)
speed of sound ; sound|sound speed ; mach ; m/s ; sqrt(gam*Rg*Tc)
temperature in the throat ; throat temperature|temperature throat ; ; K ; 2*Tc/(gam+1)
pressure in the throat ; throat pressure|pressure throat ; ; Pa ; pc*(2/(gam+1))^(gam/(gam-1))
specific gas constant ; gas radius|gas ; ; m2/s2 K ; Ru/Mm
specific impulse from c* ; isp ; ; s ; cf*cs/g0
exhaust speed from c* ; exhaust speed|exhaust ; ; m/s ; cf*cs
pump power ; power pump|pump power|power|pump ; exhaust heat ; kg m2/s3 ; k*dp/(rl*eff)
pump power ; power pump|pump power|power|pump ; exhaust heat ; kg m2/s3 ; k*dp/rl
pump power ; power pump|pump power|power|pump ; exhaust heat ; kg m2/s3 ; Qv*dp/eff
side force of a swung engine ; side thrust|thrust side|lateral thrust|gimbal thrust|gimbal|side ; axial ; N ; F*sin(th)  # noqa: E501
axial force of a swung engine ; axial thrust|thrust axial|cosine ; side ; N ; F*cos(th)
exit area from two thrusts ; exit area ; ratio ; m2 ; (Fv-Fs)/pa
throat area from the exit ; throat area|area throat ; ; m2 ; Ae/ep
throat diameter ; throat diameter|diameter throat ; ; m ; de/ep^0.5
thrust needed for an orbit raising by electric power ; power ; pump heat ; kg m2/s3 ; F*c/(2*En)
electric thrust ; thrust ; ; N ; 2*En*P/c
specific impulse in vacuum ; isp vac ; ; s ; Fv/(k*g0)
""",
    _SHAPES: """
length of a cylinder ; length|length cylinder|cylinder|height tank|height cylinder|height|tank ; total wall orbit ; m ; 4*Vn/(pi*d^2)  # noqa: E501
length of a cylinder ; length|length cylinder|cylinder|height tank|height cylinder|height|tank ; total wall orbit ; m ; Vn/A  # noqa: E501
length of a cylinder with round ends ; length|length cylinder ; wall ; m ; (Vn-4/3*pi*r^3)/(pi*r^2)
volume of a prism ; volume|volume tank|volume cylinder ; dome sphere total cone ; m3 ; A*L
surface of a sphere ; sphere area|sphere surface|surface sphere ; ; m2 ; pi*d^2
side of a cylinder ; mantle|wall area|side area|skin area|surface area|area cylinder|surface|side|area ; sphere dome cross throat exit frontal reference canopy base ; m2 ; pi*d*L  # noqa: E501
side of a cylinder ; mantle|wall area|side area|skin area|surface area|area cylinder|surface|side ; sphere dome cross throat exit frontal reference canopy base ; m2 ; 2*pi*r*L  # noqa: E501
one half sphere, surface ; dome area|dome surface ; total ; m2 ; 2*pi*r^2
overall length with round ends ; length total|total length|overall length|length tank|length overall|length mean ; ; m ; L+2*r  # noqa: E501
overall length with round ends ; length total|total length|overall length|length tank|length overall|length mean ; ; m ; L+d  # noqa: E501
ellipsoidal dome ; dome|dome volume|ellipsoidal ; total ; m3 ; 2/3*pi*r^2*hd
two ellipsoidal domes ; dome|dome volume|ellipsoidal ; each one ; m3 ; 4/3*pi*r^2*hd
cone ; cone|cone volume|volume cone ; ; m3 ; pi*r^2*L/3
cone from its diameter ; cone|cone volume|volume cone ; ; m3 ; pi*d^2*L/12
annulus ; annulus volume|annular volume|volume annulus ; ; m3 ; pi*(Rr^2-rr^2)*L
annulus area ; annulus area|annulus|annular ; volume ; m2 ; pi*(Rr^2-rr^2)
ring from diameters ; ring volume ; ; m3 ; pi^2/4*Rr*d^2
surface of a ring ; ring area|ring surface ; ; m2 ; 4*pi^2*Rr*rr
pitch circle of a ring of engines ; pitch radius|ring radius|pitch|circle radius|radius ; tank nozzle orbit ; m ; dd/(2*sin(pi/n))  # noqa: E501
exit area of a cluster ; area total|total area|exit area total|exit area all|area ; ratio ; m2 ; n*pi/4*d^2
total volume ; volume total|total volume|volume ; ; m3 ; n*Vn
liquid in a tank with ullage ; liquid volume|liquid|usable volume|propellant volume|volume propellant ; tank ; m3 ; Vn*(1-u)  # noqa: E501
volume of a tank with its ullage ; tank volume|volume tank|volume total|ullage volume|volume ; ; m3 ; Vn*(1+u)
volume of a tank with its ullage ; tank volume|volume tank|volume total|ullage volume|volume ; ; m3 ; Vn/(1-u)
liquid in a tank with ullage ; propellant|fuel|oxidiser|mass|load ; ; kg ; Vn*(1-u)*rl
""",
    _SHELLS: """
wall under pressure, sphere ; wall sphere|wall dome|sphere wall ; mass ; m ; p*d/(4*s)
hoop stress ; stress hoop|hoop|stress ; longitudinal axial ; Pa ; p*d/(2*wt)
lengthwise stress ; longitudinal stress|stress longitudinal|axial stress|stress axial|stress length ; hoop ; Pa ; p*d/(4*wt)  # noqa: E501
lengthwise stress ; longitudinal stress|stress longitudinal|axial stress|stress axial|stress length ; hoop ; Pa ; p*r/(2*wt)  # noqa: E501
stress in a sphere ; sphere stress|stress sphere ; ; Pa ; p*d/(4*wt)
mass of a shell ; mass|wall mass|mass wall|dry|mass tank|tank mass|shell|skin mass ; ratio ; kg ; A*wt*rl
mass of a barrel ; mass|wall mass|mass wall|dry|mass tank|tank mass|shell|skin mass ; ratio ; kg ; pi*d*L*wt*rl  # noqa: E501
mass of a barrel ; mass|wall mass|mass wall|dry|mass tank|tank mass|shell|skin mass ; ratio ; kg ; 2*pi*r*L*wt*rl  # noqa: E501
force on a bulkhead ; thrust|bulkhead|dome thrust ; twr side ; N ; p*pi*r^2
force on a bulkhead ; thrust|bulkhead|dome thrust ; twr side ; N ; p*pi/4*d^2
force of a pressure ; thrust|bulkhead|dome thrust|ullage ; twr side drag ; N ; p*A
pressure of a force ; pressure|bearing ; chamber dynamic ; Pa ; F/A
head of a liquid ; pressure|head|pressure head|static ; dynamic chamber exit ambient ; Pa ; rl*g*hh
head of a liquid under acceleration ; pressure|head|pressure head|static ; dynamic chamber exit ambient ; Pa ; rl*Cy*hh  # noqa: E501
proof or burst pressure ; pressure proof|pressure burst|proof|burst|pressure design|design pressure ; ; Pa ; p*sf  # noqa: E501
stress allowed ; stress|allowable stress ; hoop ; Pa ; s/sf
gas in a tank ; mass|gas|helium|pressurant ; ; kg ; p*Vn/(Rg*Tc)
stored energy ; energy ; ; kg m2/s2 ; p*Vn
""",
    _ORBITS: """
energy of an orbit ; energy|specific energy|orbit energy ; kinetic potential chemical ; m2/s2 ; mu/(2*ax)
speed with an energy left over ; speed|hyperbolic|departure ; ; m/s ; sqrt(vs^2+C3)
speed far away ; speed|infinity ; ; m/s ; sqrt(C3)
energy left over ; c3 ; ; m2/s2 ; vx^2-2*mu/ro
circular speed round another world ; orbit speed|circular speed|speed ; escape ; m/s ; sqrt(muo/rm)
escape speed from another world ; escape speed|escape|speed ; ; m/s ; sqrt(2*muo/rm)
angular rate ; angular|rate angular|speed angular ; ; 1/s ; 2*pi/Tp
first burn of a transfer ; first|burn|dv|dv first|dv transfer|transfer ; total second time ; m/s ; vc*(sqrt(2*rt2/(rt1+rt2))-1)  # noqa: E501
second burn of a transfer ; second|burn|dv|dv second|dv transfer|transfer ; total first time ; m/s ; vc*(1-sqrt(2*rt1/(rt1+rt2)))  # noqa: E501
first burn of a transfer ; first|burn|dv|dv first|dv transfer|transfer ; total second time ; m/s ; sqrt(mu/rt1)*(sqrt(2*rt2/(rt1+rt2))-1)  # noqa: E501
second burn of a transfer ; second|burn|dv|dv second|dv transfer|transfer ; total first time ; m/s ; sqrt(mu/rt2)*(1-sqrt(2*rt1/(rt1+rt2)))  # noqa: E501
transfer time ; transfer time|time transfer ; ; s ; pi*sqrt(((rt1+rt2)/2)^3/mu)
lowering one end of an orbit ; deorbit|lowering|dv deorbit ; ; m/s ; vc*(1-sqrt(2*rt1/(rt1+rt2)))
plane change ; plane change|plane|plane dv|change plane ; ; m/s ; 2*vc*sin(di/2)
combined change of speed and plane ; plane|combined|dv ; ; m/s ; sqrt(v1^2+v2^2-2*v1*v2*cos(di))
inclination of a heading ; inclination ; ; 1 ; acos(cos(phi)*sin(az))
speed of the ground ; rotation|rotation gain|speed rotation|site speed|speed site|speed earth ; orbit ; m/s ; om*RE*cos(phi)  # noqa: E501
speed of the ground ; rotation|rotation gain|speed rotation|site speed|speed site|speed earth ; orbit ; m/s ; 465.1*cos(phi)  # noqa: E501
gain along the heading ; along azimuth|rotation gain|gain azimuth|azimuth ; ; m/s ; w*sin(azn)
axis of a transfer ; axis|semi-major ; ; m ; (rt1+rt2)/2
gravity at a height ; gravity acceleration|gravity|acceleration ; net ; m/s2 ; mu/ro^2
""",
    _AIR: """
drag ; drag ; loss area ; N ; 0.5*rho*v^2*cda
drag ; drag ; loss ; N ; 0.5*rho*v^2*cd*pi/4*d^2
lift ; lift ; ; N ; qd*cd*A
falling speed ; descent speed|descent|speed fall|speed terminal|speed ; exhaust orbit dv ; m/s ; sqrt(2*Wt/(rho*cd*A))  # noqa: E501
falling speed ; descent speed|descent|speed fall|speed terminal|speed ; exhaust orbit dv ; m/s ; sqrt(2*m*g/(rho*cda))  # noqa: E501
canopy for a falling speed ; canopy area|area|canopy|parachute area ; ; m2 ; 2*m*g/(rho*cd*v^2)
thrust in cruise ; thrust cruise|cruise thrust|drag cruise|drag ; ; N ; Wt/LD
thrust in cruise ; thrust cruise|cruise thrust|drag cruise|drag ; ; N ; m*g/LD
reach of a glide ; glide|range|distance|reach ; ; m ; LD*hh
range of a cruise ; range|cruise range|cruise ; fuel ; m ; v*LD/(TS*g)*ln(m0/m1)
heat flux of thin air ; heat|flux|heating ; ; kg/s3 ; 0.5*rho*v^3
air density ; density ; ; kg/m3 ; p/(Rg*Tc)
hover margin ; margin|hover|margin hover ; ; 1 ; n*F/Wt
ballistic coefficient ; ballistic|ballistic fraction ; ; kg/m2 ; m/(cd*A)
ballistic coefficient ; ballistic|ballistic fraction ; ; kg/m2 ; m/(cd*pi/4*d^2)
air flow ; flow air|air ; ; kg/s ; rho*A*v
opening force ; thrust|opening|shock ; ; N ; 0.5*rho*v^2*cd*A
""",
    _HEAT: """
boil-off rate ; boiloff|boiloff flow ; ; kg/s ; P/H
boil-off of an area ; boiloff|boiloff flow ; ; kg/s ; Wf*A/H
heat through an area ; heat|power|leak ; flux ; kg m2/s3 ; Wf*A
heat to warm a mass ; heat|energy ; ; kg m2/s2 ; mx*cp*dT
heat to warm a flow ; heat|power ; pump exhaust ; kg m2/s3 ; k*cp*dT
energy of a mass ; energy|heat|chemical ; kinetic potential specific ; kg m2/s2 ; mx*Ee
heat flux ; flux|heat flux ; ; kg/s3 ; P/A
""",
}


def rows() -> list[tuple[str, str, str, str, str, str, tuple[()]]]:
    """The relations in the layout of `catalogue._TABLE`."""
    found = []
    for source, text in _TABLES.items():
        for line in text.strip().splitlines():
            name, ideas, without, unit, formula = (piece.strip() for piece in line.split(";"))
            found.append((name, ideas, without, unit, formula, source, ()))
    return found
