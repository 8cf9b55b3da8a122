"""Jets, cruise and glide."""

RELATIONS = """
fuel flow of a jet
    F*SF [kg/s] (mechanics)
    is flow
thrust in cruise
    Wt/LD [N] (air)
    is thrust cruise | cruise thrust | drag cruise | drag
thrust in cruise
    m*g/LD [N] (air)
    is thrust cruise | cruise thrust | drag cruise | drag
reach of a glide
    LD*hh [m] (air)
    is glide | range | distance | reach
range of a cruise
    v*LD/(TS*g)*ln(m0/m1) [m] (air)
    is range | cruise range | cruise ; not fuel
net thrust of a jet
    k*(vj-vf) [N] (mechanics)
    is thrust ; not vac
    S24 k*vj : the speed of the air that comes in is left out : with it taken off
    S56 k*(vj+vf) : the speed of the air that comes in is added : with it taken off
fuel flow of all jets
    n*F*SF [kg/s] (mechanics)
    is flow
    S30 F*SF : only one engine is counted : with all engines
    S02 n*F*SF*9.80665 : g₀ goes into a fuel flow per thrust : without it
fuel of a jet burned in a time
    F*SF*t [kg] (mechanics)
    is fuel | fuel mass | used | propellant
fuel of jets burned in a time
    n*F*SF*t [kg] (mechanics)
    is fuel | fuel mass | used | propellant
    S30 F*SF*t : only one engine is counted : with all engines
time of a hover on jets
    mf1/(F*SF) [s] (mechanics)
    is hover | hover time | time | burn time ; not period
range of a cruise
    v*LD*I*ln(m0/m1) [m] (air)
    is range | cruise range | cruise ; not fuel
    S02 v*LD*I*9.80665*ln(m0/m1) : g₀ goes in where the impulse is in seconds already : without it
    S03 v*LD*I*log10(m0/m1) : log₁₀ is used for ln : with ln
air past the core
    k*bp/(1+bp) [kg/s] (mechanics)
    is bypass flow | flow bypass
    S29 k/(1+bp) : the share of the core is taken : with the share that goes past it
    S29 k/bp : the flow is divided by the bypass ratio : with b/(1 + b)
air through the core
    k/(1+bp) [kg/s] (mechanics)
    is core flow | flow core
    S29 k/bp : the flow is divided by the bypass ratio itself : by one plus the bypass ratio
    S29 k*bp/(1+bp) : the share that goes past the core is taken : with the core's share
fuel of a hover
    m*g0*SF*t [kg] (mechanics)
    is fuel | fuel mass | hover fuel | used ; not flow
fuel flow of a hover
    m*g0*SF [kg/s] (mechanics)
    is flow | fuel flow | hover flow
"""
