"""The shelf: formulas and kitchens, opened, saved and looked back on. The clock enters here."""

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Generic, Literal, TypeVar

from pydantic import ValidationError

from oventide.errors import Refusal, refuse
from oventide.formula.model import Frozen
from oventide.journal.place import default_url
from oventide.journal.store import Journal, Kind, Revision
from oventide.journal.watching import Added as Added
from oventide.journal.watching import Mark as Mark
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product

Clock = Callable[[], datetime]
T = TypeVar("T", bound=Frozen)
DEMO = Path(__file__).parent / "demo"
KEY_LIMIT = 60


def local_now() -> datetime:
    """The wall clock, with its zone."""
    return datetime.now().astimezone()


@dataclass(frozen=True)
class Saved(Generic[T]):
    """A thing from the shelf with its label: key (its address), revision number, when and why it was saved."""

    key: str
    number: int
    newest: int
    saved_at: datetime
    note: str
    digest: str
    content: T

    @property
    def is_newest(self) -> bool:
        return self.number == self.newest


def key_from_name(name: str) -> str:
    """An address from a name.

    >>> key_from_name("Lantern Quay poppy coils")
    'lantern-quay-poppy-coils'
    >>> key_from_name("???")
    'unnamed'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:KEY_LIMIT].strip("-") or "unnamed"


class Shelf:
    """Use cases over one journal."""

    def __init__(self, journal: Journal, clock: Clock = local_now) -> None:
        self._journal = journal
        self.clock = clock
        self.on_saved: Callable[[str, str, int], None] | None = None
        """Told of every revision that is saved here: its kind, key and number."""

    @property
    def journal(self) -> Journal:
        """Where it lies; the bakes are kept in the same file."""
        return self._journal

    @classmethod
    def at(cls, url: str | None = None, clock: Clock = local_now) -> "Shelf":
        """The shelf by its journal's address; without one, the user's own."""
        return cls(Journal(url or default_url()), clock)

    def mark(self) -> Mark:
        """Where the journal stands: what is read afterwards is at least as new."""
        return self._journal.mark()

    def added_since(self, mark: Mark, limit: int) -> tuple[Added, ...]:
        """What was added to the journal after the mark, by this program or another one, oldest first."""
        return self._journal.added_since(mark, limit)

    def products(self, text: str = "", limit: int = -1, offset: int = 0) -> tuple[Saved[Product], ...]:
        """The newest revision of every formula, last saved first; a page of those whose names have every word."""
        found = self._journal.page("product", text, limit, offset)
        return tuple(self._saved(revision, Product, revision.number) for revision in found)

    def kitchens(self, text: str = "", limit: int = -1, offset: int = 0) -> tuple[Saved[Kitchen], ...]:
        """The newest revision of every kitchen, last saved first; a page of those whose names have every word."""
        found = self._journal.page("kitchen", text, limit, offset)
        return tuple(self._saved(revision, Kitchen, revision.number) for revision in found)

    def count(self, kind: Kind, text: str = "") -> int:
        """How many formulas or kitchens there are, by the words of their names."""
        return self._journal.count(kind, text)

    def product(self, key: str, number: int | None = None) -> Saved[Product]:
        """A formula by key; its newest revision, or the one asked for."""
        return self._open("product", Product, key, number)

    def kitchen(self, key: str, number: int | None = None) -> Saved[Kitchen]:
        """A kitchen by key; its newest revision, or the one asked for."""
        return self._open("kitchen", Kitchen, key, number)

    def product_history(self, key: str) -> tuple[Saved[Product], ...]:
        """Every revision of a formula, newest first."""
        return self._history("product", Product, key)

    def kitchen_history(self, key: str) -> tuple[Saved[Kitchen], ...]:
        """Every revision of a kitchen, newest first."""
        return self._history("kitchen", Kitchen, key)

    def save_product(
        self, product: Product, note: str = "", key: str | None = None, after: int | None = None
    ) -> Saved[Product]:
        """Save a formula as a new revision of `key`, or under a new key made from its name."""
        if not product.name.strip():
            raise refuse("name", product.name, "A formula needs a name to stand on the shelf.", "Type a name.")
        revision = self._save("product", product.name, product, note, key, after)
        return self._saved(revision, Product, revision.number)

    def save_kitchen(
        self, kitchen: Kitchen, note: str = "", key: str | None = None, after: int | None = None
    ) -> Saved[Kitchen]:
        """Save a kitchen as a new revision of `key`, or under a new key made from its name."""
        if not kitchen.name.strip():
            raise refuse("name", kitchen.name, "A kitchen needs a name to be found again.", "Type a name.")
        revision = self._save("kitchen", kitchen.name, kitchen, note, key, after)
        return self._saved(revision, Kitchen, revision.number)

    def newest_of(self, kind: Kind, model: type[T]) -> tuple[Saved[T], ...]:
        """The newest revision of everything of a kind, last saved first."""
        return tuple(self._saved(revision, model, revision.number) for revision in self._journal.newest(kind))

    def history_of(self, kind: Kind, model: type[T], key: str) -> tuple[Saved[T], ...]:
        """Every revision of one thing, newest first."""
        return self._history(kind, model, key)

    def save_as(self, kind: Kind, model: type[T], key: str, name: str, content: T, note: str, after: int) -> Saved[T]:
        """Save a thing as a new revision of `key`; refused where another was saved after revision `after`."""
        revision = self._save(kind, name, content, note, key, after)
        return self._saved(revision, model, revision.number)

    def load_demo_if_empty(
        self, read_product: Callable[[str, str], Product], read_kitchen: Callable[[str, str], Kitchen]
    ) -> bool:
        """Put the demo formula and kitchen on an empty shelf; True where that was done.

        The readers are arguments (text, file name), so that the shelf does not depend on how files are read.
        """
        if self._journal.count("product") or self._journal.count("kitchen"):
            return False
        by_name = {path.stem: path for ending in ("*.txt", "*.toml") for path in sorted(DEMO.glob(ending))}
        for path in by_name.values():  # a formula that lies there as text and as TOML is loaded once, from the TOML
            text = path.read_text(encoding="utf-8")
            if "kitchen" in path.stem:
                self.save_kitchen(read_kitchen(text, path.name), note="demo")
            else:
                self.save_product(read_product(text, path.name), note="demo")
        return True

    def _free_key(self, kind: Kind, name: str) -> str:
        base = key_from_name(name)
        taken = self._journal.keys(kind)
        key, count = base, 1
        while key in taken:
            count += 1
            key = f"{base}-{count}"
        return key

    def _save(self, kind: Kind, name: str, content: Frozen, note: str, key: str | None, after: int | None) -> Revision:
        if key is None:
            key, after = self._free_key(kind, name), 0
        saved = self._journal.append(
            kind, key, name.strip(), content.model_dump_json(), note.strip(), self.clock(), after
        )
        if self.on_saved is not None:
            self.on_saved(kind, saved.key, saved.number)
        return saved

    def _history(self, kind: Kind, model: type[T], key: str) -> tuple[Saved[T], ...]:
        revisions = self._journal.history(kind, key)
        if not revisions:
            raise NotOnShelf(kind, key)
        return tuple(self._saved(revision, model, revisions[0].number) for revision in revisions)

    def _open(self, kind: Kind, model: type[T], key: str, number: int | None) -> Saved[T]:
        revision = self._journal.revision(kind, key, number)
        if revision is not None:
            newest = revision.number if number is None else self._journal.newest_number(kind, key)
            return self._saved(revision, model, newest)
        known = number is not None and self._journal.newest_number(kind, key)
        raise NotOnShelf(kind, f"{key}, revision {number}" if known else key)

    def _saved(self, revision: Revision, model: type[T], newest: int) -> Saved[T]:
        if not revision.is_intact:
            raise refuse("journal", f"{revision.key}, revision {revision.number}",
                         "What is stored does not match the digest that it was saved with.",
                         "The file was damaged. Take the last backup, or open another revision.")  # fmt: skip
        try:
            content = model.model_validate_json(revision.content)
        except ValidationError as trouble:
            raise refuse("journal", f"{revision.key}, revision {revision.number}",
                         "This revision holds something that this version cannot read.",
                         "It was not changed. Open it with the version that saved it.") from trouble  # fmt: skip
        return Saved(
            key=revision.key,
            number=revision.number,
            newest=newest,
            saved_at=revision.saved_at,
            note=revision.note,
            digest=revision.digest,
            content=content,
        )


class NotOnShelf(Refusal):
    """Nothing of that kind and key; the pages answer with 404."""

    def __init__(self, kind: Kind | Literal["ingredient"], key: str) -> None:
        what = "formula" if kind == "product" else kind
        super().__init__(
            refuse(what, key, f"There is no {what} of that name on the shelf.", "Go back to the shelf.").complaints
        )
