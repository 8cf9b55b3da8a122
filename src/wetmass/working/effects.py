"""What putting one line right changes further down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wetmass.record.digits import readable
from wetmass.record.working import CheckedLine, Effect, Verdict
from wetmass.working.scope import Scope
from wetmass.working.tree import Leaf, Meaning, Node, Unfit, evaluate, leaves, mapped

End = tuple[int, int, Node | None, Meaning]  # line index, entry index, tree, how its marks are taken


def carried(lines: Sequence[CheckedLine], ends: Sequence[End], scope: Scope) -> list[CheckedLine]:
    """The lines with the effects of each faulty one worked out, by re-running all that follow it."""
    made = list(lines)
    used = {
        leaf.page for _, _, tree, _ in ends if tree is not None for leaf in leaves(tree) if leaf.page >= 0
    }
    for index, entry_index, _tree, _ in ends:
        line = made[index]
        if line.verdict is not Verdict.OFF or line.recomputed is None:
            continue
        values = {entry_index: line.recomputed}
        effects = []
        for later, its_entry, its_tree, meaning in ends:
            if later <= index or its_tree is None:
                continue
            if not any(leaf.page in values for leaf in leaves(its_tree)):
                continue
            entry = scope.entries[its_entry]
            try:
                before = evaluate(its_tree, meaning).value
                after = evaluate(_with(its_tree, values, scope), meaning).value
            except Unfit:
                continue
            if not before:
                continue
            ratio = after / before
            if abs(ratio - 1.0) < 1e-6:
                continue
            values[its_entry] = entry.stated * ratio
            if not any(effect.name == entry.name and effect.line == entry.line for effect in effects):
                effects.append(
                    Effect(
                        entry.line,
                        entry.name or "result",
                        entry.leaf.text,
                        _shown(entry.leaf, entry.stated * ratio),
                        ratio - 1.0,
                        its_entry not in used,
                    )
                )
        if effects:
            made[index] = replace(line, effects=tuple(effects))
    return made


def finals(lines: Sequence[CheckedLine], ends: Sequence[End], scope: Scope) -> tuple[Effect, ...]:
    """Results that nothing later uses, before and after every line that is off has been put right."""
    used = {
        leaf.page for _, _, tree, _ in ends if tree is not None for leaf in leaves(tree) if leaf.page >= 0
    }
    values: dict[int, float] = {}
    found = []
    for index, entry_index, tree, meaning in ends:
        entry, line = scope.entries[entry_index], lines[index]
        ratio = 1.0
        if line.verdict is Verdict.OFF and line.recomputed is not None and entry.stated:
            ratio = line.recomputed / entry.stated
        if tree is not None and any(leaf.page in values for leaf in leaves(tree)):
            try:
                before, after = (
                    evaluate(tree, meaning).value,
                    evaluate(_with(tree, values, scope), meaning).value,
                )
            except Unfit:
                continue
            if before:
                ratio *= after / before
        if abs(ratio - 1.0) < 1e-6:
            continue
        values[entry_index] = entry.stated * ratio
        if entry_index not in used:
            found.append(
                Effect(
                    entry.line,
                    entry.name or "result",
                    entry.leaf.text,
                    _shown(entry.leaf, entry.stated * ratio),
                    ratio - 1.0,
                    True,
                )
            )
    return tuple(found)


def _with(tree: Node, values: dict[int, float], scope: Scope) -> Node:
    def change(leaf: Leaf) -> Node:
        if leaf.page in values and scope.entries[leaf.page].stated:
            return replace(leaf, typed=leaf.typed * values[leaf.page] / scope.entries[leaf.page].stated)
        return leaf

    return mapped(tree, change)


def _shown(leaf: Leaf, value: float) -> str:
    number = readable((value - leaf.shift) / leaf.factor, 4)
    return number + ("" if not leaf.unit else leaf.unit if leaf.unit in "°%" else " " + leaf.unit)
