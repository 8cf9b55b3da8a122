"""Blocks of a lesson as Typst source; pictures are collected by name."""

from __future__ import annotations

from collections.abc import Callable

from wetmass.lesson.content.blocks import (
    Block,
    Judgement,
    Paragraph,
    Part,
    Picture,
    Pictures,
    Table,
    Working,
)
from wetmass.lesson.content.inline import told
from wetmass.lesson.content.results import in_people_units, needs_aside
from wetmass.lesson.mathematics import Lines, Typst
from wetmass.lesson.mathematics.numbers import CONSTANT_FIGURES
from wetmass.lesson.paper.typeset import formula, line, quoted
from wetmass.lesson.words import said
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.plain import line as plain_line
from wetmass.record.say import sentence
from wetmass.record.step import Step


class Writer:
    """Writes blocks for one look; what it drew is in `pictures`.

    links  whether numbers lead to where they were made (a frame stands alone)
    """

    def __init__(self, look: dict[str, str], *, links: bool = True) -> None:
        self.look, self.links = look, links
        self.pictures: dict[str, str] = {}
        self.sizes: dict[str, tuple[float, float]] = {}

    def block(self, one: Block) -> str:
        """Any block."""
        write: Callable[[Block], str] = getattr(self, f"_{type(one).__name__.lower()}")
        return write(one)

    def words(self, words: object) -> str:
        """Words in a line."""
        return line(words, links=self.links)  # type: ignore[arg-type]

    def _paragraph(self, one: Paragraph) -> str:
        return f"#{one.kind or 'para'}{self.words(one.words)}\n"

    def _part(self, one: Part) -> str:
        return f"#part({quoted(one.words)})\n"

    def _working(self, one: Working) -> str:
        placed, step = one.placed, one.placed.step
        lines = Lines.of(step, Typst)
        aside = quoted(f"({in_people_units(step)})") if needs_aside(step) else "none"
        why = self.words(placed.kind.why) if placed.first and placed.kind.why else "none"
        return (
            f"#working(number: {placed.number}, anchor: {quoted(placed.anchor)}, level: {4 if one.in_part else 3}, "
            f"words: {quoted(sentence(step.words).rstrip('.'))}, why: {why}, "
            f"symbol: {formula(lines.symbol, step.words)}, lines: ({''.join(self._lines(step, lines))}), "
            f"aside: {aside}, with: ({''.join(self._used(one, lines))}), "
            f"remark: {self.words(sentence(step.remark)) if step.remark else 'none'}, "
            f"hand: {self.words(one.hand) if one.hand else 'none'}, source: {self.words(step.source)})\n"
        )

    @staticmethod
    def _lines(step: Step, lines: Lines) -> list[str]:
        made = []
        for pieces in (lines.letters, lines.numbers):
            if pieces:
                made.append(f"{formula(('=', *pieces), plain_line(step))}, ")
        return [*made, f"{formula(('=', lines.result), in_people_units(step))}, "]

    def _used(self, one: Working, lines: Lines) -> list[str]:
        letters = Typst()
        made = []
        for used in one.used:
            put = used.put
            words = f"#{quoted(put.words)}"
            if not lines.numbers:
                words += f", #{formula(letters.quantity(put.value, put.unit), in_people_value(put))}"
            if used.made is not None:
                number = used.made.number
                text = quoted(said("page/from_step", number=number))
                label = f"#link(label({quoted(used.made.anchor)}), {text})" if self.links else f"#{text}"
                words += f" ({label})"
            made.append(f"({formula(letters.letter(put.symbol), put.words)}, [{words}]), ")
        if lines.gravity and not any(used.put.symbol == "g₀" for used in one.used):
            value = letters.quantity(STANDARD_GRAVITY, "m/s²", CONSTANT_FIGURES)
            words = f"#{quoted(said('page/gravity'))}, #{formula(value, '9.80665 m/s²')}"
            made.append(f"({formula(letters.letter('g₀'), said('page/gravity'))}, [{words}]), ")
        return made

    def _table(self, one: Table) -> str:
        align = "".join("right, " if head.number else "left, " for head in one.columns)
        heads = "".join(f"{self.words(head.words)}, " for head in one.columns)
        rows = "".join(f"({''.join(f'{self.words(cell)}, ' for cell in row)}), " for row in one.rows)
        marked = "".join(f"{row}, " for row in one.marked)
        return (
            f"#lines-of(name: {quoted(one.name)}, caption: {quoted(one.caption)}, align: ({align}), "
            f"heads: ({heads}), rows: ({rows}), marked: ({marked}))\n"
        )

    def _picture(self, one: Picture) -> str:
        title = one.title[:1].upper() + one.title[1:]
        return (
            f"#shown({self.drawn(one)}, kind: {quoted(one.kind)}, title: {quoted(title)}, caption: "
            f"{self.words(one.caption) if one.caption else '[]'})\n"
        )

    def _pictures(self, one: Pictures) -> str:
        def caption(words: str) -> str:
            return self.words(words) if words else "[]"

        drawn = "".join(f"({self.drawn(each)}, {caption(each.caption)}), " for each in one.pictures)
        return f"#several(({drawn}), name: {quoted(one.name)}, caption: {caption(one.caption)})\n"

    def drawn(self, one: Picture) -> str:
        """A picture kept, and the arguments by which the layout shows it: name, words, width, height."""
        svg = one.svg(colours=self.look)
        self.pictures[one.name] = svg
        wide, high = size_of(svg)
        self.sizes[one.name] = (wide, high)
        return f"({quoted(one.name)}, {quoted(f'{one.title}. {one.words}')}, {wide:.1f}, {high:.1f})"

    def _judgement(self, one: Judgement) -> str:
        finding = one.finding
        name = f"{finding.part}: {finding.rule}" if finding.part else finding.rule
        words = sentence(finding.got)
        if finding.accepted:
            words += f" {said('page/accepted')}: {sentence(finding.accepted)}"
        words += f" {sentence(finding.remedy)}"
        return (
            f"#judgement(weight: {quoted(finding.weight.value)}, badge: "
            f"{quoted(said(f'weights/{finding.weight.value}'))}, words: {quoted(name)}, body: "
            f"{self.words(words)}, source: {self.words(finding.source)})\n"
        )


def in_people_value(put: object) -> str:
    """A number put in, as words."""
    from wetmass.record.say import said as in_units

    return in_units(put.value, put.unit)  # type: ignore[attr-defined]


def size_of(svg: str) -> tuple[float, float]:
    """Width and height of a picture in its own units."""
    import re

    wide = re.search(r'\bwidth="([\d.]+)"', svg)
    high = re.search(r'\bheight="([\d.]+)"', svg)
    assert wide and high
    return float(wide[1]), float(high[1])


__all__ = ["Writer", "size_of", "told"]
