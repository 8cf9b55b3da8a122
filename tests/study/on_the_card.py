"""Two vehicles flown on a pretended card (NUMBA_ENABLE_CUDASIM=1) and on the processor; prints the difference."""

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))

from flights import batch  # noqa: E402
from wetmass.flight import on_gpu  # noqa: E402
from wetmass.flight.programme import fly_along  # noqa: E402

flights = batch(3)
flights = replace(flights, how=flights.programme.how(16.0, 120.0))
here, there = fly_along(flights), on_gpu.fly_along(flights)
print(np.max(np.abs(there - here) / np.maximum(np.abs(here), 1e-6)))
