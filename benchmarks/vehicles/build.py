"""A published launcher as a vehicle record, payload and reserve still open."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from vehicles.figures import Case, number
from wetmass.physics.aerodynamics import DRAG_COEFFICIENTS, DRAG_MACH
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.vehicle import EngineGroup, LetGo, Moment, Propellant, Stage, StrapOn, Vehicle

# m², where the printed width is not that of a circle: the file's own note beside the diameter (from memory)
FRONTAL_AREA = {"proton_m": (17.0, math.pi / 4 * 4.1**2, math.pi / 4 * 4.1**2)}

MAIN_STOPS = "main engine stops"  # s after the last stage's ignition: verniers burn on
PAUSE = "pause before the last stage"  # s, where the file says it is the mission's choice


@dataclass(frozen=True, slots=True)
class Kit:
    """A launcher without its payload: `vehicle(...)` adds payload and reserve."""

    bare: Vehicle  # payload 0, the last stage with all its usable propellant
    chosen: tuple[str, ...] = ()  # what else the mission may choose: MAIN_STOPS, PAUSE

    def vehicle(self, payload: float, reserve_speed: float, choice: Mapping[str, float] = {}) -> Vehicle:
        """With `payload` [kg], and propellant kept for `reserve_speed` [m/s] at the last cut-off."""
        stages = list(self.bare.stages)
        last = stages[-1]
        p = last.propellant
        final = payload + last.dry_mass + p.residuals
        exhaust = end_isp(last) * STANDARD_GRAVITY
        reserve = p.reserve + final * math.expm1(reserve_speed / exhaust)
        last = replace(last, propellant=replace(p, burns=p.burns - reserve + p.reserve, reserve=reserve))
        if MAIN_STOPS in choice:
            main, *rest = last.engines
            last = replace(last, engines=(replace(main, stops_after=choice[MAIN_STOPS]), *rest))
        if PAUSE in choice:
            last = replace(last, pause=choice[PAUSE])
        stages[-1] = last
        return replace(self.bare, stages=tuple(stages), payload=payload)


def end_isp(stage: Stage) -> float:
    """Specific impulse of what still burns at the last cut-off [s]."""
    left = [g for g in stage.engines if g.stops_after is None]
    return sum(g.count * g.vacuum_thrust for g in left) / (sum(g.flow for g in left) * STANDARD_GRAVITY)


def kit(case: Case, drag: Mapping[str, float]) -> Kit:
    """The launcher of `case`, with drag curves mixed by their shares."""
    return _saturn_v(case, drag) if case.vehicle["id"] == "saturn_v" else _from_figures(case, drag)


def _curve(drag: Mapping[str, float]) -> tuple[tuple[float, float], ...]:
    """Usual drag curves, mixed by their shares."""
    mixed = [
        sum(share * DRAG_COEFFICIENTS[which][i] for which, share in drag.items())
        for i in range(len(DRAG_MACH))
    ]
    return tuple(zip(DRAG_MACH, mixed, strict=True))


def _from_figures(case: Case, drag: Mapping[str, float]) -> Kit:
    vehicle = case.vehicle
    body = number(vehicle["body_diameter_m"])
    widest = max(body, number(vehicle.get("fairing_diameter_m"), 0.0))
    serial = [entry for entry in vehicle["stages"] if "burns_with" not in entry]
    names = [entry["name"] for entry in serial]
    areas = FRONTAL_AREA.get(vehicle["id"], (math.pi / 4.0 * widest**2,) * len(serial))
    stages, let_go, chosen, strap_ons = [], [], [], []
    for entry in vehicle["stages"]:
        if "burns_with" in entry:
            across = number(vehicle["booster_diameter_m"])
            stage = _stage(case, entry, across, math.pi / 4.0 * across**2, drag)
            beside = next(i for i, name in enumerate(names) if entry["burns_with"] in name)
            after = number(entry.get("dropped_after_burnout_s"), 0.0)
            strap_ons.append(StrapOn(stage, entry["count"], beside, let_go_after=after))
            continue
        index = len(stages)
        stage = _stage(case, entry, body, areas[index], drag)
        if isinstance(entry.get("pause_s"), str):  # "coast to be chosen"
            chosen.append(PAUSE)
        if entry.get("vernier_only") is not None:
            chosen.append(MAIN_STOPS)
        stages.append(stage)
        let_go += [_let_go(piece, index, stage.pause) for piece in entry.get("drops", ())]
    bare = Vehicle(vehicle["name"], tuple(stages), 0.0, tuple(let_go), strap_ons=tuple(strap_ons))
    return Kit(bare, tuple(chosen))


def _stage(case: Case, entry: dict, diameter: float, area: float, drag: Mapping[str, float]) -> Stage:
    load = number(entry["propellant_kg"])
    kept = entry.get("residual_kg")
    residual = load * number(case.rules["residual"]["fraction"]) if kept is None else number(kept)
    pause = entry.get("pause_s", 0.0)
    start = boils = 0.0
    if (
        "pause_s" not in entry and "solid" not in entry["propellants"]
    ):  # lit on the pad, released when it pulls
        rule = case.rules["ground_start"]
        seconds = number(entry.get("lit_before_release_s"), number(rule["seconds"]))
        flow = 1e3 * number(entry["thrust_vac_kN"]) / (number(entry["isp_vac_s"]) * STANDARD_GRAVITY)
        start = number(rule["share_of_flow"]) * seconds * flow
    if entry["propellants"] == "LOX/LH2" and "pause_s" in entry:  # lit in flight: cooled and started there
        rule = case.rules["hydrogen"]
        start = load * number(rule["start_fraction"])
        boils = load * number(rule["boil_off_fraction_per_hour"]) / 3600.0
    return Stage(
        name=entry["name"],
        dry_mass=number(entry["dry_kg"]) + number(entry.get("carried_kg"), 0.0),
        propellant=Propellant(
            entry["propellants"],
            math.nan,
            burns=load - residual - start,
            residuals=residual,
            start_loss=start,
        ),
        engines=_engines(entry),
        diameter=diameter,
        drag_area=area,
        drag_curve=_curve(drag),
        pause=0.0 if isinstance(pause, str) else number(pause),
        boil_rate=boils,
    )


def _engines(entry: dict) -> tuple[EngineGroup, ...]:
    """One group with the thrust of all; where verniers may burn on alone, two."""
    if "phases" in entry:
        return _phases(
            [{**phase, "until_s": phase["until_after_ignition_s"]} for phase in entry["phases"]], 0.0
        )
    thrust, isp = 1e3 * number(entry["thrust_vac_kN"]), number(entry["isp_vac_s"])
    limits = entry.get("reach_limits") or {}
    least = number(limits.get("throttle_least"), 1.0)
    area = number(entry.get("exit_area_m2"), 0.0)
    vernier = entry.get("vernier_only")
    if vernier is None:
        whole = EngineGroup(entry.get("engines", "motor"), 1, thrust, area, isp, least, 2)
        return _less_later(whole, entry["later_thrust"]) if "later_thrust" in entry else (whole,)
    small, small_isp = 1e3 * number(vernier["thrust_vac_kN"]), number(vernier["isp_vac_s"])
    main = thrust - small
    flow = thrust / isp - small / small_isp  # over g
    return (
        EngineGroup("main", 1, main, area, main / flow),
        EngineGroup("verniers", 1, small, 0.0, small_isp),
    )


def _less_later(whole: EngineGroup, later: dict) -> tuple[EngineGroup, ...]:
    """The same thrust as two groups, one of which stops: from then on the share that the flown burn asks for."""
    share = number(later["share"])
    return tuple(
        replace(
            whole,
            name=f"{whole.name}, {name}",
            vacuum_thrust=whole.vacuum_thrust * part,
            exit_area=whole.exit_area * part,
            stops_after=stops,
        )
        for name, part, stops in (
            ("at first", 1.0 - share, float(later["after_s"])),
            ("all along", share, None),
        )
    )


def _let_go(piece: dict, index: int, pause: float) -> LetGo:
    when = piece["when"]
    if "after_ignition_s" in when:
        return _let_go_at(pause + when["after_ignition_s"], piece, index)
    return LetGo(
        piece["what"], number(piece["mass_kg"]), Moment.HEATING, float(when["heat_flux_W_m2"]), index
    )


def _let_go_at(time: float, piece: dict, index: int) -> LetGo:
    """A piece let go `time` [s] after its stage begins."""
    what = piece["what"]
    return LetGo(what, number(piece["mass_kg"]), Moment.TIME, time, index, covers=what == "fairing")


def earliest(case: Case) -> dict[str, float]:
    """Pieces that may not go before a time after their stage begins (its pause counts) [s]."""
    found = {}
    for entry in case.vehicle["stages"]:
        for piece in entry.get("drops", ()):
            if "not_before_ignition_s" in piece["when"]:
                pause = number(entry.get("pause_s", 0.0))
                found[piece["what"]] = pause + piece["when"]["not_before_ignition_s"]
    return found


# ── Saturn V: flown masses and cut-offs ──────────────────────────────────────────────────────────

RELEASE = 0.3  # s: the file's times count from range zero, ours from hold-down release


def _saturn_v(case: Case, drag: Mapping[str, float]) -> Kit:
    first, second, third = case.vehicle["stages"]
    area = math.pi / 4.0 * number(case.vehicle["body_diameter_m"]) ** 2
    curve = _curve(drag)
    residual = number(first["residual_kg"])
    fifth = 1e3 * number(first["thrust_vac_kN"]) / 5.0
    isp = number(first["isp_vac_s"])
    exit_area = number(first["exit_area_m2"]) / 5.0
    centre = first["engine_cutoffs"][0]["time_s"] - RELEASE
    as_flown = 31_995.0  # kg, the residual that the burnt and the dropped mass were printed with
    s_ic = Stage(
        "S-IC", number(first["dropped_kg"]) - as_flown,
        Propellant("LOX/RP-1", math.nan, number(first["propellant_kg"]) - (residual - as_flown), residual),
        (EngineGroup("centre F-1", 1, fifth, exit_area, isp, stops_after=centre),
         EngineGroup("outboard F-1", 4, fifth, exit_area, isp)),
        10.06, area, curve,
    )  # fmt: skip
    cut_off, main_stage = 161.63, 166.2  # s, range time: outboard cut-off, S-II main stage (FER506)
    s_ii = Stage(
        "S-II", number(second["dropped_kg"]) - number(second["residual_kg"]),
        Propellant(
            "LOX/LH2", math.nan, number(second["propellant_kg"]), number(second["residual_kg"]),
            start_loss=number(second["propellant_lost_kg"]),
        ),
        _phases(second["phases"], main_stage), 10.06, area, curve, pause=number(second["pause_s"]),
    )  # fmt: skip
    let_go = [_let_go_at(piece["when"]["time_s"] - cut_off, piece, 1) for piece in second["drops"]]
    if "c3_km2_s2" not in case.mission["orbit"]:  # two stages: what flew as the third is payload
        s_ii = replace(s_ii, dry_mass=s_ii.dry_mass - 3180.0)  # its S-IVB interstage
        return Kit(Vehicle("Saturn V, two stages", (s_ic, s_ii), 0.0, tuple(let_go[:1])))
    burn = third["burns"][0]
    s_ivb = Stage(
        "S-IVB", number(third["inert_without_usable_kg"]),
        Propellant(
            "LOX/LH2", math.nan,
            number(third["propellant_kg"]) + number(third["usable_left_kg"]) + number(third["coast_loss_kg"]),
            start_loss=number(third["propellant_lost_kg"]),
        ),
        (EngineGroup("J-2", 1, 1e3 * burn["thrust_vac_kN"], 0.0, burn["isp_vac_s"], 1.0, 2),),
        6.6, area, curve, pause=number(third["pause_s"]),
    )  # fmt: skip
    s_ii_cut_off = 548.22
    let_go += [_let_go_at(piece["when"]["time_s"] - s_ii_cut_off, piece, 2) for piece in third["drops"]]
    return Kit(Vehicle(case.vehicle["name"], (s_ic, s_ii, s_ivb), 0.0, tuple(let_go)))


def _phases(phases: list[dict], ignition: float) -> tuple[EngineGroup, ...]:
    """Falling thrust as groups that stop one after another: each phase is the sum of what still burns."""
    groups = []
    for phase, after in zip(phases, [*phases[1:], None], strict=True):
        thrust, flow = 1e3 * phase["thrust_vac_kN"], 1e3 * phase["thrust_vac_kN"] / phase["isp_vac_s"]
        if after is not None:
            thrust -= 1e3 * after["thrust_vac_kN"]
            flow -= 1e3 * after["thrust_vac_kN"] / after["isp_vac_s"]
        stops = None if after is None else phase["until_s"] - ignition
        groups.append(
            EngineGroup(f"until {phase['until_s']} s", 1, thrust, 0.0, thrust / flow, stops_after=stops)
        )
    return tuple(groups)
