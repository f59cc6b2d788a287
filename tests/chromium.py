"""Finds a Chromium for the browser tests, or gets one; with none there is one sentence and a failure, never a skip."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

__all__ = ["FLAGS", "NONE_FOUND", "NOWHERE", "find_chromium", "find_or_get_chromium", "chromium_started"]

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome", "msedge")
PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
)
NONE_FOUND = ("No Chromium was found and none could be got (apt-get as root, then playwright's own, were tried): "
              "install Chromium and run the tests again.")
# Off-line and quiet: the browser itself asks nothing of the outside either.
FLAGS = ("--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
         "--disable-component-update --disable-sync --disable-dev-shm-usage").split()
# Chromium makes two pages of its own for its address line with every context, unseen and about 0.8 s of work: left out.
# A second list takes the place of the first, so that what playwright itself leaves out is named again.
LEFT_OUT = ("AvoidUnnecessaryBeforeUnloadCheckSync DestroyProfileOnBrowserClose HttpsUpgrades HttpsFirstBalancedModeAutoEnable "
            "LensOverlay MediaRouter PaintHolding ThirdPartyStoragePartitioning AvoidCorsURLLoaderRestartOnRedirect "
            "OptimizationHints NetworkTimeServiceQuerying AimEnabled PreconnectToSearch "
            "WebUIOmniboxPopup WebUIOmniboxAimPopup").split()
FLAGS.append("--disable-features=" + ",".join(LEFT_OUT))


# Names resolve to nothing, so that even a request the guard should miss goes nowhere.
NOWHERE = "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"


def find_chromium() -> str | None:
    """The path of a Chromium on this machine, or None."""
    for name in NAMES:
        found = shutil.which(name)
        if found:
            return found
    for place in (*PLACES, _playwrights_own()):
        if place and Path(place).is_file():
            return place
    return None


def find_or_get_chromium() -> str | None:
    """The path of a Chromium, got from the system's packages or from playwright when there is none."""
    return find_chromium() or _from_packages() or _from_playwright()


def _from_packages() -> str | None:
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return None
    quiet = {"DEBIAN_FRONTEND": "noninteractive"}
    for words in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", "chromium"]):
        done = subprocess.run(["apt-get", *words], env=os.environ | quiet, stdout=subprocess.DEVNULL)
        if done.returncode and words[0] == "install":
            return None
    return find_chromium()


def _from_playwright() -> str | None:
    subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], check=False)
    return find_chromium()


def _playwrights_own() -> str:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        return driver.chromium.executable_path


@contextmanager
def chromium_started(*more: str) -> Iterator:
    """A Chromium without windows, with these flags beside the usual ones; where there is none the test fails."""
    import pytest
    from playwright.sync_api import sync_playwright

    path = find_chromium()
    if path is None:
        pytest.fail(NONE_FOUND)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=[*FLAGS, *more])
        yield browser
        browser.close()
