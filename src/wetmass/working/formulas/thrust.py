"""Thrust of one engine and of several, with back-pressure, over weight."""

RELATIONS = """
thrust !
    k*I*g0 [N] (braeunig rockets)
    is thrust ; not twr weight ratio structure mass loss fraction cf isp
    S02 k*I : g₀ is left out : with g₀
thrust !
    k*c [N] (braeunig rockets)
    is thrust ; not twr weight ratio structure mass loss fraction cf isp
thrust of a cluster !
    n*F [N] (nasa thrust)
    is thrust total | thrust start | thrust liftoff ; not twr weight ratio structure mass loss fraction cf isp
    S30 F : only one engine is counted : with all engines
    S30 n*n*F : the engines are counted twice : with each engine once
thrust with its pressure term !
    k*ve+(pe-pa)*Ae [N] (nasa thrust)
    is thrust ; not vac twr weight ratio structure mass loss fraction
    S26 k*ve : the pressure term is left out : with the pressure term
    S26 k*ve-(pe-pa)*Ae : the pressure term has the wrong sign : with (pₑ − pₐ)·Aₑ added
    S26 k*ve+pe*Ae : the pressure outside is left out : with pₑ − pₐ
thrust with its pressure term !
    k*c [N] (nasa thrust)
    is thrust ; not vac twr weight ratio structure mass loss fraction
    S26 k*c+(pe-pa)*Ae : the pressure term is added to an effective exhaust speed that holds it already : without adding it again
    S26 k*c-(pe-pa)*Ae : the pressure term is added to an effective exhaust speed that holds it already : without adding it again
    S26 k*c+2*(pe-pa)*Ae : the pressure term goes in twice : without adding it again
thrust in air !
    Fv-pa*Ae [N] (nasa thrust)
    is thrust sl | thrust liftoff | thrust ; not twr weight ratio structure mass loss fraction vac total
    S26 Fv+pa*Ae : the pressure of the air is added : with pₐ·Aₑ taken off
    S23 Fv : the vacuum thrust is taken at sea level : with pₐ·Aₑ taken off
thrust-to-weight !
    F/(m*g) [1] (steady)
    is twr
    S02 F/m : the weight is taken without g : with the weight m·g
    S04 m*g/F : the quotient is upside down : with the thrust above
    S24 F/(m*9.80665) : the weight on Earth is used : with the gravity of the place
    S24 F/(m*9.81) : the weight on Earth is used : with the gravity of the place
thrust-to-weight !
    n*F/(m*g) [1] (steady)
    is twr
    S30 F/(m*g) : only one engine is counted : with all engines
    S02 n*F/m : the weight is taken without g : with the weight m·g
thrust-to-weight !
    F/Wt [1] (steady)
    is twr ; not engine
    S04 Wt/F : the quotient is upside down : with the thrust above
thrust in vacuum
    k*ve+pe*Ae [N] (nasa thrust)
    is thrust vac ; not twr ratio
    S26 k*ve-pe*Ae : the pressure term has the wrong sign : with pₑ·Aₑ added
thrust in vacuum
    Fs+pa*Ae [N] (nasa thrust)
    is thrust vac ; not twr ratio
    S26 Fs-pa*Ae : the pressure term has the wrong sign : with pₐ·Aₑ added
thrust-to-weight of an engine
    F/(m*g0) [1] (mechanics)
    is twr engine | twr
    S02 F/m : g₀ is left out : with g₀
mass of an engine
    F/(te*g0) [kg] (mechanics)
    is mass engine | mass ; not propellant
    S02 F/te : g₀ is left out : with g₀
weight
    mx*g [N] (mechanics)
    is weight ; not twr flow
thrust for a ratio to weight
    te2*mx*g [N] (mechanics)
    is thrust | thrust needed ; not engine flow loss each
hover thrust
    mx*g [N] (mechanics)
    is thrust hover | hover | thrust needed ; not fuel
net force
    F-mx*g [N] (mechanics)
    is net thrust | net
momentum
    mx*vx [kg m/s] (mechanics)
    is momentum
thrust
    k*I*g0 [N] (braeunig rockets)
side force of a swung engine
    F*sin(th) [N] (nasa thrust)
    is side thrust | thrust side | lateral thrust | gimbal thrust | gimbal | side ; not axial
axial force of a swung engine
    F*cos(th) [N] (nasa thrust)
    is axial thrust | thrust axial | cosine ; not side
exit area from two thrusts
    (Fv-Fs)/pa [m2] (nasa thrust)
    is exit area ; not ratio
hover margin
    n*F/Wt [1] (air)
    is margin | hover | margin hover
"""
