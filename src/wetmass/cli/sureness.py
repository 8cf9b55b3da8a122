"""`wetmass worth` and `wetmass spread`: what matters, and how sure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.studies import Counting, Options, kept_anew, outcome_record, show
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.study.flights import Flights
    from wetmass.study.shares import Shares
    from wetmass.study.spread import Spread
    from wetmass.study.worth import Worth


def worth(
    file: str,
    names: Sequence[str],
    options: Options,
    *,
    check: bool,
    draws: int | None,
    seed: int,
    more: Sequence[str],
) -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        from wetmass.study.shares import shares
        from wetmass.study.worth import worth as weighed

        options.checked()
        whose = None
        with Counting() as counting:
            concept = options.concept(file)
            with options.results() as store:
                found = weighed(
                    concept, names, check=check, more=more, crew=options.crew(), store=store,
                    told=counting.counts, said=counting.says,
                )  # fmt: skip
                if draws is not None:
                    whose = shares(
                        concept, draws=draws, seed=seed, more=more, crew=options.crew(), store=store,
                        told=counting.counts, said=counting.says,
                    )  # fmt: skip
        if options.chart is not None:
            import altair as alt

            from wetmass.lesson.charts.saved import write
            from wetmass.lesson.charts.sure import tornado
            from wetmass.lesson.charts.sure import whose as drawn

            picture = tornado(found)
            write(picture if whose is None else alt.vconcat(picture, drawn(whose), spacing=30), options.chart)
        if options.table is not None:
            from wetmass.study.export import write as written

            written([_exchange_record(e) for e in found.exchanges], options.table)
        from wetmass.cli.layout.sureness import weighed as page

        show(
            lambda width: page(found, whose, width, options),
            lambda: _worth_record(found, whose),
            options,
            kept_anew(found.kept),
        )
        return CLOSES

    return guarded(work, [file])


def _exchange_record(e: Any) -> dict[str, Any]:
    return {
        "name": e.input.words, "paths": ", ".join(e.input.paths), "value": e.input.value, "step": e.step,
        "change": e.change, "percent": e.percent, "bends": e.bends, "checked": e.checked,
    }  # fmt: skip


def _worth_record(found: Worth, whose: Shares | None) -> dict[str, Any]:
    return {
        "format": "wetmass worth 1", "concept": found.name, "aim": found.aim, "value": found.value,
        "exchanges": [_exchange_record(e) for e in found.exchanges],
        "without effect": list(found.without), "not told": list(found.untold), "unbalanced": found.unbalanced,
        "kept to come home": dict(found.kept),
        "guesses": [{"name": g.words, "stated": g.said(), "sigma": g.sigma, "effect": e} for g, e in found.guesses],
        "shares": None if whose is None else {
            "closings": whose.closings, "draws": whose.draws, "seed": whose.seed, "sigma": whose.sigma,
            "of": [{"name": s.words, "alone": list(s.alone), "total": list(s.total)} for s in whose.shares],
        },
    }  # fmt: skip


def spread(
    file: str,
    options: Options,
    *,
    samples: int,
    seed: int,
    more: Sequence[str],
    together: Sequence[str],
    flights: int | None = None,
    on_gpu: bool = False,
) -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        from wetmass.study.spread import spread as studied

        options.checked()
        with Counting("samples") as counting:
            concept = options.concept(file)
            with options.results() as store:
                found = studied(
                    concept, samples=samples, seed=seed, more=more, together=together, crew=options.crew(),
                    store=store, told=counting.counts, said=counting.says,
                )  # fmt: skip
            flown = None
            if flights is not None:
                flown = _flown(concept, flights, seed, more, together, on_gpu, counting)
        if options.chart is not None:
            from wetmass.lesson.charts.saved import write
            from wetmass.lesson.charts.sure import sureness

            write(sureness(found, flown=flown), options.chart)
        if options.table is not None:
            from wetmass.study.export import row
            from wetmass.study.export import write as written

            written(
                [
                    row(
                        {g.words: float(g.drawn(c)) for g, c in zip(found.guesses, chances, strict=True)}, one
                    )
                    for chances, one in zip(found.chances, found.outcomes, strict=True)
                ],
                options.table,
            )
        from wetmass.cli.layout.sureness import spread_page

        show(
            lambda width: spread_page(found, width, options, flown),
            lambda: _spread_record(found) | {"flights": None if flown is None else _flights_record(flown)},
            options,
            kept_anew(found.base.outcome.home),
        )
        return CLOSES if all(one.closes for one in found.outcomes) else DOES_NOT_CLOSE

    return guarded(work, [file])


def _flown(
    concept: Concept, count: int, seed: int, more: Sequence[str], together: Sequence[str], on_gpu: bool,
    counting: Counting,
) -> Flights:  # fmt: skip
    from wetmass.study.flights import flights

    chosen: dict[str, Any] = {}
    if on_gpu:
        from wetmass.flight.on_gpu import NoCard, card_name, fly_along

        try:
            chosen = {"flown": fly_along, "where": card_name()}
        except NoCard as error:
            raise Refusal(
                Complaint(
                    "--gpu",
                    str(error),
                    "a CUDA card and numba-cuda",
                    "leave out --gpu to fly on the processor",
                )
            ) from None
    return flights(concept, count, seed=seed, more=more, together=together, said=counting.says, **chosen)


def _flights_record(flown: Flights) -> dict[str, Any]:
    import numpy as np

    from wetmass.study.flights import COLUMNS

    percents = (1.0, 5.0, 50.0, 95.0, 99.0)
    quantiles = np.nanquantile(flown.columns, [p / 100.0 for p in percents], axis=0)
    return {
        "count": len(flown.columns), "seconds": flown.seconds, "where": flown.where,
        "nominal": dict(zip(COLUMNS, flown.nominal.tolist(), strict=True)),
        "percentiles": {
            f"{p:g}": dict(zip(COLUMNS, row.tolist(), strict=True)) for p, row in zip(percents, quantiles, strict=True)
        },
        "reserve": flown.reserve, "reserve is enough": vars(flown.covers(flown.reserve)),
        "kept": {name: vars(one) for name, one in flown.kept().items()}, "fit": flown.built.error,
    }  # fmt: skip


def _spread_record(found: Spread) -> dict[str, Any]:
    return {
        "format": "wetmass spread 1", "concept": found.name, "seed": found.seed, "samples": len(found.outcomes),
        "nominal": outcome_record(found.base.outcome),
        "guesses": [{"name": g.words, "stated": g.said(), "mean": g.mean, "sigma": g.sigma} for g in found.guesses],
        "together": [[found.guesses[i].words, found.guesses[j].words, share] for i, j, share in found.pairs],
        "closes": vars(found.closes),
        "percentiles": {f"{p:g}": list(three) for p, three in found.percentiles().items()},
        "holds": {name: vars(one) for name, one in found.holds().items()},
        "settling": [list(row) for row in found.settling()],
    }  # fmt: skip
