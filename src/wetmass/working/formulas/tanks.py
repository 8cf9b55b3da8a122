"""Cylindrical tanks with their ends, liquids and ullage in them."""

RELATIONS = """
cylinder !
    pi/4*d^2*L [m3] (pappus)
    is volume tank | volume cylinder | volume ; not ring sphere dome frustum cone total
    S17 pi*d^2*L : the diameter is taken for the radius : with π/4·d²
    S17 pi/2*d^2*L : the diameter is halved once only : with π/4·d²
    S19 d^2*L/4 : π is left out : with π
cylinder !
    pi*r^2*L [m3] (pappus)
    is volume tank | volume cylinder | volume ; not ring sphere dome frustum cone total
    S17 pi/4*r^2*L : the radius is taken for the diameter : with π·r²
    S17 4*pi*r^2*L : the diameter is taken for the radius : with π·r²
    S19 2*pi*r*L : the side wall area is taken : with π·r²·L
volume of the oxidiser !
    Vt*(q/ra)/(q/ra+1/rf) [m3] (braeunig rockets)
    is oxidiser volume ; not density ratio
    S27 Vt*q/(1+q) : the mixture ratio by mass is taken as one by volume : with each density
volume of the fuel !
    Vt*(1/rf)/(q/ra+1/rf) [m3] (braeunig rockets)
    is fuel volume ; not density ratio
    S27 Vt/(1+q) : the mixture ratio by mass is taken as one by volume : with each density
    S27 Vt/q : the mixture ratio by mass is taken as one by volume : with each density
cylinder with round ends
    pi*r^2*L+4/3*pi*r^3 [m3] (solids)
    is volume tank | volume ; not ring sphere frustum cone dome each
    S18 pi*r^2*L+2/3*pi*r^3 : only one of the two domes is counted : with both
    S18 pi*r^2*L+8/3*pi*r^3 : the domes are counted twice : with two half spheres
    S18 pi*r^2*L+2*pi*r^3 : the domes are taken as full cylinder ends : with two half spheres
    S18 pi*r^2*L+pi*r^3 : the 4/3 is left out : with 4/3
    S17 pi*(2*r)^2*L+4/3*pi*r^3 : the diameter is taken for the radius : with the radius
    S17 pi*(2*r)^2*L+4/3*pi*(2*r)^3 : the diameter is taken for the radius : with the radius
length of a cylinder
    Vn/(pi*r^2) [m] (solids)
    is length | length cylinder | cylinder | height tank | height cylinder | tank ; not total wall
    S17 Vn/(4*pi*r^2) : the diameter is taken for the radius : with the radius
    S17 4*Vn/(pi*r^2) : the radius is taken for the diameter : with π·r²
    S19 Vn/r^2 : π is left out : with π
    S19 Vn/(2*pi*r) : the circumference divides : with π·r² below
volume of a liquid
    ml/rl [m3] (solids)
    is volume ; not mixture
    S04 rl/ml : the quotient is upside down : with the mass above
    S04 ml*rl : the density multiplies where it should divide : with the mass over the density
mass of a liquid
    Vn*rl [kg] (solids)
    is mass | load | fuel | oxidiser | propellant ; not flow ratio volume fraction
    S04 Vn/rl : the density divides where it should multiply : with volume times density
volume with its ullage
    Vn+Vu [m3] (solids)
    is volume tank | tank | volume total ; not dome cylinder
    S37 Vn-Vu : the ullage is taken off : with the ullage added
cylinder
    pi/4*d^2*L [m3] (mechanics)
cylinder
    pi*r^2*L [m3] (mechanics)
length of a cylinder
    4*Vn/(pi*d^2) [m] (solids)
    is length | length cylinder | cylinder | height tank | height cylinder | height | tank ; not total wall orbit
length of a cylinder
    Vn/A [m] (solids)
    is length | length cylinder | cylinder | height tank | height cylinder | height | tank ; not total wall orbit
length of a cylinder with round ends
    (Vn-4/3*pi*r^3)/(pi*r^2) [m] (solids)
    is length | length cylinder ; not wall
overall length with round ends
    L+2*r [m] (solids)
    is length total | total length | overall length | length tank | length overall | length mean
overall length with round ends
    L+d [m] (solids)
    is length total | total length | overall length | length tank | length overall | length mean
total volume
    n*Vn [m3] (solids)
    is volume total | total volume | volume
liquid in a tank with ullage
    Vn*(1-u) [m3] (solids)
    is liquid volume | liquid | usable volume | propellant volume | volume propellant ; not tank
volume of a tank with its ullage
    Vn*(1+u) [m3] (solids)
    is tank volume | volume tank | volume total | ullage volume | volume
volume of a tank with its ullage
    Vn/(1-u) [m3] (solids)
    is tank volume | volume tank | volume total | ullage volume | volume
liquid in a tank with ullage
    Vn*(1-u)*rl [kg] (solids)
    is propellant | fuel | oxidiser | mass | load
gas in a tank
    p*Vn/(Rg*Tc) [kg] (shells)
    is mass | gas | helium | pressurant
stored energy
    p*Vn [kg m2/s2] (shells)
    is energy
length of a cylinder with round ends
    (Vn-pi/6*d^3)/(pi/4*d^2) [m] (solids)
    is length | length cylinder | cylinder | length side ; not total
    S18 Vn/(pi/4*d^2) : the round ends are left out : with their volume taken off
number of tanks
    Vt/Vn [1] (solids)
    is count | count tank ; not ratio fraction
"""
