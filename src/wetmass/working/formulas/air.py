"""Air: dynamic pressure, drag, lift, Mach number."""

RELATIONS = """
dynamic pressure !
    0.5*rho*v^2 [Pa] (steady)
    is dynamic pressure
    S01 rho*v^2 : the ½ is left out : with the ½
    S06 0.5*rho*v : the speed is not squared : with the square
    S53 0.5*1.225*v^2 : the density at sea level is used : with the density at that height
dynamic pressure
    0.5*rho*v^2 [Pa] (mechanics)
    is pressure | dynamic ; not ambient exit chamber tank
    S01 rho*v^2 : the ½ is left out : with the ½
drag
    qd*cd*A [N] (mechanics)
    is drag ; not loss
drag
    0.5*rho*v^2*cd*A [N] (mechanics)
    is drag ; not loss
    S01 rho*v^2*cd*A : the ½ is left out : with the ½
Mach number
    v/as [1] (mechanics)
    is mach
    S04 as/v : the quotient is upside down : with the speed above
ballistic coefficient
    mx/(cd*A) [kg/m2] (mechanics)
    is ballistic | ballistic fraction
dynamic pressure
    0.5*rho*v^2 [Pa] (mechanics)
    is  ; not chamber exit
drag
    0.5*rho*v^2*cda [N] (air)
    is drag ; not loss area
drag
    0.5*rho*v^2*cd*pi/4*d^2 [N] (air)
    is drag ; not loss
lift
    qd*cd*A [N] (air)
    is lift
air density
    p/(Rg*Tc) [kg/m3] (air)
    is density
ballistic coefficient
    m/(cd*A) [kg/m2] (air)
    is ballistic | ballistic fraction
ballistic coefficient
    m/(cd*pi/4*d^2) [kg/m2] (air)
    is ballistic | ballistic fraction
air flow
    rho*A*v [kg/s] (air)
    is flow air | air
"""
