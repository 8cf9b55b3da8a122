"""What studies share on the command line: who works, where results are kept, tables and pictures."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from wetmass.cli.progress import Progress
from wetmass.cli.screen import errors, screen
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.cli.layout.sheet import Sheet
    from wetmass.concept.model import Concept
    from wetmass.study.crew import Crew
    from wetmass.study.point import Outcome
    from wetmass.study.store import Store


@dataclass(frozen=True)
class Options:
    """Options that every study takes."""

    as_json: bool = False
    chart: str | None = None
    table: str | None = None
    store: str | None = None
    workers: int | None = None
    cluster: str | None = None
    changes: Sequence[str] = ()

    def checked(self) -> None:
        """Refuse endings before hours are spent.  Raises Refusal."""
        from wetmass.lesson.charts.saved import checked
        from wetmass.study.export import KINDS

        if self.chart is not None:
            checked(self.chart)
        if self.table is not None and not self.table.casefold().endswith(KINDS):
            ends = " or ".join(KINDS)
            raise Refusal(Complaint("--table", f'"{self.table}"', f"a file ending in {ends}", "name it so"))

    def concept(self, file: str) -> Concept:
        """The concept with what `--set` changes in it."""
        import wetmass
        from wetmass.study.variants import changed, changes_of

        concept = wetmass.load(file)
        changes = [change for text in self.changes for change in changes_of(text)]
        try:
            return changed(concept, changes) if changes else concept
        except Refusal as refusal:  # no place of the file is at fault
            told = (replace(one, field=f"--set, {one.field}", place=None) for one in refusal.complaints)
            raise Refusal(*told) from None

    def crew(self) -> Crew:
        """Who works."""
        from wetmass.study.crew import Crew

        return Crew(self.workers, cluster=self.cluster)

    @contextmanager
    def results(self) -> Iterator[Store]:
        """Where results are kept."""
        from wetmass.study.store import Store

        with Store(self.store) as store:
            yield store


class Counting:
    """Progress of a study on standard error: how many points, and how long it will take."""

    def __init__(self, what: str = "points") -> None:
        self.what, self.progress = what, Progress(errors(), silent=False)

    def __enter__(self) -> Counting:
        self.progress.__enter__()
        self.progress.says("getting ready")
        import wetmass.closing  # noqa: F401

        self.progress.compiling()
        return self

    def __exit__(self, *raised: Any) -> None:
        self.progress.__exit__(*raised)

    def says(self, words: str) -> None:
        """Another part of the work begins."""
        self.progress.says(words)

    def counts(self, done: int, of: int, left: float) -> None:
        """So many points are done."""
        from wetmass.record.say import duration

        time = f", {duration(left)} left" if 0.0 < left < 1e9 else ""
        self.progress.says(f"{done} of {of} {self.what}{time}")


def show(
    sheet: Callable[[int], Sheet],
    record: Callable[[], Mapping[str, Any]],
    options: Options,
    kept: str = "",
) -> None:
    """Print the page of a study and what is `kept` to come home in words, or its record as JSON."""
    if options.as_json:
        sys.stdout.write(json.dumps(finite(record()), ensure_ascii=False, indent=1, allow_nan=False) + "\n")
    else:
        console = screen()
        page = sheet(console.width)
        if kept:
            page.line()
            page.paragraph(kept, indent=0)
        page.show(console)
    sys.stdout.flush()


def kept_throughout(kept: Mapping[str, float]) -> str:
    """What stages keep to come home [kg] where it is the same all through a study, in words; "" for nothing."""
    if not kept:
        return ""
    return f"Kept to come home all through, as the concept as stated needs: {_masses(kept)}."


def kept_anew(kept: Mapping[str, float]) -> str:
    """What stages keep [kg] where every point of a study keeps what it needs, in words; "" for nothing."""
    if not kept:
        return ""
    return f"Every point keeps what its stages need to come home; as stated that is {_masses(kept)}."


def _masses(kept: Mapping[str, float]) -> str:
    from wetmass.record.say import listed, said

    return listed([f"{said(mass, 'kg')} in {stage}" for stage, mass in kept.items()])


def finite(value: Any) -> Any:
    """The same with null for what is no finite number."""
    if isinstance(value, Mapping):
        return {key: finite(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [finite(one) for one in value]
    return None if isinstance(value, float) and not abs(value) < float("inf") else value


def shown(name: str, outcome: Outcome) -> tuple[str, str]:
    """(name, unit) of the number of an outcome that is to be shown.  Raises Refusal for none of them."""
    from wetmass.concept.wording import nearest
    from wetmass.study.point import unit

    if name not in outcome.numbers:
        near = nearest(name, outcome.numbers)
        raise Refusal(
            Complaint(
                "--show", f'"{name}"', ", ".join(outcome.numbers),
                f'write "{near}", if that is meant' if near else "write one of these",
            )
        )  # fmt: skip
    return name, unit(name)


def outcome_record(outcome: Outcome) -> dict[str, Any]:
    """An outcome for JSON."""
    return {
        "state": outcome.state, "reason": outcome.reason, "numbers": dict(outcome.numbers),
        "room": dict(outcome.kept),
    }  # fmt: skip
