"""Apollo 11's ascent as flown, and our best ascent of the same launcher, as a table and a picture.

    python benchmarks/as506.py                    the table (some seconds)
    python benchmarks/as506.py --chart as506.svg  also the picture: .svg, .png, .html or .json

Flown: events of the flight evaluation report MPR-SAT-FE-69-9, in tests/data/flights.yaml.  Ours: the same
masses, thrusts and cut-offs with the 2,638 kg of propellant that were left kept aboard, steered for most
payload; nobody asked it to follow the flown path, so low down it is flatter.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from vehicles.as506 import chart, flown_events, ours, table


def main(arguments: list[str] | None = None) -> None:
    """Fly it, print the table, write the picture."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--chart", metavar="FILE", help="write the picture here")
    asked = parser.parse_args(arguments)
    flown = ours()
    flight = flown.recorded()
    print(table(flight, flown_events()))
    print(
        f"payload to a C3 of −1.39 km²/s²: flown {flown.case.published:,.0f} kg, ours {flown.payload:,.0f} kg "
        f"({100 * flown.error:+.1f} %)"
    )
    if asked.chart is not None:
        from wetmass.lesson.charts.saved import write

        picture: Any = chart(flight, flown_events())
        write(picture, asked.chart)


if __name__ == "__main__":
    main()
