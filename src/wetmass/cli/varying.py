"""`wetmass vary` and `wetmass compare`: what if, and several side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.studies import Counting, Options, kept_anew, outcome_record, show, shown
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.study.beside import Beside
    from wetmass.study.grid import Grid


def vary(
    file: str, axes: list[str], options: Options, *, what: str = "payload", form: str = "contour"
) -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        from wetmass.study import grid as study

        options.checked()
        if form not in ("contour", "carpet"):
            raise Refusal(Complaint("--form", f'"{form}"', "contour or carpet", "write one of these words"))
        with Counting() as counting:
            concept = options.concept(file)
            read = [study.axis(concept, text) for text in axes]
            with options.results() as store:
                grid = study.vary(
                    concept, read, crew=options.crew(), store=store, told=counting.counts, said=counting.says
                )
        some = next((one for one in (grid.base.outcome, *grid.outcomes) if one.closes), grid.base.outcome)
        measure = shown(what, some)
        if options.chart is not None:
            from wetmass.lesson.charts.saved import write
            from wetmass.lesson.charts.studies import what_if

            write(what_if(grid, measure, form), options.chart)
        if options.table is not None:
            from wetmass.study.export import rows_of, write

            write(rows_of(grid), options.table)
        from wetmass.cli.layout.varied import varied

        show(
            lambda width: varied(grid, measure, width, options), lambda: _grid_record(grid), options,
            kept_anew(grid.base.outcome.home),
        )  # fmt: skip
        return CLOSES if all(one.closes for one in grid.outcomes) else DOES_NOT_CLOSE

    return guarded(work, [file])


def _grid_record(grid: Grid) -> dict[str, Any]:
    return {
        "format": "wetmass vary 1",
        "concept": grid.name,
        "nominal": outcome_record(grid.base.outcome),
        "inputs": [
            {
                "name": axis.input.words,
                "paths": list(axis.input.paths),
                "values": list(axis.words or axis.values),
            }
            for axis in grid.axes
        ],
        "points": [outcome_record(one) for one in grid.outcomes],
    }


def compare(files: list[str], options: Options, *, what: str = "payload") -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        from wetmass.study.beside import compare as compared
        from wetmass.study.variants import Variant, changed, changes_of, variant

        options.checked()
        with Counting("concepts") as counting:
            variants = [variant(files[0])]
            first = variants[0].concept
            variants += [variant(file, first) for file in files[1:]]
            for text in options.changes:
                changes = changes_of(text)
                variants.append(Variant(text, changed(first, changes), changes))
            if len(variants) < 2:
                raise Refusal(
                    Complaint(
                        "FILE", "one concept", "two or more, or one and what to change in it",
                        'name another file, or add --set "first, dry mass = 8 t"',
                    )
                )  # fmt: skip
            with options.results() as store:
                beside = compared(
                    variants, crew=options.crew(), store=store, told=counting.counts, said=counting.says
                )
        some = next((one for one in beside.outcomes if one.closes), beside.outcomes[0])
        measure = shown(what, some)
        if options.chart is not None:
            from wetmass.lesson.charts.saved import write
            from wetmass.lesson.charts.studies import side_by_side

            write(side_by_side(beside, measure), options.chart)
        if options.table is not None:
            from wetmass.study.export import row, write

            pairs = zip(beside.variants, beside.outcomes, strict=True)
            write([row({"variant": one.name}, outcome) for one, outcome in pairs], options.table)
        from wetmass.cli.layout.varied import compared as page

        show(
            lambda width: page(beside, width, options),
            lambda: _beside_record(beside),
            options,
        )
        return CLOSES if all(one.closes for one in beside.outcomes) else DOES_NOT_CLOSE

    return guarded(work, files)


def _beside_record(beside: Beside) -> dict[str, Any]:
    return {
        "format": "wetmass compare 1",
        "variants": [
            {"name": one.name, **outcome_record(outcome)}
            for one, outcome in zip(beside.variants, beside.outcomes, strict=True)
        ],
        "differences": [{"name": name, "said": list(said)} for name, said in beside.differences],
    }
