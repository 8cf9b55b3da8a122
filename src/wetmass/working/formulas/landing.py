"""Braking and landing: stopping ways, falls under a canopy."""

RELATIONS = """
stopping distance !
    v^2/(2*(F/m-g)) [m] (steady)
    is stopping | stopping height | landing height | ignition height ; not burn time
    S51 v^2/(2*F/m) : the weight is left out of the braking : with g taken off F/m
    S01 v^2/(F/m-g) : the half is left out : with the half
    S51 v^2/(2*(F/m+g)) : gravity has the wrong sign : with g taken off F/m
descent speed !
    sqrt(2*m*g/(rho*cd*A)) [m/s] (steady)
    is descent speed | descent | parachute speed | canopy
    S01 sqrt(m*g/(rho*cd*A)) : the 2 is left out : with the 2
    S52 sqrt(2*m*g/(rho*cd*4*A)) : the canopy diameter is taken for its radius : with the right one
descent speed !
    sqrt(2*m*g/(rho*cd*pi/4*d^2)) [m/s] (steady)
    is descent speed | descent | parachute speed | canopy
    S52 sqrt(2*m*g/(rho*cd*pi*d^2)) : the canopy diameter is taken for its radius : with π/4·d²
stopping distance
    v^2/(2*an) [m] (mechanics)
    is stopping | stopping height | landing height | ignition height | height | distance ; not burn time end
    S01 v^2/an : the half is left out : with the half
braking acceleration
    F/m-g [m/s2] (mechanics)
    is acceleration net | net stopping | acceleration stopping net
    S24 F/m+g : gravity has the wrong sign : with g taken off
descent speed
    sqrt(2*m*g/(rho*cd*A)) [m/s] (mechanics)
    is descent speed | descent | parachute speed | canopy | speed ; not exhaust dv orbit
    S01 sqrt(m*g/(rho*cd*A)) : the 2 is left out : with the 2
    S02 sqrt(2*m/(rho*cd*A)) : g is left out of the weight : with the weight m·g
time of braking
    v/an [s] (mechanics)
    is time landing | time stopping | time burn landing | time ; not period fall
falling speed
    sqrt(2*Wt/(rho*cd*A)) [m/s] (air)
    is descent speed | descent | speed fall | speed terminal | speed ; not exhaust orbit dv
falling speed
    sqrt(2*m*g/(rho*cda)) [m/s] (air)
    is descent speed | descent | speed fall | speed terminal | speed ; not exhaust orbit dv
canopy for a falling speed
    2*m*g/(rho*cd*v^2) [m2] (air)
    is canopy area | area | canopy | parachute area
    S02 2*m/(rho*cd*v^2) : g is left out of the weight : with the weight m·g
    S01 m*g/(rho*cd*v^2) : the 2 is left out : with the 2
opening force
    0.5*rho*v^2*cd*A [N] (air)
    is thrust | opening | shock
time of braking from thrust
    v/(F/m-g) [s] (mechanics)
    is time landing | time stopping | time burn landing | time burn | burn time | time ; not period fall
    S51 v/(F/m) : the weight is left out of the braking : with g taken off F/m
    S51 v*m/F : the weight is left out of the braking : with g taken off F/m
speed change of a braking burn
    v+g*tb [m/s] (mechanics)
    is dv | dv landing | landing dv
    S51 v : the weight during the burn is left out : with g·t added
    S51 v-g*tb : the gravity loss is taken off : with g·t added
speed change of a braking burn
    vx+lo [m/s] (mechanics)
    is dv landing | landing dv | dv stopping
    S51 vx-lo : the gravity loss is taken off : with it added
throttle to hover
    m*g/F [1] (mechanics)
    is hover fraction | hover throttle | throttle
    S04 F/(m*g) : the quotient is upside down : with the weight above
canopy diameter
    sqrt(8*m*g/(pi*rho*cd*v^2)) [m] (air)
    is diameter | canopy diameter | parachute diameter | canopy
    S52 sqrt(2*m*g/(pi*rho*cd*v^2)) : the radius is taken for the diameter : with the diameter
"""
