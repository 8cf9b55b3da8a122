"""Exchange rates and spreads as pages of text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.cli.layout.varied import written
from wetmass.record.digits import fixed, readable
from wetmass.record.say import NO_BREAK, said

if TYPE_CHECKING:
    from wetmass.cli.studies import Options
    from wetmass.study.flights import Flights
    from wetmass.study.shares import Shares
    from wetmass.study.spread import Chance, Spread
    from wetmass.study.worth import Worth

_SENTENCES = 5


def weighed(found: Worth, whose: Shares | None, width: int, options: Options) -> Sheet:
    """Exchange rates: sentences, the table, what has no effect, and whose spread it is."""
    sheet = Sheet(width)
    sheet.line(found.name, "bold")
    sheet.paragraph(
        f"{found.aim} {said(found.value, 'kg')}; everything made best anew, to first order.", indent=0
    )
    sheet.line()
    for e in found.exchanges[:_SENTENCES]:
        sheet.paragraph(f"{e.sentence} of {found.aim}.", hang=2)
    sheet.heading(
        "Exchange rates", f"change of {found.aim} for one step more, and for 1 % more of the number"
    )
    checked = any(e.checked is not None for e in found.exchanges)
    heads = ("", "stated", "step", f"{found.aim}", *(("two closings",) if checked else ()), "for 1 %", "")
    rows = [Row(heads, QUIET)]
    for e in found.exchanges:
        cells = [e.input.words, e.input.said(e.input.value or 0.0), f"+{e.step_words}", _signed(e.change)]
        if checked:
            cells.append(_signed(e.checked) if e.checked is not None and math.isfinite(e.checked) else "–")
        rows.append(Row((*cells, _signed(e.percent / 100.0 * found.value), "bends here" if e.bends else "")))
    sheet.table((BENDS, RIGHT, RIGHT, RIGHT, *((RIGHT,) if checked else ()), RIGHT, LEFT), rows)
    if found.without:
        sheet.paragraph(f"Without effect to first order: {'; '.join(found.without)}.", QUIET)
    if found.untold:
        sheet.paragraph(f"Not to be told by a small change: {'; '.join(found.untold)}.", QUIET)
    if found.guesses:
        sheet.heading("Guesses", f"what two standard deviations do to the {found.aim}, to first order")
        ordered = sorted(found.guesses, key=lambda pair: -abs(pair[1]))
        sheet.table(
            (BENDS, RIGHT, RIGHT),
            [
                Row((g.words, g.said().replace(" ", NO_BREAK), f"± {said(2.0 * abs(e), 'kg', 3)}"))
                for g, e in ordered
            ],
        )
        whole = math.hypot(*(e for _, e in ordered))
        sheet.paragraph(f"Together, if independent: ± {said(2.0 * whole, 'kg', 3)}.")
    if whose is not None:
        _whose(sheet, whose)
    written(sheet, options)
    return sheet


def _signed(value: float) -> str:
    return f"{'+' if value > 0.0 else ''}{said(value, 'kg', 3)}"


def _whose(sheet: Sheet, whose: Shares) -> None:
    sheet.heading(
        "Whose spread it is",
        f"shares of the variance, {whose.closings} closings, seed {whose.seed}; 95 % intervals",
    )
    rows = [Row(("", "alone", "", "with others", ""), QUIET)]
    for one in sorted(whose.shares, key=lambda s: -s.total[0]):
        rows.append(Row((one.words, *_share(one.alone), *_share(one.total))))
    sheet.table((BENDS, RIGHT, RIGHT, RIGHT, RIGHT), rows)
    sheet.paragraph(f"Payload {said(whose.mean, 'kg')}, standard deviation {said(whose.sigma, 'kg', 3)}.")


def _share(three: tuple[float, float, float]) -> tuple[str, str]:
    value, low, high = (f"{readable(round(100.0 * v, 1), 3)}" for v in three)
    return f"{value}{NO_BREAK}%", f"{low} to {high}"


def spread_page(found: Spread, width: int, options: Options, flown: Flights | None = None) -> Sheet:
    """How sure: the guesses, the percentiles, the chances, and how they settle."""
    sheet = Sheet(width)
    sheet.line(found.name, "bold")
    sheet.paragraph(
        f"{len(found.outcomes)} samples of a scrambled Sobol sequence, seed {found.seed}, each closed and made best.",
        indent=0,
    )
    sheet.heading("Guesses", "mean and standard deviation of what was drawn")
    rows = [
        Row((g.words, g.said().replace(" ", NO_BREAK), _like(g, g.mean), f"± {_like(g, g.sigma)}"))
        for g in found.guesses
    ]  # fmt: skip
    sheet.table((BENDS, RIGHT, RIGHT, RIGHT), rows)
    for i, j, share in found.pairs:
        sheet.paragraph(f"{found.guesses[i].words} and {found.guesses[j].words} go together, {share:g}.")
    values = found.values()
    sheet.heading("Payload", "of the samples that close; in brackets what holds the true one with 95 %")
    if len(values):
        rows = [
            Row((f"{p:g}{NO_BREAK}% carry less than", said(v, "kg"), f"({said(a, 'kg')} to {said(b, 'kg')})"))
            for p, (v, a, b) in found.percentiles().items()
        ]  # fmt: skip
        sheet.table((LEFT, RIGHT, LEFT), rows)
        nominal = (
            f"; as stated {said(found.base.outcome['payload'], 'kg')}" if found.base.outcome.closes else ""
        )
        sheet.paragraph(
            f"Mean {said(values.mean(), 'kg')}, standard deviation {said(values.std(ddof=1) if len(values) > 1 else 0.0, 'kg', 3)}{nominal}."
        )
    sheet.heading("Chances", "in brackets what holds the true one with 95 %")
    rows = [Row(("it closes", *_chance(found.closes)))]
    rows += [Row((f"{name} is kept", *_chance(one))) for name, one in found.holds().items()]
    sheet.table((LEFT, RIGHT, LEFT), rows)
    failed: dict[str, int] = {}
    for one in found.outcomes:
        if not one.closes:
            failed[one.reason] = failed.get(one.reason, 0) + 1
    for reason, count in sorted(failed.items(), key=lambda pair: -pair[1])[:4]:
        sheet.paragraph(f"{count} of {len(found.outcomes)}: {reason}", hang=2)
    settling = found.settling()
    if len(settling) > 1:
        sheet.heading("How it settles", "with more samples")
        heads = Row(("samples", "5 %", "50 %", "95 %"), QUIET)
        sheet.table(
            (RIGHT,) * 4, [heads, *(Row((str(n), *(said(v, "kg") for v in three))) for n, *three in settling)]
        )
    if flown is not None:
        _flights(sheet, flown)
    written(sheet, options)
    return sheet


def _flights(sheet: Sheet, flown: Flights) -> None:
    import numpy as np

    count = len(flown.columns)
    sheet.heading(
        "At fixed steering",
        f"{fixed(count)} flights along the nominal programme, nothing sized or steered anew",
    )
    lost = int(np.isnan(flown.columns[:, 3]).sum())
    share = np.nanquantile(flown.columns, [0.01, 0.5, 0.99], axis=0)
    rows = [Row(("", "nominal", "1 %", "50 %", "99 %"), QUIET)]
    for place, (name, unit) in enumerate(_FLOWN):
        cells = [said(value, unit) for value in (flown.nominal[place], *share[:, place])]
        rows.append(Row((name, *cells)))
    surplus = np.nanquantile(flown.surplus, [0.01, 0.5, 0.99])
    rows.append(Row(("speed above the nominal", "0", *(said(v, "m/s", 3) for v in surplus))))
    sheet.table((LEFT, *(RIGHT,) * 4), rows)
    chances = [
        Row((f"{said(flown.reserve, 'm/s')} in reserve is enough", *_chance(flown.covers(flown.reserve))))
    ]
    chances += [Row((f"{name} is kept", *_chance(one))) for name, one in flown.kept().items()]
    sheet.table((LEFT, RIGHT, LEFT), chances)
    if lost:
        sheet.paragraph(
            f"{fixed(lost)} of {fixed(count)} come down before their last burn ends; they count as short."
        )
    sheet.paragraph(
        f"{fixed(count / max(flown.seconds, 1e-9))} flights a second on {flown.where}; vehicles told by "
        f"polynomials in the guesses, off by {flown.built.error:.0e} at most.", QUIET,
    )  # fmt: skip


_FLOWN = (("perigee height", "m"), ("apogee height", "m"), ("inclination", "rad"))


def _like(guess, value: float) -> str:
    from wetmass.concept.quantity import in_user_units

    return in_user_units(value, guess.values[-1], 4).replace(" ", NO_BREAK)


def _chance(one: Chance) -> tuple[str, str]:
    share, low, high = (readable(round(100.0 * v, 2), 4) for v in (one.share, one.low, one.high))
    return f"{share}{NO_BREAK}%", f"({low} to {high})"
