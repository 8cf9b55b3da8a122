"""Chamber, throat and exit of a nozzle; pumps; electric thrust."""

RELATIONS = """
exit diameter !
    dt*ep^0.5 [m] (nasa thrust)
    is exit diameter
    S21 dt*ep : the area ratio is taken as a ratio of diameters : with its root
exit area !
    At*ep [m2] (nasa thrust)
    is exit area ; not ratio throat
    S21 At*ep^0.5 : the root of the area ratio is taken : with the area ratio itself
    S21 At*ep^2 : the area ratio is squared : with the area ratio itself
area ratio !
    (de/dt)^2 [1] (nasa thrust)
    is ratio area | expansion ratio | epsilon | area ratio | expansion ; not structural dry
    S21 de/dt : the ratio of diameters is not squared : with the square
    S04 (dt/de)^2 : the ratio is upside down : with the exit above
power of the jet
    0.5*k*c^2 [kg m2/s3] (mechanics)
    is power ; not heat
    S01 k*c^2 : the ½ is left out : with the ½
power of the jet
    0.5*F*c [kg m2/s3] (mechanics)
    is power exhaust | power ; not heat
    S01 F*c : the ½ is left out : with the ½
flow through the throat
    pc*At/cs [kg/s] (nasa thrust)
    is flow ; not volume
    S04 pc*cs/At : the quotient is upside down : with c* below
thrust from its coefficient
    cf*pc*At [N] (nasa thrust)
    is thrust ; not twr
thrust coefficient
    F/(pc*At) [1] (nasa thrust)
    is thrust fraction | cf ; not mass
characteristic speed
    pc*At/k [m/s] (nasa thrust)
    is cstar | speed ; not exhaust orbit dv end
throat area
    k*cs/pc [m2] (nasa thrust)
    is throat area | area throat ; not ratio
throat area
    F/(cf*pc) [m2] (nasa thrust)
    is throat area | area throat | area ; not ratio exit
area ratio
    Ae/At [1] (nasa thrust)
    is ratio area | expansion ratio | epsilon | area ratio | expansion ; not structural dry
    S04 At/Ae : the ratio is upside down : with the exit above
    S21 (Ae/At)^0.5 : the root is taken : without the root
ideal exhaust speed
    sqrt(2*gam/(gam-1)*Rg*Tc*(1-xt)) [m/s] (nasa thrust)
    is exhaust speed | exhaust | speed ; not sound orbit
ideal exhaust speed
    sqrt(2*gam/(gam-1)*Rg*Tc*(1-(pe/pc)^((gam-1)/gam))) [m/s] (nasa thrust)
    is exhaust speed | exhaust | speed ; not sound orbit
ideal exhaust speed
    sqrt(2*gam/(gam-1)*Ru*Tc/Mm*(1-(pe/pc)^((gam-1)/gam))) [m/s] (nasa thrust)
    is exhaust speed | exhaust | speed ; not sound orbit
limit of the exhaust speed
    sqrt(2*gam/(gam-1)*Rg*Tc) [m/s] (nasa thrust)
    is exhaust speed | greatest exhaust | limit ; not sound
speed of sound
    sqrt(gam*Rg*Tc) [m/s] (nasa thrust)
    is sound | sound speed ; not mach
temperature in the throat
    2*Tc/(gam+1) [K] (nasa thrust)
    is throat temperature | temperature throat
pressure in the throat
    pc*(2/(gam+1))^(gam/(gam-1)) [Pa] (nasa thrust)
    is throat pressure | pressure throat
specific gas constant
    Ru/Mm [m2/s2 K] (nasa thrust)
    is gas radius | gas
exhaust speed from c*
    cf*cs [m/s] (nasa thrust)
    is exhaust speed | exhaust
pump power
    k*dp/(rl*eff) [kg m2/s3] (nasa thrust)
    is power pump | pump power | power | pump ; not exhaust heat
pump power
    k*dp/rl [kg m2/s3] (nasa thrust)
    is power pump | pump power | power | pump ; not exhaust heat
pump power
    Qv*dp/eff [kg m2/s3] (nasa thrust)
    is power pump | pump power | power | pump ; not exhaust heat
throat area from the exit
    Ae/ep [m2] (nasa thrust)
    is throat area | area throat
throat diameter
    de/ep^0.5 [m] (nasa thrust)
    is throat diameter | diameter throat
thrust needed for an orbit raising by electric power
    F*c/(2*En) [kg m2/s3] (nasa thrust)
    is power ; not pump heat
electric thrust
    2*En*P/c [N] (nasa thrust)
    is thrust
exit area of a cluster
    n*pi/4*d^2 [m2] (solids)
    is area total | total area | exit area total | exit area all | area ; not ratio
flow from the power of the jet
    2*Pj/c^2 [kg/s] (mechanics)
    is flow
    S01 Pj/c^2 : the 2 is left out : with the 2
    S06 2*Pj/c : the speed is not squared : with the square
thrust from the power of the jet
    2*Pj/c [N] (mechanics)
    is thrust
    S01 Pj/c : the 2 is left out : with the 2
ideal exhaust speed of a heated gas
    sqrt(2*cp*Tc) [m/s] (mechanics)
    is exhaust speed | exhaust
    S01 sqrt(cp*Tc) : the 2 is left out : with the 2
"""
