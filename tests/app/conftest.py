"""One server serves all tests in a browser; each test has a page of its own."""

import shutil
from pathlib import Path

import pytest
from browsing import ARGUMENTS, CHROMIUM, Server, visit


@pytest.fixture(scope="module")  # while it is open nothing else in this thread may run a loop of events
def chromium():
    assert Path(CHROMIUM).exists(), (
        f"the tests of the page need Chromium at {CHROMIUM}; on Debian: apt-get install chromium "
        "(scripts/test does it)"
    )
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def shared(tmp_path_factory):
    server = Server(tmp_path_factory.mktemp("app") / "work")
    yield server
    server.stop()


@pytest.fixture
def page(chromium, shared):
    made = visit(chromium, shared)
    yield made
    assert not made.complained
    made.context.close()
    shutil.copy("examples/dunlin.yaml", shared.folder / "dunlin.yaml")
