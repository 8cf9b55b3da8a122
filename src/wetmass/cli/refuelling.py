"""`wetmass refuel`: tankers that refill the last stage in orbit, and what it then carries."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.reaching import quantity
from wetmass.cli.studies import Counting, Options, kept_throughout, show
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.study.refuelling import Campaign


def refuel(
    file: str, options: Options, *, to: str, payload: str, tanker: str | None, every: str, lost: str,
    boil_off: str | None, failure: str, seed: int,
) -> int:  # fmt: skip
    """Do it; returns the exit status."""

    def work() -> int:
        import wetmass
        from wetmass.concept import dimensions as d
        from wetmass.study import refuelling as study
        from wetmass.study.destinations import aimed

        options.checked()
        aimed(to)
        carried = quantity("--payload", payload, d.MASS)
        plan = study.Plan(
            quantity("--every", every, d.TIME),
            _share("--lost", lost),
            None if boil_off is None else _share("--boil-off", boil_off),
            _share("--failure", failure),
        )
        with Counting() as counting:
            concept = options.concept(file)
            brings = wetmass.load(tanker) if tanker is not None else None
            made = study.refuel(concept, to, carried, tanker=brings, plan=plan, seed=seed, told=counting.says)
        if options.chart is not None:
            from wetmass.lesson.charts.refuelling import campaign
            from wetmass.lesson.charts.saved import write

            write(campaign(made), options.chart)
        from wetmass.cli.layout.refuelled import page

        show(lambda width: page(made, width), lambda: _record(made), options, kept_throughout(made.kept))
        return CLOSES if made.possible and made.nominal.filled else DOES_NOT_CLOSE

    return guarded(work, [file] if tanker is None else [file, tanker])


def _share(option: str, text: str) -> float:
    """A share from 0 to below 1.  Raises Refusal naming the option."""
    from wetmass.concept import dimensions as d
    from wetmass.concept.statement import parse_quantity

    value = parse_quantity(text, d.NUMBER, option, spread=False).value
    if not 0.0 <= value < 1.0:
        raise Refusal(Complaint(option, f'"{text}"', "0 % to below 100 %", 'give it as in "2 %"'))
    return value


def _record(made: Campaign) -> dict[str, Any]:
    record = asdict(made)
    record.pop("counts")
    return {
        "format": "wetmass refuel 1", **record, "possible": made.possible,
        "launches": dict(zip(("low", "middle", "high"), made.launches, strict=True)),
        "times": dict(zip(("low", "middle", "high"), made.times, strict=True)),
    }  # fmt: skip
