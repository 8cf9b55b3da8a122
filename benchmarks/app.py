"""How long the page takes to answer a nudge, measured in Chromium: from the key to what is seen.

Quick is the first-order answer in sight (aimed at: 50 ms), flown the flight made best anew (0.5 s).  Each is
taken from the key going down to the page having changed, by the page's own clock, over many nudges that are
apart from each other; then a drag is held, in which nudges come as fast as frames do.

    python benchmarks/app.py [examples/dunlin.yaml] [--nudges 40]
"""

from __future__ import annotations

import argparse
import itertools
import os
import platform
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
QUICK, FLOWN = 0.050, 0.5  # s, what is aimed at

# listens for a change of what is shown; resolves with ms since the key
_NUDGE = """([path, key]) => new Promise((resolve) => {
  const chip = [...document.querySelectorAll('.chip')].find((one) => one.getAttribute('aria-label').startsWith(path + ':'));
  const told = {};
  const root = document.documentElement;
  chip.focus();
  const start = performance.now();
  const watch = new MutationObserver(() => {
    const now = root.dataset.answer;
    if ((now === 'quick' || now === 'flown') && !(now in told)) {
      told[now] = performance.now() - start;
      if (now === 'flown') { watch.disconnect(); requestAnimationFrame(() => resolve({...told, frame: performance.now() - start})); }
    }
  });
  watch.observe(root, { attributes: true, attributeFilter: ['data-answer'] });
  chip.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
  setTimeout(() => { watch.disconnect(); resolve(told); }, 20000);
})"""

# a drag to and fro over 120 frames, each of which has another value; resolves with the times of quick answers [ms]
_DRAG = """(path) => new Promise((resolve) => {
  const chip = [...document.querySelectorAll('.chip')].find((one) => one.getAttribute('aria-label').startsWith(path + ':'));
  const box = chip.getBoundingClientRect();
  const answers = [], pictures = [], root = document.documentElement;
  const start = performance.now();
  const watch = new MutationObserver(() => { if (root.dataset.answer === 'quick') answers.push(performance.now() - start); });
  watch.observe(root, { attributes: true, attributeFilter: ['data-answer'] });
  const drawing = new MutationObserver(() => pictures.push(performance.now() - start));
  drawing.observe(document.querySelector('.picture'), { childList: true });
  const send = (kind, x) => chip.dispatchEvent(new PointerEvent(kind, { bubbles: true, button: 0, clientX: x, clientY: box.y, pointerId: 1 }));
  chip.setPointerCapture = () => {};
  send('pointerdown', box.x);
  let frame = 0;
  const place = () => box.x + 7 * (1 + 10 * Math.sin(frame / 12));
  const move = () => {
    send('pointermove', place());
    if (++frame < 120) requestAnimationFrame(move);
    else {
      const end = performance.now() - start;
      send('pointerup', place());
      watch.disconnect();
      drawing.disconnect();
      resolve({ answers, pictures, end });
    }
  };
  requestAnimationFrame(move);
})"""


def served(folder: Path, name: str) -> tuple[subprocess.Popen[str], str]:
    """(the server's process, the address it printed)."""
    state = {**os.environ, "WETMASS_STATE": str(folder / "state")}
    process = subprocess.Popen(
        [sys.executable, "-m", "wetmass", "app", str(folder / name), "--no-browser"],
        stdout=subprocess.PIPE, text=True, env=state,
    )  # fmt: skip
    assert process.stdout is not None
    for line in process.stdout:
        found = re.search(r"http://\S+", line)
        if found:
            return process, found[0]
    raise SystemExit("the server said no address")


def measured(page: Any, nudges: int) -> dict[str, list[float]]:
    """Times of many nudges of several values [s]."""
    paths = (
        "first, dry mass",
        "second, engine, isp vacuum",
        "performance reserve",
        "first, engine, isp vacuum",
    )
    listed = [path for path in paths if page.locator(f'.chip[aria-label^="{path}:"]').count()]
    times: dict[str, list[float]] = {"quick": [], "flown": [], "frame": []}
    for number in range(nudges):
        told = page.evaluate(
            _NUDGE, [listed[number % len(listed)], "ArrowUp" if number % 8 < 4 else "ArrowDown"]
        )
        for name, value in told.items():
            times[name].append(value / 1e3)
        time.sleep(0.35)  # the slopes for the next are taken in the pause
    return times


def dragged(drag: dict[str, Any]) -> str:
    """What a drag showed, in words."""
    seconds, answers = drag["end"] / 1e3, drag["answers"]
    gaps = sorted(later - sooner for sooner, later in itertools.pairwise([0.0, *answers, drag["end"]]))
    return (
        f"a drag of {seconds:.1f} s: {len(answers) / seconds:.0f} quick answers a second, the longest wait "
        f"{gaps[-1]:.0f} ms, half of them within {statistics.median(gaps):.0f} ms; "
        f"{len(drag['pictures']) / seconds:.0f} pictures a second"
    )


def share_of_a_core() -> float:
    """What a busy process gets of one core here and now: 1 on a machine with nothing else to do."""
    began, spent = time.perf_counter(), time.process_time()
    while time.process_time() - spent < 0.5:
        pass
    return 0.5 / (time.perf_counter() - began)


def computing_alone(file: str) -> float:
    """CPU time of a quick answer without server and browser [s]: the yardstick, whatever else the machine does."""
    from wetmass.app.desk import Desk
    from wetmass.concept.document import document

    desk, times = Desk(), []
    start = document(Path(file).read_text(encoding="utf-8"), "alone.yaml")
    desk.answer({"document": start, "system": "metric"}, lambda message, whole=False: None)
    for number in range(12):
        began = time.process_time()

        def say(message: dict[str, Any], whole: bool = False, began: float = began) -> None:
            if message["stage"] == "quick":
                times.append(time.process_time() - began)
                raise StopIteration

        changed = start.set("performance reserve", f"{81 + number} m/s")
        try:
            desk.answer({"document": changed, "system": "metric"}, say)
        except StopIteration:
            continue
    return statistics.median(times)


def main() -> None:
    """Print the table."""
    from playwright.sync_api import sync_playwright

    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("file", nargs="?", default="examples/dunlin.yaml")
    reader.add_argument("--nudges", type=int, default=40)
    asked = reader.parse_args()
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        folder = Path(made)
        shutil.copy(asked.file, folder)
        process, address = served(folder, Path(asked.file).name)
        try:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            began = time.perf_counter()
            page.goto(address)
            page.wait_for_selector("[data-answer=flown]", timeout=120_000)
            ready = time.perf_counter() - began
            time.sleep(1.0)
            times = measured(page, asked.nudges)
            drag = page.evaluate(_DRAG, "first, dry mass")
            print(f"{platform.processor() or platform.machine()}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}, "
                  f"Python {platform.python_version()}, Chromium {browser.version}, {Path(asked.file).name}")  # fmt: skip
            browser.close()
        finally:
            process.terminate()
            process.wait(10)
    share, alone = share_of_a_core(), computing_alone(asked.file)
    print(f"set-up: first flown answer {ready:.1f} s after the page is opened\n")
    print("answer      n    median    9 of 10    worst    aimed at")
    for name, aim in (("quick", QUICK), ("flown", FLOWN)):
        listed = sorted(times[name])
        if listed:
            tenth = listed[min(len(listed) - 1, int(0.9 * len(listed)))]
            print(f"{name:8} {len(listed):4}  {1e3 * statistics.median(listed):5.0f} ms   {1e3 * tenth:6.0f} ms "
                  f" {1e3 * listed[-1]:5.0f} ms    {1e3 * aim:4.0f} ms")  # fmt: skip
    print(
        f"\ncomputing a quick answer alone takes {1e3 * alone:.0f} ms of a core; a busy process gets {share:.2f} of one here now"
    )
    print(dragged(drag))


if __name__ == "__main__":
    main()
