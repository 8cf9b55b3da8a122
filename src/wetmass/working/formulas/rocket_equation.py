"""Rocket equation forward and back: speed gained, mass ratio, propellant, start mass."""

RELATIONS = """
rocket equation !
    I*g0*ln(m0/m1) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S02 I*ln(m0/m1) : g₀ is left out : with g₀
    S03 I*g0*log10(m0/m1) : log₁₀ is used for ln : with ln
    S04 I*g0*ln(m1/m0) : the masses are upside down in the logarithm : with the start mass above
    S05 I*g0*ln((m0-m1)/m1) : propellant over final mass stands in the logarithm : with start over final mass
    S05 I*g0*ln(m0/(m0-m1)) : the propellant stands below as if it were the final mass : with the final mass below
rocket equation !
    c*ln(m0/m1) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S03 c*log10(m0/m1) : log₁₀ is used for ln : with ln
    S04 c*ln(m1/m0) : the masses are upside down in the logarithm : with the start mass above
    S05 c*ln((m0-m1)/m1) : propellant over final mass stands in the logarithm : with start over final mass
    S05 c*ln(m0/(m0-m1)) : the propellant stands below as if it were the final mass : with the final mass below
rocket equation !
    I*g0*ln(R) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S02 I*ln(R) : g₀ is left out : with g₀
    S03 I*g0*log10(R) : log₁₀ is used for ln : with ln
    S04 I*g0*ln(1/R) : the ratio in the logarithm is upside down : with the larger mass above
    S05 I*g0*ln(R-1) : propellant over final mass stands in the logarithm : with start over final mass
    S03 I*g0*R : the ratio itself is used, its logarithm not taken : with its logarithm
rocket equation !
    c*ln(R) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S03 c*log10(R) : log₁₀ is used for ln : with ln
    S04 c*ln(1/R) : the ratio in the logarithm is upside down : with the larger mass above
    S05 c*ln(R-1) : propellant over final mass stands in the logarithm : with start over final mass
rocket equation !
    I*g0*ln((mp+m1)/m1) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S05 I*g0*ln(mp/m1) : propellant over final mass stands in the logarithm : with start over final mass
    S02 I*ln((mp+m1)/m1) : g₀ is left out : with g₀
rocket equation !
    c*ln((mp+m1)/m1) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S05 c*ln(mp/m1) : propellant over final mass stands in the logarithm : with start over final mass
rocket equation !
    c*ln(m0/(m0-mp)) [m/s] (braeunig rockets)
    is dv | ideal speed ; not loss total plane transfer rotation
    S05 c*ln(m0/mp) : the propellant stands below as if it were the final mass : with the final mass below
propellant for a speed gain !
    m0*(1-exp(-dv/c)) [kg] (braeunig rockets)
    is propellant mass | propellant | used ; not residual reserve volume flow fuel oxidiser
    S31 m0*exp(-dv/c) : the final mass is taken for the propellant : with it taken off
    S04 m0*(exp(dv/c)-1) : the sign of the exponent is turned : with e to the minus Δv/c
propellant for a speed gain !
    m1*(exp(dv/c)-1) [kg] (braeunig rockets)
    is propellant mass | propellant | used ; not residual reserve volume flow fuel oxidiser
    S31 m1*exp(dv/c) : the start mass is taken for the propellant : with the final mass taken off
    S04 m1*(1-exp(-dv/c)) : the sign of the exponent is turned : with e to the plus Δv/c
start mass for a speed gain !
    m1*exp(dv/(I*g0)) [kg] (braeunig rockets)
    is start mass | start ; not total sum fraction
    S02 m1*exp(dv/I) : g₀ is left out : with g₀
    S04 m1*exp(-dv/(I*g0)) : the sign of the exponent is turned : with e to the plus Δv/c
start mass for a speed gain !
    m1*exp(dv/c) [kg] (braeunig rockets)
    is start mass | start ; not total sum fraction
    S04 m1*exp(-dv/c) : the sign of the exponent is turned : with e to the plus Δv/c
    S03 m1*10^(dv/c) : 10 is raised in place of e : with e
mass ratio for a speed gain !
    exp(dv/(I*g0)) [1] (braeunig rockets)
    is mass ratio ; not mixture payload structural dry fraction
    S02 exp(dv/I) : g₀ is left out : with g₀
    S04 exp(-dv/(I*g0)) : the sign of the exponent is turned : with e to the plus Δv/c
mass ratio for a speed gain !
    exp(dv/c) [1] (braeunig rockets)
    is mass ratio ; not mixture payload structural dry fraction
    S04 exp(-dv/c) : the sign of the exponent is turned : with e to the plus Δv/c
    S04 exp(c/dv) : the quotient in the exponent is upside down : with Δv over c
    S03 10^(dv/c) : 10 is raised in place of e : with e
propellant for a speed gain !
    m0*(1-exp(-dv/(I*g0))) [kg] (braeunig rockets)
    is propellant mass | propellant | used ; not residual reserve volume flow fuel oxidiser
    S02 m0*(1-exp(-dv/I)) : g₀ is left out : with g₀
propellant for a speed gain !
    m1*(exp(dv/(I*g0))-1) [kg] (braeunig rockets)
    is propellant mass | propellant | used ; not residual reserve volume flow fuel oxidiser
    S02 m1*(exp(dv/I)-1) : g₀ is left out : with g₀
mass ratio !
    m0/m1 [1] (braeunig rockets)
    is mass ratio ; not mixture payload structural dry fraction
    S04 m1/m0 : the ratio is upside down : with start over final mass
    S05 (m0-m1)/m1 : propellant over final mass is taken : with start over final mass
    S05 m0/(m0-m1) : start mass over propellant is taken : with start over final mass
mass ratio !
    (mp+md)/md [1] (braeunig rockets)
    is mass ratio ; not mixture payload structural fraction
    S05 mp/md : propellant over dry mass is taken : with start over final mass
    S04 md/(mp+md) : the ratio is upside down : with start over final mass
speed reached !
    vi-lo [m/s] (steady)
    is speed achieved | speed insertion | achieved | speed orbit insertion | speed end | end speed ; not exhaust dv
    S40 vi : the ideal speed is taken as flown : with the losses taken off
    S40 vi-2*lo : the losses are taken off twice : with the losses taken off once
    S40 vi+lo : the losses are added : with the losses taken off
propellant from the mass ratio
    mz*(R-1) [kg] (braeunig rockets)
    is propellant mass | propellant | used | fuel ; not fraction flow volume residual reserve
    S31 mz*R : the start mass is taken for the propellant : with the final mass taken off
    S04 mz/R : the mass ratio divides : with R − 1
    S04 mz*(1-1/R) : the share of the start mass is taken of the final mass : with R − 1
propellant from the mass ratio
    m0*(1-1/R) [kg] (braeunig rockets)
    is propellant mass | propellant | used | fuel ; not fraction flow volume residual reserve
    S31 m0/R : the final mass is taken for the propellant : with it taken off
    S05 m0*(R-1) : the start mass is multiplied by R − 1 : with 1 − 1/R
propellant for a speed gain
    mz*(exp(dv/c)-1) [kg] (braeunig rockets)
    is propellant mass | propellant | used | fuel ; not residual reserve volume flow fraction
    S31 mz*exp(dv/c) : the start mass is taken for the propellant : with the final mass taken off
propellant for a speed gain
    m0*(1-exp(-dv/c)) [kg] (braeunig rockets)
    is propellant mass | propellant | used | fuel ; not residual reserve volume flow fraction
    S31 m0*exp(-dv/c) : the final mass is taken for the propellant : with it taken off
share of propellant
    1-exp(-dv/c) [1] (braeunig rockets)
    is propellant fraction | propellant mass fraction | fraction propellant ; not payload dry structural
    S31 exp(-dv/c) : the share of the final mass is taken : with one less it
    S04 exp(dv/c)-1 : the sign of the exponent is turned : with e to the minus Δv/c
share of propellant
    1-1/R [1] (braeunig rockets)
    is propellant fraction | propellant mass fraction | fraction propellant ; not payload dry structural
    S31 1/R : the share of the final mass is taken : with one less it
    S05 R-1 : propellant over final mass is taken : with 1 − 1/R
share of propellant
    mp/m0 [1] (braeunig rockets)
    is propellant fraction | propellant mass fraction | fraction propellant ; not payload dry structural
    S04 m0/mp : the quotient is upside down : with the propellant above
final mass
    m0/R [kg] (braeunig rockets)
    is end mass | end ; not fraction
    S04 m0*R : the mass ratio multiplies : with m₀/R
rocket equation
    I*g0*ln(m0/m1) [m/s] (braeunig rockets)
rocket equation
    c*ln(m0/m1) [m/s] (braeunig rockets)
start mass from the mass ratio
    mx*R [kg] (braeunig rockets)
    is start mass | start ; not fraction propellant
"""
