"""Two propellants: shares, mixture ratios, bulk density."""

RELATIONS = """
fuel share !
    mt/(1+q) [kg] (braeunig rockets)
    is fuel | fuel mass ; not oxidiser flow volume density tank ratio fraction
    S29 mt/q : the total is divided by the mixture ratio itself : divided by one plus the mixture ratio
    S29 mt*q/(1+q) : the share of the oxidiser is taken : with the fuel's share
    S29 mt*q : the total is multiplied by the mixture ratio : divided by one plus the mixture ratio
    S29 mt/(1+1/q) : the share of the oxidiser is taken : with the fuel's share
oxidiser share !
    mt*q/(1+q) [kg] (braeunig rockets)
    is oxidiser | oxidiser mass ; not fuel flow volume density tank ratio fraction
    S29 mt/(1+q) : the share of the fuel is taken : with the oxidiser's share
    S29 mt-mt/q : the fuel is taken as total over mixture ratio : with one plus the mixture ratio below
    S29 mt*q : the total is multiplied by the mixture ratio : with one plus the mixture ratio below
fuel from oxidiser !
    mo/q [kg] (braeunig rockets)
    is fuel | fuel mass ; not oxidiser flow volume density tank ratio fraction
    S29 mo*q : the mixture ratio multiplies where it should divide : with the oxidiser over the mixture ratio
oxidiser from fuel !
    mf*q [kg] (braeunig rockets)
    is oxidiser | oxidiser mass ; not fuel flow volume density tank ratio fraction
    S29 mf/q : the mixture ratio divides where it should multiply : with the fuel times the mixture ratio
mixture ratio !
    mo/mf [1] (braeunig rockets)
    is mixture ratio ; not volume
    S29 mf/mo : oxidiser and fuel are swapped : with the oxidiser above
bulk density !
    (1+q)/(q/ra+1/rf) [kg/m3] (braeunig rockets)
    is bulk density | mean density | density propellant | density mixture
    S28 (q*ra+rf)/(1+q) : the densities are averaged by mass : with the volumes added
    S28 (ra+rf)/2 : the densities are averaged straight : with the volumes added
    S27 (q/ra+1/rf)/(1+q) : the quotient is upside down : the right way up
mixture by volume
    q*rf/ra [1] (braeunig rockets)
    is volume ratio | mixture volume
    S27 q*ra/rf : the densities are swapped : with the fuel's density above
"""
