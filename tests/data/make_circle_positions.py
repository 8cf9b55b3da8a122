"""Write src/wetmass/physics/circle_positions.py: unit circles in the smallest known circle, 1 to 20.

Our own search (many random starts, then SLSQP); a run is kept only when it meets the published ratio.
Run by hand:  python tests/data/make_circle_positions.py
"""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import numpy as np
from scipy.optimize import minimize

# enclosing radius over small radius, last digit cut off (not rounded): Circle packing in a circle,
# https://en.wikipedia.org/wiki/Circle_packing_in_a_circle, table of solutions
PUBLISHED = {
    1: 1.0, 2: 2.0, 3: 2.154, 4: 2.414, 5: 2.701, 6: 3.0, 7: 3.0, 8: 3.304, 9: 3.613, 10: 3.813, 11: 3.923,
    12: 4.029, 13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.863, 19: 4.863, 20: 5.122,
}  # fmt: skip
TARGET = Path(__file__).resolve().parents[2] / "src" / "wetmass" / "physics" / "circle_positions.py"


def packed(n: int, rng: np.random.Generator) -> tuple[float, np.ndarray]:
    pairs = np.array(list(itertools.combinations(range(n), 2)))

    def apart(x: np.ndarray) -> np.ndarray:
        p = x[:-1].reshape(n, 2)
        d = p[pairs[:, 0]] - p[pairs[:, 1]]
        inside = (x[-1] - 1.0) ** 2 - (p**2).sum(1)
        return np.concatenate([(d**2).sum(1) - 4.0, inside])

    def slopes(x: np.ndarray) -> np.ndarray:
        p = x[:-1].reshape(n, 2)
        d = 2.0 * (p[pairs[:, 0]] - p[pairs[:, 1]])
        j = np.zeros((len(pairs) + n, 2 * n + 1))
        for k, (a, b) in enumerate(pairs):
            j[k, 2 * a : 2 * a + 2], j[k, 2 * b : 2 * b + 2] = d[k], -d[k]
        for i in range(n):
            j[len(pairs) + i, 2 * i : 2 * i + 2] = -2.0 * p[i]
            j[len(pairs) + i, -1] = 2.0 * (x[-1] - 1.0)
        return j

    target = np.zeros(2 * n + 1)
    target[-1] = 1.0
    start = np.append(rng.normal(0.0, 0.5 * math.sqrt(n), 2 * n), 2.0 + math.sqrt(1.5 * n))
    out = minimize(
        lambda x: x[-1], start, jac=lambda x: target, method="SLSQP",
        constraints={"type": "ineq", "fun": apart, "jac": slopes}, options={"maxiter": 400, "ftol": 1e-15},
    )  # fmt: skip
    sound = out.x[-1] >= 1.0 and apart(out.x).min() > -1e-10
    return (out.x[-1] if sound else math.inf), out.x[:-1].reshape(n, 2)


def main() -> None:
    lines = [
        '"""Unit circles in the smallest known circle round them, 1 to 20: radius and centres.',
        "",
        "Written by tests/data/make_circle_positions.py from our own search; the radii meet the published",
        "best-known ones.  Do not edit by hand.",
        '"""',
        "",
        "# number: (enclosing radius, ((x, y), …)), circles of radius 1",
        "PACKINGS: dict[int, tuple[float, tuple[tuple[float, float], ...]]] = {",
        "    1: (1.0, ((0.0, 0.0),)),",
    ]
    rng = np.random.default_rng(20)
    for n in range(2, 21):
        best, where = math.inf, np.zeros((n, 2))
        for _ in range(3000):
            radius, p = packed(n, rng)
            if radius < best:
                best, where = radius, p
            if best < PUBLISHED[n] + 0.0010:
                break
        assert best < PUBLISHED[n] + 0.0010, (n, best)
        # swell by the last digits lost, so that no pair overlaps
        tight = min(math.dist(a, b) for a, b in itertools.combinations(where, 2))
        where = where * max(1.0, 2.0 / tight)
        best = 1.0 + float(np.hypot(*where.T).max())
        print(n, best, flush=True)
        lines.append(f"    {n}: (")
        lines.append(f"        {best:.12f},")
        lines.append("        (")
        lines += [f"            ({x:.12f}, {y:.12f})," for x, y in where]
        lines += ["        ),", "    ),"]
    TARGET.write_text("\n".join([*lines, "}", ""]), encoding="utf-8")


if __name__ == "__main__":
    main()
