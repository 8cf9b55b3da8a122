"""What the computing process remembers of each open file, and the answers it gives.

It runs in a process of its own (`wetmass.app.worker`), so that a stuck or endless computing can be ended
without losing anything the user typed.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from wetmass.app import answers, views
from wetmass.app.homes import homes
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.closing import Answer, Known, Nearby
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

Say = Callable[..., None]  # a message, and `whole`: nothing may interrupt what comes before the next
DRAWN_EVERY = 0.15  # s: in a drag the picture follows at this pace, the numbers at each value


@dataclass
class _Open:
    """What is remembered of one file."""

    nearby: Nearby | None = None
    kept: dict[str, float] = field(default_factory=dict)  # kg that stages keep to come home, by path
    concept: Concept | None = None
    closed: Closed | None = None
    system: str = ""
    made: dict[str, Any] = field(default_factory=dict)
    drawn: float = -math.inf  # when its picture was told last, by the clock of `time.monotonic`


class Desk:
    """Answers to jobs, each a dictionary; every answer is said as one more."""

    def __init__(self) -> None:
        self._open: dict[str, _Open] = {}
        self._proven = False  # whether anything has been flown
        self._rehearsed = False  # whether anything has been answered quickly

    def warm_up(self) -> None:
        """Import all that is heavy, and load what is compiled."""
        import altair  # noqa: F401

        import wetmass.closing.rates
        import wetmass.closing.spread
        import wetmass.findings
        import wetmass.lesson.charts
        import wetmass.lesson.drawing
        import wetmass.lesson.page.blocks  # noqa: F401

    def answer(self, job: dict[str, Any], say: Say) -> None:
        """Quickly where something near is known, then flown up, then home: each as soon as it is known."""
        from wetmass.closing import answered, brought_home, opened_home, told_of
        from wetmass.concept.reading import concept_of, loads
        from wetmass.findings import judge
        from wetmass.flight.compiled import FIRST_TIME

        document, system = job["document"], job["system"]
        here = self._open.setdefault(document.name, _Open())
        known = None
        try:
            concept = concept_of(document)
            opened = opened_home(concept)
            here.kept = {path: here.kept[path] for path in opened if path in here.kept}
            warm = here.nearby is not None and len(here.kept) == len(opened)
            known = self._quick(here, concept, system, say) if warm else None
            if job.get("anew") or known is None:  # a key said twice shows in the text alone
                concept = loads(document.text, document.name)
        except Refusal as refusal:
            say({"stage": "refused", "complaints": [_plain(one) for one in refusal.complaints]})
            return
        if not self._proven and FIRST_TIME:
            say({"stage": "busy", "words": "compiling the flight code, once on this machine"})
        self._proven = True
        busy = (lambda words: say({"stage": "busy", "words": words})) if known is None else (lambda _: None)
        if warm:
            began = time.perf_counter()
            answer = answered(concept, known=known, kept=here.kept, told=busy)
            closed = judge(
                concept, replace(told_of(concept, answer, began), not_yet=())
            )  # told with the rest
            self._flown(here, concept, answer, closed, say, system, complete=False)
            if "charts" in job.get("views", ()):
                self.view({"file": document.name, "view": "charts"}, say)
            say({"stage": "homing", "words": "stages are being flown home"})
            closed, answer, here.kept = brought_home(concept, answer, here.kept)
        else:
            closed, answer, here.kept = brought_home(concept, told=busy)
        closed = judge(concept, closed)
        self._flown(here, concept, answer, closed, say, system, complete=True)
        self._after(here, closed, job, say)

    def _quick(self, here: _Open, concept: Concept, system: str, say: Say) -> Known | None:
        """Say the first-order answer; where the true search starts, None where there is none."""
        from wetmass.closing import start_from, told_of

        assert here.nearby is not None
        began = time.perf_counter()
        near = here.nearby.quick(concept, here.kept)
        if near is None:
            return None
        quick = told_of(concept, near, began, whole=False)
        due = time.monotonic() - here.drawn > DRAWN_EVERY
        say({"stage": "quick", **answers.brief(concept, quick, system, here.kept)}, whole=due)
        if due:
            self._draw(here, told_of(concept, near, began), system, say)
        return start_from(near)

    def _draw(self, here: _Open, closed: Closed, system: str, say: Say) -> None:
        here.drawn = time.monotonic()
        say({"stage": "drawn", "drawing": views.drawing(closed, system)})

    def _flown(
        self, here: _Open, concept: Concept, answer: Answer | None, closed: Closed, say: Say, system: str, *,
        complete: bool,
    ) -> None:  # fmt: skip
        from wetmass.closing import Nearby

        if answer is not None and answer.found.met:
            here.nearby = Nearby(answer)
        here.concept, here.closed, here.system, here.made = concept, closed, system, {}
        say({
            "stage": "flown", "complete": complete, **answers.brief(concept, closed, system, here.kept),
            **answers.tables(closed, system), "spread": answers.spread(closed, system),
            "home": homes(closed, system),
        })  # fmt: skip
        self._draw(here, closed, system, say)
        if here.nearby is not None:
            here.nearby.prepare()

    def _after(self, here: _Open, closed: Closed, job: dict[str, Any], say: Say) -> None:
        """What can wait: quantities for a working to be held against, and what is looked at."""
        from wetmass.working.from_closed import quantities

        say({"stage": "model", "model": quantities(closed)})
        if here.nearby is not None and here.concept is not None and not self._rehearsed:
            here.nearby.quick(here.concept, here.kept)  # so that the first nudge is as quick as any
            self._rehearsed = True
        for view in job.get("views", ()):
            self.view({"file": job["document"].name, "view": view}, say)

    def view(self, job: dict[str, Any], say: Say) -> None:
        """Charts or working of the last flown answer, made when they are looked at."""
        here, view = self._open.get(job["file"]), job["view"]
        if here is None or here.closed is None or here.concept is None:
            return
        if view not in here.made:
            make = {"charts": views.charts, "working": views.working}[view]
            here.made[view] = make(here.concept, here.closed, here.system)
        say({"stage": "view", "view": view, "made": here.made[view]})


class Clerk:
    """Reads hand workings; apart from the desk, so that typing there never waits for a flight."""

    def warm_up(self) -> None:
        """Import what it needs."""
        import wetmass.working.verdicts  # noqa: F401

    def script(self, job: dict[str, Any], say: Say) -> None:
        """The charts' drawing code."""
        import vl_convert

        say({"stage": "script", "script": vl_convert.javascript_bundle()})

    def check(self, job: dict[str, Any], say: Say) -> None:
        """Each line of a working with its mark and what is said of it."""
        from wetmass.working import check
        from wetmass.working.notes import outcome, remarks, summary

        name = (
            "working.md" if "```" in job["text"] else "working.txt"
        )  # without fences every line may be working
        page = check(job["text"], name, model=job.get("model"))
        say({
            "stage": "checked", "summary": summary(page), "outcome": outcome(page),
            "lines": [
                {"line": one.place.line, "verdict": one.verdict.value, "remarks": remarks(one)} for one in page.lines
            ],
        })  # fmt: skip


def _plain(one: Complaint) -> dict[str, Any]:
    place = one.place
    return {
        "field": one.field, "got": one.got, "accepted": one.accepted, "remedy": one.remedy,
        "line": place.line if place else 0, "column": place.column if place else 0,
    }  # fmt: skip
