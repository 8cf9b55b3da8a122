"""A sparse programme as it is gathered: variables with bounds and first guesses, conditions, IPOPT."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import casadi
import numpy as np


@dataclass(frozen=True, slots=True)
class Answer:
    """What IPOPT came to."""

    variables: Any  # DM
    status: str  # IPOPT's own word
    iterations: int


class Programme:
    """Variables, conditions and bounds, gathered phase by phase."""

    def __init__(self) -> None:
        self.symbols: list[Any] = []
        self.first: list[np.ndarray] = []
        self.low: list[np.ndarray] = []
        self.high: list[np.ndarray] = []
        self.conditions: list[Any] = []
        self.least: list[np.ndarray] = []
        self.most: list[np.ndarray] = []

    def variable(self, rows: int, columns: int, first: Any, low: Any, high: Any) -> Any:
        """A block of unknowns (rows, columns), its guess moved inside its bounds."""
        symbol = casadi.MX.sym(f"w{len(self.symbols)}", rows, columns)
        self.symbols.append(casadi.vec(symbol))
        shape = (rows, columns)
        first, low, high = (np.broadcast_to(np.asarray(a, float), shape) for a in (first, low, high))
        self.first.append(np.clip(first, low, high).ravel(order="F"))
        self.low.append(low.ravel(order="F"))
        self.high.append(high.ravel(order="F"))
        return symbol

    def hold(self, expression: Any, least: float = 0.0, most: float = 0.0) -> None:
        """The condition least ≤ expression ≤ most, entry by entry."""
        expression = casadi.vec(expression)
        self.conditions.append(expression)
        self.least.append(np.full(expression.numel(), least))
        self.most.append(np.full(expression.numel(), most))

    def solved(self, objective: Any, iterations: int, tolerance: float, told: int, hint: bool) -> Answer:
        """IPOPT on the least `objective`, from the guesses; see `collocation.solve.solve`."""
        options = {
            "print_time": 0,
            "ipopt.print_level": told,
            "ipopt.sb": "yes",
            "ipopt.max_iter": iterations,
            "ipopt.tol": tolerance,
            "ipopt.constr_viol_tol": 1e-8,
            "ipopt.acceptable_iter": 0,
            "ipopt.mu_strategy": "adaptive",
            "ipopt.linear_solver": "mumps",
        }
        if hint:
            options |= {
                "ipopt.mu_strategy": "monotone",
                "ipopt.mu_init": 1e-5,
                "ipopt.bound_push": 1e-6,
                "ipopt.bound_frac": 1e-6,
            }
        problem = {
            "x": casadi.vertcat(*self.symbols), "f": objective, "g": casadi.vertcat(*self.conditions)
        }  # fmt: skip
        solver = casadi.nlpsol("ascent", "ipopt", problem, options)
        answer = solver(
            x0=np.concatenate(self.first), lbx=np.concatenate(self.low), ubx=np.concatenate(self.high),
            lbg=np.concatenate(self.least), ubg=np.concatenate(self.most),
        )  # fmt: skip
        seen = solver.stats()
        return Answer(answer["x"], seen["return_status"], int(seen["iter_count"]))

    def values(self, wanted: list[Any], answer: Answer) -> list[np.ndarray]:
        """What expressions of the unknowns come to."""
        found = casadi.Function("found", [casadi.vertcat(*self.symbols)], wanted)(answer.variables)
        return [np.array(part) for part in found]
