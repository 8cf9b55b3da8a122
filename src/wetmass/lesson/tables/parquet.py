"""A trajectory as Apache Parquet: a column for each quantity, its words and unit beside it."""

from __future__ import annotations

from wetmass.record.flight import Trajectory


def parquet(trajectory: Trajectory) -> bytes:
    """The trajectory; each column carries `words` and `unit` as metadata."""
    import io

    import pyarrow
    from pyarrow import parquet as file

    fields = [
        pyarrow.field(c.key, pyarrow.float64(), metadata={"words": c.words, "unit": c.unit})
        for c in trajectory.columns
    ]
    columns = [pyarrow.array(trajectory[c.key]) for c in trajectory.columns]
    out = io.BytesIO()
    file.write_table(pyarrow.table(columns, schema=pyarrow.schema(fields)), out)
    return out.getvalue()
