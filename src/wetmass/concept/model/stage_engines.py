"""What a stage asks of its engines, and engines of what the stage burns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.concept.wording import plainly, shown
from wetmass.physics.chamber import USUAL_EFFICIENCY, ideal_engine
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.stage import Stage


def complaints(stage: Stage, *, sound_tanks: bool) -> list[Complaint]:
    """A stage without engines, and engines from their chamber beyond what is known of the pair."""
    if not stage.engines:
        remedy = 'add "- {thrust: {sea level: 210 kN}, isp: {sea level: 309 s, vacuum: 341 s}}"'
        return [Complaint("engines", "an empty list", "at least one group of engines", remedy)]
    return _chambers(stage) if sound_tanks else []


def _chambers(stage: Stage) -> list[Complaint]:
    """Engines from their chamber, beyond what is known of the pair."""
    complaints = []
    for number, group in enumerate(stage.engines, 1):
        if group.area_ratio is None or group.chamber_pressure is None:
            continue
        at, ratio = f"engines / {number}", stage.mixture_ratio
        efficiency = USUAL_EFFICIENCY if group.efficiency is None else group.efficiency.value
        if ratio is None:
            accepted = f"an oxidiser and a fuel: no performance is known of {stage.propellant.pair} alone"
            remedy = "give isp instead of the area ratio"
            complaints.append(Complaint(f"{at} / area ratio", shown(group.area_ratio), accepted, remedy))
            continue
        try:
            made = ideal_engine(
                stage.propellant.pair, group.chamber_pressure.value, ratio, group.area_ratio.value,
                efficiency,
            )  # fmt: skip
        except ValueError as error:
            key = str(error).split()[0].strip(":").replace("_", " ")
            got = {"chamber pressure": group.chamber_pressure, "mixture ratio": f"{ratio:.4g}"}
            field = f"{at} / {key}" if key == "chamber pressure" else f"propellant / {key}"
            remedy = "stay within it, or give isp instead of the area ratio"
            complaints.append(
                Complaint(field, shown(got.get(key, stage.propellant.pair)), plainly(error), remedy)
            )
            continue
        ground = made.speed_in_air(SEA_LEVEL_PRESSURE)
        if group.thrust is not None and group.thrust.sea_level is not None and not ground > 0.0:
            accepted = "thrust in vacuum: at sea level the air outside takes more than this nozzle gives"
            remedy = f'write "vacuum: {group.thrust.sea_level}", or take a smaller area ratio'
            complaints.append(
                Complaint(f"{at} / thrust / sea level", shown(group.thrust.sea_level), accepted, remedy)
            )
    return complaints
