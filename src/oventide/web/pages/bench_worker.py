"""The script that keeps the bench in the browser, where a browser lets it: with the list of what it keeps."""

import json

from oventide.web.ask import Ask, Download
from oventide.web.assets import FOLDER, asset_address, files_in

WORKER = "bench/worker.js"
APART = ("bench/theme.js", "bench/bench.css")
"""Named in the page with a mark of their own, not through the folder's."""
FONTS = ("besley-latin-wght-normal.woff2", "atkinson-hyperlegible-next-latin-wght-normal.woff2")


def parts() -> tuple[str, ...]:
    """Addresses of everything that a bench page asks for besides itself."""
    folder = asset_address("bench/")
    modules = (
        folder + name.removeprefix("bench/")
        for name in files_in("bench/")
        if name.endswith(".js") and name not in (*APART, WORKER)
    )
    named = (asset_address(name) for name in (*APART, "oventide.css", "mark.svg"))
    return (*modules, *named, *(f"/static/fonts/{name}" for name in FONTS))


def handle(ask: Ask) -> Download:
    """The worker."""
    del ask
    kept = parts()
    head = f"const EDITION = {json.dumps(asset_address('bench/').split('/')[2])};\nconst PARTS = {json.dumps(kept)};\n"
    return Download(
        (head + (FOLDER / WORKER).read_text("utf-8")).encode(), "text/javascript; charset=utf-8",
        "oventide-worker.js", inline=True,
    )  # fmt: skip
