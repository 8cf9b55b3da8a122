"""A concept of one stage, with tanks and engines as a test wants them, laid out with stated masses."""

from wetmass.concept import loads
from wetmass.vehicle import Assembly
from wetmass.vehicle.geometry import lay_out

TEXT = """
name: Sketch
site: {{latitude: 14 deg N, longitude: 40 deg W}}
mission: {{perigee: 300 km, apogee: 300 km}}
payload: {payload}
stages:
  - name: only
    diameter: {diameter}
    {dry}
    propellant: {{pair: {pair}, {ratio}mass: {mass}}}
    engines: [{{count: {count}, thrust: {{vacuum: 250 kN}}, isp: {{vacuum: 340 s}}, exit area: 0.5 m²}}]
    {more}
    tanks:
{tanks}
"""


def text(*tanks, diameter="3 m", pair="LOX/LCH4", ratio="3.4", mass="44 t", count="1", dry="dry mass: 4 t",
         more="", payload="2 t"):  # fmt: skip
    listed = "\n".join(f"      - {{{tank}}}" for tank in tanks)
    if not tanks:
        listed = "      []"
    ratio = f"mixture ratio: {ratio}, " if ratio else ""
    return TEXT.format(tanks=listed, diameter=diameter, pair=pair, ratio=ratio, mass=mass, count=count,
                       dry=dry, more=more, payload=payload)  # fmt: skip


def concept(*tanks, **said):
    return loads(text(*tanks, **said), "sketch.yaml")


def vehicle(made, **values):
    return Assembly(made).vehicle({path.replace("_", " "): value for path, value in values.items()})


def stage(*tanks, **said):
    """The geometry of the stage."""
    made = concept(*tanks, **said)
    return lay_out(made, vehicle(made)).stages[0]
