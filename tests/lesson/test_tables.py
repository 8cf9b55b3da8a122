"""The workbook lives: another program computes it again and finds what we found; and what follows, follows."""

import csv
import dataclasses
import io
import math
import re
import shutil
import subprocess
import zipfile

import numpy as np
import pytest

from lesson.pages import dunlin
from wetmass.lesson.tables import write
from wetmass.lesson.tables.workbook import workbook
from wetmass.record.constants import STANDARD_GRAVITY

# LibreOffice computes again on loading only where it is told to: the values in the file would do else
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item></oor:items>"""
# comma, quotes, UTF-8, all cells as they are shown: no, formulas: no, every sheet into a file of its own
FILTER = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"


def computed_again(data, folder):
    """{sheet: rows} as LibreOffice computes them."""
    office = shutil.which("soffice")
    assert office, "soffice is not there: install libreoffice-calc, as scripts/test does"
    (folder / "profile" / "user").mkdir(parents=True)
    (folder / "profile" / "user" / "registrymodifications.xcu").write_text(PROFILE)
    (folder / "book.xlsx").write_bytes(data)
    done = subprocess.run(
        [office, f"-env:UserInstallation=file://{folder}/profile", "--headless", "--convert-to", FILTER,
         "--outdir", str(folder), str(folder / "book.xlsx")],
        capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    found = sorted(folder.glob("book-*.csv"))
    assert found, done.stderr
    return {
        path.stem.removeprefix("book-"): list(csv.reader(io.StringIO(path.read_text()))) for path in found
    }


def at(rows, words, column=-1):
    """The number in a row that begins with these words."""
    return float(next(row for row in rows if row[0] == words)[column])


def blanked(data, changed=None):
    """The workbook without the values we found, so that only formulas can bring them back.

    changed  (sheet's file, pattern, replacement): an input set to something else
    """
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as book, zipfile.ZipFile(out, "w") as made:
        for name in book.namelist():
            text = book.read(name)
            if name.startswith("xl/worksheets/"):
                text = re.sub(rb"(</f>)<v>[^<]*</v>", rb"\1<v>-1</v>", text)
                if changed is not None and name == changed[0]:
                    text, count = re.subn(changed[1], changed[2], text)
                    assert count == 1
            made.writestr(name, text)
    return out.getvalue()


def test_the_workbook_computed_by_another_program_finds_what_we_found(tmp_path):
    concept, closed = dunlin()
    book = computed_again(blanked(workbook(concept, closed)), tmp_path)
    vehicle, loss = closed.vehicle, closed.flight.losses
    whole = sum(item.mass for item in vehicle.mass_table())
    assert at(book["Masses"], "together", 2) == pytest.approx(whole, rel=1e-12)
    assert at(book["Masses"], "mass at lift-off", 2) == pytest.approx(vehicle.lift_off_mass, rel=1e-12)
    # the flight integrates it, to 1e-7 as DESIGN.md asks; the sheet takes logarithms
    assert at(book["Ideal speed"], "ideal speed gain") == pytest.approx(loss.ideal, rel=1e-7)
    gains = [s.result for s in closed.steps if s.words.startswith("ideal speed gain") and "c" in {p.symbol for p in s.inputs}]  # fmt: skip
    shown = [float(row[-1]) for row in book["Ideal speed"][4:] if row[0].startswith(("first", "second"))]
    assert shown == pytest.approx(gains, rel=1e-9)
    assert at(book["Lift-off"], "thrust to weight at lift-off") == pytest.approx(
        vehicle.lift_off_thrust() / (vehicle.lift_off_mass * STANDARD_GRAVITY), rel=1e-9
    )
    assert at(book["Losses"], "speed over the turning Earth") == pytest.approx(
        loss.air_speed_gained, rel=1e-6
    )
    assert at(book["Losses"], "speed in orbit") == pytest.approx(
        loss.air_speed_gained + loss.rotation_gain, rel=1e-6
    )
    assert len(book["Flight"]) > len(closed.flight.trajectory)


def test_a_payload_changed_in_the_workbook_changes_the_speed_as_the_rocket_equation_says(tmp_path):
    concept, closed = dunlin()
    payload, more = closed.payload, 500.0
    text = f"{payload:.16G}".encode()
    data = workbook(concept, closed)
    with zipfile.ZipFile(io.BytesIO(data)) as book:  # written once on the sheet of masses
        assert book.read("xl/worksheets/sheet1.xml").count(b"<v>" + text + b"</v>") == 1
    change = (
        "xl/worksheets/sheet1.xml",
        b"<v>" + re.escape(text) + b"</v>",
        f"<v>{payload + more!r}</v>".encode(),
    )
    book = computed_again(blanked(data, change), tmp_path)
    expected = 0.0
    for step in closed.steps:
        puts = {put.symbol: put.value for put in step.inputs}
        if step.formula is not None and {"c", "m₀", "m₁"} <= set(puts):
            expected += puts["c"] * math.log((puts["m₀"] + more) / (puts["m₁"] + more))
    assert at(book["Ideal speed"], "ideal speed gain") == pytest.approx(expected, rel=1e-9)
    assert expected < closed.flight.losses.ideal - 50.0


def test_the_flight_as_parquet_and_csv_reads_back_to_the_last_digit(tmp_path):
    from pyarrow import parquet

    concept, closed = dunlin()
    track = closed.flight.trajectory
    write(tmp_path / "d.parquet", concept, closed)
    table = parquet.read_table(tmp_path / "d.parquet")
    assert table.column_names == [column.key for column in track.columns]
    assert np.array_equal(
        np.stack([c.to_numpy() for c in table.columns], axis=1), track.values, equal_nan=True
    )
    assert table.schema.field("height").metadata[b"unit"] == b"m"
    write(tmp_path / "d.csv", concept, closed)
    rows = list(csv.reader((tmp_path / "d.csv").open()))
    assert float(rows[-1][2]) == track.values[-1, 2]


def test_what_no_table_can_be_is_refused(tmp_path):
    concept, closed = dunlin()
    with pytest.raises(ValueError, match=r"ends in .xlsx, .csv or .parquet"):
        write(tmp_path / "d.ods", concept, closed)
    with pytest.raises(ValueError, match="was not flown"):
        write(tmp_path / "d.csv", concept, dataclasses.replace(closed, flight=None, closes=False))
