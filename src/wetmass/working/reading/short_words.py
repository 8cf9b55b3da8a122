"""Subscripts and short words of formulas, as the ideas of `names`: V_fu is a volume of fuel."""

from __future__ import annotations

_TABLE = """
fu fue : fuel
O2 o2 oxid oxi oxy : oxidiser lox
H2 h2 : fuel lh2
CH4 : fuel methane
cyl barrel : cylinder
sph : sphere
hemi hemis : dome
tor toro donut doughnut : ring torus
tot sum overall_total : total
thr thrt : throat
noz : nozzle
amb atm ambient outside : ambient
bo BO eng_off eco MECO SECO : end
TO LO liftoff_ : start liftoff
ign : start
land touchdown_ ldg : landing
res resid : residual
vol : volume
sat : payload
boost : booster
eng mot : engine
exh : exhaust
peri peria : perigee
apo apog : apogee
circ : circular
esc : escape
hyp : hyperbolic
trans xfer trf : transfer
rot : rotation
incl : inclination
grav : gravity
req reqd needed required : needed
ult : stress
vap : latent
term : descent
accel acc decel : acceleration
vel : speed
alt : height
dist : distance
temp : temperature
press : pressure
dens : density
len : length
rad : radius
dia diam : diameter
thk : wall
prop propell propellent : propellant
struct : dry
pay pload : payload
crew cargo passengers : payload
arrival captured : end
departure injection : departure
thrusts : thrust
weights : weight mass
hover hovering : hover
deceleration retardation : acceleration
momentum : momentum
Cl CL C_L c_L cl cL : lift
va v_a vA : apogee speed
vp v_p vP : perigee speed
flight forward airspeed : flight
bypass : bypass
eccentricity ecc : eccentricity
bodies : count
ram : flight
"""

WORDS: dict[str, str] = {
    word: ideas
    for row in _TABLE.strip().splitlines()
    for words, ideas in [row.split(" : ")]
    for word in words.split()
}
