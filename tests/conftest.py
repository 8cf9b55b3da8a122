"""Puts `tests/` on the path, so that every folder of tests can use `builders`; no test asserts a time."""

from hypothesis import settings

settings.register_profile("wetmass", deadline=None)
settings.load_profile("wetmass")
