"""Masses and their shares: structure, payload, growth."""

RELATIONS = """
structural fraction !
    md/(md+mp) [1] (akin)
    is dry fraction | structural fraction | epsilon ; not expansion area payload
    S34 md/mp : dry mass over propellant is taken : over dry mass and propellant together
    S34 mp/(md+mp) : the propellant fraction is taken : with the dry mass above
payload fraction !
    mpl/m0 [1] (akin)
    is payload fraction | payload ratio
    S35 100*mpl/m0 : the percentage is given as a plain number : as a fraction
mass at burnout
    m0-mp [kg] (braeunig rockets)
    is end mass | end ; not fraction ratio speed height propellant
    S56 m0+mp : the propellant is added : with it taken off
mass at ignition
    m1+mp [kg] (braeunig rockets)
    is start mass | start ; not fraction ratio speed height propellant
dry mass from a structural fraction
    lf*mp/(1-lf) [kg] (braeunig rockets)
    is dry | dry mass ; not fraction
mass of several
    n*mx [kg] (braeunig rockets)
    is total mass | mass total | mass all
grown mass
    mx*(1+gr) [kg] (braeunig rockets)
    is mass | dry | dry mass | predicted ; not propellant fuel oxidiser
dry mass from the gross mass
    lf*mx [kg] (akin)
    is dry | dry mass | payload | payload mass ; not fraction
dry mass of a stage
    lf*m0 [kg] (akin)
    is dry | dry mass | payload | payload mass ; not fraction
start mass from the payload
    mpl/lf [kg] (akin)
    is start | start mass
    S04 mpl*lf : the fraction multiplies : with the payload over the fraction
start mass of a stage from its fraction
    mp/(1-lf) [kg] (akin)
    is start | start mass | stage mass | total mass
    S34 mp*(1+lf) : the fraction is put on the propellant : over one less the fraction
    S34 mp/lf : the fraction itself stands below : one less the fraction
"""
