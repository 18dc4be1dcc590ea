"""Opens the documentation page, tries one operation on it, and fails on any request that leaves loopback.

Usage: docs.py CHROMIUM SERVICE SCREENSHOT
"""

import sys
from urllib.parse import urlsplit

from playwright.sync_api import Page, sync_playwright

# Chromium's own calls home are switched off, so that every request seen is the page's.
SWITCHES = [
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
    "--no-first-run",
]


def watch(page: Page, outward: list[str], errors: list[str]) -> None:
    """Notes each request that leaves loopback and each error that the page meets."""

    def requested(url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in ("data", "blob") and parts.hostname not in ("127.0.0.1", "localhost", "::1"):
            outward.append(url)

    page.on("request", lambda request: requested(request.url))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda fault: errors.append(str(fault)))
    page.on("requestfailed", lambda request: errors.append(f"{request.url}: {request.failure}"))


def try_salts(page: Page) -> None:
    """Unfolds the list of salts, executes it, and waits for the answer."""
    operation = page.locator(".opblock-get", has_text="/v1/salts").first
    operation.locator(".opblock-summary-control").click()
    operation.get_by_role("button", name="Try it out").click()
    operation.get_by_role("button", name="Execute").click()
    status = operation.locator(".live-responses-table tbody .response-col_status").first
    status.wait_for(timeout=10_000)
    assert status.inner_text().strip().startswith("200"), f"the page was answered {status.inner_text()!r}"


def main(chromium: str, service: str, screenshot: str) -> None:
    outward: list[str] = []
    errors: list[str] = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=SWITCHES)
        page = browser.new_page(viewport={"width": 1280, "height": 1600})
        watch(page, outward, errors)
        page.goto(f"{service}/docs", wait_until="networkidle")
        page.locator(".opblock").first.wait_for(timeout=15_000)
        assert page.locator(".opblock").count() >= 4, "the page shows too few operations"
        page.screenshot(path=screenshot)
        try_salts(page)
        browser.close()
    assert not outward, f"requests that left this machine: {outward}"
    assert not errors, f"errors on the page: {errors}"


if __name__ == "__main__":
    main(*sys.argv[1:])
