"""Flights a second at fixed steering, on processor cores and on a graphics card, and how far the two differ.

    python benchmarks/flights.py make           # the programme of Dunlin and its vehicles, into benchmarks/programmes
    python benchmarks/flights.py [COUNT]        # flies it here, and on a card where one answers

`make` needs the whole package; flying needs numpy, scipy and numba alone (and numba-cuda for a card).
"""

from __future__ import annotations

import os
import platform
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

from wetmass.flight.along import END_STATUS
from wetmass.flight.programme import Batch, Programme, fly_along
from wetmass.study.built import Built, Fit

HERE = Path(__file__).resolve().parent
FILE = HERE / "programmes" / "dunlin.npz"
GUESSES = ["second isp = ± 0.5 %", "first isp = ± 0.5 %", "second, structural fraction = 8 % (7.8 to 8.3 %)"]


def make() -> None:
    """Close Dunlin, and keep its programme and its vehicles as functions of four guesses."""
    import wetmass
    from wetmass.closing import answered
    from wetmass.study.flights import prepared

    concept = wetmass.load(HERE.parent / "examples" / "dunlin.yaml")
    plan, shape, made, found = prepared(concept, answered(concept), GUESSES)
    parts = {
        "nominal": made.nominal,
        "centre": made.centre,
        "reach": made.reach,
        "error": np.array(made.error),
    }
    for place, fit in enumerate(made.fits):
        parts |= {
            f"of{place}": np.array(fit.of), f"places{place}": fit.places, f"powers{place}": fit.powers,
            f"weights{place}": fit.weights,
        }  # fmt: skip
    np.savez_compressed(
        FILE, attitude=plan.attitude, pieces=plan.pieces, control=plan.control, curve=plan.curve, start=plan.start,
        end=plan.end, let_go=np.array(plan.pieces_let_go, dtype=float).reshape(-1, 3), segments=shape[0],
        drops=shape[1], sigma=np.array([g.sigma for g in found]), **parts,
    )  # fmt: skip
    print(f"{FILE}: {FILE.stat().st_size} bytes; fit off by {made.error:.1e}")


def batch(count: int) -> Batch:
    """So many vehicles, their guesses normal with the deviations of the file."""
    kept = np.load(FILE)
    plan = Programme(
        kept["attitude"], kept["pieces"], kept["control"], kept["curve"], kept["start"], False,
        tuple((int(a), int(b), float(c)) for a, b, c in kept["let_go"]), kept["end"],
    )  # fmt: skip
    fits = []
    while f"of{len(fits)}" in kept:
        k = len(fits)
        fits.append(
            Fit(tuple(map(int, kept[f"of{k}"])), kept[f"places{k}"], kept[f"powers{k}"], kept[f"weights{k}"])
        )
    made = Built(kept["nominal"], kept["centre"], kept["reach"], tuple(fits), float(kept["error"]))
    rng = np.random.default_rng(20261125)
    arrays = made(
        kept["centre"] + kept["sigma"] * np.clip(rng.standard_normal((count, len(kept["centre"]))), -4, 4)
    )
    segments, drops = kept["segments"], kept["drops"]
    cut = segments.size
    return Batch(
        plan, np.ascontiguousarray(arrays[:, :cut]).reshape(-1, *segments.shape),
        np.ascontiguousarray(arrays[:, cut:-1]).reshape(-1, *drops.shape), np.ascontiguousarray(arrays[:, -1]),
        plan.how(),
    )  # fmt: skip


def processor(count: int) -> np.ndarray:
    """Fly on the cores of this machine, and print a row for each step."""
    flights = batch(count)
    fly_along(replace(flights, masses=flights.masses[:8]))
    fine = fly_along(replace(batch(256), how=flights.programme.how(0.5, 5.0)))
    for step in ((2.0, 30.0), (4.0, 60.0), (8.0, 60.0)):
        now = replace(flights, how=flights.programme.how(*step))
        began, spent = time.perf_counter(), time.process_time()
        results = fly_along(now)
        wall, cpu = time.perf_counter() - began, time.process_time() - spent
        off = np.linalg.norm((results[:256] - fine)[:, 3:6], axis=1)
        rate, core = count / wall, count / cpu
        print(f"| {os.cpu_count()} cores, steps {step[0]:g} s | {rate:,.0f} flights/s | {core:,.0f} a core-second "
              f"| error at the end {np.median(off):.3f} m/s |")  # fmt: skip
    return fly_along(flights)


def card(count: int, here: np.ndarray) -> None:
    """The same on a card: agreement at equal steps, and flights a second with what is on the card already."""
    from wetmass.flight import on_gpu

    flights = batch(len(here))
    began = time.perf_counter()
    there = on_gpu.fly_along(flights)
    print(f"| first call on the card, compiling | {time.perf_counter() - began:.1f} s |")
    both = (here[:, END_STATUS] == 0.0) & (there[:, END_STATUS] == 0.0)
    off = np.abs(there[both] - here[both]) / np.maximum(np.abs(here[both]), 1e-6)
    print(f"| same end on both | {np.mean(here[:, END_STATUS] == there[:, END_STATUS]):.6f} |")
    names = ("place", "speed", "mass")
    for name, part in zip(names, (slice(0, 3), slice(3, 6), slice(6, 7)), strict=True):
        size = np.linalg.norm(here[both][:, part], axis=1)
        away = np.linalg.norm((there - here)[both][:, part], axis=1) / size
        print(
            f"| {name} at the end, relative difference | greatest {away.max():.1e}, median {np.median(away):.1e} |"
        )
    print(f"| greatest difference of any number | {off.max():.1e} |")
    from numba import cuda

    many = batch(count)
    for step in ((4.0, 60.0), (8.0, 60.0)):
        arrays = on_gpu.load(replace(many, how=many.programme.how(*step)), 0, count)
        results = cuda.device_array((count, here.shape[1]), order="F")
        for threads in (32, 64, 128):
            blocks = -(-count // threads)
            on_gpu._kernel()[blocks, threads](*arrays, results)
            cuda.synchronize()
            began = time.perf_counter()
            on_gpu._kernel()[blocks, threads](*arrays, results)
            cuda.synchronize()
            wall = time.perf_counter() - began
            print(f"| card, steps {step[0]:g} s, {threads} threads a block | {count / wall:,.0f} flights/s |")


if __name__ == "__main__":
    if sys.argv[1:2] == ["make"]:
        make()
    else:
        number = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
        print(
            f"machine: {platform.processor() or platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
        )
        flown = processor(number)
        try:
            card(int(sys.argv[2]) if len(sys.argv) > 2 else 1 << 20, flown)
        except RuntimeError as error:
            print(f"no card: {error}")
