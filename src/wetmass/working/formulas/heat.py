"""Heat, boil-off, and the heat of thin air."""

RELATIONS = """
boil-off !
    P*t/H [kg] (steady)
    is boiloff
    S54 P*t/3600/H : hours are taken as seconds : with 3600 s to the hour
    S54 P*t/86400/H : days are taken as seconds : with 86 400 s to the day
heat flux of thin air
    0.5*rho*v^3 [kg/s3] (air)
    is heat | flux | heating
boil-off rate
    P/H [kg/s] (heat)
    is boiloff | boiloff flow
boil-off of an area
    Wf*A/H [kg/s] (heat)
    is boiloff | boiloff flow
heat through an area
    Wf*A [kg m2/s3] (heat)
    is heat | power | leak ; not flux
heat to warm a mass
    mx*cp*dT [kg m2/s2] (heat)
    is heat | energy
heat to warm a flow
    k*cp*dT [kg m2/s3] (heat)
    is heat | power ; not pump exhaust
energy of a mass
    mx*Ee [kg m2/s2] (heat)
    is energy | heat | chemical ; not kinetic potential specific
heat flux
    P/A [kg/s3] (heat)
    is flux | heat flux
"""
