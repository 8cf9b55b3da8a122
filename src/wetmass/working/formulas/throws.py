"""Flights without thrust: throws and hops."""

RELATIONS = """
time of flight
    2*v/g [s] (mechanics)
    is time flight | flight time | time hop ; not burn period
time of flight at an angle
    2*v*sin(th)/g [s] (mechanics)
    is time flight | flight time | time hop | time ; not burn period
range of a throw
    vx^2/g [m] (mechanics)
    is range | hop | hop distance | distance hop
range of a throw at an angle
    vx^2*sin(2*th)/g [m] (mechanics)
    is range | hop | distance
speed for a throw
    sqrt(hr*g) [m/s] (mechanics)
    is speed ; not exhaust dv orbit
height of a throw
    (vx*sin(th))^2/(2*g) [m] (mechanics)
    is height | greatest height | greatest
vertical part of a speed
    vx*sin(th) [m/s] (mechanics)
    is vertical speed | speed up | up | v_up | climb speed ; not exhaust
level part of a speed
    vx*cos(th) [m/s] (mechanics)
    is horizontal speed | speed downrange | horizontal | downrange ; not exhaust
"""
