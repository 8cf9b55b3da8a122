"""`python -m wetmass` is the `wetmass` command."""

from wetmass.cli import main

main()
