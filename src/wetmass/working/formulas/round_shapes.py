"""Circles, spheres, rings, cones: areas, volumes, and back."""

RELATIONS = """
circle !
    pi*r^2 [m2] (pappus)
    is area ; not ratio surface wall side skin cylinder sphere
    S17 pi*r^2/4 : the radius is taken for the diameter : with π·r²
    S19 2*pi*r : the circumference is taken : with π·r²
circle !
    pi/4*d^2 [m2] (pappus)
    is area ; not ratio surface wall side skin cylinder sphere
    S17 pi*d^2 : the diameter is taken for the radius : with π/4·d²
    S17 pi/2*d^2 : the diameter is halved once instead of squared in half : with π/4·d²
sphere !
    4/3*pi*r^3 [m3] (pappus)
    is volume sphere | sphere ; not ring cylinder wall stress
    S17 4/3*pi*(2*r)^3 : the diameter is taken for the radius : with the radius
    S18 pi*r^3 : the 4/3 is left out : with 4/3
    S18 2/3*pi*r^3 : a half sphere is taken : with the whole sphere
    S06 4*pi*r^2 : the surface is taken for the volume : with 4/3·π·r³
sphere !
    pi/6*d^3 [m3] (pappus)
    is volume sphere | sphere ; not ring cylinder wall stress
    S17 4/3*pi*d^3 : the diameter is taken for the radius : with the radius
two hemispherical domes !
    4/3*pi*r^3 [m3] (pappus)
    is dome | volume dome ; not each cylinder root-2 elliptical total tank
    S18 2/3*pi*r^3 : only one of the two domes is counted : with both
    S18 2*pi*r^3 : the domes are taken as full cylinder ends : with two half spheres
    S17 4/3*pi*(2*r)^3 : the diameter is taken for the radius : with the radius
ring !
    2*pi^2*Rr*rr^2 [m3] (pappus)
    is ring volume
    S19 2*pi*Rr*rr^2 : the second π is left out : with π²
    S19 pi^2*Rr*rr^2 : the 2 is left out : with 2·π²
    S17 2*pi^2*(2*Rr)*rr^2 : the ring's diameter is taken for its radius : with the radius
    S17 2*pi^2*Rr*(2*rr)^2 : the tube's diameter is taken for its radius : with the radius
    S56 2*pi^2*Rr^2*rr : the wrong radius is squared : with the tube radius squared
frustum !
    pi*L/3*(Rr^2+Rr*rr+rr^2) [m3] (pappus)
    is frustum volume | frustum | cone volume
    S19 pi*L*((Rr+rr)/2)^2 : the mean radius is used : with R² + R·r + r²
    S19 pi*L*(Rr^2+Rr*rr+rr^2) : the third is left out : with the third
    S19 pi*L/3*(Rr^2+rr^2) : the middle term R·r is left out : with R² + R·r + r²
circumference !
    2*pi*Rr [m] (pappus)
    is ring length | length ring | circumference
    S17 pi*Rr : the radius is taken for the diameter : with 2·π·R
    S17 4*pi*Rr : the diameter is taken for the radius : with 2·π·R
    S19 2*Rr : π is left out : with π
circumference !
    pi*d [m] (pappus)
    is circumference
    S17 2*pi*d : the diameter is taken for the radius : with π·d
diameter of a circle
    sqrt(4*A/pi) [m] (solids)
    is diameter ; not ratio sphere volume
    S17 sqrt(A/pi) : the radius is taken for the diameter : with √(4·A/π)
    S17 2*sqrt(4*A/pi) : the diameter is doubled again : with √(4·A/π)
radius of a circle
    sqrt(A/pi) [m] (solids)
    is radius ; not ratio sphere volume orbit
    S17 sqrt(4*A/pi) : the diameter is taken for the radius : with √(A/π)
one hemispherical dome
    2/3*pi*r^3 [m3] (solids)
    is dome each | dome volume each ; not total
    S18 4/3*pi*r^3 : both domes are counted : with one half sphere
    S17 2/3*pi*(2*r)^3 : the diameter is taken for the radius : with the radius
diameter of a sphere
    cbrt(6*Vn/pi) [m] (solids)
    is diameter sphere | sphere diameter | diameter ; not throat exit
    S17 cbrt(3*Vn/(4*pi)) : the radius is taken for the diameter : with ∛(6·V/π)
radius of a sphere
    cbrt(3*Vn/(4*pi)) [m] (solids)
    is radius sphere | sphere radius | radius ; not throat exit orbit
    S17 cbrt(6*Vn/pi) : the diameter is taken for the radius : with ∛(3·V/4π)
    S19 cbrt(3*Vn/pi) : the 4 is left out : with ∛(3·V/4π)
    S06 sqrt(3*Vn/(4*pi)) : the square root is taken for the cube root : with the cube root
surface of a sphere
    4*pi*r^2 [m2] (solids)
    is sphere area | sphere surface | surface sphere
    S17 16*pi*r^2 : the diameter is taken for the radius : with the radius
    S19 pi*r^2 : the circle is taken for the surface : with 4·π·r²
side of a cylinder
    2*pi*r*L [m2] (solids)
    is mantle | mantle area | wall area | side area | skin area | surface area | area cylinder | surface ; not sphere dome cross throat exit
    S17 pi*r*L : the radius is taken for the diameter : with 2·π·r·L
    S17 4*pi*r*L : the diameter is taken for the radius : with 2·π·r·L
    S19 pi*r^2*L : the volume is taken for the side : with 2·π·r·L
volume of a prism
    A*L [m3] (solids)
    is volume | volume tank | volume cylinder ; not dome sphere total cone
surface of a sphere
    pi*d^2 [m2] (solids)
    is sphere area | sphere surface | surface sphere
side of a cylinder
    pi*d*L [m2] (solids)
    is mantle | wall area | side area | skin area | surface area | area cylinder | surface | side | area ; not sphere dome cross throat exit frontal reference canopy base
side of a cylinder
    2*pi*r*L [m2] (solids)
    is mantle | wall area | side area | skin area | surface area | area cylinder | surface | side ; not sphere dome cross throat exit frontal reference canopy base
one half sphere, surface
    2*pi*r^2 [m2] (solids)
    is dome area | dome surface ; not total
ellipsoidal dome
    2/3*pi*r^2*hd [m3] (solids)
    is dome | dome volume | ellipsoidal ; not total
two ellipsoidal domes
    4/3*pi*r^2*hd [m3] (solids)
    is dome | dome volume | ellipsoidal ; not each one
cone
    pi*r^2*L/3 [m3] (solids)
    is cone | cone volume | volume cone
cone from its diameter
    pi*d^2*L/12 [m3] (solids)
    is cone | cone volume | volume cone
annulus
    pi*(Rr^2-rr^2)*L [m3] (solids)
    is annulus volume | annular volume | volume annulus
annulus area
    pi*(Rr^2-rr^2) [m2] (solids)
    is annulus area | annulus | annular ; not volume
ring from diameters
    pi^2/4*Dr*d^2 [m3] (solids)
    is ring volume
ring from radius and diameter
    pi^2/2*Rr*d^2 [m3] (solids)
    is ring volume
surface of a ring
    4*pi^2*Rr*rr [m2] (solids)
    is ring area | ring surface
big radius of a ring
    Vn/(2*pi^2*rr^2) [m] (pappus)
    is ring radius | major radius | radius ring | ring
tube of a ring
    sqrt(Vn/(2*pi^2*Rr)) [m] (pappus)
    is tube radius | minor radius | tube | cross radius | ring radius
    S19 sqrt(Vn/(2*pi*Rr)) : the second π is left out : with π²
cylinder and two round ends from the diameter
    pi/4*d^2*L+pi/6*d^3 [m3] (solids)
    is volume | volume tank | total volume | volume total ; not ring cone
    S18 pi/4*d^2*L+pi/12*d^3 : only one end is counted : with both ends
    S18 pi/4*d^2*L : the round ends are left out : with both ends
    S17 pi/4*d^2*L+4/3*pi*d^3 : the diameter stands for the radius in the ends : with π/6·d³
"""
