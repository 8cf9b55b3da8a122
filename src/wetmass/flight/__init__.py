"""Equations of motion, phases and events, steering laws, the best ascent, losses.

`import wetmass.flight` is quick; the compiled parts load with the modules that need them.
"""
