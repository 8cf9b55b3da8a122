"""What every rule needs: the value behind a number, the line with a number replaced, how a slip is told."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from wetmass.working.linking import linked
from wetmass.working.scope import Entry
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.kinds import KINDS
from wetmass.working.state import LineState
from wetmass.working.tree import Leaf, Node, evaluate, exactly, put

STANDARD = 9.80665


class Rules(LineState):
    """Helpers of the rules."""

    def entry_of(self, leaf: Node) -> Entry | None:
        """The value of the page a number stands for."""
        return self.scope.entries[leaf.page] if isinstance(leaf, Leaf) and leaf.page >= 0 else None

    def changed(self, tree: Node, path: tuple[int, ...], new: Node) -> float:
        """What the line states with a part of it replaced."""
        before = evaluate(tree, self.meaning).value
        return self.claim.si * evaluate(put(tree, path, new), self.meaning).value / before

    def tell(
        self,
        kind: str,
        cause: str,
        cure: str,
        right: float,
        also: tuple[str, ...] = (),
        common: float | None = None,
    ) -> bool:
        """Set the slip; always True.  `common` is how common it is, that of its kind where nothing is said."""
        edit = Edit(kind, self.best or exactly(0.0), cause, cure, also=also)
        weight = KINDS[kind].common if common is None else common
        self.conclude([Found(edit, self.claim.si, right, weight)], right)
        return True

    @staticmethod
    def holds(rule: Callable[[], bool]) -> bool:
        """A rule that cannot be worked out on this line does not hold."""
        try:
            return rule()
        except (ValueError, ArithmeticError):  # Unfit, or a tree of another shape
            return False

    def any_of(self, rules: Iterable[Callable[[Node], bool]]) -> bool:
        """Whether one of the rules is broken on the tree of the line, its numbers known by name."""
        if self.best is None:
            return False
        named = linked(self.best, self.scope)
        return any(self.holds(lambda rule=rule: rule(named)) for rule in rules)  # type: ignore[misc]
