"""Engines on a ring."""

RELATIONS = """
ring of engines !
    1+1/sin(3.141592653589793/n) [1] (packing)
    is ring ratio | ring radius | packing | ring ; not volume tank
    S20 1/sin(3.141592653589793/n) : the 1 of the engine's own radius is left out : with the 1
    S20 n/3.141592653589793 : the circumference is shared out : with 1 + 1/sin(π/n)
    S20 n^0.5 : areas are compared : with 1 + 1/sin(π/n)
pitch circle of a ring of engines
    dd/(2*sin(pi/n)) [m] (solids)
    is pitch radius | ring radius | pitch | circle radius | radius ; not tank nozzle orbit
radius over a ring of engines
    r*(1+1/sin(pi/n)) [m] (packing)
    is ring radius total | ring total | radius total | ring radius
    S20 r/sin(pi/n) : the 1 of the engine's own radius is left out : with the 1
    S20 r*n/pi : the circumference is shared out : with 1 + 1/sin(π/n)
"""
