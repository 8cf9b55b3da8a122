"""What a closed concept says of itself, by the names people give such values in a working."""

from __future__ import annotations

from wetmass.record.closed import Closed
from wetmass.record.flight import Flight
from wetmass.record.vehicle import Stage, Vehicle

STANDARD_GRAVITY = 9.80665  # m/s², exact (SI Brochure)
SEA_LEVEL_PRESSURE = 101325.0  # Pa, US Standard Atmosphere 1976
Model = dict[str, tuple[float, str]]

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def quantities(closed: Closed) -> Model:
    """Name → (value in SI, where it comes from) of a closed concept, for `check(model=…)`."""
    vehicle = closed.vehicle
    found: Model = {
        "payload mass": (vehicle.payload, "of the concept"),
        "lift-off mass": (vehicle.lift_off_mass, "mass table"),
    }
    thrust = vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE)
    if thrust > 0.0:
        found["lift-off thrust"] = (thrust, "all engines at sea level")
        weight = vehicle.lift_off_mass * STANDARD_GRAVITY
        found["lift-off thrust-to-weight"] = (thrust / weight, "at sea level")
    for index, stage in enumerate(vehicle.stages[: len(_ORDINALS)]):
        _stage(found, f"{_ORDINALS[index]} stage", stage, vehicle, index)
    if closed.flight is not None:
        _flown(found, closed.flight)
    return {name: pair for name, pair in found.items() if pair[0]}


def _stage(found: Model, name: str, stage: Stage, vehicle: Vehicle, index: int) -> None:
    """What one stage is."""
    propellant = stage.propellant
    start = vehicle.mass_above(index)
    found[f"{name} dry mass"] = (stage.dry_mass, "mass table")
    found[f"{name} propellant mass"] = (propellant.load, "everything tanked")
    found[f"{name} propellant burned"] = (propellant.burns, "through the engines on the way up")
    found[f"{name} residuals"] = (propellant.residuals, "stays aboard")
    found[f"{name} propellant to come home"] = (propellant.home, "mass table")
    found[f"{name} gross mass alone"] = (stage.gross_mass, "dry mass and everything tanked")
    found[f"{name} start mass"] = (start, "with everything above it, as on the pad")
    found[f"{name} structural fraction"] = (stage.structural_fraction, "dry over dry and propellant")
    found[f"{name} mixture ratio"] = (propellant.mixture_ratio, "oxidiser over fuel by mass")
    if stage.vacuum_thrust > 0.0:
        found[f"{name} vacuum thrust"] = (stage.vacuum_thrust, "all engines")
        found[f"{name} vacuum isp"] = (stage.vacuum_isp, "thrust over flow of all engines")
        found[f"{name} flow"] = (stage.flow, "all engines at full throttle")


def _flown(found: Model, flight: Flight) -> None:
    """What the flight came to."""
    losses = flight.losses
    flown = "as flown"
    found["ideal dv total"] = (losses.ideal, "Σ of all stages, in vacuum")
    found["gravity loss"] = (losses.gravity, flown)
    found["drag loss"] = (losses.drag, flown)
    found["steering loss"] = (losses.steering, flown)
    found["back-pressure loss"] = (losses.back_pressure, flown)
    found["rotation gain"] = (losses.rotation_gain, flown)
    found["max dynamic pressure"] = (flight.dynamic_pressure.value, flown)
    found["max felt acceleration"] = (flight.felt_acceleration.value, flown)
    found["time to orbit"] = (flight.duration, "from lift-off to the end of the last burn")
    found["perigee height"] = (flight.orbit.perigee, "above 6378.137 km")
    found["apogee height"] = (flight.orbit.apogee, "above 6378.137 km")
    for index, share in enumerate(flight.stages[: len(_ORDINALS)]):
        name = f"{_ORDINALS[index]} stage"
        found[f"{name} ideal dv"] = (share.ideal, "in vacuum, nothing lost")
        found[f"{name} burn time"] = (share.burn_time, flown)
        found[f"{name} thrust-to-weight"] = (share.thrust_to_weight, "at its ignition")
        found[f"{name} burnout speed"] = (share.burnout_speed, "as flown, in axes that do not turn")
        found[f"{name} burnout air speed"] = (share.burnout_air_speed, "as flown, over the turning Earth")
        found[f"{name} burnout height"] = (share.burnout_height, flown)
        found[f"{name} burnout downrange"] = (share.burnout_downrange, flown)


__all__ = ["quantities"]
