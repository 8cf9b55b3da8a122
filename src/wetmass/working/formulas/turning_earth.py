"""The turning Earth: gain, heading, inclination."""

RELATIONS = """
launch azimuth !
    asin(cos(i)/cos(phi)) [1] (braeunig orbits)
    is azimuth ; not sin cos
    S46 acos(cos(i)/cos(phi)) : acos is used for asin : with asin
    S46 i : the inclination is taken as the heading : with asin(cos i / cos φ)
    S46 asin(sin(i)/sin(phi)) : sines stand for cosines : with cosines
    S46 asin(cos(phi)/cos(i)) : the quotient is upside down : with cos i above
    S46 asin(sin(i)/cos(phi)) : sin i stands for cos i : with cos i
    S46 pi/2-asin(cos(i)/cos(phi)) : the heading is counted from east : counted from north
gain from rotation !
    465.1*cos(phi) [m/s] (braeunig orbits)
    is rotation gain | rotation ; not orbit
    S14 465.1*cos(phi*57.29577951308232) : the angle is keyed in degrees with the calculator in radians : in degrees
    S45 465.1*sin(phi) : the sine is used for the cosine : with the cosine
gain from rotation along the heading !
    465.1*cos(phi)*sin(az) [m/s] (braeunig orbits)
    is rotation gain | rotation ; not orbit
    S46 465.1*cos(phi)*cos(az) : the cosine of the heading is used for its sine : with the sine of the heading
    S45 465.1*sin(phi)*sin(az) : the sine of the latitude is used for its cosine : with the cosine
sine of the launch azimuth
    cos(i)/cos(phi) [1] (braeunig orbits)
    is sin | azimuth | sin azimuth
    S04 cos(phi)/cos(i) : the quotient is upside down : with cos i above
    S46 sin(i)/cos(phi) : sin i stands for cos i : with cos i
inclination of a heading
    acos(cos(phi)*sin(az)) [1] (braeunig orbits)
    is inclination
speed of the ground
    om*RE*cos(phi) [m/s] (braeunig orbits)
    is rotation | rotation gain | speed rotation | site speed | speed site | speed earth ; not orbit
speed of the ground
    465.1*cos(phi) [m/s] (braeunig orbits)
    is rotation | rotation gain | speed rotation | site speed | speed site | speed earth ; not orbit
gain along the heading
    w*sin(azn) [m/s] (braeunig orbits)
    is along azimuth | rotation gain | gain azimuth | azimuth
"""
