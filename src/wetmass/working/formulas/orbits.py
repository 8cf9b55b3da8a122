"""Orbits: speed, period, energy, transfers and changes of plane."""

RELATIONS = """
circular speed !
    sqrt(mu/ro) [m/s] (braeunig orbits)
    is orbit speed | circular speed | circular | orbit | speed ; not escape period radius height dv losses gain transfer exhaust end perigee apogee
    S49 sqrt(2*mu/ro) : the escape speed is worked out : without the 2
    S06 mu/ro : the root is not taken : with the root
circular speed !
    sqrt(mu/(RE+h)) [m/s] (braeunig orbits)
    is orbit speed | circular speed | circular | speed ; not escape period radius dv losses gain transfer end burnout exhaust
    S22 sqrt(mu/h) : the height stands where the orbit radius belongs : with Earth's radius added
    S49 sqrt(2*mu/(RE+h)) : the escape speed is worked out : without the 2
    S22 sqrt(mu/RE) : the height is left out of the orbit radius : with the height added
escape speed !
    sqrt(2*mu/ro) [m/s] (braeunig orbits)
    is escape speed | escape
    S49 sqrt(mu/ro) : the circular speed is worked out : with the 2
    S49 2*sqrt(mu/ro) : the 2 stands outside of the root : under the root
escape speed !
    sqrt(2*mu/(RE+h)) [m/s] (braeunig orbits)
    is escape speed | escape
    S49 sqrt(mu/(RE+h)) : the circular speed is worked out : with the 2
    S22 sqrt(2*mu/h) : the height stands where the orbit radius belongs : with Earth's radius added
orbit radius !
    RE+h [m] (braeunig orbits)
    is orbit radius | radius ; not tank nozzle throat exit tube ring
    S22 h : Earth's radius is left out : with Earth's radius added
orbit period !
    2*pi*sqrt(ro^3/mu) [s] (braeunig orbits)
    is period
    S06 2*pi*sqrt(ro^2/mu) : the radius is squared for cubed : with the cube
    S19 sqrt(ro^3/mu) : 2π is left out : with 2π
    S19 pi*sqrt(ro^3/mu) : the 2 is left out : with 2π
orbit period !
    2*pi*sqrt((RE+h)^3/mu) [s] (braeunig orbits)
    is period
    S22 2*pi*sqrt(h^3/mu) : the height stands where the orbit radius belongs : with Earth's radius added
    S19 sqrt((RE+h)^3/mu) : 2π is left out : with 2π
plane change !
    2*v0*sin(di/2) [m/s] (braeunig orbits)
    is plane change | plane | plane dv
    S47 v0*(1-cos(di)) : 1 − cos Δi is used : with 2·v·sin(Δi/2)
    S47 v0*di : the arc is taken for the chord : with 2·v·sin(Δi/2)
    S47 v0*sin(di) : v·sin(Δi) is used : with 2·v·sin(Δi/2)
    S47 2*v0*sin(di) : the angle is not halved : with 2·v·sin(Δi/2)
    S47 v0*sin(di/2) : the 2 is left out : with 2·v·sin(Δi/2)
transfer between circular orbits !
    v1*((2*v1^2/(v1^2+v2^2))^0.5-1)+v2*(1-(2*v2^2/(v1^2+v2^2))^0.5) [m/s] (braeunig orbits)
    is transfer | dv transfer | transfer total ; not time period first second perigee apogee burn
    S48 v1-v2 : the two circular speeds are subtracted : with the two burns of the transfer ellipse
escape from a circular orbit !
    vc*2^0.5 [m/s] (braeunig orbits)
    is escape speed | escape
    S49 2*vc : the circular speed is doubled : times the root of two
    S49 1.5*vc : half is added to the circular speed : times the root of two
gravity at a height
    g0*(RE/ro)^2 [m/s2] (braeunig orbits)
    is gravity | gravity acceleration | acceleration ; not net loss
    S06 g0*RE/ro : the ratio of radii is not squared : with the square
gravity at a height
    g0*(RE/(RE+h))^2 [m/s2] (braeunig orbits)
    is gravity | gravity acceleration | acceleration ; not net loss
    S06 g0*RE/(RE+h) : the ratio of radii is not squared : with the square
semi-major axis
    RE+(hb+hc)/2 [m] (braeunig orbits)
    is axis | axis transfer | semi-major
    S22 (hb+hc)/2 : Earth's radius is left out : with Earth's radius added
transfer time
    pi*sqrt(ax^3/mu) [s] (braeunig orbits)
    is transfer time
    S01 2*pi*sqrt(ax^3/mu) : the whole period is taken : with half of it
    S06 pi*sqrt(ax^2/mu) : the axis is squared for cubed : with the cube
semi-major axis
    (ra1+rb1)/2 [m] (braeunig orbits)
    is axis | axis transfer | semi-major
    S01 ra1+rb1 : the half is left out : with the half
speed on an ellipse
    sqrt(mu*(2/ro-1/ax)) [m/s] (braeunig orbits)
    is speed perigee | speed apogee | perigee speed | apogee speed | transfer speed | speed ; not exhaust burnout dv
    S06 sqrt(mu*(1/ro-1/ax)) : the 2 is left out : with 2/r
    S06 sqrt(mu*(2/ro+1/ax)) : the sign is turned : with 1/a taken off
    S49 sqrt(2*mu*(2/ro-1/ax)) : a 2 too many stands under the root : without it
gravity at a height
    mu/ro^2 [m/s2] (braeunig orbits)
    is gravity | gravity acceleration | acceleration ; not net loss
    S06 mu/ro : the radius is not squared : with the square
orbit period
    2*pi*sqrt(ax^3/mu) [s] (braeunig orbits)
    is period
    S06 2*pi*sqrt(ax^2/mu) : the radius is squared for cubed : with the cube
    S01 pi*sqrt(ax^3/mu) : half the period is taken : with 2π
orbit period
    2*pi*ro/vc [s] (braeunig orbits)
    is period
    S01 pi*ro/vc : the 2 is left out : with 2π
energy of an orbit
    mu/(2*ax) [m2/s2] (braeunig orbits)
    is energy | specific energy | orbit energy ; not kinetic potential chemical
speed with an energy left over
    sqrt(vs^2+C3) [m/s] (braeunig orbits)
    is speed | hyperbolic | departure
    S49 sqrt(vs^2+C3^2) : C3 is squared again : C3 is the square already
speed far away
    sqrt(C3) [m/s] (braeunig orbits)
    is speed | infinity
energy left over
    vx^2-2*mu/ro [m2/s2] (braeunig orbits)
    is c3
circular speed round another world
    sqrt(muo/rm) [m/s] (braeunig orbits)
    is orbit speed | circular speed | speed ; not escape
escape speed from another world
    sqrt(2*muo/rm) [m/s] (braeunig orbits)
    is escape speed | escape | speed
angular rate
    2*pi/Tp [1/s] (braeunig orbits)
    is angular | rate angular | speed angular
first burn of a transfer
    vc*(sqrt(2*rt2/(rt1+rt2))-1) [m/s] (braeunig orbits)
    is first | burn | dv | dv first | dv transfer | transfer ; not total second time
second burn of a transfer
    vc*(1-sqrt(2*rt1/(rt1+rt2))) [m/s] (braeunig orbits)
    is second | burn | dv | dv second | dv transfer | transfer ; not total first time
first burn of a transfer
    sqrt(mu/rt1)*(sqrt(2*rt2/(rt1+rt2))-1) [m/s] (braeunig orbits)
    is first | burn | dv | dv first | dv transfer | transfer ; not total second time
second burn of a transfer
    sqrt(mu/rt2)*(1-sqrt(2*rt1/(rt1+rt2))) [m/s] (braeunig orbits)
    is second | burn | dv | dv second | dv transfer | transfer ; not total first time
transfer time
    pi*sqrt(((rt1+rt2)/2)^3/mu) [s] (braeunig orbits)
    is transfer time | time transfer
lowering one end of an orbit
    vc*(1-sqrt(2*rt1/(rt1+rt2))) [m/s] (braeunig orbits)
    is deorbit | lowering | dv deorbit
plane change
    2*vc*sin(di/2) [m/s] (braeunig orbits)
    is plane change | plane | plane dv | change plane
combined change of speed and plane
    sqrt(v1^2+v2^2-2*v1*v2*cos(di)) [m/s] (braeunig orbits)
    is plane | combined | dv
axis of a transfer
    (rt1+rt2)/2 [m] (braeunig orbits)
    is axis | semi-major
gravity at a height
    mu/ro^2 [m/s2] (braeunig orbits)
    is gravity acceleration | gravity | acceleration ; not net
departure burn
    sqrt(vn^2+2*mu/ro)-sqrt(mu/ro) [m/s] (braeunig orbits)
    is dv | dv departure | departure | dv escape
    S49 sqrt(vn^2+2*mu/ro) : the speed in the orbit is not taken off : with it taken off
    S22 vn+sqrt(2*mu/ro)-sqrt(mu/ro) : the speeds are added straight : squares added under the root
departure burn
    sqrt(C3+2*mu/ro)-sqrt(mu/ro) [m/s] (braeunig orbits)
    is dv | dv departure | departure | dv escape
    S49 sqrt(C3^2+2*mu/ro)-sqrt(mu/ro) : C3 is squared again : C3 is the square already
departure burn
    sqrt(vn^2+vs^2)-vc [m/s] (braeunig orbits)
    is dv | dv departure | departure | dv escape
    S49 vn+vs-vc : the speeds are added straight : squares added under the root
speed at the low end of an ellipse
    sqrt(2*mu*rq/(rp*(rp+rq))) [m/s] (braeunig orbits)
    is perigee speed | speed perigee | transfer speed | speed ; not exhaust dv end
    S01 sqrt(mu*rq/(rp*(rp+rq))) : the 2 is left out : with the 2
eccentricity
    (rq-rp)/(rq+rp) [1] (braeunig orbits)
    is eccentricity
    S56 (rq+rp)/(rq-rp) : the quotient is upside down : with the difference above
"""
