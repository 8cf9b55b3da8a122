"""Checking a page: each line by its own working, its neighbours, the relation behind it and published ranges."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace

from wetmass.record.digits import readable
from wetmass.record.refusal import Place
from wetmass.record.working import CheckedLine, CheckedWorking, Slip, Verdict
from wetmass.working import bookkeeping
from wetmass.working.effects import carried, finals
from wetmass.working.names import key, tags
from wetmass.working.page import RawLine, read
from wetmass.working.ranges import REPAIRS, range_for
from wetmass.working.relations import Bound, bind, recognised, suits, wrong_forms
from wetmass.working.scope import Entry, Scope
from wetmass.working.slips.edits import Context, Edit, edits, imperial_words
from wetmass.working.slips.finder import Found, Target, digits_agreeing, find, ranked, slips, value_of
from wetmass.working.slips.kinds import KINDS
from wetmass.working.statement import Part, Statement, linked, links, parse, split
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import (
    Leaf, Meaning, Node, Op, Result, Unfit, evaluate, exactly, has_angle, leaves, mapped, put, unknowns, walk,
)  # fmt: skip
from wetmass.working.units import (
    ACCELERATION, AREA, DENSITY, FORCE, LENGTH, MASS, MASS_FLOW, NONE, PRESSURE, SPEED, TIME, VOLUME, dimension_words,
)  # fmt: skip

MODEL_AGREES = 0.02  # a hand value within 2 % of the model's is not remarked on
APPROXIMATE = 0.006  # a deviation that no slip explains, and that costs less than this, is an approximation


def check(
    text: str, name: str = "working.md", concept: object | None = None, *,
    model: Mapping[str, tuple[float, str]] | None = None,
) -> CheckedWorking:  # fmt: skip
    """Check a page of hand working line by line.

    text     the page, Markdown or plain text
    name     file name, for places; `.txt` says that every line may be working
    concept  anything with `quantities`, a mapping as `model`
    model    quantity name → (value in SI, where it comes from, in words); compared with lines of that name

    Raises Refusal for a page too large to read; a line that cannot be read is a verdict, not an error.

    >>> page = check("start mass: 412 t\\nend mass: 148 t\\nΔv = 318 s · 9.81 m/s² · ln(412/148) = 1.39 km/s", "a.txt")
    >>> page.lines[-1].verdict.value, page.lines[-1].likely.kind
    ('off', 'S03')
    """
    known = dict(model or getattr(concept, "quantities", None) or {})
    return _Checker(text, name, known).run()


_KNOWN = frozenset(
    "mass thrust isp dv speed density count engine ratio radius diameter volume mixture fraction cd".split()
)


class _Checker:
    def __init__(self, text: str, name: str, model: Mapping[str, tuple[float, str]]) -> None:
        self.text, self.file, self.model = text, name, model
        self.scope = Scope()
        self.lines: list[CheckedLine] = []
        self.ends: list[tuple[int, int, Node | None, Meaning]] = []  # line index, entry index, tree, meaning
        self.imperial = imperial_words(text)
        self.faulty: set[int] = set()  # entries whose own line is off, or that follow from one
        self.ahead: Scope | None = None

    def run(self) -> CheckedWorking:
        raws = read(self.text, self.file)
        self.ahead = _givens(raws)
        last_label, last_number = "", -10
        for raw in raws:
            for offset, piece in split(raw.text):
                place = Place(self.file, raw.number, raw.column + offset)
                continued = last_label if raw.number - last_number <= 2 else ""
                try:
                    statement = parse(raw, piece, self.scope, continued)
                except Unreadable as error:
                    self.unread(raw, piece, place, error.reason)
                    continue
                except RecursionError:
                    self.unread(raw, piece, place, "the line is nested too deeply to read")
                    continue
                if statement is None or not statement.parts:
                    continue
                if (
                    not raw.sure
                    and not statement.expressions
                    and statement.claim is not None
                    and (statement.claim.bare and statement.note and not tags(statement.label) & _KNOWN)
                ):
                    continue  # prose with a number in it
                line = self.line(statement, piece, place)
                if line is not None:
                    self.lines.append(line)
                    last_label, last_number = statement.label, raw.number
                elif statement.label:
                    last_label, last_number = statement.label, raw.number
        lines = tuple(carried(self.lines, self.ends, self.scope))
        return CheckedWorking(self.file, self.text, lines, finals(lines, self.ends, self.scope))

    def unread(self, raw: RawLine, text: str, place: Place, reason: str) -> None:
        """Outside of blocks a line that does not read as working is prose."""
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
        ideas = tags(statement.label)
        context = Context(
            ideas, claim.unit, self.imperial or imperial_words(text), self.scope, statement.raw.number,
            f" {statement.label} {text} ".lower(), self.engine_counts(),
        )  # fmt: skip
        judged = _Judged(self, statement, context, claim)
        judged.judge()
        base = CheckedLine(
            place, text.strip(), statement.label, judged.verdict, judged.sentence, judged.claim.si,
            judged.recomputed, judged.claim.unit, judged.show(judged.claim.si, stated=True),
            judged.show(judged.recomputed) if judged.recomputed is not None else "",
            (judged.claim.si / judged.recomputed - 1.0) if judged.recomputed else None,
            judged.slips, (), judged.relation, judged.source, tuple(judged.notes),
        )  # fmt: skip
        self.remember(statement, judged, len(self.lines))
        return base

    def without_number(self, statement: Statement, text: str, place: Place) -> CheckedLine | None:
        return None

    def engine_counts(self) -> tuple[tuple[float, str], ...]:
        return tuple(
            (entry.stated, entry.name)
            for entry in self.scope.entries
            if "count" in entry.tags and entry.leaf.bare and 2 <= entry.stated <= 60
        )

    def remember(self, statement: Statement, judged: _Judged, index: int) -> None:
        label = statement.label
        keys = _keys(label)
        if not keys:
            return
        true = judged.recomputed if judged.recomputed is not None else judged.claim.si
        ideas = tags(label)
        if statement.stage and not any(idea.startswith("stage ") for idea in ideas):
            ideas = ideas | {f"stage {statement.stage}"}
        ideas = _with_kind(ideas, judged.claim)
        entry = Entry(
            len(self.scope.entries), label, keys, ideas, statement.stage, statement.raw.section, statement.raw.number,
            judged.claim, judged.best is None, true, judged.unrounded,
        )  # fmt: skip
        self.scope.add(entry)
        follows = judged.best is not None and any(leaf.page in self.faulty for leaf in leaves(judged.best))
        if judged.verdict is Verdict.OFF or follows:
            self.faulty.add(entry.index)
        self.ends.append((index, entry.index, judged.best, judged.meaning))
        impulse = re.search(
            r"(?:\bat|with|@|,|\bIsp\b)\s*(?:Isp\s*)?(\d{2,4}(?:\.\d+)?)\s*s\b", statement.note
        )
        if impulse and judged.claim.dimension == FORCE:
            leaf = Leaf(float(impulse.group(1)), 1.0, TIME, False, 0.5, "s", text=f"{impulse.group(1)} s")
            self.scope.add(
                Entry(
                    len(self.scope.entries), f"{label} Isp", (key(f"{label} Isp"),), (ideas - {"thrust"}) | {"isp"},
                    statement.stage, statement.raw.section, statement.raw.number, leaf, True, leaf.si, leaf.si,
                )
            )  # fmt: skip
        counted = _counted(statement.note)
        if counted is not None and not any("count" in e.tags for e in self.scope.entries):
            leaf = Leaf(float(counted), text=str(counted), half=0.5)
            self.scope.add(
                Entry(
                    len(self.scope.entries), "engines", ("engine", "engines"), frozenset({"engine", "count"}),
                    statement.stage, statement.raw.section, statement.raw.number, leaf, True, leaf.si, leaf.si,
                )
            )  # fmt: skip


_KINDS = {
    FORCE: "thrust", MASS: "mass", DENSITY: "density", PRESSURE: "pressure", VOLUME: "volume", AREA: "area",
    MASS_FLOW: "flow",
}  # fmt: skip


def _with_kind(ideas: frozenset[str], claim: Leaf) -> frozenset[str]:
    """A name with the kind of quantity its unit shows: "boosters: 6000 kN" is a thrust."""
    if (
        claim.bare
        and claim.dimension == NONE
        and {i for i in ideas if not i.startswith("stage ")} == {"radius"}
        and (1.0 < claim.typed < 60.0)
    ):
        return (ideas - {"radius"}) | {"mass", "ratio"}  # R or R1 without a length: the mass ratio
    kind = _KINDS.get(claim.dimension)
    if claim.bare or kind is None or ideas & {"weight", "drag", "loss", "dynamic", "stress"}:
        return ideas
    return ideas | {kind}


def _counted(note: str) -> int | None:

    match = re.search(r"\b(\d{1,2})\s+(?:engines|motors|boosters)\b", note)
    return int(match.group(1)) if match else None


def _keys(label: str) -> tuple[str, ...]:
    """A name and the short forms in it: "start mass m0" is also "m0" and "start mass"."""

    if not label:
        return ()
    whole = key(label)
    found = [whole] if whole else []
    outside = re.sub(r"\([^)]*\)|\[[^\]]*\]", " ", label).strip(" ,")
    inside = re.findall(r"\(([^)]*)\)", label)
    for piece in [*inside, *re.split(r"\s*,\s*", outside)]:
        short = key(piece)
        if short and re.fullmatch(r"[^\W\d]\w{0,4}|[^\W\d]+_\w+", piece.strip()) and short not in found:
            if piece.strip().lower() not in ("vac", "sl", "wet", "dry", "each", "total", "loaded", "empty"):
                found.append(short)
    words = outside.split()
    if (
        len(words) >= 2
        and re.fullmatch(r"[^\W\d]\d?|[^\W\d]_?\w{1,4}", words[-1])
        and (len(words[-1]) <= 2 or "_" in words[-1] or words[-1].startswith(("Δ", "Isp")))
    ):
        for piece in (words[-1], " ".join(words[:-1])):
            if key(piece) and key(piece) not in found:
                found.append(key(piece))
    bare = key(outside)
    if bare and bare not in found and not _telling(label):
        found.append(bare)
    return tuple(found)


def _telling(label: str) -> bool:
    """Brackets that make it another quantity: Isp (vac) is not Isp (sea level)."""

    return bool(
        re.search(r"\((?:[^)]*\b(?:vac|sl|sea|vacuum|pad|stage|moon|mars|dry|wet)\b[^)]*)\)", label, re.I)
    )


def _givens(raws: list[RawLine]) -> Scope:
    """Values stated without working anywhere on the page, for the masses a burn must carry."""
    scope = Scope()
    for raw in raws:
        for _, piece in split(raw.text):
            try:
                statement = parse(raw, piece, scope)
            except (Unreadable, RecursionError):
                continue
            if statement is None or statement.claim is None or statement.expressions:
                continue
            ideas = tags(statement.label)
            if statement.stage and not any(idea.startswith("stage ") for idea in ideas):
                ideas = ideas | {f"stage {statement.stage}"}
            ideas = _with_kind(ideas, statement.claim)
            scope.add(
                Entry(
                    len(scope.entries), statement.label, _keys(statement.label), ideas, statement.stage, raw.section,
                    raw.number, statement.claim, True, statement.claim.si, statement.claim.si,
                )
            )  # fmt: skip
    return scope


def _half(leaf: Leaf) -> float:
    return leaf.half * abs(leaf.factor)


def _roundness(node: Node, meaning: Meaning, scope: Scope, value: float) -> float:
    """How far the rounding of carried values can move the result: one half-digit each, summed."""
    room = 0.0
    for path, leaf in list(walk(node)):
        if not isinstance(leaf, Leaf) or leaf.half == 0 or leaf.constant:
            continue
        if (
            leaf.page >= 0
            and not scope.entries[leaf.page].given
            or (leaf.page < 0 and leaf.typed != int(leaf.typed))
        ):
            half = min(leaf.half, 0.01 * abs(leaf.typed))
            try:
                moved = evaluate(put(node, path, replace(leaf, typed=leaf.typed + half)), meaning).value
            except Unfit:
                continue
            room += abs(moved - value)
    return room


class _Judged:
    """The judgement of one line, step by step."""

    def __init__(self, checker: _Checker, statement: Statement, context: Context, claim: Leaf) -> None:
        self.checker, self.statement, self.context, self.claim = checker, statement, context, claim
        self.scope = checker.scope
        self.verdict = Verdict.RIGHT
        self.sentence = ""
        self.recomputed: float | None = None
        self.unrounded = claim.si
        self.slips: tuple[Slip, ...] = ()
        self.relation = self.source = ""
        self.notes: list[str] = []
        self.best: Node | None = None
        self.meaning = Meaning()
        self.forms: list[Bound] = []

    # ── showing numbers ──

    def show(self, value: float | None, stated: bool = False) -> str:
        if value is None:
            return ""
        claim = self.claim
        if stated:
            return claim.text or f"{claim.typed:g}"
        number = (value - claim.shift) / claim.factor
        text = readable(number, max(4, _figures(claim)))
        unit = claim.unit
        if not unit:
            return text
        return text + (unit if unit in "°%" else " " + unit)

    def words(self, value: float) -> str:
        """As `show`, the stated number as it was written."""
        return self.show(value, stated=value == self.claim.si)

    # ── the steps ──

    def judge(self) -> None:
        sides = self.evaluated()
        self.grams(sides)
        self.restated()
        if sides:
            self.arithmetic(sides)
        if self.verdict in (Verdict.RIGHT, Verdict.APPROXIMATION) and not self.slips:
            self.behind()
        if self.verdict is Verdict.RIGHT and not self.slips:
            self.range()
        self.model()

    def grams(self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]]) -> None:
        """`3.8 g` after an acceleration, or a weight over a weight, is no mass."""
        if self.claim.unit != "g":
            return
        found = {result.dimension for _part, options in sides for _, result, _ in options}
        loads = (
            tags(self.statement.label) & {"acceleration", "felt", "load"} or "g-load" in self.context.words
        )
        if ACCELERATION in found or (not found and loads):
            self.claim = replace(self.claim, factor=9.80665, dimension=ACCELERATION)
        elif NONE in found and MASS not in found:
            self.claim = replace(self.claim, factor=1.0, dimension=NONE, bare=True)

    def target(self) -> Target:
        claim = self.claim
        return Target(claim.si, _half(claim), claim.typed, claim.half, claim.bare)

    def evaluated(self) -> list[tuple[Part, list[tuple[Node, Result, Meaning]]]]:
        """The sides before the stated number that have a value, each in its possible readings."""
        found = []
        parts = self.statement.parts[:-1]
        for part in parts:
            options: list[tuple[Node, Result, Meaning]] = []
            for tree in part.trees:
                trees = [*links(tree, self.scope), tree] if not part.value else [tree]
                trees += [other for one in trees[:1] for other in _other_constants(one)]
                for candidate in trees:
                    for meaning in _meanings(candidate):
                        try:
                            options.append((candidate, evaluate(candidate, meaning), meaning))
                        except Unfit:
                            continue
            if options:
                found.append((part, options))
        return found

    def fits(
        self, option: tuple[Node, Result, Meaning], wide: float = 0.0, any_dimension: bool = False
    ) -> bool:
        """Whether a reading of a side gives the stated number at its stated precision."""
        node, result, meaning = option
        claim = self.claim
        gap = abs(result.value - claim.si)
        if gap <= _half(claim) * 1.0001 + wide + 1e-9 * abs(claim.si):
            if claim.bare or result.bare or result.dimension == claim.dimension or any_dimension:
                return True
        if (result.bare or claim.bare) and self.raw_allowed(node, result):
            try:
                raw = evaluate(node, replace(meaning, raw=True)).value
            except Unfit:
                return False
            if abs(raw - claim.typed) <= claim.half * 1.0001 + 1e-9 * abs(claim.typed):
                return True
            if claim.unit in ("°", "deg", "degrees", "degree") or (claim.bare and _inverse_trig(node)):
                return abs(math.degrees(raw) - claim.typed) <= claim.half * 1.0001
        if claim.bare and _inverse_trig(node):
            return abs(math.degrees(result.value) - claim.typed) <= claim.half * 1.0001
        if claim.bare and not result.bare:
            # the unit of the result was left out: any one of its usual units will do
            for factor in (1e3, 1e-3, 1e6):
                if (
                    abs(result.value / factor - claim.typed) <= claim.half * 1.0001
                    and result.dimension != NONE
                ):
                    return True
        return False

    def raw_allowed(self, node: Node, result: Result) -> bool:
        """Numbers may be taken as typed only while some stand without a unit."""
        return any(leaf.bare and not leaf.constant for leaf in leaves(node)) or (
            self.claim.bare and result.dimension != NONE
        )

    def arithmetic(self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]]) -> None:
        """Does the working give the number stated?"""
        claim = self.claim
        matches: list[tuple[Node, Result, Meaning] | None] = []
        for index, (part, options) in enumerate(sides):
            whole = [o for o in options if not o[1].bare and o[1].dimension == claim.dimension]
            if not part.value and whole and len(options) > 1:
                # every number has its unit once the page is consulted: nothing is left to guess
                ratio = whole[0][1].value / claim.si if claim.si else math.inf
                if not any(self.fits(o) for o in whole) and not claim.bare and not 0.2 < abs(ratio) < 5.0:
                    options = whole
                    sides[index] = (part, whole)
            pick = next((o for o in options if self.fits(o)), None)
            if pick is None:
                pick = self.by_carried(options)
            if pick is None:
                pick = self.by_next_value(sides, index, options)
            if pick is None:
                pick = next((o for o in options if self.fits(o, any_dimension=True)), None)
            matches.append(pick)
        while (
            len(sides) > 1
            and matches[0] is None
            and matches[-1] is not None
            and not claim.bare
            and all(result.dimension != claim.dimension for _, result, _ in sides[0][1])
        ):  # a formula in letters that we took for other letters
            sides, matches = sides[1:], matches[1:]
        first_options = sides[0][1]
        chosen = matches[0] or self.default(first_options)
        self.best, self.meaning = chosen[0], chosen[2]
        self.recomputed = self.in_claim(chosen)
        self.unrounded = self.without_rounding(chosen)
        if all(match is not None for match in matches):
            self.arithmetic_right(sides, matches)
            return
        kept = [
            i for i, ((part, _), match) in enumerate(zip(sides, matches, strict=True))
            if match is not None or not _in_letters(part) or not any(matches)
        ]  # fmt: skip
        if len(kept) < len(sides) and not self.letters_tell(sides, matches):
            sides, matches = [sides[i] for i in kept], [matches[i] for i in kept]
            if all(match is not None for match in matches):
                self.best, self.meaning = matches[0][0], matches[0][2]  # type: ignore[index]
                self.recomputed = self.in_claim(matches[0])  # type: ignore[arg-type]
                self.unrounded = self.without_rounding(matches[0])  # type: ignore[arg-type]
                self.arithmetic_right(sides, matches)
                return
        base_index = next(i for i, match in enumerate(matches) if match is None)
        if any(matches) and matches[0] is not None and matches[-1] is not None:
            self.middle_wrong(sides, base_index)
            return
        if matches[0] is not None and len(sides) > 1:
            # the formula agrees with the number, the numbers written out do not
            self.middle_wrong(sides, base_index)
            return
        self.off(sides, matches)

    def by_next_value(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]], index: int,
        options: list[tuple[Node, Result, Meaning]],
    ) -> tuple[Node, Result, Meaning] | None:  # fmt: skip
        """A side without units agrees with the value that follows it, which is then turned into another unit."""
        later = next((part for part, _ in sides[index + 1 :] if part.value), None)
        if later is None or sides[index][0].value or not isinstance(later.trees[0], Leaf):
            return None
        final = self.claim
        self.claim = later.trees[0]
        try:
            pick = next((o for o in options if o[1].bare and self.fits(o)), None)
        finally:
            self.claim = final
        if pick is None or not final.si:
            return None
        stated = later.trees[0]
        if abs(stated.si / final.si - 1.0) > 0.006:
            return None
        scaled = Op("*", (_raw(pick[0]), exactly(stated.factor)))
        try:
            return scaled, Result(evaluate(scaled, pick[2]).value, final.dimension, True), pick[2]
        except Unfit:
            return None

    def letters_tell(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]],
        matches: list[tuple[Node, Result, Meaning] | None],
    ) -> bool:  # fmt: skip
        """Whether a formula in letters that disagrees with the numbers beside it shows a slip in them.

        Letters may stand for something else than we take them for; a slip that turns the formula's
        value into the stated one says that they do not.
        """
        if matches[0] is not None or not _in_letters(sides[0][0]):
            return False
        whole = [o for o in sides[0][1] if not o[1].bare and o[1].dimension == self.claim.dimension]
        if not whole:
            return False
        found = find([(whole[0][0], whole[0][2], 1.0)], self.target(), self.context)
        return bool(found) and found[0].second is None and found[0].weight >= 0.35

    def default(self, options: list[tuple[Node, Result, Meaning]]) -> tuple[Node, Result, Meaning]:
        """The likeliest reading where none gives the number: right dimension, units complete."""
        claim = self.claim

        def order(option: tuple[Node, Result, Meaning]) -> tuple[bool, bool, float]:
            _, result, _ = option
            ratio = abs(result.value / claim.si) if claim.si and result.value else math.inf
            distance = abs(math.log(ratio)) if ratio and math.isfinite(ratio) and ratio > 0 else 99.0
            return (result.dimension != claim.dimension and not claim.bare, result.bare, distance)

        return min(options, key=order)

    def in_claim(self, option: tuple[Node, Result, Meaning]) -> float:
        """The recomputed value in SI, by the reading that suits the stated unit."""
        node, result, meaning = option
        claim = self.claim
        value = result.value
        if (result.bare or claim.bare) and abs(value - claim.si) > _half(claim):
            try:
                raw = evaluate(node, replace(meaning, raw=True)).value
            except Unfit:
                return value
            if self.raw_allowed(node, result):
                near_si = abs(math.log(abs(value / claim.si))) if value and claim.si else 99.0
                near_raw = abs(math.log(abs(raw / claim.typed))) if raw and claim.typed else 99.0
                if near_raw < near_si - 1e-9:
                    return raw * claim.factor + claim.shift
        return value

    def by_carried(self, options: list[tuple[Node, Result, Meaning]]) -> tuple[Node, Result, Meaning] | None:
        """A reading that gives the number with unrounded values carried, or within their rounding."""
        for node, _result, meaning in options:
            exact = _carrying(node, self.scope, "unrounded")
            if exact != node:
                try:
                    better = evaluate(exact, meaning)
                except Unfit:
                    continue
                if self.fits((exact, better, meaning)):
                    return node, better, meaning
        for option in options:
            node, result, meaning = option
            if result.bare or result.dimension != self.claim.dimension:
                continue
            wide = _roundness(node, meaning, self.scope, result.value)
            if wide <= 0.006 * abs(result.value) and self.fits(option, wide):
                return option
        return None

    def without_rounding(self, option: tuple[Node, Result, Meaning]) -> float:
        node, result, meaning = option
        try:
            exact = evaluate(_carrying(node, self.scope, "unrounded"), meaning).value
        except Unfit:
            return result.value
        return (
            exact
            if abs(result.value - (self.recomputed or 0.0)) <= 1e-9 * abs(result.value)
            else self.recomputed or 0.0
        )

    def arithmetic_right(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]],
        matches: list[tuple[Node, Result, Meaning] | None],
    ) -> None:  # fmt: skip
        self.recomputed = self.in_claim(matches[0]) if matches[0] else self.recomputed
        for (part, _options), match in zip(sides, matches, strict=True):
            if match is None or part.value:
                continue
            node, result, meaning = match
            claim = self.claim
            fault = result.fault
            if not fault and not result.bare and not claim.bare and result.dimension != claim.dimension:
                fault = f"the working gives {dimension_words(result.dimension)}, the result is stated as " + (
                    dimension_words(claim.dimension)
                )
            if (
                fault
                and not result.bare
                and any(not leaf.bare and leaf.dimension != NONE for leaf in leaves(node))
            ):
                self.dimension_fault(node, meaning, fault)
                return
        carried_value = self.unrounded
        claim = self.claim
        if (
            carried_value
            and claim.si
            and abs(claim.si / carried_value - 1.0) > 0.005
            and (abs(claim.si - carried_value) > 1.5 * _half(claim))
        ):
            cost = claim.si / carried_value - 1.0
            if abs(cost) < 0.2 and self.carried_rounding_only():
                self.verdict = Verdict.APPROXIMATION
                slip = Slip(
                    "S44", KINDS["S44"].name,
                    f"Values rounded further up are carried down to here; unrounded it is {self.show(carried_value)}.",
                    claim.si, carried_value, digits_agreeing(claim.si, carried_value), 0.5, ("S55",),
                )  # fmt: skip
                self.slips = (slip,)
                self.sentence = (
                    f"Sound, but values rounded further up cost {_percent(cost)}: unrounded it is "
                    f"{self.show(carried_value)}."
                )
                self.recomputed = carried_value

    def carried_rounding_only(self) -> bool:
        """Whether the values carried are roundings of the unrounded ones, not slips."""
        return self.best is not None and all(
            abs(self.scope.entries[leaf.page].stated - self.scope.entries[leaf.page].unrounded)
            <= 1.2 * _half(self.scope.entries[leaf.page].leaf) + 1e-9
            or abs(
                self.scope.entries[leaf.page].stated / (self.scope.entries[leaf.page].unrounded or 1.0) - 1
            )
            < 0.03
            for leaf in leaves(self.best)
            if leaf.page >= 0
        )

    def dimension_fault(self, node: Node, meaning: Meaning, fault: str) -> None:
        """The digits agree, the units do not."""
        found = self.by_forms()
        self.verdict = Verdict.OFF
        if found is not None:
            return
        self.sentence = f"The digits follow, but the units do not: {fault}."
        target = self.target()
        # a slip that the line itself contains: g₀ left out of a formula, say
        made = []
        for kind, factor, cause, cure in _INSERTED:
            if _insert_dimension(node, factor[1], meaning) == self.claim.dimension:
                value = target.value * factor[0]
                made.append(
                    Slip(
                        kind, KINDS[kind].name,
                        f"{self.show(target.value, stated=True)} is what comes out when {cause}; {cure} it is "
                        f"{self.show(value)}.",
                        target.value, value, 12.0, KINDS[kind].common, ("S16",) if kind == "S02" else (),
                    )
                )  # fmt: skip
        for edit in edits(node, self.context):
            if (
                made
                and edit.kind == made[0].kind
                or edit.factor != 1.0
                or edit.kind not in ("S56", "S04", "S06", "S21")
            ):
                continue
            try:
                mended = evaluate(edit.tree, meaning)
            except Unfit:
                continue
            if mended.dimension == self.claim.dimension and not mended.fault:
                kind = edit.kind
                what = {"S56": "a division stands where a multiplication belongs, or the reverse", "S04":
                        "the quotient is upside down"}.get(kind, "a power is not the right one")  # fmt: skip
                made.append(
                    Slip(
                        kind, KINDS[kind].name,
                        f"{self.show(target.value, stated=True)} is what comes out when {what}; put right it is "
                        f"{self.show(mended.value)}.",
                        target.value, mended.value, 12.0, KINDS[kind].common * edit.weight, ("S55", "S06"),
                    )
                )  # fmt: skip
        made.sort(key=lambda slip: -slip.weight)
        made = made[:4]
        if made:
            self.slips = tuple(made)
            self.sentence = made[0].sentence
            self.recomputed = made[0].right
        elif "added to" in fault or "subtracted" in fault:
            kind = "S24"
            self.slips = (
                Slip(
                    kind,
                    KINDS[kind].name,
                    self.sentence,
                    target.value,
                    target.value,
                    0.0,
                    0.3,
                    ("S06", "S22"),
                ),
            )

    def middle_wrong(self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]], index: int) -> None:
        """The result is right although a step on the way is not written as it was done."""
        part, options = sides[index]
        shown = self.default(options)
        value = self.in_claim(shown)
        claim = self.claim
        if part.value and abs(value / claim.si - 1.0) < 0.004 if claim.si else False:
            return  # a middle result with fewer digits
        if not part.value and self.rough(value):
            return
        self.verdict = Verdict.OFF
        found = find([(sides[0][1][0][0], sides[0][1][0][2], 1.0)], _target_at(value, claim), self.context)
        self.slips = slips(found, _target_at(value, claim), self.words, claim.si)
        self.sentence = (
            f"The result is right, but the step “{part.text}” comes to {self.show(value)}, not "
            f"{self.show(claim.si, stated=True)}: two slips that cancel, or a slip of the pen on the way."
        )
        self.recomputed = claim.si

    def rough(self, value: float) -> bool:
        """Whether a middle step differs only by its own rounding."""
        return bool(self.claim.si) and abs(value / self.claim.si - 1.0) < 0.006

    def off(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]],
        matches: list[tuple[Node, Result, Meaning] | None],
    ) -> None:  # fmt: skip
        """No reading gives the number: find out how it came about."""
        claim = self.claim
        target = self.target()
        bases = self.bases(sides)
        right = self.recomputed if self.recomputed is not None else math.nan
        ready = [edit for bound in self.bound_forms(sides) for edit in wrong_forms(bound)]
        ready += self.stack_forms(bases)
        found = find(bases, target, self.context, ready)
        found = self.settle(found, right)
        cost = claim.si / right - 1.0 if right else math.inf
        last = abs(claim.si - right) <= 2.2 * _half(claim)
        explained = bool(found) and found[0].weight >= 0.3 and target.hit(found[0].value) >= 0.999
        small = abs(cost) < APPROXIMATE and not (
            explained and abs(cost) > 0.002 and found[0].edit.kind != "S44"
        )
        if (
            small
            or (last and abs(cost) < 0.004)
            or (self.statement.about and abs(cost) < 0.015 and not explained)
        ):
            self.verdict = Verdict.APPROXIMATION
            self.sentence = (
                f"Close: worked out in full it is {self.show(right)}; this is {_percent(cost)} of it off."
            )
            self.sentence = f"An approximation that costs {_percent(cost)}: in full it is {self.show(right)}."
            return
        self.verdict = Verdict.OFF
        if all(part.value for part, _ in sides):
            found = [one for one in found if one.edit.kind in _CONVERSIONS]
        self.slips = slips(found, target, self.words, right)
        if not self.slips:
            self.slips = self.miscopied(right) or self.converted(sides, right)
        self.settle_sentence(right, cost)
        if self.slips:
            self.recomputed = self.slips[0].right if not math.isnan(self.slips[0].right) else self.recomputed

    def miscopied(self, right: float) -> tuple[Slip, ...]:
        """The stated digits are the right ones with two exchanged or one changed."""
        claim = self.claim
        stated = re.sub(r"[^0-9]", "", claim.text.split(" ")[0]).strip("0")
        number = right / claim.factor
        if not number or not stated or claim.half <= 0:
            return ()
        step = 2.0 * claim.half
        proper = re.sub(r"[^0-9]", "", f"{round(abs(number) / step) * step:.6f}").strip("0")
        if len(stated) != len(proper) or len(stated) < 2:
            return ()
        different = [i for i, (a, b) in enumerate(zip(stated, proper, strict=True)) if a != b]
        exchanged = (
            len(different) == 2
            and stated[different[0]] == proper[different[1]]
            and (stated[different[1]] == proper[different[0]])
        )
        if not exchanged and len(different) != 1:
            return ()
        deed = "two digits have changed places" if exchanged else "one digit is not the right one"
        sentence = (
            f"{deed}: worked out it is {self.show(right)}, stated is {self.show(claim.si, stated=True)}."
        )
        return (
            Slip(
                "S55",
                KINDS["S55"].name,
                sentence,
                claim.si,
                right,
                digits_agreeing(claim.si, right),
                0.2,
                ("S31",),
            ),
        )

    def converted(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]], right: float
    ) -> tuple[Slip, ...]:
        """One quantity in two units that do not agree, by no ratio of units we know."""
        if not all(part.value for part, _ in sides):
            return ()
        kind = {PRESSURE: "S15", LENGTH: "S13", MASS: "S12", FORCE: "S09"}.get(self.claim.dimension, "S55")
        sentence = f"the two do not measure the same: {sides[0][0].text} is {self.show(right)}."
        return (Slip(kind, KINDS[kind].name, sentence, self.claim.si, right, 0.0, 0.2, ("S55",)),)

    def settle_sentence(self, right: float, cost: float) -> None:
        if self.slips:
            top = self.slips[0].sentence
            self.sentence = top[0].upper() + top[1:]
        else:
            how = _times(self.claim.si, right)
            self.sentence = (
                f"The working gives {self.show(right)}, not {self.show(self.claim.si, stated=True)} ({how}); "
                "I found no single slip that explains it."
            )

    def settle(self, found: list[Found], right: float) -> list[Found]:
        """The right value said beside each slip is that of the line, where the slip cannot know it."""
        return [replace(one, right=right) if math.isnan(one.right) else one for one in found]

    def bases(
        self, sides: list[tuple[Part, list[tuple[Node, Result, Meaning]]]]
    ) -> list[tuple[Node, Meaning, float]]:
        """The trees the slips are put into: every side that holds working, raw where units are missing."""
        found: list[tuple[Node, Meaning, float]] = []
        seen: set[Node] = set()
        claim = self.claim
        for part, options in sides:
            if not options:
                continue
            node, result, meaning = self.default(options)
            for tree, how in ((node, meaning),):
                if tree in seen:
                    continue
                seen.add(tree)
                value = result.value
                scaled = self.in_claim((node, result, meaning))
                if value and scaled and abs(scaled / value - 1.0) > 1e-9:
                    tree = Op("*", (_raw(tree), exactly(claim.factor)))
                found.append((tree, how, 1.0))
            if (
                value
                and any(leaf.factor != 1.0 and not leaf.constant for leaf in leaves(node))
                and not part.value
            ):
                # a power or root dropped is keyed in the units of the page, not in SI
                typed = Op("*", (_raw(node), exactly(claim.factor)))
                try:
                    if abs(evaluate(typed, meaning).value / value - 1.0) < 1e-9:
                        found.append((typed, meaning, 0.9))
                except Unfit:
                    pass
            bare = [o for o in options if o[1].bare and o[0] not in seen]
            if bare and not part.value and len(found) < 4:
                other = bare[0]
                seen.add(other[0])
                found.append((other[0], other[2], 0.8))
        found = found[:4]
        for tree, how, _ in found[:1]:
            inlined = self.inlined(tree)
            if inlined != tree:
                found.append((inlined, how, 0.75))
        return found[:5]

    def inlined(self, tree: Node) -> Node:
        """The tree with each carried value replaced by the working that made it."""
        workings = {entry: node for _, entry, node, _ in self.checker.ends if node is not None}

        def change(leaf: Leaf) -> Node:
            inner = workings.get(leaf.page)
            return inner if inner is not None and len(leaves(inner)) <= 8 else leaf

        return mapped(tree, change)

    # ── the relation behind the line ──

    def bound_forms(self, sides: object = None) -> list[Bound]:
        """Relations recognised by the name of the line, with their best values."""
        if self.forms:
            return self.forms
        claim = self.claim
        ideas = suits(self.statement.label)
        trees = [tree for part in self.statement.expressions for tree in part.trees[:1]]
        tree = linked(trees[-1], self.scope) if trees else None
        first = linked(trees[0], self.scope) if trees and not unknowns(trees[0]) else tree
        dimension = None if claim.bare and claim.dimension == NONE else claim.dimension
        found: list[Bound] = []
        for form in recognised(ideas, dimension):
            bounds = bind(form, first or tree, self.scope, self.statement.stage)
            found.extend(bounds[:6])
        found.sort(key=lambda bound: -bound.score)
        self.forms = found[:40]
        return self.forms

    def misplaced(self, bound: Bound) -> bool:
        """A length typed in the line that is twice or half of the one the page names for this place."""
        for letter, idea in (("d", "diameter"), ("r", "radius"), ("rr", "radius"), ("Rr", "radius")):
            leaf = bound.values.get(letter)
            if leaf is None or leaf.page >= 0 or leaf.constant:
                continue
            named = [e.stated for e in self.scope.entries if idea in e.tags and e.leaf.dimension == LENGTH]
            near = [value / leaf.si for value in named if leaf.si]
            if any(abs(ratio - 1.0) < 1e-6 for ratio in near):
                continue
            if any(abs(ratio - 2.0) < 1e-6 or abs(ratio - 0.5) < 1e-6 for ratio in near):
                return True
        return False

    def agrees(self, bound: Bound) -> bool:
        if self.misplaced(bound):
            return False
        try:
            value = evaluate(bound.tree(bound.form.formula), Meaning(degrees=True)).value
        except Unfit:
            return False
        return self.near(value)

    def near(self, value: float, room: float = 0.006) -> bool:
        """Within the digits stated, or what handbook constants and carried rounding cost."""
        claim = self.claim
        if abs(value - claim.si) <= _half(claim) * 1.2:
            return True
        if claim.si and abs(value / claim.si - 1.0) <= room:
            return True
        if claim.bare:
            return any(
                abs(value / f - claim.typed) <= max(claim.half * 1.2, room * abs(claim.typed))
                for f in (1.0, 1e3, 1e-3, 1e6, math.pi / 180.0)
            )
        return False

    def stack_forms(self, bases: list[tuple[Node, Meaning, float]]) -> list[Edit]:
        scope = self.checker.ahead or self.scope
        ready: list[Edit] = []
        found = bookkeeping.start_mass_forms(self.statement.label, self.statement.stage, scope)
        if found is not None:
            ready += found[1]
        return ready

    def by_forms(self) -> bool | None:
        """Whether a wrong form of the relation gives the number: sets the slips when it does."""
        claim = self.claim
        target = Target(
            claim.si, max(_half(claim), 2e-4 * abs(claim.si)), claim.typed, claim.half, claim.bare
        )
        bounds = self.bound_forms()
        if not bounds or any(self.agrees(bound) for bound in bounds):
            if bounds:
                agreed = next(bound for bound in bounds if self.agrees(bound))
                self.relation, self.source = agreed.form.name, agreed.form.source
            return None
        best = bounds[0].score
        found: list[Found] = []
        for bound in bounds:
            if bound.score < best - 6.0 or not self.uses(bound):
                continue
            try:
                right = evaluate(bound.tree(bound.form.formula), Meaning(degrees=True)).value
            except Unfit:
                continue
            for edit in wrong_forms(bound):
                value = value_of(edit, Meaning(degrees=True))
                if value is None or (right and abs(value / right - 1.0) < 1e-6):
                    continue
                fit = target.hit(value)
                if claim.bare and not fit:
                    fit = max(target.hit(value / f) for f in (math.pi / 180.0, 0.01)) if value else 0.0
                if fit >= 0.1:
                    strength = KINDS[edit.kind].common * fit * (0.9 ** (best - bound.score))
                    found.append(Found(edit, value, right, strength))
                    self.relation, self.source = bound.form.name, bound.form.source
        if not found and self.statement.expressions and _figures(claim) >= 3:
            found = self.edited_forms(bounds, target)
        if not found:
            return None
        found = ranked(found)
        self.slips = slips(found, target, self.words, found[0].right)
        self.recomputed = found[0].right
        name = next((b.form for b in bounds if b.form.name), None)
        del name
        self.verdict = Verdict.OFF
        top = self.slips[0].sentence
        self.sentence = top[0].upper() + top[1:]
        if self.slips[0].kind == "S34" and self.statement.expressions:
            self.verdict = Verdict.APPROXIMATION
            self.sentence = (
                f"Another definition than the usual one: dry over dry and propellant together is "
                f"{self.show(self.slips[0].right)}. Say which is meant, and use the same one throughout."
            )
        return True

    def edited_forms(self, bounds: list[Bound], target: Target) -> list[Found]:
        """Single slips of a relation all of whose values stand in the line."""
        here = {leaf.page for leaf in leaves(self.best)} if self.best is not None else set()
        for bound in bounds[:3]:
            mine = [leaf for leaf in bound.values.values() if not leaf.constant]
            if not mine or not all(leaf.page in here and leaf.page >= 0 for leaf in mine):
                continue
            tree = bound.tree(bound.form.formula)
            try:
                right = evaluate(tree, Meaning(degrees=True)).value
            except Unfit:
                continue
            found = []
            for edit in edits(tree, self.context):
                if edit.kind not in (
                    "S01",
                    "S02",
                    "S03",
                    "S04",
                    "S05",
                    "S06",
                    "S17",
                    "S19",
                    "S56",
                    "S51",
                    "S24",
                    "S26",
                ):
                    continue
                if edit.factor != 1.0:
                    continue
                value = value_of(edit, Meaning(degrees=True))
                if value is not None and target.hit(value) >= 1.0:
                    found.append(Found(edit, value, right, KINDS[edit.kind].common * edit.weight))
            if found:
                self.relation, self.source = bound.form.name, bound.form.source
                return found
        return []

    def uses(self, bound: Bound) -> bool:
        """Whether the line really works with the values of this relation, not merely shares a page with them."""
        if not self.statement.expressions:
            return True
        here = [
            leaf for part in self.statement.expressions for tree in part.trees[:1] for leaf in leaves(tree)
        ]
        if self.best is not None:
            here += leaves(self.best)
        pages = {leaf.page for leaf in here if leaf.page >= 0}
        typed = {leaf.typed for leaf in here}
        mine = [leaf for leaf in bound.values.values() if not leaf.constant]
        count = sum(leaf.page in pages or leaf.typed in typed for leaf in mine)
        foreign = self.claim.bare and self.claim.dimension == NONE and bound.form.unit != "1"
        return count == len(mine) if foreign else 2 * count >= len(mine)

    def behind(self) -> None:
        """The arithmetic holds (or none is shown): is it the right relation, with all it must hold?"""
        shown = bool(self.statement.expressions)
        if self.best is not None and any(
            leaf.page >= 0 and self.scope.entries[leaf.page].index in self.checker.faulty
            for leaf in leaves(self.best)
        ):
            return  # it follows from a number that is off already; only the first bad line is spoken of
        if shown and self.typed_slips():
            return
        if not shown and self._ideal_as_flown():
            return
        if self.by_forms():
            return
        if shown:
            self.stack()

    def typed_slips(self) -> bool:
        """Slips that stand in the writing itself, whatever the relation."""
        for part in self.statement.expressions:
            for tree in part.trees[:1]:
                if self._degrees_as_radians(tree):
                    return True
        return self.best is not None and (
            self._common_logarithm()
            or self._other_place()
            or self._sea_level_air()
            or self._straight_densities()
            or self._same_as_elsewhere()
            or self._percent_as_number()
            or self._one_of_many()
            or self._turned_gain()
            or self._added_impulses()
            or self._miscopied_value()
        )

    def _sea_level_air(self) -> bool:
        """The density of air at sea level where the page gives that of the height."""
        if not {"dynamic", "pressure"} <= suits(self.statement.label) or "sea" in self.context.words:
            return False
        local = [
            e for e in self.scope.entries
            if e.leaf.dimension == DENSITY and 0.0 < e.stated < 1.19 and "sl" not in e.tags
        ]  # fmt: skip
        if len(local) != 1:
            return False
        for path, leaf in walk(self.best):
            if (
                isinstance(leaf, Leaf)
                and (leaf.page < 0 or "sl" in self.scope.entries[leaf.page].tags)
                and (abs(leaf.typed - 1.225) < 0.026)
            ):
                before, after = evaluate(self.best, self.meaning), None
                new = replace(leaf, typed=local[0].stated / (leaf.factor or 1.0))
                after = evaluate(put(self.best, path, new), self.meaning)
                right = self.claim.si * after.value / before.value
                edit = Edit(
                    "S53", self.best, "the density at sea level is used", f"with {local[0].leaf.text}"
                )
                self.conclude([Found(edit, self.claim.si, right, 0.55)], right)
                return True
        return False

    def _straight_densities(self) -> bool:
        """Densities averaged by mass fractions straight, where volumes add."""
        from wetmass.working.slips.terms import terms_of

        if "density" not in suits(self.statement.label) or "vol" in self.context.words:
            return False
        shares: list[tuple[float, float]] = []
        for sign, term in terms_of(self.best):
            if (
                sign < 0
                or not isinstance(term, Op)
                or term.kind != "*"
                or not all(isinstance(p, Leaf) for p in term.parts)
            ):
                return False
            small, large = sorted((p.si for p in term.parts if isinstance(p, Leaf)))
            shares.append((small, large))
        if len(shares) < 2 or abs(sum(share for share, _ in shares) - 1.0) > 0.006:
            return False
        straight = sum(share * density for share, density in shares)
        right = self.claim.si / straight / sum(share / density for share, density in shares)
        if abs(right / self.claim.si - 1.0) < 0.01:
            return False
        edit = Edit("S28", self.best, "the densities are averaged by mass", "with the volumes added")
        self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
        return True

    def _same_as_elsewhere(self) -> bool:
        """A figure for vacuum with the digits of the one for sea level, though the page has both."""
        ideas = tags(self.statement.label)
        for wanted, other in (("sl", "vac"), ("vac", "sl")):
            if wanted not in ideas or other in ideas:
                continue
            rest = ideas - {wanted}
            proper = [e for e in self.scope.entries if wanted in e.tags and e.leaf.dimension == self.claim.dimension
                      and (e.tags & rest) & {"thrust", "isp", "exhaust"}]  # fmt: skip
            wrong = [e for e in self.scope.entries if other in e.tags and e.leaf.dimension == self.claim.dimension
                     and self.claim.si and abs(e.stated / self.claim.si - 1.0) < 1e-6]  # fmt: skip
            if len(proper) == 1 and wrong and abs(proper[0].stated / self.claim.si - 1.0) > 0.01:
                where = {"sl": "at sea level", "vac": "in vacuum"}
                edit = Edit("S23", self.best, f"the figure {where[other]} stands for the one {where[wanted]}",
                            f"with {proper[0].name}")  # fmt: skip
                self.conclude([Found(edit, self.claim.si, proper[0].stated, 0.7)], proper[0].stated)
                return True
        return False

    def _percent_as_number(self) -> bool:
        """5 stands in the line where the page says 5 %."""
        ideas = suits(self.statement.label) - {"mass"}
        for _path, leaf in walk(self.best):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or leaf.constant
                or leaf.half == 0
            ):
                continue
            for entry in self.scope.entries:
                if entry.leaf.unit == "%" and entry.leaf.typed == leaf.typed and entry.tags & ideas:
                    right = self.claim.si / 100.0
                    edit = Edit("S35", self.best, f"{entry.leaf.text} is taken as the number {leaf.typed:g}",
                                "as a fraction")  # fmt: skip
                    self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
                    return True
        return False

    def _common_logarithm(self) -> bool:
        """log₁₀ written, or meant by log, where a rocket equation asks for ln."""
        ideas = suits(self.statement.label)
        if "dv" not in ideas or "ratio" in ideas:
            return False
        for path, node in walk(self.best):
            if isinstance(node, Op) and (
                node.kind == "log10" or (node.kind == "log" and self.meaning.log_is_ten)
            ):
                try:
                    natural = evaluate(
                        put(self.best, path, Op("ln", node.parts)), replace(self.meaning, log_is_ten=False)
                    )
                    stated = evaluate(self.best, self.meaning)
                except Unfit:
                    return False
                if not stated.value:
                    return False
                right = self.claim.si * natural.value / stated.value
                edit = Edit("S03", self.best, "log₁₀ is used for ln", "with ln")
                self.conclude([Found(edit, self.claim.si, right, 0.9)], right)
                return True
        return False

    def _one_of_many(self) -> bool:
        """The thrust or flow of one engine where the name of the line means the vehicle."""
        ideas = suits(self.statement.label)
        if not (ideas & {"twr", "liftoff", "total"}) or ideas & {"engine", "each"}:
            return False
        counts = self.checker.engine_counts()
        if len(counts) != 1 or any(
            leaf.page >= 0
            and "count" in self.scope.entries[leaf.page].tags
            or leaf.bare
            and leaf.typed == counts[0][0]
            for leaf in leaves(self.best)
        ):
            return False
        for path, leaf in walk(self.best):
            if isinstance(leaf, Leaf) and leaf.page >= 0:
                entry = self.scope.entries[leaf.page]
                if entry.tags & {"engine", "each"} and not entry.tags & {"total", "liftoff"} and entry.given:
                    right = evaluate(
                        put(self.best, path, Op("*", (leaf, exactly(counts[0][0])))), self.meaning
                    ).value
                    edit = Edit(
                        "S30",
                        self.best,
                        f"only one of the {counts[0][0]:g} engines is counted",
                        "with all of them",
                    )
                    self.conclude([Found(edit, self.claim.si, right, 0.7)], right)
                    return True
        return False

    def _turned_gain(self) -> bool:
        """Earth's rotation added to what is needed, or taken off what is reached."""
        from wetmass.working.slips.terms import summed, terms_of

        flat = terms_of(self.best)
        if len(flat) < 2 or self.claim.dimension not in (SPEED, NONE):
            return False
        named = [(sign, tree, tags(tree.name)) for sign, tree in flat if isinstance(tree, Leaf) and tree.name]
        gains = [row for row in named if "rotation" in row[2]]
        orbit = any("orbit" in its and sign > 0 for sign, _, its in named)
        losses = any("loss" in its and sign > 0 for sign, _, its in named)
        if len(gains) != 1 or not (orbit or losses) or gains[0][0] < 0:
            return False
        turned = summed([(-s if t is gains[0][1] else s, t) for s, t in flat])
        right = evaluate(turned, self.meaning).value
        edit = Edit(
            "S45", self.best, "the gain from rotation is added to what is needed", "taken off what is needed"
        )
        self.conclude([Found(edit, self.claim.si, right, 0.65)], right)
        return True

    def _added_impulses(self) -> bool:
        """Specific impulses never add; their straight mean holds only for equal flows."""
        if "isp" not in suits(self.statement.label):
            return False
        from wetmass.working.slips.terms import terms_of

        flat = terms_of(self.best)
        both = len(flat) >= 2 and all(
            sign > 0
            and isinstance(tree, Leaf)
            and (tree.dimension == TIME or tree.bare)
            and 60 < tree.si < 1300
            for sign, tree in flat
        )
        if not both:
            return False
        total = len(flat)
        mean = self.claim.si / total
        edit = Edit("S25", self.best, "specific impulses are added", "at most their mean, weighted by flow,")
        self.conclude([Found(edit, self.claim.si, mean, 0.6)], mean)
        return True

    def _ideal_as_flown(self) -> bool:
        """A speed reached that has the digits of the ideal one, though the page lists losses."""
        ideas = suits(self.statement.label)
        if (
            self.claim.dimension != SPEED
            or not ideas & {"achieved", "insertion", "end", "orbit"}
            or "dv" in ideas
        ):
            return False
        ideal = next(
            (e for e in self.scope.entries if e.tags & {"dv", "ideal"} and not e.tags & {"loss"}
             and abs(e.stated / self.claim.si - 1.0) < 1e-6), None,
        ) if self.claim.si else None  # fmt: skip
        losses = [e for e in self.scope.entries if "loss" in e.tags and e.leaf.dimension == SPEED]
        if ideal is None or not losses:
            return False
        whole = next((e for e in losses if "total" in e.tags), None)
        lost = whole.stated if whole else sum(e.stated for e in losses)
        right = self.claim.si - lost
        edit = Edit(
            "S40", exactly(self.claim.si), "the ideal speed is taken as flown", "with the losses taken off"
        )
        self.conclude([Found(edit, self.claim.si, right, 0.7)], right)
        return True

    def _other_place(self) -> bool:
        """The name of the line says sea level, Moon or stage 2; a number in it says otherwise."""
        ideas = tags(self.statement.label)
        assert self.best is not None
        if "liftoff" in ideas or "pad" in self.context.words:
            ideas = ideas | {"sl"}
        for path, leaf in list(walk(self.best)):
            if not isinstance(leaf, Leaf):
                continue
            mine = tags(leaf.name) if leaf.name else frozenset()
            new: Leaf | None = None
            kind = cause = ""
            for wanted, other in (("sl", "vac"), ("vac", "sl")):
                if wanted in ideas and other not in ideas and other in mine and wanted not in mine:
                    sibling = next(
                        (e for e in self.scope.entries if wanted in e.tags and e.leaf.dimension == leaf.dimension
                         and (e.tags - {wanted}) >= (mine - {other, "liftoff", "start"})), None,
                    )  # fmt: skip
                    if sibling is not None:
                        where = {"sl": "at sea level", "vac": "in vacuum"}
                        new, kind = self.scope.leaf(sibling), "S23"
                        cause = f"the figure {where[other]} ({leaf.text}) is used for one {where[wanted]}"
            for world, gravity in (("moon", 1.62), ("mars", 3.71)):
                if (world in ideas or f"on the {world}" in self.context.words) and leaf.constant == "g₀":
                    local = next((e for e in self.scope.entries if {world, "gravity"} <= e.tags), None)
                    value = local.stated if local else gravity
                    new, kind = (
                        Leaf(value, dimension=leaf.dimension, bare=False, text=f"{value:g} m/s²"),
                        "S24",
                    )
                    cause = "gravity of Earth is used"
            if new is None or abs(new.si / leaf.si - 1.0) < 1e-3:
                continue
            right = evaluate(put(self.best, path, new), self.meaning).value
            edit = Edit(kind, self.best, cause, f"with {new.text}")
            self.conclude([Found(edit, self.claim.si, right, KINDS[kind].common)], right)
            return True
        return False

    def _miscopied_value(self) -> bool:
        """A number of the line is a value of the page with two digits exchanged or one changed."""
        assert self.best is not None
        used = {leaf.page for leaf in leaves(self.best)}
        for path, leaf in list(walk(self.best)):
            if not isinstance(leaf, Leaf) or leaf.page >= 0 or leaf.constant or not leaf.half:
                continue
            if not leaf.unit and not any(page >= 0 for page in used):
                continue
            mine = re.sub(r"[^0-9]", "", leaf.text.split(" ")[0]).strip("0")
            if len(mine) < 3:
                continue
            for entry in self.scope.entries:
                stated = entry.leaf
                if entry.index in used or (
                    leaf.unit and (stated.dimension != leaf.dimension or stated.factor != leaf.factor)
                ):
                    continue
                theirs = re.sub(r"[^0-9]", "", stated.text.split(" ")[0]).strip("0")
                if (
                    len(theirs) == len(mine)
                    and mine != theirs
                    and sorted(mine) == sorted(theirs)
                    and (0.3 < leaf.typed / stated.typed < 3.0)
                    and sum(a != b for a, b in zip(mine, theirs, strict=True)) == 2
                ):
                    right = self.claim.si * (
                        evaluate(put(self.best, path, replace(leaf, typed=stated.typed)), self.meaning).value
                        / evaluate(self.best, self.meaning).value
                    )
                    edit = Edit("S55", self.best, f"{leaf.text} is put in for {entry.name} ({stated.text}), two digits "
                                "exchanged", f"with {stated.text}")  # fmt: skip
                    self.conclude([Found(edit, self.claim.si, right, 0.3)], right)
                    return True
        return False

    def _degrees_as_radians(self, tree: Node) -> bool:
        for path, node in walk(tree):
            if isinstance(node, Op) and node.kind in ("sin", "cos", "tan"):
                try:
                    argument = evaluate(node.parts[0]).value
                except Unfit:
                    continue
                if abs(argument) > 2 * math.pi and not has_angle(node) and not self.meaning.degrees:
                    self.verdict = Verdict.OFF
                    right = evaluate(tree, Meaning(degrees=True)).value
                    target = self.target()
                    edit = Edit(
                        "S14",
                        tree,
                        "the angle is keyed in degrees with the calculator in radians",
                        "in degrees",
                    )
                    self.slips = slips([Found(edit, target.value, right, 0.9)], target, self.words, right)
                    self.sentence = self.slips[0].sentence
                    self.recomputed = right
                    return True
        return False

    def stack(self) -> None:
        scope = self.checker.ahead
        if scope is None:
            return
        claim = self.claim
        label, stage = self.statement.label, self.statement.stage
        found = bookkeeping.start_mass_forms(label, stage, scope)
        target = Target(claim.si, max(_half(claim), 1e-4 * abs(claim.si)), claim.typed, claim.half)
        if found is not None:
            right, edits = found
            if self.near(right, 0.004):
                return
            hits = [
                Found(edit, value, right, KINDS[edit.kind].common * edit.weight)
                for edit in edits
                if (value := value_of(edit, Meaning())) is not None and target.hit(value) >= 1.0
            ]
            if hits:
                self.conclude(ranked(hits), right)
            return
        if "dv" in suits(label) and self.best is not None and not stage:
            one = bookkeeping.run_together(self.best, scope)
            if one is not None:
                right, edit = one
                self.conclude([Found(edit, claim.si, right, KINDS["S33"].common)], right)
                return
        if "dv" in suits(label) and self.best is not None:
            ratio = bookkeeping.ratio_forms(self.best, stage, scope)
            if ratio is None:
                return
            right_ratio, edits, path = ratio
            if not edits:
                return
            try:
                right = evaluate(put(self.best, path, exactly(right_ratio)), self.meaning).value
            except Unfit:
                return
            if self.near(right, 0.004):
                return
            hits = [Found(edit, claim.si, right, KINDS[edit.kind].common) for edit in edits]
            self.conclude(ranked(hits), right)

    def conclude(self, found: list[Found], right: float) -> None:
        self.verdict = Verdict.OFF
        self.slips = slips(found, self.target(), self.words, right)
        self.sentence = self.slips[0].sentence[0].upper() + self.slips[0].sentence[1:]
        self.recomputed = right

    # ── neighbours, ranges, model ──

    def restated(self) -> None:
        """The same name stated before with another number."""
        statement, claim = self.statement, self.claim
        if not statement.label:
            return
        keys = _keys(statement.label)
        before = next(
            (
                entry for entry in reversed(self.scope.entries)
                if keys and keys[0] in entry.keys and entry.stage == statement.stage
                and entry.section == statement.raw.section
            ),
            None,
        )  # fmt: skip
        if before is None and keys and not statement.expressions:
            # "second look, dry mass: 9.8 t"
            before = next(
                (e for e in reversed(self.scope.entries) if keys[0] in e.keys and e.stage == statement.stage),
                None,
            )
            if before is not None and before.section != statement.raw.section:
                before = None
        if before is None or before.leaf.dimension != claim.dimension or statement.expressions:
            return
        room = _half(claim) + _half(before.leaf)
        if abs(before.stated - claim.si) <= room * 1.0001 + 1e-9 * abs(claim.si):
            return
        if before.stated and abs(claim.si / before.stated - 1.0) < 0.003:
            return
        self.verdict = Verdict.OFF
        self.recomputed = before.stated
        self.sentence = (
            f"Line {before.line} states {before.name} as {before.leaf.text}, this line as "
            f"{self.show(claim.si, stated=True)}; one of the two needs a word on why it changed."
        )
        self.slips = (
            Slip("S55", KINDS["S55"].name, self.sentence, claim.si, before.stated,
                 digits_agreeing(claim.si, before.stated), 0.3),
        )  # fmt: skip

    def range(self) -> None:
        claim = self.claim
        if claim.bare and claim.dimension == NONE and not self.statement.label:
            return
        ideas = suits(self.statement.label)
        row = range_for(ideas, claim.dimension)
        if row is None:
            return
        value = claim.si
        if claim.bare and row.unit != "1":
            return
        if row.usual[0] <= value <= row.usual[1]:
            return
        if row.possible[0] <= value <= row.possible[1]:
            self.notes.append(
                f"{self.show(value, stated=True)} is unusual for {row.name} ({row.shown}; {row.source})"
            )
            self.source = self.source or row.source
            return
        self.verdict = Verdict.OFF
        self.source = row.source
        made = []
        shows_g = self.best is not None and any(leaf.constant.startswith("g") for leaf in leaves(self.best))
        for kind, factor, cause, _cure in REPAIRS:
            if kind == "S02" and shows_g:
                continue
            if row.usual[0] <= value * factor <= row.usual[1]:
                made.append(
                    Slip(
                        kind, KINDS[kind].name,
                        f"{self.show(value, stated=True)} would be out of reach; if {cause}, it is "
                        f"{self.show(value * factor)}.",
                        value, value * factor, 0.0, KINDS[kind].common * 0.5, ("S30",) if kind == "S08" else (),
                    )
                )  # fmt: skip
        made.sort(
            key=lambda slip: (-(slip.kind in ("S11",) and self.context.tags >= {"density"}), -slip.weight)
        )
        self.slips = tuple(made[:4])
        self.sentence = f"{self.show(value, stated=True)} is outside what has been seen for {row.name}: {row.shown} ({row.source})."
        if self.slips:
            self.sentence += f" {self.slips[0].name[0].upper()}{self.slips[0].name[1:]}? " + (
                f"Then it is {self.show(self.slips[0].right)}."
            )

    def model(self) -> None:
        """The concept's own value of this name."""
        if not self.checker.model or not self.statement.label:
            return
        from wetmass.working.model import matching

        found = matching(self.statement.label, self.statement.stage, self.checker.model)
        if found is None:
            return
        name, value, words = found
        claim = self.claim
        if abs(value - claim.si) <= max(_half(claim), MODEL_AGREES * abs(value)):
            return
        self.notes.append(
            f"the model has {self.show(value)} for {name} ({words}); this is {_percent(claim.si / value - 1.0)} of it "
            "away"
            if value
            else f"the model has {self.show(value)} for {name} ({words})"
        )


# what can go wrong in writing one quantity in two units
_CONVERSIONS = {"S07", "S08", "S09", "S11", "S12", "S13", "S15", "S16", "S35", "S42", "S54", "S14", "S10"}

_INSERTED = (
    ("S02", (9.80665, (1.0, 0.0, -2.0, 0.0, 0.0)), "g₀ is left out", "with g₀"),
    ("S02", (1 / 9.80665, (-1.0, 0.0, 2.0, 0.0, 0.0)), "g₀ is left out below the line", "with g₀"),
)


def _insert_dimension(node: Node, dimension: tuple[float, ...], meaning: Meaning) -> tuple[float, ...] | None:
    from wetmass.working.units import times

    try:
        return times(evaluate(node, meaning).dimension, dimension)  # type: ignore[arg-type]
    except Unfit:
        return None


def _meanings(node: Node) -> list[Meaning]:
    """How the doubtful marks of a tree may be taken, the likeliest first."""
    found = [Meaning()]
    kinds = {part.kind for _, part in walk(node) if isinstance(part, Op)}
    if kinds & {"sin", "cos", "tan"} and any(
        isinstance(part, Op)
        and part.kind in ("sin", "cos", "tan")
        and not has_angle(part)
        and not _has_inverse(part)
        for _, part in walk(node)
    ):
        found = [Meaning(degrees=True), Meaning()]
    if "log" in kinds:
        found += [replace(meaning, log_is_ten=True) for meaning in found]
    return found


# what people take for a constant they only name
_HANDBOOK = {"g₀": (9.81, 9.8), "R_E": (6378.0e3, 6371.0e3, 6370.0e3), "μ": (3.986e14, 3.986005e14)}


def _other_constants(node: Node) -> list[Node]:
    """The tree with a constant it names at the values handbooks print for it."""
    named = {
        leaf.constant for leaf in leaves(node) if leaf.constant == leaf.text and leaf.constant in _HANDBOOK
    }

    def at(constant: str, value: float) -> Node:
        return mapped(
            node,
            lambda leaf: (
                replace(leaf, typed=value / leaf.factor) if leaf.constant == leaf.text == constant else leaf
            ),
        )

    return [at(constant, value) for constant in named for value in _HANDBOOK[constant]]


def _has_inverse(node: Node) -> bool:
    return any(isinstance(part, Op) and part.kind in ("asin", "acos", "atan") for _, part in walk(node))


def _inverse_trig(node: Node) -> bool:
    return isinstance(node, Op) and node.kind in ("asin", "acos", "atan")


def _raw(node: Node) -> Node:
    """The tree with numbers as typed, their units ignored."""
    return mapped(node, lambda leaf: replace(leaf, factor=1.0, shift=0.0) if leaf.constant != "π" else leaf)


def _carrying(node: Node, scope: Scope, which: str) -> Node:
    """The tree with the values of the page replaced by their unrounded or corrected ones."""

    def change(leaf: Leaf) -> Node:
        if leaf.page < 0:
            return leaf
        entry = scope.entries[leaf.page]
        value = entry.unrounded if which == "unrounded" else entry.true
        if value == entry.stated or not entry.stated:
            return leaf
        return replace(leaf, typed=leaf.typed * value / entry.stated) if not leaf.shift else leaf

    return mapped(node, change)


def _in_letters(part: Part) -> bool:
    """A side written with names alone, small factors aside."""
    return not part.value and not re.search(r"\d\d|\d\.\d|[5-9]", re.sub(r"[^\W\d]\w*|\^ ?\d", "", part.text))


def _target_at(value: float, claim: Leaf) -> Target:
    return Target(value, max(_half(claim), 1e-3 * abs(value)), value / claim.factor, claim.half)


def _figures(claim: Leaf) -> int:
    if not claim.typed or not claim.half:
        return 3
    return max(
        1, min(7, int(math.floor(math.log10(abs(claim.typed))) - math.floor(math.log10(2 * claim.half)) + 1))
    )


def _percent(cost: float) -> str:
    size = abs(cost) * 100.0
    return f"{size:.1f} %" if size >= 0.95 else f"{size:.2g} %"


def _times(stated: float, right: float) -> str:
    if not right or not stated:
        return "out of all proportion"
    ratio = stated / right
    if ratio < 0:
        return "the sign differs"
    if 0.5 < ratio < 2.0:
        return f"{abs(ratio - 1.0) * 100:.2g} % too {'large' if ratio > 1 else 'small'}"
    return f"{readable(ratio if ratio > 1 else 1 / ratio, 3)} times too {'large' if ratio > 1 else 'small'}"
