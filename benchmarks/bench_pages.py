"""How long a page takes with 1,000 formulas and 10,000 bakes stored: build/bench-pages.json and docs/speed-pages.md.

A server on the loopback is asked each page many times, one question after another, each time for another formula,
bake, word or ingredient, so that nothing is answered from having been asked before. Two times are taken: from the
question to the last byte of the answer, and the processor's time for both ends together, which does not feel what else
the machine does. Forecast pages are measured once their forecast is there.

    python -m benchmarks.bench_pages --times 40
"""

import argparse
import http.client
import json
import os
import random
import socket
import threading
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote

import uvicorn
from benchmarks.filled import TASTES, fill_bakes, fill_shelf

from oventide.journal.listing import listed
from oventide.services import foreseeing, reading
from oventide.services.finding import finding_of
from oventide.services.outlooking import NoLive
from oventide.services.shelf import Shelf
from oventide.web.app import create_app

ROOT = Path(__file__).parents[1]
ASKED_MS = 100.0
READY = "ready_by=07%3A30"
WORDS = ("poppy", "popy seeds", "butter", "crème fraîche", "seam", "core 92", "march 2024", "lantern quay", "kerf",
         "st", "the", "samfire", "flour milk butter", "retard", "opened late")  # fmt: skip


@dataclass(frozen=True)
class Row:
    """One page. Times in ms."""

    page: str
    times: int
    p50_ms: float
    p95_ms: float
    cpu_p95_ms: float
    kilobytes: float


@dataclass(frozen=True)
class Stock:
    """What there is to ask for."""

    formulas: tuple[str, ...]
    bakes: tuple[str, ...]
    under_way: tuple[str, ...]
    foreseen: str


def pages(stock: Stock, chance: random.Random) -> dict[str, Callable[[], str]]:
    """Page by page, an address; formulas, bakes and words change from one question to the next."""

    def of(tail: str) -> Callable[[], str]:
        return lambda: f"/formulas/{chance.choice(stock.formulas)}{tail}"

    def word() -> str:
        return quote(chance.choice(WORDS))

    return {
        "shelf": lambda: "/",
        "shelf, another page of it": lambda: f"/?page={chance.randrange(2, 26)}",
        "shelf, by name and words": lambda: f"/?by=name&q={quote(chance.choice(TASTES)[0])}",
        "find": lambda: f"/find?q={word()}",
        "bakes": lambda: "/bakes",
        "bakes, another page of them": lambda: f"/bakes?page={chance.randrange(2, 250)}",
        "bakes, by words": lambda: f"/bakes?q={quote(chance.choice(TASTES)[0])}",
        "a bake looked back on": lambda: f"/bakes/{chance.choice(stock.bakes)}",
        "bench": lambda: "/bench",
        "a bake at the bench": lambda: f"/bench/{chance.choice(stock.under_way)}",
        "its view": lambda: f"/bench/{chance.choice(stock.under_way)}/view",
        "alarms": lambda: "/bench/alarms",
        "a formula": of(""),
        "make-up": of("/make-up"),
        "revisions": of("/revisions"),
        "ruler": of("/ruler"),
        "a formula as a file": of("/formula.toml"),
        "tide": lambda: f"/formulas/{stock.foreseen}/tide?{READY}",
        "bench sheet": lambda: f"/formulas/{stock.foreseen}/sheet?{READY}",
        "section through the tin": lambda: f"/formulas/{stock.foreseen}/section?{READY}",
        "pantry": lambda: "/pantry",
        "pantry, by words": lambda: f"/pantry?q={word()}",
        "an ingredient": lambda: f"/pantry/{chance.choice(('butter_unsalted', 'flour_bread_unenriched', 'honey'))}",
        "kitchens": lambda: "/kitchens",
        "a kitchen": lambda: "/kitchens/lantern-quay-bakehouse",
        "paste": lambda: "/paste",
        "glossary": lambda: "/glossary",
        "about": lambda: "/about",
    }


class Asker:
    """One connection that is kept open, as a browser keeps one."""

    def __init__(self, port: int) -> None:
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)

    def ask(self, address: str) -> tuple[int, bytes, float, float]:
        """Status, answer, time and processor's time [ms]."""
        begun, used = time.perf_counter(), time.process_time()
        self._connection.request("GET", address)
        answer = self._connection.getresponse()
        body = answer.read()
        took = (1000 * (time.perf_counter() - begun), 1000 * (time.process_time() - used))
        return answer.status, body, *took


def share(values: list[float], part: float) -> float:
    """The value that a part of them does not exceed.

    >>> share([5.0, 1.0, 3.0, 2.0, 4.0], 0.95), share([1.0, 2.0, 3.0], 0.5)
    (5.0, 2.0)
    """
    return sorted(values)[min(int(part * len(values)), len(values) - 1)]


def wait_for_forecast(asker: Asker, addresses: list[str]) -> None:
    """Ask until the pages no longer wait."""
    for address in addresses:
        for _ in range(600):
            status, body, _, _ = asker.ask(address)
            if status != 200 or b'id="going"' not in body:
                break
            time.sleep(0.3)


def measure(asker: Asker, stock: Stock, times: int, only: str = "") -> list[Row]:
    """Every page, asked `times` times; a page that is not there yet is left out and said."""
    asked = pages(stock, random.Random(7))
    wait_for_forecast(asker, [asked[name]() for name in ("tide", "bench sheet", "section through the tin")])
    rows = []
    for name, address in asked.items():
        if only and only not in name:
            continue
        for _ in range(3):  # modules and templates are loaded with the first question, as after a start
            status, _, _, _ = asker.ask(address())
        if status != 200:
            print(f"{name}: left out, {address()} answers {status}")
            continue
        answers = [asker.ask(address()) for _ in range(times)]
        wrong = [answer[0] for answer in answers if answer[0] != 200]
        if wrong:
            print(f"{name}: {len(wrong)} of {times} answers were not a page")
        took, used = [answer[2] for answer in answers], [answer[3] for answer in answers]
        size = max(len(answer[1]) for answer in answers) / 1000
        values = (share(took, 0.5), share(took, 0.95), share(used, 0.95), size)
        rows.append(Row(name, times, *(round(value, 1) for value in values)))
        p50, p95, cpu, kilobytes = values
        print(f"{name:30s} p50 {p50:7.1f} ms  p95 {p95:7.1f} ms  processor {cpu:7.1f} ms  {kilobytes:5.0f} kB")
    return rows


def table(rows: list[Row], formulas: int, bakes: int, load: float) -> str:
    """The document's text."""
    lines = "\n".join(
        f"| {row.page} | {row.p50_ms:.1f} | {row.p95_ms:.1f} | {row.cpu_p95_ms:.1f} | {row.kilobytes:.0f} "
        f"| {'kept' if row.p95_ms <= ASKED_MS else '**missed**'} |"
        for row in rows
    )
    return f"""# Speed of the pages

Written by `python -m benchmarks.bench_pages` on a machine with {os.cpu_count()} cores, with {formulas:,} formulas and
{bakes:,} bakes stored. Each page is asked {rows[0].times if rows else 0} times over the loopback, each time for another
formula, bake or word. p95 is asked to be at most {ASKED_MS:.0f} ms. The processor's time is that of both ends together.
Forecast pages are measured once their forecast is there. Load while measuring: {load:.0f} on {os.cpu_count()} cores;
where it is above, questions waited for other work, and the processor's time says more. The same figures:
`build/bench-pages.json`.

| page | p50, ms | p95, ms | processor p95, ms | kB | |
|---|---|---|---|---|---|
{lines}

The list of names is read by its rows alone and kept until something is saved; what a row shows besides is taken out of
the stored text by SQLite, for the rows of one page. The search looks in an FTS5 table of its own, which follows the
journal by its row numbers and is filled behind the start. The make-up of a new tin and number of pieces is worked out
once (about 0.3 s) and kept while the program runs.
"""


def prepared(folder: Path, formulas: int, bakes: int) -> tuple[str, Stock]:
    """A filled journal, and what is in it."""
    url = f"sqlite:///{(folder / 'journal.sqlite3').as_posix()}"
    shelf = Shelf.at(url)
    if shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen):
        fill_shelf(shelf, formulas)
        fill_bakes(shelf, bakes, shelf.kitchens()[0])
    finding_of(shelf).catch_up()
    chance = random.Random(3)
    keys = [row.key for row in listed(shelf.journal, "product")]
    made = [row.key for row in shelf.journal.bakes.page(limit=2000) if row.finished_at]
    under_way = tuple(row.key for row in shelf.journal.bakes.under_way())
    foreseen = "lantern-quay-poppy-coils"
    return url, Stock(tuple(chance.sample(keys, min(200, len(keys)))), tuple(made), under_way, foreseen)


def main() -> None:
    """Fill, serve, ask, write."""
    parser = argparse.ArgumentParser(description="Times of the pages with a full journal")
    parser.add_argument("--formulas", type=int, default=1000)
    parser.add_argument("--bakes", type=int, default=10_000)
    parser.add_argument("--times", type=int, default=40)
    parser.add_argument("--folder", type=Path, help="keep the filled journal here, and take it again")
    parser.add_argument("--only", default="", help="pages whose name holds this; nothing is written then")
    chosen = parser.parse_args()
    with TemporaryDirectory() as made:
        folder = chosen.folder or Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        url, stock = prepared(folder, chosen.formulas, chosen.bakes)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        app = create_app(url, live=NoLive())
        config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error", access_log=False, lifespan="off")
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.05)
        rows = measure(Asker(port), stock, chosen.times, chosen.only)
        server.should_exit = True
        thread.join(10)
        if not chosen.only:
            (ROOT / "build").mkdir(exist_ok=True)
            load = os.getloadavg()[1]
            told = {"formulas": chosen.formulas, "bakes": chosen.bakes, "asked_ms": ASKED_MS, "load": load,
                    "pages": [asdict(row) for row in rows]}  # fmt: skip
            (ROOT / "build" / "bench-pages.json").write_text(json.dumps(told, indent=1) + "\n", "utf-8")
            page = table(rows, chosen.formulas, chosen.bakes, load)
            (ROOT / "docs" / "speed-pages.md").write_text(page, "utf-8")


if __name__ == "__main__":
    main()
