"""Checking a page: each line by its own working, its neighbours, the relation and published ranges."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Mapping
from dataclasses import replace

from wetmass.record.refusal import Place
from wetmass.record.working import CheckedLine, CheckedWorking, Verdict
from wetmass.working.effects import carried, finals
from wetmass.working.givens import GIVEN_LIST, SIDES, SIGNED, givens, stated
from wetmass.working.judgement import Judged
from wetmass.working.labels import named_kind, subject_of
from wetmass.working.mentions import amounts, mention
from wetmass.working.names import IDEAS, stage_of, tags
from wetmass.working.page import RawLine, read
from wetmass.working.reading.prose import clauses, stage_before, wordy
from wetmass.working.reading.remarks import bare_sum, spoken_products
from wetmass.working.remembering import Memory
from wetmass.working.scope import Scope
from wetmass.working.slips.edits import Context, imperial_words
from wetmass.working.statement import Statement, parse, split
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import (
    Meaning,
    Node,
    holds_logarithm,
)
from wetmass.working.units import (
    SPEED,
    UNITS,
)


def check(
    text: str,
    name: str = "working.md",
    concept: object | None = None,
    *,
    model: Mapping[str, tuple[float, str]] | None = None,
) -> CheckedWorking:
    """Check a page of hand working line by line.

    text     the page, Markdown or plain text
    name     file name, for places; `.txt` says that every line may be working
    concept  anything with `quantities`, a mapping as `model`
    model    quantity name → (value in SI, where it comes from, in words); compared with lines of that name

    Raises Refusal for a page too large to read; a line that cannot be read is a verdict, not an error.

    >>> page = check("start mass: 412 t\\nΔv = 318 s · 9.81 m/s² · ln(412/148) = 1.39 km/s", "a.txt")
    >>> page.lines[-1].verdict.value, page.lines[-1].likely.kind
    ('off', 'S03')
    """
    known = dict(model or getattr(concept, "quantities", None) or {})
    return Checker(text, name, known).run()


_KNOWN = frozenset(
    [
        "mass",
        "thrust",
        "isp",
        "dv",
        "speed",
        "density",
        "count",
        "engine",
        "ratio",
        "radius",
        "diameter",
        "volume",
        "mixture",
        "fraction",
        "cd",
    ]
)


_SHARE_BEHIND = re.compile(
    r"^\W*(?:with|plus|incl\w*|and)\s+(\d+(?:\.\d+)?)\s*(?:%|percent)\s*(ullage|growth|reserve|margin|allowance|residuals?)?"
    r"[^\d=]{0,20}?=?\s*(\d[\d.,]*)\s*([^\W\d_]{1,4}[²³]?)"
)
# "throat 0.28 m, area ratio 16, so the mouth is …": what is given, and what follows
_GIVEN_SO = re.compile(
    r"^([^=≈→]*\d[^=≈→]*?)[,;]?\s+(?:so|hence|therefore|thus|which makes|that makes|giving)[\s,]+(.*\d.*[=≈].*)$"
)
_AND_THEN = re.compile(
    r"^(.*[=≈]\s*[\d.,]+\s*([^\W\d][\w/²³]*))\s*(?:→|->|⇒|=>)\s*([\d.,]+)\s*([^\W\d][\w/²³]*)\b[^=≈]*$"
)
_SPEEDS = frozenset(["dv", "speed", "exhaust", "loss", "ideal", "gain", "end"])
_WHOSE = frozenset(["booster", "core", "engine", "payload", "moon", "mars", "tank"])


class Checker(Memory):
    def __init__(self, text: str, name: str, model: Mapping[str, tuple[float, str]]) -> None:
        self.text, self.file, self.model = text, name, model
        self.scope = Scope()
        self.lines: list[CheckedLine] = []
        self.ends: list[tuple[int, int, Node | None, Meaning]] = []  # line index, entry index, tree, meaning
        self.imperial = self.scope.imperial = imperial_words(text)
        self.scope.tens = bool(re.search(r"\bg\s*(?:=|≈|of|is)\s*10(?![\d.])", text))
        self.spent = {"pairs": 0}
        self.faulty: set[int] = set()  # entries whose own line is off, or that follow from one
        self.doubtful: set[int] = set()  # those of them whose unit may not be the right one
        self.ahead: Scope | None = None
        self.low = low = text.lower()
        self.rows, self.low_rows = text.split("\n"), low.split("\n")
        words = frozenset(re.findall(r"[^\W\d_]+", low))
        self.scope.worlds = frozenset(
            name
            for name, said in (("moon", {"moon", "lunar"}), ("mars", {"mars", "martian"}))
            if words & said
        )
        # a page that speaks of spheres alone: its volumes and walls are those of a sphere
        self.spheres_only = "spher" in low and not re.search(
            r"cylind|barrel|hemispher|half|\bends?\b|\blength\b|\blong\b|dome", low
        )

    def run(self) -> CheckedWorking:
        raws = read(self.text, self.file)
        self.ahead = givens(raws)
        last_label, last_number = "", -10
        for raw in raws:
            if GIVEN_LIST.match(raw.text) and self.given_list(raw):
                continue
            if raw.prose or (wordy(raw.text) and not SIGNED.search(raw.text)):
                self.sentences(raw)
                continue
            for offset, piece in self.after_givens(raw):
                place = Place(self.file, raw.number, raw.column + offset)
                continued = last_label if raw.number - last_number <= 2 else ""
                try:
                    statement = parse(raw, piece, self.scope, continued)
                except Unreadable as error:
                    statement = self.without_remarks(raw, piece, continued)
                    if statement is None:
                        if not self.sentences(raw, piece, offset, at_any_rate=True):
                            self.unread(raw, piece, place, error.reason)
                        continue
                except RecursionError:
                    self.unread(raw, piece, place, "the line is nested too deeply to read")
                    continue
                if statement is None or not statement.parts or statement.claim is None:
                    if not (SIGNED.search(piece) and self.sentences(raw, piece, offset)):
                        self.said(raw, piece, offset)
                    continue
                if (
                    not raw.sure
                    and not statement.expressions
                    and statement.claim is not None
                    and (statement.claim.bare and statement.note and not tags(statement.label) & _KNOWN)
                ):
                    continue  # prose with a number in it
                line = self.line(statement, piece, place)
                if statement.note:
                    self.said(raw, statement.note)
                if line is not None:
                    self.lines.append(line)
                    self.with_share(raw, statement, place)
                    last_label, last_number = statement.label, raw.number
                elif statement.label:
                    last_label, last_number = statement.label, raw.number
        lines = tuple(carried(self.lines, self.ends, self.scope))
        return CheckedWorking(self.file, self.text, lines, finals(lines, self.ends, self.scope))

    def after_givens(self, raw: RawLine) -> list[tuple[int, str]]:
        """The statements of a line, the values it gives before them taken note of."""
        given = _GIVEN_SO.match(raw.text)
        if given is None:
            last = _AND_THEN.match(raw.text)
            if last and _other_kind(last.group(2), last.group(4)):  # "= 0.621 kg/s → 607 s of burning"
                return split(last.group(1))
            return split(raw.text)
        self.said(raw, given.group(1))
        amounts(Statement(raw, "", raw.stage), given.group(1), self.scope)
        at = given.start(2)
        return [(at + offset, piece) for offset, piece in split(given.group(2))]

    def with_share(self, raw: RawLine, statement: Statement, place: Place) -> None:
        """A second result behind the first: "= 89.8 m³, with 3 % ullage 92.6 m³"."""
        said = _SHARE_BEHIND.search(statement.note)
        claim = statement.claim
        if said is None or claim is None or not claim.typed or self.lines[-1].verdict is Verdict.OFF:
            return
        share, value, unit = float(said.group(1)) / 100.0, said.group(3), said.group(4)
        word = said.group(2) or "more"
        ways = {
            f"{1.0 + share:g}": claim.typed * (1.0 + share),
            f"(1 - {share:g})": claim.typed * (1.0 - share),
            f"1 / (1 - {share:g})": claim.typed / (1.0 - share),
            f"1 / {1.0 + share:g}": claim.typed / (1.0 + share),
        }
        stated = float(value.replace(",", ""))
        near = min(ways, key=lambda way: abs(ways[way] / stated - 1.0))
        if unit != claim.unit or not stated or abs(ways[near] / stated - 1.0) > 0.02:
            return
        label = f"{statement.label} with {said.group(1)} % {word}"
        written = f"{label} = {claim.typed:g} {unit} · {near} = {value} {unit}"
        with contextlib.suppress(Unreadable, RecursionError):
            second = parse(raw, written, self.scope)
            line = self.line(second, statement.note.strip(" ,;"), place) if second is not None else None
            if line is not None:
                self.lines.append(line)

    def given_list(self, raw: RawLine) -> bool:
        """Values listed behind a heading: "Stage 1: 310 t propellant, 24 t dry, Isp 301 s"."""
        head, _, tail = raw.text.partition(":")
        stage = stage_of(head)
        here = replace(raw, stage=stage or raw.stage)
        found = [c for c in clauses(tail) if c.given]
        named = [c for c in found if tags(c.text.partition(" = ")[0]) & IDEAS - SIDES]
        core = tags(head) & _WHOSE
        if len(named) < (1 if core else 2) or len(found) < 2:
            return False
        for clause in found:
            with contextlib.suppress(Unreadable, RecursionError):
                its = replace(here, stage=stage or stage_before(tail, clause.column) or raw.stage)
                statement = parse(its, clause.text, self.scope)
                if (
                    statement is None
                    or statement.claim is None
                    or (statement.claim.bare and clause not in named)
                ):
                    continue
                label = "" if statement.label == "value" else statement.label
                if not tags(label) & IDEAS - SIDES:
                    label = named_kind(label, statement.claim)
                statement.label = f"{' '.join(sorted(core))} {label}".strip()
                self.given(statement)
        return True

    def sentences(self, raw: RawLine, text: str = "", offset: int = 0, at_any_rate: bool = False) -> bool:
        """The sums and values inside of a line of prose; whether there were any sums."""
        text = text or raw.text
        if not at_any_rate and not wordy(text) and not raw.prose:
            return False
        found = False
        for clause in clauses(text):
            number, column = raw.line_at(offset + clause.column)
            staged = (clause.given and stage_before(text, clause.column)) or raw.stage
            here = replace(raw, number=number, column=raw.column + column, stage=staged)
            try:
                statement = parse(here, clause.text, self.scope)
            except (Unreadable, RecursionError):
                continue
            if statement is None or statement.claim is None:
                continue
            if clause.given:
                self.given(statement)
                continue
            if not statement.expressions:
                continue
            statement.label = named_kind(statement.label, statement.claim)
            line = self.line(
                statement, clause.text.partition(" = ")[2], Place(self.file, number, here.column)
            )
            if line is not None:
                self.lines.append(line)
                found = True
        return found

    def without_remarks(self, raw: RawLine, piece: str, continued: str) -> Statement | None:
        """The statement of a line with the words behind its numbers left out, None where that does not help."""
        for bare in (bare_sum(piece), spoken_products(piece)):
            if bare == piece:
                continue
            try:
                statement = parse(raw, bare, self.scope, continued)
            except (Unreadable, RecursionError):
                continue
            if statement is not None and statement.claim is not None:
                return statement
        return None

    def said(self, raw: RawLine, text: str, offset: int = 0) -> None:
        """The values with a name and a unit in a remark or in a line that states nothing else."""
        for clause in clauses(text):
            if not clause.given or not tags(clause.text.partition(" = ")[0]) & IDEAS - SIDES:
                continue
            number, _ = raw.line_at(offset + clause.column)
            try:
                here = replace(raw, number=number, stage=stage_before(text, clause.column) or raw.stage)
                statement = parse(here, clause.text, self.scope)
            except (Unreadable, RecursionError):
                continue
            if statement is not None and statement.claim is not None and not statement.claim.bare:
                self.given(statement)

    def given(self, statement: Statement) -> None:
        """A value said in a sentence, known from here on."""
        claim = statement.claim
        assert claim is not None
        here = (e for e in reversed(self.scope.entries) if e.line == statement.raw.number and e.given)
        if any(e.leaf.typed == claim.typed and e.leaf.unit == claim.unit and e.name for e in here):
            return  # said already
        self.scope.add(stated(statement, claim, len(self.scope.entries)))

    def unread(self, raw: RawLine, text: str, place: Place, reason: str) -> None:
        """Outside of blocks a line that does not read as working is prose."""
        if wordy(text) and "comma" not in reason:
            return  # a sentence
        if not raw.sure or not re.search(r"\d\d|\d[.,]\d|[5-9]", text) or not re.search(r"[=≈→:]|->", text):
            return
        if not re.search(r"[=≈→]|->", text) and "comma" not in reason:
            return
        sentence = f"I cannot read this line: {reason}."
        self.lines.append(CheckedLine(place, text.strip(), "", Verdict.UNCLEAR, sentence))

    # ── one line ──

    def line(self, statement: Statement, text: str, place: Place) -> CheckedLine | None:
        claim = statement.claim
        if claim is None:
            return self.without_number(statement, text, place)
        self.scope.stage, self.scope.section = statement.stage, statement.raw.section
        self.scope.line = statement.raw.number
        if statement.note and statement.expressions and not tags(statement.label) & IDEAS:
            said = re.match(r"\s*\(?\s*((?:[^\W\d_][\w\-]*\s*){1,4})", statement.note)
            if said and tags(said.group(1)) & IDEAS:
                statement.label = f"{statement.label} {said.group(1).strip()}".strip()
        if (
            claim.dimension == SPEED
            and not tags(statement.label) & _SPEEDS
            and any(holds_logarithm(tree) for part in statement.expressions for tree in part.trees[:1])
        ):
            statement.label = f"{statement.label} Δv".strip()  # a rocket equation under another name
        ideas = tags(statement.label)
        statement.subject = subject_of(statement.raw.text, statement.label)
        context = Context(
            ideas,
            claim.unit,
            self.imperial or imperial_words(text),
            self.scope,
            statement.raw.number,
            f" {statement.label} {text} ".lower(),
            self.engine_counts(statement.stage),
            self.spent,
        )
        if statement.expressions:
            mention(statement, text, self.scope)
        judged = Judged(self, statement, context, claim)
        judged.judge()
        base = CheckedLine(
            place,
            text.strip(),
            statement.title or statement.label,
            judged.verdict,
            judged.sentence,
            judged.claim.si,
            judged.recomputed,
            judged.claim.unit,
            judged.show(judged.claim.si, stated=True),
            judged.show(judged.recomputed) if judged.recomputed is not None else "",
            (judged.claim.si / judged.recomputed - 1.0) if judged.recomputed else None,
            judged.slips,
            (),
            judged.relation,
            judged.source,
            tuple(judged.notes),
        )
        self.remember(statement, judged, len(self.lines))
        return base

    def without_number(self, statement: Statement, text: str, place: Place) -> CheckedLine | None:
        return None


def _other_kind(one: str, other: str) -> bool:
    """Whether two units measure different quantities."""
    found = []
    for text in (one, other):
        parts = text.replace("²", "2").replace("³", "3").split("/")
        if not all(part in UNITS or part.rstrip("23") in UNITS for part in parts):
            return False
        found.append(tuple(UNITS[part if part in UNITS else part.rstrip("23")][1] for part in parts))
    return found[0] != found[1]
