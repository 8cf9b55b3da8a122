"""Specific impulse, exhaust speed, total impulse, and means of several engines."""

RELATIONS = """
effective exhaust speed !
    I*g0 [m/s] (braeunig rockets)
    is exhaust speed | exhaust
    S02 I : g₀ is left out : with g₀
    S02 I/g0 : g₀ divides where it should multiply : with Isp times g₀
specific impulse !
    F/(k*g0) [s] (braeunig rockets)
    is isp ; not mean
    S02 F/k : g₀ is left out : with g₀
specific impulse !
    c/g0 [s] (braeunig rockets)
    is isp ; not mean
    S02 c : g₀ is left out : with g₀
    S02 c*g0 : g₀ multiplies where it should divide : with c over g₀
mean specific impulse !
    (F1+F2)/(F1/I1+F2/I2) [s] (braeunig rockets)
    is isp mean | isp total
    S25 (I1+I2)/2 : the impulses are averaged straight : weighted by flow, ΣF / Σ(F/Isp)
    S25 I1+I2 : the impulses are added : weighted by flow, ΣF / Σ(F/Isp)
    S25 (F1*I1+F2*I2)/(F1+F2) : the impulses are averaged by thrust : weighted by flow, ΣF / Σ(F/Isp)
effective exhaust speed
    F/k [m/s] (braeunig rockets)
    is exhaust speed | exhaust
effective exhaust speed
    ve+(pe-pa)*Ae/k [m/s] (nasa thrust)
    is exhaust speed | exhaust
    S26 ve-(pe-pa)*Ae/k : the pressure term has the wrong sign : with (pₑ − pₐ)·Aₑ/ṁ added
total impulse
    F*t [kg m/s] (braeunig rockets)
    is impulse total | impulse
total impulse
    mp*I*g0 [kg m/s] (braeunig rockets)
    is impulse total | impulse
    S02 mp*I : g₀ is left out : with g₀
specific impulse
    F/(k*g0) [s] (braeunig rockets)
propellant for a push
    F*t/c [kg] (braeunig rockets)
    is propellant | propellant mass | fuel | used ; not volume flow ratio fraction
propellant for a push
    F*t/(I*g0) [kg] (braeunig rockets)
    is propellant | propellant mass | fuel | used ; not volume flow ratio fraction
propellant of an impulse
    It/(I*g0) [kg] (braeunig rockets)
    is propellant | propellant mass | fuel | used ; not volume flow ratio fraction
burn time from impulse
    It/F [s] (braeunig rockets)
    is burn time | time burn | time
mean thrust
    It/tb [N] (braeunig rockets)
    is thrust mean | mean thrust | thrust ; not twr
specific impulse from total impulse
    It/(mp*g0) [s] (braeunig rockets)
    is isp
exhaust speed from total impulse
    It/mp [m/s] (braeunig rockets)
    is exhaust speed
specific impulse from c*
    cf*cs/g0 [s] (nasa thrust)
    is isp
specific impulse in vacuum
    Fv/(k*g0) [s] (nasa thrust)
    is isp vac
mean specific impulse by flow
    (k1*I1+k2*I2)/(k1+k2) [s] (braeunig rockets)
    is isp mean | isp total | isp
    S25 (I1+I2)/2 : the impulses are averaged straight : weighted by flow
"""
