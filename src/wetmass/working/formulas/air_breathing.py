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
"""
