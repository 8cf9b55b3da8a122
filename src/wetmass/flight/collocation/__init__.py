"""The best ascent by direct collocation: the plain, slower way that checks the fast shooting.

`solve.best` finds it, warm or from a simple guess; `replay.replay` flies its steering again, compiled,
in the exact air.  Nothing is imported here: CasADi loads with `solve`.
"""
