"""The phone beside the forge: a first open by a slow network, what is kept without one, a step, a re-plan.

The site is started as `manage.py start` does, with its demo; a Chromium with a phone's screen opens it by
the network of a bad cell (1.6 Mb/s, 150 ms) on a processor four times slower. A worker cannot be slowed: the
time of the engine, which runs in one, is multiplied instead. Of several times the least is taken: other work
on the machine only ever adds to it.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, sync_playwright

from forgesite.bootstrap import find_browser
from tests.bench import Row
from tests.browser.conftest import FLAGS, PHONE

TITLE = "At the forge, on a slow phone"
PROJECT = Path(__file__).resolve().parents[2]
SLOWER = 4
NETWORK = {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 0.75e6 / 8}
HOOK = "coat-hook-the-first-evening"
READY, STEP = f"/p/{HOOK}/follow/hook/0/", f"/p/{HOOK}/follow/hook/2/"
SHOP = f"/shop/{HOOK}/1/metric/scale/"
SEEN = """() => new Promise((resolve) => {
  new PerformanceObserver((list) => resolve(list.getEntries().at(-1).startTime))
    .observe({type: "largest-contentful-paint", buffered: true});
})"""
TURN = """async () => {
  const times = [];
  for (let count = 0; count < 8; count += 1) {
    const began = performance.now();
    const shown = new Promise((done) => document.addEventListener("screen:shown", done, {once: true}));
    document.querySelector(".shop__screen:not([hidden]) a[rel=next]").click();
    await shown;
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));  // painted
    times.push(performance.now() - began);
  }
  return times;
}"""
REPLAN = """async () => {
  const {opened} = await import("forgesite/shop/engine");
  const of = JSON.parse(document.getElementById("run-of").textContent);
  const began = performance.now();
  const engine = await opened({worker: document.getElementById("shop").dataset.worker, ...of.engine});
  const woken = performance.now() - began;
  const step = of.document.parts[0].steps[1].key;
  const times = [];
  for (let count = 0; count < 25; count += 1) {
    const began = performance.now();
    await engine.plan({document: of.document, nominal: false, units: "metric"});
    const measured = [{step, kind: "run", branch: "hook", length: String(90 + count)}];
    await engine.answer({part: "hook", measured});
    times.push(performance.now() - began);
  }
  return [woken, ...times];
}"""


def run() -> Iterator[Row]:
    browser = find_browser()
    with (
        site() as address,
        sync_playwright() as driver,
        driver.chromium.launch(executable_path=browser, args=FLAGS) as chromium,
    ):
        for name, path in (("the first screen", READY), ("a step", STEP)):
            seen, weight = zip(*(first_open(chromium, address + path) for _ in range(3)), strict=True)
            yield Row(f"{name}, first open: readable after", min(seen) / 1000, "s", aim=2.5)
            yield Row(f"{name}: all that came, compressed", max(weight) / 1000, "KB", aim=170)
        yield from kept(chromium, address)


def kept(chromium: Browser, address: str) -> Iterator[Row]:
    """Yield what a page kept with the engine takes, the network gone."""
    with phone(chromium, service_workers="allow") as (context, page, wire):
        page.goto(address + READY)
        page.get_by_role("button", name="Keep on this phone").click()
        page.get_by_text("it works without signal").wait_for(timeout=120_000)
        page.goto(address + SHOP)
        context.set_offline(True)
        wire.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        opens = []
        for _ in range(5):
            page.goto(address + SHOP)
            opens.append(page.evaluate(SEEN))
        yield Row("kept page without network: readable after", min(opens) / 1000, "s", aim=1)
        page.goto(f"{address}{SHOP}#hook-0")
        page.wait_for_timeout(1000)  # ms: its scripts start
        yield Row("a step change", min(page.evaluate(TURN)), "ms", aim=100)
        wire.send("Emulation.setCPUThrottlingRate", {"rate": 1})
        woken, first, *more = page.evaluate(REPLAN)
        yield Row("a re-plan × 4", SLOWER * min(more), "ms", aim=300)
        yield Row("the first after the engine was started × 4", SLOWER * first / 1000, "s")
        yield Row("starting the engine, while a size is typed × 4", SLOWER * woken / 1000, "s")


def first_open(chromium: Browser, address: str) -> tuple[float, float]:
    """Return when a page could be read [ms], and what came of all it is made of, without photos [bytes]."""
    with phone(chromium, service_workers="block") as (_, page, wire):
        wire.send("Network.enable")
        wire.send("Network.emulateNetworkConditions", NETWORK)
        wire.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        asked: dict[str, str] = {}
        came: dict[str, float] = {}
        wire.on(
            "Network.requestWillBeSent", lambda one: asked.update({one["requestId"]: one["request"]["url"]})
        )
        wire.on(
            "Network.loadingFinished", lambda one: came.update({one["requestId"]: one["encodedDataLength"]})
        )
        page.goto(address)
        page.wait_for_timeout(3000)  # ms: what scripts ask for comes too
        weight = sum(size for key, size in came.items() if "/photos/" not in asked[key])
        return page.evaluate(SEEN), weight


@contextmanager
def phone(chromium: Browser, **more: Any) -> Iterator[tuple[BrowserContext, Page, CDPSession]]:
    """A new phone: its context, a page, and a line to the browser below it."""
    context = chromium.new_context(**PHONE, **more)
    page = context.new_page()
    try:
        yield context, page, context.new_cdp_session(page)
    finally:
        context.close()


@contextmanager
def site() -> Iterator[str]:
    """The site as it is served, in a folder that is thrown away."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    with tempfile.TemporaryDirectory() as folder:
        surroundings = {**os.environ, "FORGESITE_INSTANCE": folder}
        surroundings.pop("DJANGO_SETTINGS_MODULE", None)
        server = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--port", str(port)],
            cwd=PROJECT,
            env=surroundings,
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
        try:
            wait_for(address, server)
            yield address
        finally:
            os.killpg(server.pid, signal.SIGTERM)
            server.wait(timeout=20)


def wait_for(address: str, server: subprocess.Popen[bytes]) -> None:
    """Wait until the site answers. Raises RuntimeError when it does not."""
    for _ in range(240):
        try:
            urllib.request.urlopen(f"{address}/procedures/").close()
            return
        except (urllib.error.URLError, ConnectionError):
            if server.poll() is not None:
                break
            time.sleep(0.5)
    raise RuntimeError("The site did not start.")
