"""Mass flow, burn time, and what is burned by then."""

RELATIONS = """
mass flow !
    F/(I*g0) [kg/s] (braeunig rockets)
    is flow ; not fuel oxidiser volume tsfc
    S02 F/I : g₀ is left out : with g₀
    S56 F/I*g0 : the bracket below the line is lost : with the bracket
    S04 I*g0/F : the quotient is upside down : with thrust above
mass flow !
    F/c [kg/s] (braeunig rockets)
    is flow ; not fuel oxidiser volume
mass flow !
    n*F/(I*g0) [kg/s] (braeunig rockets)
    is flow ; not fuel oxidiser volume
    S30 F/(I*g0) : only one engine is counted : with all engines
mass flow !
    mp/t [kg/s] (braeunig rockets)
    is flow ; not fuel oxidiser volume
    S04 t/mp : the quotient is upside down : with the propellant above
burn time !
    mp/k [s] (braeunig rockets)
    is burn time | burn ; not loss speed height mass propellant flow used
    S04 k/mp : the quotient is upside down : with the propellant above
    S05 m0/k : the start mass is divided by the flow : with the propellant
burn time !
    (m0-m1)/k [s] (braeunig rockets)
    is burn time | burn ; not loss speed height mass propellant flow used
    S05 m0/k : the start mass is divided by the flow : with the propellant
    S05 m1/k : the final mass is divided by the flow : with the propellant
propellant burned !
    m0-m1 [kg] (braeunig rockets)
    is propellant mass | propellant | used ; not residual reserve volume flow fuel oxidiser usable load fraction
    S56 m0+m1 : the masses are added : with the final mass taken off
usable propellant
    ml*(1-rs) [kg] (braeunig rockets)
    is usable | propellant usable ; not volume flow
    S37 ml*(1+rs) : the residuals are added : with them taken off
burn time
    mx*I*g0/F [s] (braeunig rockets)
    is burn time | burn | time ; not loss speed height mass propellant flow used coast
    S02 mx*I/F : g₀ is left out : with g₀
burn time
    mx*c/F [s] (braeunig rockets)
    is burn time | burn | time ; not loss speed height mass propellant flow used coast
propellant burned
    k*t [kg] (braeunig rockets)
    is propellant mass | propellant | used | fuel ; not volume flow ratio
    S01 0.5*k*t : a half is put in : without it
flow of the fuel
    k/(1+q) [kg/s] (braeunig rockets)
    is fuel flow ; not oxidiser tsfc
    S29 k/q : the flow is divided by the mixture ratio itself : divided by one plus the mixture ratio
    S29 k*q/(1+q) : the share of the oxidiser is taken : with the fuel's share
flow of the oxidiser
    k*q/(1+q) [kg/s] (braeunig rockets)
    is oxidiser flow ; not fuel
    S29 k/(1+q) : the share of the fuel is taken : with the oxidiser's share
    S29 k/q : the flow is divided by the mixture ratio : with q/(1 + q)
    S29 k*q : the flow is multiplied by the mixture ratio : with one plus the mixture ratio below
mass flow
    F/(I*g0) [kg/s] (braeunig rockets)
flow of all engines
    n*k [kg/s] (braeunig rockets)
    is flow total | flow all | flow ; not each one fuel oxidiser
flow from a load
    mp/tb [kg/s] (braeunig rockets)
    is flow ; not volume
fuel burned by all
    n*k*t [kg] (braeunig rockets)
    is fuel | propellant | used | fuel hover ; not flow
usable propellant
    mt*(1-rs) [kg] (braeunig rockets)
    is usable | usable propellant | propellant usable
residual propellant
    mt*rs [kg] (braeunig rockets)
    is residual | residual propellant
propellant from flow and time
    k*tb [kg] (braeunig rockets)
    is propellant | used ; not flow volume
mixture ratio of two flows
    ko/kf [1] (braeunig rockets)
    is mixture ratio | mixture ; not volume
flow of each engine
    k/n [kg/s] (braeunig rockets)
    is flow each | engine flow | flow
    S30 k*n : the flow is multiplied by the number of engines : divided by it
burn time of several engines
    mp/(n*k) [s] (braeunig rockets)
    is burn time | time | burn ; not loss speed height
    S30 mp/k : only one engine is counted : with all engines
    S30 mp*n/k : the number of engines multiplies : with all engines below
burn time from thrust
    mx*I*g0/(n*F) [s] (braeunig rockets)
    is burn time | burn ; not loss speed height
    S30 mx*I*g0/F : only one engine is counted : with all engines
    S02 mx*I/(n*F) : g₀ is left out : with g₀
"""
