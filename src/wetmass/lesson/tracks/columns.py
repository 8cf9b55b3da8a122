"""Comma-separated values (RFC 4180) of a trajectory."""

from __future__ import annotations

import csv as text_rows
import io

from wetmass.record.flight import Trajectory


def csv(trajectory: Trajectory) -> str:
    """A row for each row of the trajectory; the first line names each column with its unit.

    Numbers are written so that they read back to the last digit.
    """
    out = io.StringIO()
    writer = text_rows.writer(out, lineterminator="\r\n")
    writer.writerow([f"{c.key} [{c.unit}]" if c.unit else c.key for c in trajectory.columns])
    for row in trajectory.values:
        writer.writerow([repr(float(value)) for value in row])
    return out.getvalue()
