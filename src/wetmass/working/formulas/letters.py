"""The letters of the relations: what names a value carries that may stand for one, its unit and usual range.

letter ; ideas in its name (options by |) ; SI unit ; least ; greatest
"""

LETTERS = """
# masses
mf1 ; fuel mass | fuel | propellant ; kg ; 0.01 ; 1e8
m0 ; start mass | start ; kg ; 0.01 ; 1e8
m1 ; end mass | end | dry mass ; kg ; 0.001 ; 1e8
mp ; propellant mass | propellant | used ; kg ; 0.001 ; 1e8
md ; dry mass | dry ; kg ; 0.001 ; 1e7
m ; mass ; kg ; 0.001 ; 1e8
mt ; propellant mass | propellant ; kg ; 0.01 ; 1e8
mpl ; payload mass | payload ; kg ; 0.1 ; 1e6
mo ; oxidiser mass | oxidiser ; kg ; 0.01 ; 1e8
mf ; fuel mass | fuel ; kg ; 0.01 ; 1e8
ml ; mass | load | fuel | oxidiser | propellant ; kg ; 0.001 ; 1e8
mx ; mass | start | end | dry | payload | propellant ; kg ; 0.001 ; 1e8
mz ; end mass | dry mass | payload mass | end | dry | payload ; kg ; 0.001 ; 1e8
# lengths
rp ; perigee radius | radius perigee | radius ; m ; 1.5e6 ; 1e9
rq ; apogee radius | radius apogee | radius ; m ; 1.5e6 ; 1e9
r ; radius ; m ; 0.005 ; 60
d ; diameter ; m ; 0.01 ; 120
L ; length | height ; m ; 0.01 ; 200
Rr ; ring radius | major radius | cross | radius ; m ; 0.05 ; 60
Dr ; ring diameter | major diameter | mean diameter | diameter ; m ; 0.1 ; 120
rr ; tube radius | minor radius | tube | radius ; m ; 0.01 ; 30
ro ; orbit radius | radius ; m ; 6.4e6 ; 1e9
h ; height ; m ; 8e4 ; 1e9
RE ; earth radius ; m ; 6.3e6 ; 6.4e6
de ; exit diameter ; m ; 0.005 ; 10
dt ; throat diameter ; m ; 0.002 ; 4
hh ; height | distance | length ; m ; 0.01 ; 1e8
wt ; wall ; m ; 1e-5 ; 0.2
ax ; axis | semi-major | orbit radius | radius ; m ; 6.4e6 ; 1e9
ra1 ; radius ; m ; 6.4e6 ; 1e9
rb1 ; radius ; m ; 6.4e6 ; 1e9
ch ; height | length ; m ; 0.01 ; 200
hb ; height ; m ; 8e4 ; 1e9
hc ; height ; m ; 8e4 ; 1e9
hd ; dome height | height dome | height ; m ; 0.01 ; 30
Ri ; inner radius | radius ; m ; 0.01 ; 30
rt1 ; radius orbit start | radius perigee | radius | orbit radius ; m ; 1.5e6 ; 1e9
rt2 ; radius orbit end | radius apogee | radius | orbit radius ; m ; 1.5e6 ; 1e9
dd ; engine diameter | spacing | pitch | diameter ; m ; 0.02 ; 10
rm ; orbit radius | radius ; m ; 1.6e6 ; 1e8
hr ; range | hop | hop distance ; m ; 1 ; 1e7
rad ; radius ; m ; 1e6 ; 1e9
# speeds
vf ; flight speed | flight ; m/s ; 1 ; 2000
vj ; exhaust speed ; m/s ; 50 ; 3000
vn ; infinity speed | speed infinity | hyperbolic speed | speed ; m/s ; 100 ; 40000
c ; exhaust speed ; m/s ; 500 ; 100000
dv ; dv | speed ; m/s ; 20 ; 20000
v ; speed ; m/s ; 0.5 ; 20000
ve ; exhaust speed ; m/s ; 500 ; 6000
vi ; dv ideal | ideal speed | ideal | dv ; m/s ; 200 ; 20000
lo ; loss ; m/s ; 1 ; 6000
v0 ; orbit speed | speed ; m/s ; 3000 ; 12000
v1 ; speed ; m/s ; 500 ; 12000
v2 ; speed ; m/s ; 500 ; 12000
vc ; circular speed | orbit speed | speed ; m/s ; 200 ; 12000
w ; rotation gain | rotation | gain ; m/s ; 1 ; 480
vb ; end speed ; m/s ; 1 ; 12000
cs ; cstar ; m/s ; 500 ; 3500
as ; sound speed | sound ; m/s ; 150 ; 500
vx ; speed | dv ; m/s ; 0.5 ; 40000
x1 ; mean speed ; m/s ; 0.5 ; 20000
vs ; escape speed | speed ; m/s ; 100 ; 60000
# times
I ; isp ; s ; 60 ; 10000
t ; burn time | time ; s ; 0.01 ; 1e7
I1 ; isp booster | isp ; s ; 60 ; 1300
I2 ; isp core | isp ; s ; 60 ; 1300
tb ; burn time ; s ; 0.01 ; 1e5
Tp ; period | time ; s ; 100 ; 1e8
# accelerations
g0 ; g0 ; m/s2 ; 9.7 ; 10
g ; gravity acceleration | gravity moon | gravity mars | g0 ; m/s2 ; 0.1 ; 30
a ; acceleration ; m/s2 ; 0.001 ; 2000
an ; acceleration net | acceleration ; m/s2 ; 0.001 ; 500
Cy ; acceleration | load ; m/s2 ; 0.01 ; 2000
# forces
F ; thrust ; N ; 0.1 ; 2e9
Fv ; thrust vac ; N ; 1 ; 2e9
F1 ; thrust booster | thrust ; N ; 1 ; 2e9
F2 ; thrust core | thrust ; N ; 1 ; 2e9
Wt ; weight ; N ; 0.1 ; 2e9
Fs ; thrust sl ; N ; 1 ; 2e9
# pressures
p ; pressure ; Pa ; 1000 ; 1e8
s ; stress ; Pa ; 1e6 ; 5e9
pe ; exit pressure ; Pa ; 10 ; 1e6
pa ; ambient pressure | pressure ; Pa ; 0 ; 1.1e5
pc ; chamber pressure | pressure ; Pa ; 1e5 ; 5e7
qd ; dynamic pressure ; Pa ; 0.1 ; 1e6
dp ; pressure rise | pump pressure | pressure head | pressure ; Pa ; 1e4 ; 1e8
# plain numbers and angles
bp ; bypass ; 1 ; 0.1 ; 20
nn ; count | number ; 1 ; 2 ; 200
R ; mass ratio | ratio ; 1 ; 1.01 ; 60
q ; mixture ratio | mixture ; 1 ; 0.2 ; 25
n ; engine count | count ; 1 ; 2 ; 60
i ; inclination ; 1 ; 0.0001 ; 3.2
az ; azimuth ; 1 ; 0 ; 6.3
phi ; latitude ; 1 ; -1.6 ; 1.6
di ; plane change | inclination | angle | plane ; 1 ; 0.0001 ; 3.2
cd ; cd | lift ; 1 ; 0.05 ; 3
ep ; expansion ratio | area ratio | epsilon | expansion ; 1 ; 1.5 ; 400
cf ; cf ; 1 ; 0.5 ; 2.5
te ; twr ; 1 ; 0.05 ; 300
eff ; efficiency ; 1 ; 0.01 ; 1
rs ; residual | usable ; 1 ; 0.0005 ; 0.2
lf ; mass fraction | fraction ; 1 ; 0.001 ; 0.99
gam ; gamma ; 1 ; 1.05 ; 1.7
xt ; term | pressure term ; 1 ; 0.001 ; 0.99
th ; angle | gimbal | pitch | elevation | deflection | slope ; 1 ; 0.0001 ; 1.6
LD ; glideratio | lift drag | lift ; 1 ; 0.3 ; 60
u ; ullage ; 1 ; 0.001 ; 0.4
gr ; growth | margin | allowance ; 1 ; 0.001 ; 0.8
sf ; safety | proof | burst ; 1 ; 1.01 ; 5
te2 ; twr ; 1 ; 0.05 ; 300
En ; efficiency ; 1 ; 0.01 ; 1
# areas
A ; area ; m2 ; 1e-5 ; 1e4
Ae ; exit area ; m2 ; 1e-5 ; 100
At ; throat area ; m2 ; 1e-6 ; 10
cda ; drag area ; m2 ; 0.001 ; 1e5
# volumes
Vt ; volume propellant total | volume total | volume ; m3 ; 0.01 ; 1e5
Vn ; volume ; m3 ; 0.0001 ; 1e5
Vu ; ullage volume | ullage ; m3 ; 0.00001 ; 1e4
# densities
rho ; density ; kg/m3 ; 1e-12 ; 1.6
ra ; oxidiser density | density lox ; kg/m3 ; 700 ; 2000
rf ; fuel density ; kg/m3 ; 40 ; 1600
rl ; density ; kg/m3 ; 30 ; 12000
# other
Pj ; power ; W ; 1 ; 1e12
k1 ; flow booster | flow ; kg/s ; 1e-6 ; 1e5
k2 ; flow core | flow ; kg/s ; 1e-6 ; 1e5
k ; flow ; kg/s ; 1e-6 ; 1e6
mu ; mu ; m3/s2 ; 1e11 ; 1e21
P ; heat leak | heat | leak | power ; W ; 0.001 ; 1e8
H ; latent heat | latent ; J/kg ; 1000 ; 5e6
SF ; tsfc ; s/m ; 1e-6 ; 1e-3
Rg ; gas radius | gas ; m2/s2 K ; 50 ; 5000
Tc ; chamber temperature | temperature ; K ; 150 ; 6000
Mm ; molar | molar mass | molecular ; kg/mol ; 0.001 ; 0.1
Ru ; universal | gas ; kg m2/s2 mol K ; 8.3 ; 8.4
Eg ; energy | chemical energy ; kg m2/s2 ; 1 ; 1e16
C3 ; c3 ; m2/s2 ; 1 ; 2e8
om ; rotation | angular | omega ; 1/s ; 1e-6 ; 100
Wf ; flux | heat flux ; kg/s3 ; 0.01 ; 1e9
cp ; heat capacity | specific heat | capacity ; m2/s2 K ; 100 ; 20000
dT ; temperature rise | temperature difference | temperature ; K ; 0.1 ; 5000
It ; impulse total | impulse ; kg m/s ; 0.1 ; 1e12
Qv ; volume flow | flow volume ; m3/s ; 1e-7 ; 100
TS ; tsfc | flow ratio ; s/m ; 1e-7 ; 1e-2
ko ; oxidiser flow ; kg/s ; 1e-6 ; 1e5
kf ; fuel flow ; kg/s ; 1e-6 ; 1e5
muo ; mu ; m3/s2 ; 1e9 ; 2e14
azn ; azimuth ; rad ; 0 ; 6.3
Ee ; energy specific | energy | heat ; m2/s2 ; 1000 ; 2e8
"""
