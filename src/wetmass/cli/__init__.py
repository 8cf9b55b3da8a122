"""The `wetmass` command.  Nothing heavy is imported until a command needs it."""

from __future__ import annotations


def main() -> None:
    """Run the command line; ends the process with its exit status."""
    from wetmass.cli.commands import run

    run()
