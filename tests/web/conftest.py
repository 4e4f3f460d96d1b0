"""A real server, a real browser and the tools of the pages, for the tests of the web face."""

from __future__ import annotations

import asyncio
import fcntl
import importlib.util
import os
import re
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Coroutine, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, TypeVar

import httpx
import pytest
import uvicorn

from leadsman.kitfile.template import write_new_kit
from leadsman.web.addresses import free_port
from leadsman.web.app import make_app
from leadsman.web.pairing import Pairing
from leadsman.web.settings import LOOPBACK_NAMES, ServerSettings

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

T = TypeVar("T")
ROOT = Path(__file__).parents[2]
UI = ROOT / "web-ui"
REQUIRED = os.environ.get("LEADSMAN_REQUIRE_BROWSER") == "1"


LAN_NAME = "laptop.test"
"""Name by which the browser of the tests calls this machine as over a network."""


def missing(reason: str) -> None:
    """Skip with a reason, or fail where everything must be there."""
    if REQUIRED:
        pytest.fail(reason)
    pytest.skip(reason)


def load_module(path: Path) -> ModuleType:
    """A module that is no part of the package."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def run_async(work: Callable[[], Coroutine[Any, Any, T]]) -> T:
    """Run a coroutine to its end, on a thread of its own: the browser driver may hold ours."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(lambda: asyncio.run(work())).result()


@dataclass(frozen=True)
class Served:
    """A server in this process."""

    port: int
    pairing: Pairing
    folder: Path

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"


@contextmanager
def serving(
    folder: Path, paired: bool = False, hosts: tuple[str, ...] = LOOPBACK_NAMES
) -> Iterator[Served]:
    """Run a server of our own with a kit in a folder."""
    port = free_port(0, "127.0.0.1")
    assert port is not None
    kit = folder / "kit.toml"
    write_new_kit(kit)
    pairing = Pairing()
    app = make_app(ServerSettings(kit, hosts, port, paired), pairing)
    server = uvicorn.Server(
        uvicorn.Config(app, port=port, log_level="critical", proxy_headers=False)
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20.0
    while not server.started:
        assert time.monotonic() < until and thread.is_alive(), "the server did not start"
        time.sleep(0.02)
    try:
        yield Served(port, pairing, folder)
    finally:
        server.should_exit = True
        thread.join(10.0)


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("served")) as found:
        yield found


@pytest.fixture
def client(served: Served) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=served.url, timeout=60.0, trust_env=False) as found:
        yield found


@contextmanager
def one_at_a_time(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the workers of a parallel run from building the same thing at once."""
    with (tmp_path_factory.getbasetemp().parent / "leadsman-pages.lock").open("w") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session")
def node_modules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Packages that the tools of the pages need, fetched once."""
    hatch_build = load_module(ROOT / "hatch_build.py")
    modules = UI / "node_modules"
    with one_at_a_time(tmp_path_factory):
        ready = hatch_build.holds_lock(modules, UI / "package-lock.json")
        if not ready or not (modules / "axe-core").is_dir():
            node, npm = hatch_build.find_node()
            done = subprocess.run(
                [*npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund"],
                cwd=UI,
                env={**os.environ, "PATH": f"{node.parent}{os.pathsep}{os.environ['PATH']}"},
                capture_output=True,
                text=True,
            )
            if done.returncode != 0:
                missing(f"the npm packages of the tests cannot be fetched: {done.stderr[-300:]}")
    return modules


@pytest.fixture(scope="session")
def run_node(node_modules: Path) -> Callable[..., subprocess.CompletedProcess[str]]:
    """Runs a script of a package in web-ui."""
    node, _ = load_module(ROOT / "hatch_build.py").find_node()

    def run(script: str, *words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [str(node), str(node_modules / script), *words],
            cwd=UI,
            env={**os.environ, "PATH": f"{node.parent}{os.pathsep}{os.environ['PATH']}"},
            capture_output=True,
            text=True,
        )

    return run


@pytest.fixture(scope="session")
def fresh_pages(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The pages as built from the sources that stand here now."""
    hatch_build = load_module(ROOT / "hatch_build.py")
    with one_at_a_time(tmp_path_factory):
        if not hatch_build.is_fresh():
            hatch_build.build_pages()
    assert hatch_build.is_fresh()


@dataclass(frozen=True)
class Started:
    """`leadsman serve` as a person starts it."""

    url: str
    folder: Path


@contextmanager
def started(folder: Path, *words: str) -> Iterator[Started]:
    """Run `leadsman serve` in a folder."""
    process = subprocess.Popen(
        [sys.executable, "-m", "leadsman", "serve", "--no-browser", "--port", "0", *words],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1", "COLUMNS": "200"},
    )
    try:
        assert process.stdout is not None
        said = ""
        for line in process.stdout:
            said += line
            found = re.search(r"Leadsman is at (http://localhost:\d+/)", line)
            if found:
                yield Started(found.group(1), folder)
                return
        pytest.fail(f"leadsman serve ended: {said[-800:]}")
    finally:
        process.terminate()
        process.wait(15)


@pytest.fixture(scope="session")
def leadsman(fresh_pages: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Started]:
    """One server, in a folder with no kit file, for tests that change nothing."""
    with started(tmp_path_factory.mktemp("leadsman")) as found:
        yield found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        missing("no chromium here: apt-get install chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        # A name of a local network that leads here: plain http on it is no secure context.
        rules = f"--host-resolver-rules=MAP {LAN_NAME} 127.0.0.1"
        running = playwright.chromium.launch(executable_path=program, args=["--no-sandbox", rules])
        yield running
        running.close()


def wait_until(page: Page, expression: str, argument: object = None) -> None:
    """Wait until an expression of the page is true.

    The browser driver's own waiting evaluates text inside the page, which the pages forbid.
    """
    until = time.monotonic() + 30.0
    function = f"(argument) => Boolean({expression})"
    while not page.evaluate(function, argument):
        assert time.monotonic() < until, f"never came true: {expression}"
        page.wait_for_timeout(25)


SIZES = {"laptop": (1280, 800), "phone": (360, 740)}
"""Width and height of the screens that are tested [px]."""


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page of a size; any error on its console fails the test."""
    faults: list[str] = []
    contexts = []

    def open_at(url: str, size: str = "laptop", theme: str = "home", units: str = "us") -> Page:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height}, has_touch=size == "phone"
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(30_000)
        kept = f"{{theme: '{theme}', units: '{units}'}}"
        page.add_init_script(f"localStorage['leadsman.settings'] ??= JSON.stringify({kept})")
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on(
            "console",
            lambda said: faults.append(said.text) if "Content Security" in said.text else None,
        )
        page.goto(url)
        return page

    yield open_at
    for context in contexts:
        context.close()
    assert not faults, faults
