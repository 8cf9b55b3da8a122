"""Many points worked through: on every core, by any executor of `concurrent.futures`, or on a Dask cluster.

Each point starts from the nominal answer and from nothing else, so results are the same whatever the number
of workers and whatever is done first.  They land point by point; a worker that dies takes nobody with it.
"""

from __future__ import annotations

import multiprocessing
import os
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.point import FAILED, Base, Outcome, solved
from wetmass.study.store import Store
from wetmass.study.variants import Change

Changes = tuple[Change, ...]
Told = Callable[[int, int, float], None]  # points done, of how many, seconds left
AT_ONCE = 3  # chunks handed out for each worker: enough that none waits
LARGEST_CHUNK = 8
DIED = "the worker process ended while it worked on this point (out of memory, or killed)"


@dataclass(frozen=True)
class Crew:
    """Who does the work.

    workers   processes of this machine; every core where None, this process itself where 0
    executor  any executor of `concurrent.futures`, instead of those processes; it is not shut down
    cluster   address of a Dask scheduler, such as "tcp://10.0.0.5:8786", instead of both
    """

    workers: int | None = None
    executor: Executor | None = None
    cluster: str | None = None

    @property
    def size(self) -> int:
        """Workers to keep busy."""
        if self.workers is not None:
            return max(1, self.workers)
        if self.executor is not None:
            return int(getattr(self.executor, "_max_workers", 0) or os.cpu_count() or 1)
        return os.cpu_count() or 1


def run(
    base: Base,
    points: Sequence[Changes],
    *,
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    work: Callable[[Base, Changes], Outcome] = solved,
) -> list[Outcome]:
    """The outcome of each point, in the order of the points.

    store  results that are there already are taken from it, and each new one lands in it at once
    told   called as results come, with how many are done, how many there are, and the seconds left
    work   what is done with a point: a function of a module, so that it can be sent
    """
    crew, kept = crew or Crew(), store if store is not None else Store()
    keys = [base.key(changes) for changes in points]
    found = kept.get(dict.fromkeys(keys))
    todo = list({key: changes for key, changes in zip(keys, points, strict=True) if key not in found}.items())
    count, began, before = len(dict.fromkeys(keys)), time.monotonic(), len(found)
    told(len(found), count, float("inf"))
    for rows in _worked(base, todo, crew, work):
        kept.put(rows)
        found |= {key: outcome for key, _, outcome in rows}
        spent, done = time.monotonic() - began, len(found) - before
        told(len(found), count, spent / done * (count - len(found)))
    return [found[key] for key in keys]


_Row = tuple[str, Changes, Outcome]
_Job = list[tuple[str, Changes]]


def _worked(base: Base, todo: _Job, crew: Crew, work: Callable[..., Outcome]) -> Iterator[list[_Row]]:
    if not todo:
        return
    if crew.workers == 0 and crew.executor is None and crew.cluster is None:
        for one in todo:
            yield _work(base, [one], work)
        return
    with _executors(crew, len(todo)) as hands:
        size = max(1, min(LARGEST_CHUNK, len(todo) // (4 * hands.size)))
        jobs = deque(todo[i : i + size] for i in range(0, len(todo), size))
        yield from _handed_out(base, jobs, hands, work)


@dataclass
class _Hands:
    """An executor, and how to get another when its processes have died."""

    executor: Executor
    size: int
    anew: Callable[[], Executor] | None
    lost: set[str] = field(default_factory=set)  # keys of points whose worker was lost once

    def again(self) -> None:
        if self.anew is not None:
            self.executor.shutdown(wait=False, cancel_futures=True)
            self.executor = self.anew()


def _handed_out(
    base: Base, jobs: deque[_Job], hands: _Hands, work: Callable[..., Outcome]
) -> Iterator[list[_Row]]:
    suspects: deque[_Job] = deque()
    waiting: dict[Future[list[_Row]], _Job] = {}
    while jobs or waiting or suspects:
        while jobs and len(waiting) < AT_ONCE * hands.size:
            job = jobs.popleft()
            try:
                waiting[hands.executor.submit(_work, base, job, work)] = job
            except BrokenProcessPool:
                jobs.appendleft(job)
                break
        if not waiting and suspects:  # one by one, with nobody beside: the one that does it is known then
            job = suspects.popleft()
            rows = _alone(base, job, hands, work)
            yield rows
            continue
        done, _ = wait(waiting, return_when=FIRST_COMPLETED)
        broken = not waiting
        for future in done:
            job = waiting.pop(future)
            try:
                yield future.result()
            except Exception as error:
                broken = broken or isinstance(error, BrokenProcessPool)
                suspects.extend([one] for one in job)
        if broken:
            for job in waiting.values():
                suspects.extend([one] for one in job)
            waiting.clear()
            hands.again()


def _alone(base: Base, job: _Job, hands: _Hands, work: Callable[..., Outcome]) -> list[_Row]:
    (key, changes) = job[0]
    try:
        return hands.executor.submit(_work, base, job, work).result()
    except BrokenProcessPool:
        hands.again()
        return [(key, changes, Outcome(FAILED, DIED))]
    except Exception as error:
        return [(key, changes, Outcome(FAILED, f"{type(error).__name__}: {error}"))]


def _work(base: Base, job: _Job, work: Callable[[Base, Changes], Outcome]) -> list[_Row]:
    """What a worker does: some points, whose failures are outcomes too."""
    rows = []
    for key, changes in job:
        try:
            outcome = work(base, changes)
        except Exception as error:
            outcome = Outcome(FAILED, f"{type(error).__name__}: {error}")
        rows.append((key, changes, outcome))
    return rows


@contextmanager
def _executors(crew: Crew, points: int) -> Iterator[_Hands]:
    if crew.cluster is not None:
        with _client(crew.cluster) as (executor, size):
            yield _Hands(executor, size, None)
        return
    if crew.executor is not None:
        yield _Hands(crew.executor, crew.size, None)
        return
    size = min(crew.size, points)

    def anew() -> Executor:
        context = multiprocessing.get_context("spawn")  # threads of numba do not survive a fork
        return ProcessPoolExecutor(size, mp_context=context, initializer=_begin)

    hands = _Hands(anew(), size, anew)
    try:
        yield hands
    finally:
        hands.executor.shutdown(wait=True, cancel_futures=True)


def _begin() -> None:
    """Once in each worker: what is compiled is loaded before the first point; Ctrl-C is for the head alone."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    import wetmass.closing  # noqa: F401


@contextmanager
def _client(address: str) -> Iterator[tuple[Executor, int]]:
    try:
        from distributed import Client
    except ImportError:
        raise Refusal(
            Complaint(
                "--cluster", f'"{address}", and Dask is not installed', "an installed Dask",
                "pip install wetmass[cluster]",
            )
        ) from None  # fmt: skip
    try:
        client = Client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError) as error:
        raise Refusal(
            Complaint(
                "--cluster", f'"{address}", where no scheduler answers ({error})',
                "the address of a running Dask scheduler", 'start one with "dask scheduler", and its workers',
            )
        ) from None  # fmt: skip
    with client:
        threads: Iterable[Any] = client.nthreads().values()
        yield client.get_executor(pure=False), max(1, sum(threads))
