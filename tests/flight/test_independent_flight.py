"""The compiled flight against a second one: plain Python physics, scipy's integrator and events."""

import math
from dataclasses import replace

import ascents
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from wetmass.flight import layout as at
from wetmass.flight.ascent import rise
from wetmass.physics.aerodynamics import drag, dynamic_pressure, mach_number
from wetmass.physics.atmosphere import air
from wetmass.physics.curve import spline_table, spline_value
from wetmass.physics.earth import AXIS_RATIO_SQUARED, GM, OMEGA, cartesian, geodetic, gravity, height
from wetmass.physics.heating import free_molecular_heating
from wetmass.physics.rocket import effective_exhaust_speed, mass_flow, thrust_in_air

TILT_RATE = math.radians(1.0)


def local(place):
    """Up, east, north at a place; up as the flight takes it (see the last test)."""
    up = place * np.array([1.0, 1.0, AXIS_RATIO_SQUARED])
    up = up / np.linalg.norm(up)
    east = np.array([-place[1], place[0], 0.0]) / math.hypot(place[0], place[1])
    return up, east, np.cross(up, east)


class PlainFlight:
    """The same ascent written from the public, checked functions; no line shared with the compiled rates."""

    def __init__(self, made, x):
        self.vehicle = made.build(made.open_values(x))
        self.x = {u.name: float(v) for u, v in zip(made.unknowns, x, strict=True)}
        self.limit, self.site, self.steering = made.limits.acceleration, made.site, made.steering
        self.curves = [spline_table(*zip(*s.drag_curve, strict=True)) for s in self.vehicle.stages]

    def stretch(self, t, y, until, stage=None, aim=None, most=np.inf):
        """Fly until `until(t, y)` rises through zero; `stage` burns, aimed by `aim(t, y, up, ahead)`."""
        below = until(t, y)
        until_rising = lambda time, state: until(time, state)  # noqa: E731
        until_rising.terminal, until_rising.direction = True, 1.0
        assert below < 0.0
        answer = solve_ivp(
            lambda time, state: self.rates(time, state, stage, aim), (t, t + min(most, 2000.0)), y,
            method="DOP853",
            rtol=1e-11, atol=1e-6, events=until_rising, max_step=1.0,  # its dense output is of order 7
        )  # fmt: skip
        assert answer.status in (0, 1), answer.message
        return float(answer.t[-1]), answer.y[:, -1]

    def full(self, stage, pressure):
        return sum(g.count * thrust_in_air(g.vacuum_thrust, g.exit_area, pressure) for g in stage.engines)

    def forces(self, t, y, stage, aim):
        place, speed = y[:3], y[3:6]
        up, _, _ = local(place)
        through_air = speed - np.cross([0.0, 0.0, OMEGA], place)
        size = float(np.linalg.norm(through_air))
        ahead = through_air / size if size > 1e-3 else up
        _, pressure, density, sound = air(max(height(*map(float, place)), -1000.0))
        q = dynamic_pressure(density, size)
        lowest = self.lowest
        coefficient = float(spline_value(mach_number(size, sound), self.curves[lowest]))
        back = drag(q, coefficient, self.vehicle.stages[lowest].drag_area)
        if stage is None:
            return ahead, ahead, back, 0.0, 0.0, q * size
        direction = aim(t, y, up, ahead)
        thrust = self.full(stage, pressure)
        throttle = min(1.0, (self.limit * y[6] + back * float(direction @ ahead)) / thrust)
        return direction, ahead, back, throttle * thrust, throttle, free_molecular_heating(density, size)

    def rates(self, t, y, stage, aim):
        direction, ahead, back, thrust, throttle, _ = self.forces(t, y, stage, aim)
        flow = 0.0
        if stage is not None:
            flow = throttle * sum(
                g.count * mass_flow(g.vacuum_thrust, effective_exhaust_speed(g.vacuum_isp))
                for g in stage.engines
            )
        pull = np.array(gravity(*map(float, y[:3]))) + (thrust * direction - back * ahead) / y[6]
        primer = np.zeros(6)
        if y[7] + y[8] + y[9] != 0.0:  # once aimed: over the round Earth, p'' = GM/r³·(3 r̂(r̂·p) − p)
            r = float(np.linalg.norm(y[:3]))
            out = y[:3] / r
            primer[:3] = y[10:13]
            primer[3:] = GM / r**3 * (3.0 * float(out @ y[7:10]) * out - y[7:10])
        return np.concatenate([y[3:6], pull, [-flow], primer])

    def fly(self):
        """End state (place, speed, mass), and the times of the events on the way."""
        site, first, second = self.site, *self.vehicle.stages
        place = np.array(cartesian(site.latitude, site.longitude, site.height))
        y = np.concatenate(
            [place, np.cross([0.0, 0.0, OMEGA], place), [self.vehicle.lift_off_mass], np.zeros(6)]
        )
        t, self.lowest, times = 0.0, 0, {}
        tilt, heading = self.x["tilt"], self.x["azimuth"]
        empty_first = self.vehicle.lift_off_mass - first.propellant.burns

        def vertical(t, y, up, ahead):
            return up

        t, y = self.stretch(
            t, y, lambda t, y: height(*map(float, y[:3])) - site.height - rise(self.vehicle), first, vertical
        )
        times["tilt begins"] = t

        def leaning(angle):
            def aim(t, y, up, ahead):
                _, east, north = local(y[:3])
                level = math.sin(heading) * east + math.cos(heading) * north
                a = angle(t)
                return math.cos(a) * up + math.sin(a) * level

            return aim

        begun = t
        lasts = tilt / TILT_RATE
        t, y = self.stretch(
            t, y, lambda t, y: t - begun - lasts, first, leaning(lambda t: TILT_RATE * (t - begun))
        )

        def from_vertical(t, y):
            up, _, _ = local(y[:3])
            through_air = y[3:6] - np.cross([0.0, 0.0, OMEGA], y[:3])
            return math.acos(float(through_air @ up) / float(np.linalg.norm(through_air))) - tilt

        t, y = self.stretch(t, y, from_vertical, first, leaning(lambda t: tilt))
        times["turn begins"] = t

        def along(t, y, up, ahead):
            return ahead

        def thin(t, y):  # dynamic pressure has fallen to the pressure of free steering
            through_air = y[3:6] - np.cross([0.0, 0.0, OMEGA], y[:3])
            q = dynamic_pressure(air(height(*map(float, y[:3])))[2], float(np.linalg.norm(through_air)))
            return 1.0 - q / self.steering.free_pressure if t > 60.0 else -1.0

        t, y = self.stretch(t, y, thin, first, along)
        times["free"] = t
        through_air = y[3:6] - np.cross([0.0, 0.0, OMEGA], y[:3])
        ahead = through_air / np.linalg.norm(through_air)
        side = np.cross(y[:3], ahead)
        side /= np.linalg.norm(side)
        out = np.cross(ahead, side)
        pitch, yaw = self.x["off pitch"], self.x["off yaw"]
        y[7:10] = math.cos(yaw) * (math.cos(pitch) * ahead + math.sin(pitch) * out) + math.sin(yaw) * side
        y[10:13] = (
            self.x["rate along"] * ahead + self.x["rate up"] * out + self.x["rate side"] * side
        ) / 300.0

        def free(t, y, up, ahead):
            return y[7:10] / np.linalg.norm(y[7:10])

        t, y = self.stretch(t, y, lambda t, y: empty_first - y[6], first, free)
        times["first burns out"] = t
        y[6] -= first.dry_mass + first.propellant.residuals
        self.lowest = 1
        begun = t
        t, y = self.stretch(t, y, lambda t, y: t - begun - second.pause)
        full = y[6]

        def cool(t, y):
            through_air = y[3:6] - np.cross([0.0, 0.0, OMEGA], y[:3])
            heating = free_molecular_heating(
                air(height(*map(float, y[:3])))[2], float(np.linalg.norm(through_air))
            )
            return 1.0 - heating / self.vehicle.let_go[0].value

        t, y = self.stretch(t, y, cool, second, free)
        times["fairing"] = t
        burnt = full - y[6]
        y[6] -= self.vehicle.let_go[0].mass
        end = y[6] - (second.propellant.burns - burnt)
        t, y = self.stretch(t, y, lambda t, y: end - y[6], second, free)
        times["end"] = t
        return y, times


@pytest.fixture(scope="module")
def both():
    """(plain flight's end and times, compiled flight) of the low-orbit optimum, without a pressure limit."""
    made, found = ascents.solved()
    made = replace(made, limits=replace(made.limits, pressure=math.inf))
    return PlainFlight(made, found.x).fly(), ascents.flight(made, found.x, tolerance=1e-11)


def test_a_whole_ascent_ends_where_an_independent_integration_of_plain_python_physics_does(both):
    # Second method of our own: scipy's DOP853 on a right-hand side written from the public checked functions,
    #   through both stages, throttling for felt acceleration and dropping the fairing by heating.
    # Both integrate to 1e-11; the turn without lift makes a difference at its start some thousand times
    # larger (scipy places events on its dense output), hence 5e-8: 0.3 m.
    (state, _), flown = both
    assert ascents.off(flown.state, state) < 5e-8
    assert flown.state[at.MASS] == pytest.approx(state[6], rel=1e-9)


@pytest.mark.parametrize(
    ("what", "kind"),
    [("tilt begins", at.TILT_BEGINS), ("turn begins", at.TURN_BEGINS), ("free", at.FREE_BEGINS),
     ("fairing", at.LET_GO), ("end", at.FLIGHT_ENDS)],
)  # fmt: skip
def test_events_come_when_they_come_in_the_independent_integration(both, what, kind):
    (_, times), flown = both
    (row,) = (r for r in flown.rows if int(r[at.ROW_EVENT]) == kind)
    assert row[at.ROW_TIME] == pytest.approx(
        times[what], abs=1e-5
    )  # the same difference, as time: air speed 2 km/s


def test_the_vertical_of_the_flight_is_the_geodetic_one_to_a_tenth_of_a_microradian_where_it_steers():
    # The flight steers by the vertical below 1 km only.  The normal of a concentric ellipsoid differs from
    # the geodetic one by about e²·(h/a)·sin φ·cos φ: 5e-7 rad at 1 km and 45°, a hundredth of that at the
    # pad.
    for latitude in (-60.0, 0.0, 14.2, 45.0, 80.0):
        place = np.array(cartesian(math.radians(latitude), 0.3, 250.0))
        up, _, _ = local(place)
        lat, lon, _ = geodetic(*map(float, place))
        true = np.array([math.cos(lat) * math.cos(lon), math.cos(lat) * math.sin(lon), math.sin(lat)])
        assert np.linalg.norm(up - true) < 1.5e-7
