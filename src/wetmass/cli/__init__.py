"""The `wetmass` command.  Nothing heavy is imported until a command needs it."""

from __future__ import annotations


def main() -> None:
    """Run the command line; ends the process with its exit status."""
    import os

    # small matrices gain nothing by threads, and their sums differ in the last digit with the number of them:
    # with one, a study gives the same numbers by any workers (a Dask worker sets the same)
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    from wetmass.cli.study_commands import APP  # with those of one concept, which it imports

    APP()
