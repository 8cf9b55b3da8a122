"""Flights along a programme on a graphics card (CUDA), from the very functions the processor runs.

Nothing is written twice: `along` and every function it reaches are taken as they stand, and rebuilt for the
card with the few names of `physics.pattern` put to the card's own functions.  Needs the extra `gpu` (numba-cuda).
"""

from __future__ import annotations

import functools
import math
import types
from collections.abc import Callable
from typing import Any

import numpy as np
from numba import config, float64

from wetmass.flight import layout as at
from wetmass.flight.along import RESULT_WIDTH, STATE, along
from wetmass.flight.programme import Batch
from wetmass.physics import pattern

WIDE, MODES = at.STEERED, at.MODE_WIDTH
THREADS = 64  # in a block
REGISTERS = 128  # of a thread: fewer spill, more leave room for fewer threads
MOST_AT_ONCE = 1 << 20  # flights on the card at a time


class NoCard(RuntimeError):
    """There is no card to fly on, or no numba-cuda."""


def _chosen(condition, yes, no):
    return yes if condition else no


def _piece(x, table):
    low, high = 0, table.shape[0]
    while high - low > 1:
        middle = (low + high) >> 1
        if x >= table[middle, 0]:
            low = middle
        else:
            high = middle
    return low


def _entry(table, row, column):
    return table[row, column]


@functools.cache
def _cuda() -> Any:
    try:
        from numba import cuda
    except ImportError as error:
        raise NoCard("numba-cuda is not installed: pip install wetmass[gpu]") from error
    if not cuda.is_available():
        raise NoCard("no CUDA card answers on this machine")
    return cuda


def card_name() -> str:
    """What card there is.  Raises NoCard where there is none."""
    name = _cuda().get_current_device().name
    return name.decode() if isinstance(name, bytes) else str(name)


class _Rebuilt:
    """Functions as device functions, each once; what they call is rebuilt before them."""

    def __init__(self, cuda: Any) -> None:
        self.cuda, self.made = cuda, {}
        plain: dict[Any, Any] = {
            pattern.MATHEMATICS[name]: getattr(math, name)
            for name in pattern.MATHEMATICS
            if hasattr(math, name)
        }
        plain |= {pattern.absolute: abs, pattern.least: min, pattern.greatest: max}
        self.plain = plain | {
            pattern.select: self._device(_chosen), pattern.piece: self._device(_piece),
            pattern.entry: self._device(_entry),
        }  # fmt: skip

    def _device(self, function: Callable[..., Any]) -> Any:
        return self.cuda.jit(device=True)(function)

    def __call__(self, function: Any) -> Any:
        """The device function of a function of ours, compiled or plain."""
        bare = getattr(function, "py_func", function)
        if bare not in self.made:
            names = dict(bare.__globals__)
            for name in bare.__code__.co_names:
                value = names.get(name)
                if isinstance(value, types.FunctionType) and value in self.plain:
                    names[name] = self.plain[value]
                elif isinstance(value, np.ndarray):  # in its memory: lanes of a warp read different rows
                    names[name] = self.cuda.to_device(value)
                elif _ours(value):
                    names[name] = self(value)
            copy = types.FunctionType(
                bare.__code__, names, bare.__name__, bare.__defaults__, bare.__closure__
            )  # fmt: skip
            self.made[bare] = self._device(copy)
        return self.made[bare]


def _ours(value: Any) -> bool:
    bare = getattr(value, "py_func", value)
    return isinstance(bare, types.FunctionType) and bare.__module__.startswith("wetmass.")


def _one_each(segments, drops, attitude, pieces, control, curve, how, start, masses, results):
    """One flight a thread; `cuda` and `fly` are put in where it is made ready."""
    i = cuda.grid(1)  # noqa: F821
    if i < masses.shape[0]:
        y, z = cuda.local.array(WIDE, float64), cuda.local.array(WIDE, float64)  # noqa: F821
        dy, total = cuda.local.array(WIDE, float64), cuda.local.array(STATE, float64)  # noqa: F821
        mode = cuda.local.array(MODES, float64)  # noqa: F821
        for j in range(STATE):
            y[j] = start[j]
        y[at.MASS] = masses[i]
        fly(segments[i], drops[i], attitude, pieces, control, curve, how, y, z, dy, total, mode, results[i])  # noqa: F821


@functools.cache
def _kernel() -> Any:
    cuda = _cuda()
    names = {**globals(), "cuda": cuda, "fly": _Rebuilt(cuda)(along)}
    bare = types.FunctionType(_one_each.__code__, names, "flights_along")
    return cuda.jit(bare) if config.ENABLE_CUDASIM else cuda.jit(max_registers=REGISTERS)(bare)


def fly_along(batch: Batch) -> np.ndarray:
    """Results (N, RESULT_WIDTH) of a batch, flown on the card.  Raises NoCard where there is none."""
    parts = [
        _flown(batch, begin, min(begin + MOST_AT_ONCE, len(batch)))
        for begin in range(0, len(batch), MOST_AT_ONCE)
    ]
    return np.concatenate(parts) if parts else np.zeros((0, RESULT_WIDTH))


def _flown(batch: Batch, begin: int, end: int) -> np.ndarray:
    cuda, kernel = _cuda(), _kernel()
    on_card = load(batch, begin, end)
    results = cuda.device_array((end - begin, RESULT_WIDTH), order="F")
    kernel[-(-(end - begin) // THREADS), THREADS](*on_card, results)
    return np.ascontiguousarray(results.copy_to_host())


def load(batch: Batch, begin: int, end: int) -> tuple[Any, ...]:
    """The arrays of some flights on the card, each flight's numbers beside those of its neighbours."""
    cuda, p = _cuda(), batch.programme
    segments = cuda.to_device(np.asfortranarray(batch.segments[begin:end]))
    drops = cuda.to_device(np.asfortranarray(batch.drops[begin:end]))
    same = [cuda.to_device(np.ascontiguousarray(a)) for a in (p.attitude, p.pieces, p.control, p.curve)]
    more = [cuda.to_device(np.ascontiguousarray(a)) for a in (batch.how, p.start, batch.masses[begin:end])]
    return (segments, drops, *same, *more)
