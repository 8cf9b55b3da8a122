"""The way up: accelerations, speeds, heights and times, burnout and coast."""

RELATIONS = """
distance at steady acceleration !
    0.5*a*t^2 [m] (steady)
    is height | distance ; not stopping coast orbit apogee perigee greatest length tank
    S01 a*t^2 : the ½ is left out : with the ½
    S06 0.5*a*t : the time is not squared : with the square
acceleration !
    F/m [m/s2] (steady)
    is acceleration ; not net
    S04 m/F : the quotient is upside down : with the thrust above
net acceleration !
    F/m-g [m/s2] (steady)
    is acceleration net
    S24 F/m : the weight is left out : with g taken off
    S24 F/m-2*g : gravity is taken off twice : with g taken off once
    S24 F/m+g : gravity has the wrong sign : with g taken off
coasting height !
    v^2/(2*g) [m] (steady)
    is coast | coast height | height coast ; not total greatest
    S01 v^2/g : the half is left out : with the half
    S06 v/(2*g) : the speed is not squared : with the square
gravity loss !
    g*t [m/s] (steady)
    is gravity loss ; not rate
burnout speed, straight up !
    F*t/(m0-m1)*ln(m0/m1)-g*t [m/s] (braeunig rockets)
    is speed end | burnout speed | end speed ; not dv loss ideal exhaust
    S41 (F/m0-g)*t : the first mass is kept through the whole burn : with the mass falling as it burns
    S41 (F/((m0+m1)/2)-g)*t : the mean mass is kept through the whole burn : with the mass falling as it burns
    S41 F/m0*t : the first mass is kept and the weight left out : with the rocket equation less g·t
    S24 F*t/(m0-m1)*ln(m0/m1) : the gravity loss is left out : with g·t taken off
way at steady acceleration
    0.5*a*t^2 [m] (mechanics)
    is  ; not area volume tank cylinder
    S01 a*t^2 : the ½ is left out : with the ½
way at steady acceleration
    0.5*vb*t [m] (mechanics)
    is height end | height burnout | height | distance ; not stopping coast orbit apogee perigee greatest tank cylinder dome stage mean
    S01 vb*t : the speed at the end is taken for the whole way : with half of it, the mean speed,
way at steady acceleration
    0.5*vx*tb [m] (mechanics)
    is height end | height burnout | height ; not stopping coast orbit apogee perigee greatest tank cylinder dome stage mean
    S01 vx*tb : the speed at the end is taken for the whole way : with half of it, the mean speed,
way from the mean speed
    x1*t [m] (mechanics)
    is height | distance
speed at steady acceleration
    a*t [m/s] (mechanics)
    is speed | end speed ; not exhaust dv orbit
time at steady acceleration
    sqrt(2*hh/a) [s] (mechanics)
    is time | burn time ; not period wall
    S01 sqrt(hh/a) : the 2 is left out : with the 2
fall or climb speed
    sqrt(2*a*hh) [m/s] (mechanics)
    is speed ; not exhaust dv orbit escape
    S01 sqrt(a*hh) : the 2 is left out : with the 2
speed from height
    sqrt(2*g*hh) [m/s] (mechanics)
    is speed fall | impact speed | speed impact | speed drop | speed ; not exhaust dv orbit escape
    S01 sqrt(g*hh) : the 2 is left out : with the 2
coasting height
    vx^2/(2*g) [m] (mechanics)
    is height | coast | coast height | greatest height | greatest ; not orbit
    S01 vx^2/g : the half is left out : with the half
coasting time
    v/g [s] (mechanics)
    is coast time | time greatest
kinetic energy
    0.5*mx*vx^2 [kg m2/s2] (mechanics)
    is  ; not potential
    S01 mx*vx^2 : the ½ is left out : with the ½
energy of motion per mass
    0.5*vx^2 [m2/s2] (mechanics)
    is energy ; not potential
    S01 vx^2 : the ½ is left out : with the ½
burnout speed, straight up
    F*tb/(m0-m1)*ln(m0/m1)-g*tb [m/s] (braeunig rockets)
    is speed ; not dv loss ideal exhaust orbit
    S41 (F/m0-g)*tb : the first mass is kept through the whole burn : with the mass falling as it burns
    S41 F/m0*tb : the first mass is kept and the weight left out : with the rocket equation less g·t
burnout speed, straight up
    c*ln(m0/m1)-g*tb [m/s] (braeunig rockets)
    is speed | end speed | burnout speed ; not loss ideal exhaust orbit
    S45 c*ln(m0/m1)+g*tb : the gravity loss is added : with it taken off
time of a fall
    sqrt(2*hh/g) [s] (mechanics)
    is time | fall ; not period wall burn
    S01 sqrt(hh/g) : the 2 is left out : with the 2
depth of a fall
    0.5*g*t^2 [m] (mechanics)
    is height | distance | fall ; not coast orbit
    S01 g*t^2 : the ½ is left out : with the ½
mean mass
    (m0+m1)/2 [kg] (mechanics)
    is mean mass ; not flow
mean acceleration
    F/((m0+m1)/2) [m/s2] (mechanics)
    is mean acceleration ; not net drag
    S41 F/m0 : the first mass is taken for the whole burn : with the mean mass
    S41 F/m1 : the last mass is taken for the whole burn : with the mean mass
burnout speed, straight up
    vi-g*tb [m/s] (mechanics)
    is end speed | speed end | speed burnout | speed ; not exhaust dv orbit loss ideal
speed after a steady push
    v+a*t [m/s] (mechanics)
    is end speed | speed ; not exhaust dv orbit loss ideal
speed at steady net acceleration
    an*t [m/s] (mechanics)
    is speed | end speed ; not exhaust dv orbit
time of rise
    v/g [s] (mechanics)
    is time rise | time coast | rise time | time greatest | time ; not burn period orbit transfer flight fall
way at steady acceleration
    0.5*an*t^2 [m] (mechanics)
    is height | distance ; not greatest orbit stopping coast tank
potential energy
    mx*g*hh [kg m2/s2] (mechanics)
    is energy potential | potential | energy height
centripetal acceleration
    vx^2/ro [m/s2] (mechanics)
    is acceleration centripetal | centripetal | acceleration ; not net
height of a coast
    vx^2/(2*g) [m] (mechanics)
    is  ; not radius range hop orbit
turn radius
    vx^2/a [m] (mechanics)
    is radius | turn
time of a fall
    sqrt(2*hh/g) [s] (mechanics)
    is  ; not period
mean acceleration
    dv/tb [m/s2] (mechanics)
    is acceleration mean | mean acceleration
felt acceleration
    F/mx [m/s2] (mechanics)
    is acceleration felt | felt | acceleration end | acceleration start | acceleration ; not net gravity mean
net acceleration
    F/mx-g [m/s2] (mechanics)
    is acceleration net | acceleration start | acceleration liftoff | net | upward acceleration ; not felt
time to a speed
    vx/an [s] (mechanics)
    is time | burn time | climb time | time up ; not period fall coast wall
way to a speed
    vx^2/(2*an) [m] (mechanics)
    is height | distance | height end ; not greatest orbit tank coast
    S01 vx^2/an : the half is left out : with the half
thrust for a climb
    m*(g+a) [N] (mechanics)
    is thrust needed | thrust liftoff | thrust up | thrust vertical | thrust landing ; not weight net
    S24 m*a : the weight is left out : with g added
    S24 m*(a-g) : the weight is taken off : with g added
thrust for a climb
    te2*m*g0 [N] (mechanics)
    is thrust | thrust needed | thrust liftoff ; not weight net
    S24 m*g0 : the thrust is set equal to the weight : with the ratio asked for
    S02 te2*m : g is left out of the weight : with m·g
acceleration from thrust to weight
    (te2-1)*g0 [m/s2] (mechanics)
    is acceleration | acceleration liftoff | acceleration start | acceleration net ; not felt
    S24 te2*g0 : the weight is not taken off : with the 1 taken off
mean net acceleration
    F/((m0+m1)/2)-g [m/s2] (mechanics)
    is mean acceleration | acceleration mean net ; not drag felt
    S24 F/((m0+m1)/2) : the weight is left out : with g taken off
    S41 F/m0-g : the first mass is kept through the whole burn : with the mean mass
height from burnout and coast
    hh+vx^2/(2*g) [m] (mechanics)
    is greatest height | greatest | apogee height | apogee | height total | height greatest
    S01 hh+vx^2/g : the half is left out : with the half
    S43 vx^2/(2*g) : the height at burnout is left out : with it added
    S43 hh : the coast is left out : with it added
"""
