"""Points whose work is quick and known, for tests of who does the work (spawned workers import this)."""

import os
import signal
import time

from wetmass.study.point import CLOSES, Base, Outcome

BASE = Base("a text", "a file", None, Outcome(CLOSES))


def points(count):
    return [(("first, dry mass", f"{n} t"),) for n in range(count)]


def number(changes):
    return int(changes[0][1].split()[0])


def squared(base, changes):
    return Outcome(CLOSES, "", {"payload": float(number(changes)) ** 2 / 7.0})


def slowly(base, changes):
    time.sleep(0.02)
    return squared(base, changes)


def sometimes_wrong(base, changes):
    if number(changes) % 5 == 3:
        raise ZeroDivisionError("a defect on purpose")
    return squared(base, changes)


def killed_at_seven(base, changes):
    if number(changes) == 7:
        os.kill(os.getpid(), signal.SIGKILL)
    return squared(base, changes)
