"""The command as a user starts it, and a page in a real browser."""

import os
import re
import shutil
import subprocess
import sys

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
PATIENT = 120_000  # ms: the first answer may compile on a busy machine
FLOWN = "html[data-answer=flown]"
HOME = "html[data-answer=flown]:not([data-home])"  # every stage is flown home, too
SAVED = re.compile("– saved$")


class Server:
    """The command as a user starts it."""

    def __init__(self, folder, name="dunlin.yaml"):
        self.folder, self.name = folder, name
        folder.mkdir(exist_ok=True)
        if not (folder / name).exists():
            shutil.copy(f"examples/{name}", folder / name)
        self.start()

    def start(self):
        state = {**os.environ, "WETMASS_STATE": str(self.folder.parent / "state")}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "wetmass", "app", str(self.folder / self.name), "--no-browser"],
            stdout=subprocess.PIPE, text=True, env=state,
        )  # fmt: skip
        for line in self.process.stdout:
            if found := re.search(r"http://\S+", line):
                self.address = found[0]
                return
        raise AssertionError("the server said no address")

    def file(self):
        return (self.folder / self.name).read_text(encoding="utf-8")

    def stop(self):
        self.process.terminate()
        self.process.wait(15)


def visit(browser, server, **about):
    """A fresh page that has had its first answer; what it asked for and complained of is kept on it."""
    context = browser.new_context(**{"viewport": {"width": 1440, "height": 900}, **about})
    page = context.new_page()
    page.asked, page.complained = [], []
    page.on("request", lambda request: page.asked.append(request.url))
    page.on("console", lambda said: page.complained.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: page.complained.append(str(error)))
    page.goto(server.address)
    page.wait_for_selector(HOME, timeout=PATIENT)
    return page


def value(page, label):
    return page.locator(f'.chip[aria-label^="{label}:"]')


def flown(page):
    page.wait_for_selector(FLOWN, timeout=PATIENT)


def payload(page):
    text = page.locator('.tile[data-key="payload"] .now').inner_text()
    return float(re.sub(r"[^\d.]", "", text))


def settled(page, act):
    """Do something that changes the answer, and wait for the flown one."""
    revision = page.evaluate("document.querySelector('#because').textContent")
    act()
    page.wait_for_function(
        "(before) => document.querySelector('#because').textContent !== before", arg=revision, timeout=PATIENT
    )
    page.wait_for_timeout(60)
    flown(page)


def back_to_start(page):
    """Undo until nothing is left; the button is disabled once it is so."""
    for _ in range(30):
        if page.locator("#undo").is_disabled():
            return
        page.evaluate("document.querySelector('#undo').click()")
        page.wait_for_timeout(150)
    raise AssertionError("undoing does not end")
