"""The compiled copies of the physics kernels (numba), and where they are kept.

Numba keeps compiled code beside each file and does not see a change in a function of another file,
so here the folder is keyed by a hash of every file that compiled code can reach: the rooms `COMPILED`.  Import this module before any
compiled function is defined; importing it is what makes the kernels compilable.
"""

from __future__ import annotations

import hashlib
import math
import os
import tempfile
from pathlib import Path
from typing import Any

PACKAGE = Path(__file__).resolve().parent.parent
COMPILED = ("record", "physics", "flight")  # kernels, what drives them, and the constants they use


def source_key() -> str:
    """A short hash of every Python file of the rooms that compiled code can reach."""
    digest = hashlib.sha256()
    for path in sorted(path for room in COMPILED for path in (PACKAGE / room).rglob("*.py")):
        digest.update(str(path.relative_to(PACKAGE)).encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


def cache_folder() -> Path:
    """Where compiled code is kept: `WETMASS_CACHE`, else the user's cache, else a temporary folder."""
    base = os.environ.get("WETMASS_CACHE")
    candidates = (
        [Path(base)] if base else [Path(os.environ.get("XDG_CACHE_HOME", Path.home() / ".cache")) / "wetmass"]
    )
    candidates.append(
        Path(tempfile.gettempdir()) / f"wetmass-{os.getuid() if hasattr(os, 'getuid') else 'user'}"
    )
    for candidate in candidates:
        folder = candidate / source_key()
        try:
            folder.mkdir(parents=True, exist_ok=True)
            probe = folder / f".writable-{os.getpid()}"
            probe.touch()
            probe.unlink()
        except OSError:
            continue
        return folder
    return Path(tempfile.mkdtemp(prefix="wetmass-"))


CACHE = cache_folder()
FIRST_TIME = not any(CACHE.iterdir())  # nothing compiled yet: the first flight takes some seconds longer

import numba  # noqa: E402
import numpy as np  # noqa: E402

numba.config.CACHE_DIR = str(CACHE)

from numba.core.registry import CPUDispatcher  # noqa: E402
from numba.extending import overload, register_jitable  # noqa: E402

from wetmass.physics import pattern  # noqa: E402

_PLAIN = {name: getattr(math, name) for name in pattern.MATHEMATICS if hasattr(math, name)}
_PLAIN |= {"absolute": abs, "least": min, "greatest": max}


def _mathematics() -> None:
    for name, plain in _PLAIN.items():
        if name in ("atan2", "least", "greatest"):
            overload(pattern.MATHEMATICS[name])(_of_two(plain))
        else:
            overload(pattern.MATHEMATICS[name])(_of_one(plain))


def _of_one(plain: Any) -> Any:
    return lambda x: lambda x: plain(x)


def _of_two(plain: Any) -> Any:
    return lambda x, y: lambda x, y: plain(x, y)


@overload(pattern.select)
def _select(condition, yes, no):  # type: ignore[no-untyped-def]
    return lambda condition, yes, no: yes if condition else no


@overload(pattern.piece)
def _piece(x, table):  # type: ignore[no-untyped-def]
    def search(x, table):
        low, high = 0, table.shape[0]
        while high - low > 1:
            middle = (low + high) >> 1
            if x >= table[middle, 0]:
                low = middle
            else:
                high = middle
        return np.uint64(low)  # without a sign, so that reading needs no check for one

    return search


@overload(pattern.entry)
def _entry(table, row, column):  # type: ignore[no-untyped-def]
    return lambda table, row, column: table[row, column]


_mathematics()
_compilable = register_jitable(error_model="numpy")  # x/0 is inf, as for C: no checks in the way
for _kernel in pattern.KERNELS:
    _compilable(_kernel)
pattern.ON_KERNEL.append(_compilable)  # kernels of topic files imported later

# One set of options for all, for numba compiles a kernel anew for each set it is called under; and no wrapper for C,
# which nobody calls.
HOW = {
    "error_model": "numpy",
    "fastmath": {"contract", "arcp", "nsz"},  # a·b + c in one, x/y as x·(1/y), no care for −0
    "nogil": True,
    "no_cfunc_wrapper": True,
}
entrance = numba.njit(cache=True, **HOW)  # called from Python, and kept


class _Inside(CPUDispatcher):
    """Compiled without a way in from Python, where it runs as the plain Python it is."""

    def __call__(self, *arguments):  # type: ignore[no-untyped-def]
        return self.py_func(*arguments)


def inside(function):  # type: ignore[no-untyped-def]
    """A function that compiled code calls, which keeps it within itself: without a wrapper it compiles faster."""
    made = numba.njit(no_cpython_wrapper=True, **HOW)(function)
    made.__class__ = _Inside
    return made
