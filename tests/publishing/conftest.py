"""The kettle's site on disk, and a browser to open it in: Chromium, driven through its DevTools pipe."""

from __future__ import annotations

import base64
import contextlib
import json
import os
import shutil
import subprocess
import threading
import time
from pathlib import Path

import pytest

from diagtree.publishing.site.pages import site_pages
from diagtree.publishing.site.writing import write_site

FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --hide-scrollbars --remote-debugging-pipe"
)


@pytest.fixture(scope="session")
def kettle_pages(kettle) -> dict[str, bytes]:
    return site_pages(kettle)


@pytest.fixture(scope="session")
def kettle_site(kettle_pages, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    write_site(folder, kettle_pages)
    return folder


class Unanswered(Exception):  # noqa: N818
    """The browser could not do what it was told to."""


class Browser:
    """One page in Chromium, spoken to in DevTools messages over a pair of pipes."""

    def __init__(self, profile: Path) -> None:
        program = shutil.which("chromium") or shutil.which("chromium-browser")
        ours_in, theirs_out = os.pipe()
        theirs_in, ours_out = os.pipe()

        def join_pipes() -> None:
            # The program reads from 3 and writes to 4; duplicates first, for either may be taken.
            reads, writes = os.dup(theirs_in), os.dup(theirs_out)
            os.dup2(reads, 3)
            os.dup2(writes, 4)

        self._process = subprocess.Popen(
            [program, *FLAGS.split(), f"--user-data-dir={profile}", "about:blank"],
            preexec_fn=join_pipes,  # noqa: PLW1509 - it duplicates two pipes and takes no lock
            pass_fds=(3, 4),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(theirs_in)
        os.close(theirs_out)
        self._out, self._in = ours_out, os.fdopen(ours_in, "rb", buffering=0)
        self._answers: dict[int, dict] = {}
        self._number = 0
        self._session = ""
        self.events: list[dict] = []
        self._come = threading.Condition()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        page = next(one for one in self.do("Target.getTargets")["targetInfos"] if one["type"] == "page")
        self._session = self.do("Target.attachToTarget", targetId=page["targetId"], flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.do(f"{domain}.enable")
        self.do("Page.setLifecycleEventsEnabled", enabled=True)

    def _read(self) -> None:
        rest = b""
        while piece := self._in.read(65536):
            *whole, rest = (rest + piece).split(b"\0")
            for text in whole:
                message = json.loads(text)
                with self._come:
                    if "id" in message:
                        self._answers[message["id"]] = message
                    else:
                        self.events.append(message)
                    self._come.notify_all()

    def do(self, method: str, **parameters):
        self._number += 1
        message = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._out, data) :]
        with self._come:
            assert self._come.wait_for(lambda: message["id"] in self._answers, 30), f"no answer to {method}"
            answer = self._answers.pop(message["id"])
        if "error" in answer:
            raise Unanswered(f"{method}: {answer['error']}")
        return answer["result"]

    def open(self, path: Path, anchor: str = "") -> None:
        # A page that differs in its anchor alone is not loaded again: go away first.
        self._go("about:blank")
        self._go(path.as_uri() + (f"#{anchor}" if anchor else ""))

    def _go(self, url: str) -> None:
        loader = self.do("Page.navigate", url=url)["loaderId"]
        with self._come:
            assert self._come.wait_for(lambda: self._is_loaded(loader), 30), f"{url} does not load"

    def _is_loaded(self, loader: str) -> bool:
        return any(
            event["method"] == "Page.lifecycleEvent"
            and (event["params"]["loaderId"], event["params"]["name"]) == (loader, "load")
            for event in self.events
        )

    def run(self, script: str):
        answer = self.do("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in answer:
            raise Unanswered(str(answer["exceptionDetails"]))
        return answer["result"].get("value")

    def wait(self, script: str) -> None:
        """Poll until a script is true; while one page gives way to another there is nobody to ask."""
        end = time.monotonic() + 20
        while True:
            with contextlib.suppress(Unanswered):
                if self.run(script):
                    return
            assert time.monotonic() < end, f"never true: {script}"
            time.sleep(0.02)

    def key(self, name: str, text: str = "", shift: bool = False) -> None:
        codes = {"Tab": 9, "Enter": 13, "Escape": 27, "/": 191}
        common = {"key": name, "windowsVirtualKeyCode": codes.get(name, 0), "modifiers": 8 if shift else 0}
        text = text or {"Enter": "\r", "/": "/"}.get(name, "")
        self.do("Input.dispatchKeyEvent", type="keyDown", text=text, **common)
        self.do("Input.dispatchKeyEvent", type="keyUp", **common)

    def type(self, text: str) -> None:
        self.do("Input.insertText", text=text)

    def media(self, scheme: str, kind: str = "") -> None:
        self.do(
            "Emulation.setEmulatedMedia",
            media=kind,
            features=[{"name": "prefers-color-scheme", "value": scheme}],
        )

    def size(self, width: int, height: int) -> None:
        self.do(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=width < 600,
        )

    def picture(self, path: Path) -> None:
        path.write_bytes(base64.b64decode(self.do("Page.captureScreenshot", format="png")["data"]))

    def pdf(self, path: Path) -> None:
        answer = self.do("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
        path.write_bytes(base64.b64decode(answer["data"]))

    @property
    def complaints(self) -> list[str]:
        """All that the browser found wrong: errors in scripts, refused loads, warnings."""
        found = []
        for event in self.events:
            told = event.get("params", {})
            if event["method"] == "Runtime.exceptionThrown":
                found.append(str(told["exceptionDetails"]))
            elif event["method"] == "Runtime.consoleAPICalled":
                found.append(str(told["args"]))
            elif event["method"] == "Log.entryAdded":
                found.append(f"{told['entry']['level']}: {told['entry']['text']}")
        return found

    @property
    def loaded(self) -> set[str]:
        """The addresses that were asked for."""
        return {
            event["params"]["request"]["url"]
            for event in self.events
            if event["method"] == "Network.requestWillBeSent"
        }

    def close(self) -> None:
        self._process.terminate()
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        os.close(self._out)
        self._reader.join(10)
        self._in.close()


@pytest.fixture(scope="session")
def chromium(tmp_path_factory):
    browser = Browser(tmp_path_factory.mktemp("profile"))
    yield browser
    browser.close()


@pytest.fixture
def browser(chromium):
    """The browser as it starts: nothing kept, nothing seen, a desk's screen, daylight."""
    chromium.open(Path(__file__))
    chromium.events.clear()
    chromium.media("light")
    chromium.size(1280, 800)
    return chromium
