"""Several concepts, or variants of one, side by side: what differs in them, and what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wetmass.concept.model import Concept
from wetmass.concept.names import named
from wetmass.study.crew import Crew, Told, run
from wetmass.study.point import Base, Outcome
from wetmass.study.store import Store
from wetmass.study.variants import Variant


@dataclass(frozen=True)
class Beside:
    """A comparison: each variant with its outcome, and every statement in which they differ."""

    variants: tuple[Variant, ...]
    outcomes: tuple[Outcome, ...]
    differences: tuple[tuple[str, tuple[str, ...]], ...]  # name, what each says ("" where it says nothing)


def compare(
    variants: Sequence[Variant],
    *,
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    said: Callable[[str], None] = lambda words: None,
) -> Beside:
    """Each variant closed and made best; arguments as for `crew.run`.

    The first is closed from nothing and the others from nothing too, since they may be far from it.
    """
    texts = [one.concept.document for one in variants]
    bases = [Base(text.text, text.name, None, Outcome("")) for text in texts if text is not None]
    assert len(bases) == len(variants)
    outcomes = []
    for number, base in enumerate(bases):
        said(f"closing {variants[number].name}")
        outcomes += run(base, [()], crew=crew or Crew(0), store=store)
        told(number + 1, len(bases), 0.0)
    return Beside(tuple(variants), tuple(outcomes), differences([one.concept for one in variants]))


def differences(concepts: Sequence[Concept]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """(name, what each concept says) of every statement that is not the same in all."""
    said: list[dict[str, tuple[str, object]]] = []
    for concept in concepts:
        found, seen = {}, set()
        for one, _ in named(concept):
            if len(one.paths) == 1 and one.paths[0] not in seen | {"name", "story"}:
                seen.add(one.paths[0])
                value = one.values[0]
                text = "" if value is None else f"{one.before} {_plain(value)}".strip()
                found[one.words] = (text, float(value) if hasattr(value, "unit") else text)
        said.append(found)
    names = list(dict.fromkeys(name for one in said for name in one))
    out = []
    for name in names:
        values = [one.get(name, ("", "")) for one in said]
        if len({value for _, value in values}) > 1:
            out.append((name, tuple(text for text, _ in values)))
    return tuple(out)


def _plain(value: object) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
