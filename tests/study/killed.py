"""A study in a process of its own, to be killed: python killed.py STORE"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from points import BASE, points, slowly  # noqa: E402

from wetmass.study.crew import Crew, run  # noqa: E402
from wetmass.study.store import Store  # noqa: E402

if __name__ == "__main__":
    with Store(sys.argv[1]) as store:
        run(BASE, points(120), crew=Crew(2), store=store, work=slowly)
