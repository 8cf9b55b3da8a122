"""The masses of the page stage by stage: does each burn carry all it must, and no more?"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from wetmass.working.names import tags
from wetmass.working.scope import Entry, Scope
from wetmass.working.slips.edits import Edit
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, walk
from wetmass.working.units import MASS


@dataclass(slots=True)
class Stack:
    """Masses of a vehicle as the page gives them, in kg."""

    propellant: dict[int, float] = field(default_factory=dict)
    dry: dict[int, float] = field(default_factory=dict)
    payload: float = 0.0
    extra: float = 0.0  # fairing and interstages

    def whole(self, stage: int) -> bool:
        """Whether the page says enough from this stage up: more than the stage by itself."""
        above = {k for k in self.propellant if k >= stage}
        same = above == {k for k in self.dry if k >= stage}
        return same and stage in above and (len(above | set(self.dry)) >= 2 or bool(self.payload))

    def start(self, stage: int) -> float:
        """Mass at ignition of a stage with all it carries."""
        return (
            sum(m for k, m in self.propellant.items() if k >= stage)
            + sum(m for k, m in self.dry.items() if k >= stage)
            + self.payload
        )


_EXCLUDED = {
    "flow",
    "ratio",
    "fraction",
    "start",
    "end",
    "total",
    "volume",
    "density",
    "usable",
    "used",
    "residual",
    "reserve",
    "growth",
    "basic",
    "tank",
    "loss",
}


def stack_of(scope: Scope) -> Stack:
    """The stack the page describes."""
    stack = Stack()
    for entry in scope.entries:
        if entry.leaf.dimension != MASS or entry.tags & _EXCLUDED:
            continue
        stage = int(entry.stage) if entry.stage.isdigit() else 0
        ideas = entry.tags
        if "payload" in ideas:
            stack.payload = stack.payload or entry.stated
        elif ideas & {"fairing", "interstage"}:
            stack.extra += entry.stated
        elif "propellant" in ideas and not ideas & {"fuel", "oxidiser"}:
            stack.propellant.setdefault(stage or 1, entry.stated)
        elif "dry" in ideas:
            stack.dry.setdefault(stage or 1, entry.stated)
    return stack


_LEAVES_PAD = re.compile(
    r"lift[\s-]?off|ignition|GLOW|launch mass|take[\s-]?off|\bm_?0\b|\bm_?0_?[1-4]\b|start mass|starting mass|at start|"  # noqa: E501
    r"initial mass|m_?i\b|on the pad|m_?start",
    re.IGNORECASE,
)


def start_mass_forms(label: str, stage: str, scope: Scope) -> tuple[float, list[Edit]] | None:
    """For a line that states a mass at ignition: what it should be, and the usual wrong sums."""
    if not _LEAVES_PAD.search(label) or tags(label) & {
        "payload",
        "propellant",
        "dry",
        "flow",
        "volume",
        "end",
    }:
        return None
    stack = stack_of(scope)
    k = (
        int(stage)
        if stage.isdigit()
        else (1 if "liftoff" in tags(label) or len(stack.propellant) == 1 else 0)
    )
    if not stack.whole(k):
        return None
    if not stage and len(stack.propellant) > 1 and "liftoff" not in tags(label):
        return None
    right = stack.start(k)
    return right, _wrong_sums(right, k, stack)


def end_mass_forms(label: str, stage: str, scope: Scope) -> tuple[float, list[Edit]] | None:
    """For a line that states a mass at burnout: what it should be, and the usual wrong sums."""
    ideas = tags(label)
    if "end" not in ideas or ideas & {"payload", "propellant", "start", "flow", "volume", "ratio"}:
        return None
    stack = stack_of(scope)
    k = int(stage) if stage.isdigit() else (1 if len(stack.propellant) == 1 else 0)
    if not stack.whole(k) or k not in stack.propellant:
        return None
    right = stack.start(k) - stack.propellant[k]
    edits = [
        edit
        for edit in _wrong_sums(stack.start(k), k, stack, stack.propellant[k])
        if isinstance(edit.tree, Leaf) and edit.tree.si > 0
    ]
    return right, edits


def _mass(value: float) -> Leaf:
    return Leaf(value, dimension=MASS, bare=False, text=f"{value:g} kg")


def _wrong_sums(right: float, k: int, stack: Stack, burned: float = 0.0) -> list[Edit]:
    found = []

    def say(kind: str, value: float, cause: str, cure: str, weight: float = 1.0) -> None:
        if value > burned and abs(value / right - 1.0) > 1e-9:
            found.append(Edit(kind, _mass(value - burned), cause, cure, weight))

    own = stack.propellant[k] + stack.dry[k]
    above = right - own - stack.payload
    if stack.payload:
        say("S31", right - stack.payload, "the payload is left out", "with the payload carried")
        say("S31", right + stack.payload, "the payload is counted twice", "with the payload once", 0.6)
    if above:
        say("S31", own + stack.payload, "the stages above are left out", "with all that this stage carries")
        say(
            "S31",
            own,
            "the stages above and the payload are left out",
            "with all that this stage carries",
            1.1,
        )
    for j in stack.dry:
        if j < k:
            say(
                "S32",
                right + stack.dry[j],
                f"the empty stage {j} is still carried",
                "with the spent stage dropped",
                1.2,
            )
        if j >= k:
            say("S31", right - stack.dry[j], f"the dry mass of stage {j} is left out", "with it", 0.7)
            say(
                "S31", right - stack.propellant[j], f"the propellant of stage {j} is left out", "with it", 0.5
            )
    return found


def ratio_forms(tree: Node, stage: str, scope: Scope) -> tuple[float, list[Edit], tuple[int, ...]] | None:
    """For a rocket equation in a stack: the right mass ratio, and the tree with each wrong one put in.

    None where the page does not describe a stack or the line's logarithm already holds the right ratio.
    """
    stack = stack_of(scope)
    if not stage and len(stack.propellant) == 1:
        stage = str(next(iter(stack.propellant)))
    if not stage.isdigit() or not stack.whole(int(stage)):
        return None
    k = int(stage)
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind in ("ln", "log"):
            try:
                ratio = evaluate(node.parts[0]).value
            except Unfit:
                return None
            start = stack.start(k)
            right = start / (start - stack.propellant[k])
            if isinstance(node.parts[0], Op) and node.parts[0].kind == "/":
                high, low = (evaluate(part).value for part in node.parts[0].parts)
                if abs((high - low) / stack.propellant[k] - 1.0) < 1e-3 and high - low < 0.98 * high:
                    wrong = [edit for edit in _wrong_ratios(ratio, k, stack) if edit.kind != "S05"]
                    return right, wrong, (*path, 0)
            return right, _wrong_ratios(ratio, k, stack), (*path, 0)
    return None


def _wrong_ratios(ratio: float, k: int, stack: Stack) -> list[Edit]:
    found = []
    propellant, dry = stack.propellant[k], stack.dry[k]
    start = stack.start(k)
    above = start - propellant - dry - stack.payload

    def say(kind: str, begin: float, finish: float, cause: str, cure: str) -> None:
        if finish > 0 and abs(begin / finish / ratio - 1.0) < 0.004:
            found.append(Edit(kind, exactly(begin / finish), cause, cure))

    if stack.payload:
        say(
            "S31",
            start - stack.payload,
            start - propellant - stack.payload,
            "the payload is not carried",
            "with the payload carried",
        )
    if above:
        say(
            "S31",
            propellant + dry,
            dry,
            "the stages above and the payload are not carried",
            "with all that this stage carries",
        )
        say(
            "S31",
            propellant + dry + stack.payload,
            dry + stack.payload,
            "the stages above are not carried",
            "with all that this stage carries",
        )
    if not above and stack.payload:
        say("S31", propellant + dry, dry, "the payload is not carried", "with the payload carried")
    for j, spent in stack.dry.items():
        if j < k:
            say(
                "S32",
                start + spent,
                start + spent - propellant,
                f"the empty stage {j} is still carried",
                "with the spent stage dropped",
            )
    say(
        "S05",
        propellant,
        start - propellant,
        "propellant over final mass stands in the logarithm",
        "with start over final mass",
    )
    say(
        "S31",
        start,
        dry,
        "all but the dry mass of this stage is taken as burned",
        "with the right final mass",
    )
    return found


def run_together(tree: Node, scope: Scope) -> tuple[float, Edit] | None:
    """A total worked out as if all stages were one: what the stages give one after another."""
    stack = stack_of(scope)
    stages = sorted(stack.propellant)
    if len(stages) < 2 or set(stages) != set(stack.dry):
        return None
    whole = stack.start(stages[0])
    empty = whole - sum(stack.propellant.values())
    for _path, node in walk(tree):
        if isinstance(node, Op) and node.kind in ("ln", "log"):
            try:
                ratio = evaluate(node.parts[0]).value
            except Unfit:
                return None
            if empty <= 0 or abs(ratio / (whole / empty) - 1.0) > 0.004:
                return None
            total = 0.0
            for k in stages:
                impulse = next(
                    (e.stated for e in scope.entries if "isp" in e.tags and e.stage == str(k)), None
                )
                if impulse is None:
                    return None
                start = stack.start(k)
                total += impulse * 9.80665 * math.log(start / (start - stack.propellant[k]))
            return total, Edit("S33", tree, "all stages are run together into one", "stage by stage")
    return None


__all__ = ["Entry", "Stack", "ratio_forms", "run_together", "stack_of", "start_mass_forms"]
