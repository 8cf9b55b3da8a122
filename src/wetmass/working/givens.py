"""Values a page gives without working, and what stands beside their names."""

from __future__ import annotations

import contextlib
import re
from dataclasses import replace

from wetmass.working.kinds_of_quantity import told
from wetmass.working.labels import keys_of, with_kind
from wetmass.working.names import IDEAS, meaning, stage_of, tags
from wetmass.working.page import RawLine
from wetmass.working.reading.prose import clauses, stage_before
from wetmass.working.scope import Entry, Scope
from wetmass.working.statement import Statement, parse, split
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import (
    Leaf,
)
from wetmass.working.units import (
    FORCE,
    MASS_FLOW,
    NONE,
)

GIVEN_LIST = re.compile(r"^[^=≈→:]{2,40}:(?=[^=≈→]*\d)[^=≈→:]*,[^=≈→:]*\d[^=≈→:]*$")


SIDES = frozenset(["sl", "vac", "each", "start", "end", "liftoff", "count", "engine"])


SIGNED = re.compile(r"[=≈≃→⇒]|->|:")


def with_places(ideas: frozenset[str], statement: Statement, claim: Leaf) -> frozenset[str]:
    """With what else stands before the sign: "thrust in vacuum, all four" is one in vacuum."""
    if "count" in ideas and "each" not in ideas and claim.dimension in (FORCE, MASS_FLOW):
        ideas = ideas | {"total"}  # "four engines: 300 kN" is what all of them give
    for piece in statement.pieces:
        said = tags(piece)
        ideas = ideas | ((said & {"sl", "vac"}) if not ideas & {"sl", "vac"} else set())
        if not claim.bare and not told(ideas, claim.dimension) and told(said, claim.dimension):
            ideas = ideas | (said & IDEAS)
    return ideas


def ideas_of_label(label: str, statement: Statement, claim: Leaf) -> frozenset[str]:
    """The ideas in the name of a value, with its stage, what stands before the sign, and its kind by the unit."""
    ideas = meaning(label, NONE if claim.bare else claim.dimension)
    if statement.stage and not any(idea.startswith("stage ") for idea in ideas):
        ideas = ideas | {f"stage {statement.stage}"}
    return with_kind(with_places(ideas, statement, claim), claim)


def givens(raws: list[RawLine]) -> Scope:
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
            scope.add(stated(statement, statement.claim, len(scope.entries)))
        if not raw.prose and SIGNED.search(raw.text) and not GIVEN_LIST.match(raw.text):
            continue
        listed = bool(GIVEN_LIST.match(raw.text))
        if listed and (stage := stage_of(raw.text.partition(":")[0])):
            raw = replace(raw, stage=stage)
        body = raw.text.partition(":")[2] if listed else raw.text
        for clause in clauses(body) if re.search(r"\d", raw.text) else ():
            if not clause.given or not tags(clause.text.partition(" = ")[0]) & IDEAS - SIDES:
                continue
            with contextlib.suppress(Unreadable, RecursionError):
                here = replace(raw, stage=stage_before(body, clause.column) or raw.stage)
                statement = parse(here, clause.text, scope)
                if statement is not None and statement.claim is not None and not statement.claim.bare:
                    scope.add(stated(statement, statement.claim, len(scope.entries)))
    return scope


def stated(statement: Statement, claim: Leaf, index: int) -> Entry:
    """A value given without working."""
    label = "" if statement.label == "value" else statement.label
    ideas = ideas_of_label(label, statement, claim) if label else frozenset()
    raw = statement.raw
    return Entry(
        index, label, keys_of(label), ideas, statement.stage, raw.section, raw.number, claim, True, claim.si, claim.si
    )  # fmt: skip
