"""`wetmass reach`: how much a vehicle carries where, and what it would take to carry more."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.studies import Counting, Options, kept_throughout, show
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.study.destinations import Reach


def reach(file: str, options: Options, *, to: str | None, payload: str | None, isp: str | None) -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        from wetmass.concept import dimensions as d
        from wetmass.study import destinations as study
        from wetmass.study.point import kept_home

        options.checked()
        own = study.OWN_ISP if isp is None else quantity("--isp", isp, d.TIME)
        if payload is not None and to is None:
            raise Refusal(
                Complaint("--payload", f'"{payload}"', "a destination beside it", 'add --to "transfer orbit"')
            )
        wanted = None if payload is None else quantity("--payload", payload, d.MASS)
        if to is not None:
            study.aimed(to)
        with Counting("destinations") as counting:
            concept = options.concept(file)
            if wanted is not None:
                assert to is not None
                there, needed = study.what_it_takes(concept, to, wanted, told=counting.says)
            else:
                places = study.USUAL if to is None else (to,)
                reached = study.reach(concept, isp=own, places=places, told=counting.says)
        if wanted is not None:
            from wetmass.cli.layout.reached import takes

            rows = [one for one in needed if math.isfinite(one.needed)]
            show(
                lambda width: takes(concept.name, str(to), wanted, there, needed, width),
                lambda: {
                    "format": "wetmass reach, what it takes 1", "concept": concept.name, "to": to,
                    "payload_asked": wanted, "payload": there.payload,
                    "stages": [
                        {"stage": n.stage, "propellant": n.load, "needed": n.needed,
                         "best_propellant": n.best_load, "best_payload": n.best_payload}
                        for n in needed
                    ],
                },
                options,
                kept_throughout(kept_home(there.vehicle)),
            )  # fmt: skip
            return CLOSES if rows or there.payload >= wanted else DOES_NOT_CLOSE
        if options.chart is not None:
            from wetmass.lesson.charts.destinations import energy_curve
            from wetmass.lesson.charts.saved import write

            write(energy_curve(reached), options.chart)
        from wetmass.cli.layout.reached import page

        kept = kept_throughout(kept_home(reached.answer.vehicle))
        show(lambda width: page(reached, width), lambda: _record(reached), options, kept)
        return CLOSES if any(not one.reason for one in reached.places) else DOES_NOT_CLOSE

    return guarded(work, [file])


def quantity(option: str, text: str, dimension: Any) -> float:
    """A value of an option, in SI, above zero.  Raises Refusal naming the option."""
    from wetmass.concept.dimensions import dimension_name
    from wetmass.concept.statement import parse_quantity

    value = parse_quantity(text, dimension, option, spread=False).value
    if not value > 0.0:
        raise Refusal(
            Complaint(option, f'"{text}"', f"{dimension_name(dimension)} above 0", "check the number")
        )
    return value


def _record(reached: Reach) -> dict[str, Any]:
    return {
        "format": "wetmass reach 1",
        "concept": reached.name,
        "payload_isp": reached.isp,
        "destinations": [
            {
                "to": one.name, "payload": one.payload, "left_to_do": one.left,
                "arrives_by_payload": one.by_payload, "arrives_by_last_stage": one.by_stage,
                "coasts": one.coasts, "inclination": one.inclination,
                "limits_broken": list(one.broken), "reason": one.reason,
            }
            for one in reached.places
        ],
        "curve": [{"c3": point.c3, "payload": point.payload} for point in reached.curve],
        "greatest_c3": reached.greatest_c3,
    }  # fmt: skip
