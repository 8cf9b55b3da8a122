"""Claims held against the model's own values, with the same slips tried on each."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from wetmass.record.digits import readable
from wetmass.record.refusal import Place
from wetmass.record.working import CheckedLine, CheckedWorking, Slip, Verdict
from wetmass.working.grammar import Parser, Reading
from wetmass.working.model import matching
from wetmass.working.names import stage_of, tags
from wetmass.working.scope import Scope
from wetmass.working.slips.edits import Context
from wetmass.working.slips.finder import Target, find, slips
from wetmass.working.tokens import Unreadable, plain, tokens
from wetmass.working.tree import Leaf, Meaning
from wetmass.working.units import UNITS

CLOSE = 0.02  # a claim within 2 % of the model, or within its own digits, is right
NEAR = 0.06  # up to 6 % it is an approximation whose cost is said


def check_claims(
    claims: Mapping[str, object], model: Mapping[str, tuple[float, str]], name: str = "claims"
) -> CheckedWorking:
    """Hold claims {name: "2.4 km/s" or SI number} against model values {name: (SI value, words)}.

    A claim whose name no model value bears is `unclear`.  Slips are tried on the model's value, the
    other model values standing by (vacuum for sea level, ideal for flown …).

    >>> page = check_claims({"insertion speed": "9.3 km/s"}, {"insertion speed": (7600.0, "flown"),
    ...                     "ideal speed gain": (9300.0, "closed")})
    >>> page.lines[0].verdict.value, page.lines[0].likely.kind
    ('off', 'S40')
    """
    scope = _scope(model)
    lines = []
    for number, (claim, said) in enumerate(claims.items(), 1):
        lines.append(_claim(number, claim, said, model, scope, name))
    text = "\n".join(f"{claim}: {said}" for claim, said in claims.items())
    return CheckedWorking(name, text, tuple(lines))


def _scope(model: Mapping[str, tuple[float, str]]) -> Scope:
    from wetmass.working.names import key
    from wetmass.working.scope import Entry

    scope = Scope()
    for name, (value, words) in model.items():
        leaf = Leaf(value, text=f"{value:.5g}", name=name, bare=True)
        scope.add(
            Entry(
                len(scope.entries),
                name,
                (key(name),),
                tags(name),
                stage_of(name),
                0,
                0,
                leaf,
                True,
                value,
                value,
            )
        )
        del words
    return scope


def _read(said: object) -> Leaf | None:
    if isinstance(said, (int, float)) and not isinstance(said, bool):
        return Leaf(float(said), text=f"{said:g}", half=5e-4 * abs(float(said)))
    try:
        cut = tokens(plain(str(said)))
        while cut and (cut[0].kind == "relation" or cut[0].text in ("~", "about")):
            cut = cut[1:]
        node = Parser(cut, lambda _: None, Reading()).side().tree
    except Unreadable:
        return None
    if isinstance(node, Leaf):
        return node
    body = getattr(node, "parts", (None,))[0]
    return replace(body, typed=-body.typed) if isinstance(body, Leaf) and node.kind == "neg" else None


def _claim(
    number: int, claim: str, said: object, model: Mapping[str, tuple[float, str]], scope: Scope, file: str
) -> CheckedLine:
    place = Place(file, number, 1)
    text = f"{claim}: {said}"
    leaf = _read(said)
    if leaf is None:
        return CheckedLine(
            place, text, claim, Verdict.UNCLEAR, f"I cannot read “{said}” as a number with its unit."
        )
    found = matching(claim, stage_of(claim), model)
    if found is None:
        names = ", ".join(list(model)[:6])
        return CheckedLine(
            place,
            text,
            claim,
            Verdict.UNCLEAR,
            f"The model has no value named “{claim}”; it has {names}"
            + (" …" if len(model) > 6 else "")
            + ".",
            leaf.si,
            unit=leaf.unit,
            stated_text=leaf.text,
        )
    name, value, words = found
    half = leaf.half * abs(leaf.factor)

    def show(amount: float) -> str:
        number_text = readable((amount - leaf.shift) / leaf.factor, 4)
        return number_text + ("" if not leaf.unit else leaf.unit if leaf.unit in "°%" else " " + leaf.unit)

    off = leaf.si / value - 1.0 if value else math.inf
    base = CheckedLine(
        place,
        text,
        claim,
        Verdict.RIGHT,
        "",
        leaf.si,
        value,
        leaf.unit,
        leaf.text,
        show(value),
        off,
        source=words,
    )
    if abs(leaf.si - value) <= half * 1.0001 or abs(off) <= CLOSE:
        return base
    where = f"the model has {show(value)} ({words})"
    context = Context(tags(claim), leaf.unit, False, scope, 0, f" {claim} {said} ".lower())
    here = next((entry for entry in scope.entries if entry.name == name), None)
    tree = scope.leaf(here) if here is not None else Leaf(value)
    target = Target(leaf.si, max(half, 0.004 * abs(leaf.si)), leaf.typed, leaf.half)
    hits = [
        one
        for one in find([(tree, Meaning(), 1.0)], target, context)
        if one.second is None and _fair(one, leaf.unit)
    ]
    made: tuple[Slip, ...] = slips(hits, target, show, value) if abs(off) > NEAR else ()
    if not made and abs(off) <= NEAR:
        return replace(
            base,
            verdict=Verdict.APPROXIMATION,
            sentence=f"Close: {where}; the claim is {abs(off):.1%} away.",
        )
    sentence = f"The claim is {leaf.text}; {where}."
    if made:
        first = made[0]
        cause = first.sentence.split("comes out when ")[-1].split(";")[0]
        sentence = f"The claim is {leaf.text}; {where}. {leaf.text} is what comes out when {cause}."
    return replace(base, verdict=Verdict.OFF, sentence=sentence, slips=made)


def _fair(found: object, unit: str) -> bool:
    """Slips that a bare model value can tell: other values of the model, units, powers of ten, factors."""
    edit = found.edit  # type: ignore[attr-defined]
    return edit.kind not in ("S44", "S55", "S56", "S06") and (unit in UNITS or not unit or True)
