"""Walls, stresses and the pressures on them."""

RELATIONS = """
wall under pressure, cylinder !
    p*r/s [m] (shells)
    is wall ; not sphere dome mass
    S17 2*p*r/s : the diameter is taken for the radius : with the radius
    S17 p*r/(2*s) : the formula for a sphere is used on a cylinder : with p·r/σ
wall under pressure, cylinder !
    p*d/(2*s) [m] (shells)
    is wall ; not sphere dome mass
    S17 p*d/s : the diameter is taken for the radius : with p·D/(2·σ)
    S17 p*d/(4*s) : the formula for a sphere is used on a cylinder : with p·D/(2·σ)
wall under pressure, sphere !
    p*r/(2*s) [m] (shells)
    is wall sphere | wall dome ; not mass
    S17 p*r/s : the formula for a cylinder is used on a sphere : with p·r/(2·σ)
hoop stress
    p*r/wt [Pa] (shells)
    is stress | hoop
    S17 2*p*r/wt : the diameter is taken for the radius : with the radius
    S17 p*r/(2*wt) : the stress of a sphere is taken : with p·r/t
wall under pressure, sphere
    p*d/(4*s) [m] (shells)
    is wall sphere | wall dome | sphere wall ; not mass
hoop stress
    p*d/(2*wt) [Pa] (shells)
    is stress hoop | hoop | stress ; not longitudinal axial
lengthwise stress
    p*d/(4*wt) [Pa] (shells)
    is longitudinal stress | stress longitudinal | axial stress | stress axial | stress length ; not hoop
lengthwise stress
    p*r/(2*wt) [Pa] (shells)
    is longitudinal stress | stress longitudinal | axial stress | stress axial | stress length ; not hoop
stress in a sphere
    p*d/(4*wt) [Pa] (shells)
    is sphere stress | stress sphere
mass of a shell
    A*wt*rl [kg] (shells)
    is mass | wall mass | mass wall | dry | mass tank | tank mass | shell | skin mass ; not ratio
mass of a barrel
    pi*d*L*wt*rl [kg] (shells)
    is mass | wall mass | mass wall | dry | mass tank | tank mass | shell | skin mass ; not ratio
mass of a barrel
    2*pi*r*L*wt*rl [kg] (shells)
    is mass | wall mass | mass wall | dry | mass tank | tank mass | shell | skin mass ; not ratio
force on a bulkhead
    p*pi*r^2 [N] (shells)
    is thrust | bulkhead | dome thrust ; not twr side
force on a bulkhead
    p*pi/4*d^2 [N] (shells)
    is thrust | bulkhead | dome thrust ; not twr side
force of a pressure
    p*A [N] (shells)
    is thrust | bulkhead | dome thrust | ullage ; not twr side drag
pressure of a force
    F/A [Pa] (shells)
    is pressure | bearing ; not chamber dynamic
head of a liquid
    rl*g*hh [Pa] (shells)
    is pressure | head | pressure head | static ; not dynamic chamber exit ambient
head of a liquid under acceleration
    rl*Cy*hh [Pa] (shells)
    is pressure | head | pressure head | static ; not dynamic chamber exit ambient
proof or burst pressure
    p*sf [Pa] (shells)
    is pressure proof | pressure burst | proof | burst | pressure design | design pressure
stress allowed
    s/sf [Pa] (shells)
    is stress | allowable stress ; not hoop
mass of a sphere under pressure
    1.5*p*Vn*rl/s [kg] (shells)
    is mass | mass wall | mass tank | dry mass ; not propellant
mass of a cylinder under pressure
    2*p*Vn*rl/s [kg] (shells)
    is mass | mass wall | mass tank | dry mass ; not propellant
"""
