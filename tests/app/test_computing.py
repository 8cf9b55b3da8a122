"""The computing process: the newest job wins, a job past its time is ended, and work goes on."""

import asyncio
import multiprocessing
import signal
import sys
import time

import pytest

from wetmass.app import worker
from wetmass.app.computing import Computer

SHORT = "start mass: 412 t"
LONG = "\n".join(f"Δv = 318 s · 9.81 m/s² · ln({400 + i}/148) = 1.39 km/s" for i in range(400))


def with_clerk(use, longest=90.0):
    async def run():
        clerk = Computer("clerk", longest)
        clerk.start()
        try:
            return await asyncio.wait_for(use(clerk), 120)
        finally:
            clerk.stop()

    return asyncio.run(run())


def asked(clerk, text, lane=""):
    """What is heard of a job until nothing more comes of it."""
    heard, over = [], asyncio.get_running_loop().create_future()

    def hears(message):
        heard.append(message["stage"])
        if message["stage"] in ("done", "dropped", "ended") and not over.done():
            over.set_result(heard)

    clerk.ask("check", hears, lane=lane, text=text)
    return over


def test_the_newest_of_a_lane_wins():
    async def use(clerk):
        await asked(clerk, SHORT)  # warm
        first = asked(clerk, LONG, "page")
        await asyncio.sleep(0.2)  # at work on it
        second, third = asked(clerk, LONG, "page"), asked(clerk, SHORT, "page")
        return await first, await second, await third

    first, second, third = with_clerk(use)
    assert first == ["dropped"]
    assert second == ["dropped"]
    assert third == ["checked", "done"]


def test_other_lanes_wait_and_are_not_dropped():
    async def use(clerk):
        return await asyncio.gather(asked(clerk, SHORT, "one page"), asked(clerk, SHORT, "another page"))

    assert with_clerk(use) == [["checked", "done"]] * 2


def test_a_job_past_its_time_is_ended_and_the_next_is_answered():
    async def use(clerk):
        await asked(clerk, SHORT)
        clerk.longest = 0.3
        ended = await asked(clerk, LONG)
        clerk.longest = 90.0
        return ended, await asked(clerk, SHORT)

    ended, after = with_clerk(use)
    assert ended == ["ended"]
    assert after == ["checked", "done"]


def test_a_process_that_dies_is_told_and_started_again():
    async def use(clerk):
        await asked(clerk, SHORT)
        waiting = asked(clerk, LONG)
        await asyncio.sleep(0.1)
        clerk._process.kill()
        return await waiting, await asked(clerk, SHORT)

    ended, after = with_clerk(use)
    assert ended == ["ended"]
    assert after == ["checked", "done"]


def test_a_wrong_job_is_told_and_harms_nobody():
    async def use(clerk):
        heard = asyncio.get_running_loop().create_future()
        clerk.ask("check", lambda message: heard.done() or heard.set_result(message["stage"]))  # no text
        return await heard, await asked(clerk, SHORT)

    told, after = with_clerk(use)
    assert told == "defect"
    assert after == ["checked", "done"]


def test_any_text_is_read_within_its_time():
    texts = ("", "x" * 60_000, "ln(" * 5000, "```\n" * 300, "1e999 = 0/0 = nan")

    async def use(clerk):
        return [(await asked(clerk, text))[-1] for text in texts]

    assert with_clerk(use) == ["done"] * len(texts)


def test_what_a_drag_is_shown_is_told_to_its_end_though_the_next_value_is_there():
    # in this process: its handler of interrupts and its interval are put back afterwards
    handler, interval = signal.getsignal(signal.SIGINT), sys.getswitchinterval()
    ours, theirs = multiprocessing.Pipe()
    try:
        inbox = worker._Inbox(theirs)
        head = {"kind": "answer", "lane": "answer a.yaml"}
        ours.send({**head, "number": 1})
        assert inbox.next()["number"] == 1
        ours.send({**head, "number": 2})
        while not inbox.outdated:
            time.sleep(0.001)
        inbox.send({"stage": "quick"}, whole=True)  # the picture belongs to it
        with pytest.raises(worker.Superseded):
            inbox.send({"stage": "drawn"})
        with pytest.raises(worker.Superseded):
            inbox.send({"stage": "flown"})
        assert [ours.recv()["stage"] for _ in range(2)] == ["quick", "drawn"]
        assert not ours.poll()  # what was flown was not sent
        assert inbox.next()["number"] == 2
        ours.send(None)
    finally:
        signal.signal(signal.SIGINT, handler)
        sys.setswitchinterval(interval)
        ours.close()
