"""Opening what a command names: a file, the standard input, or a name on the shelf; and writing a file whole."""

import os
import sys
from pathlib import Path

from oventide.errors import refuse
from oventide.formula.model import EGG_CLASSES, EggClass
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product
from oventide.units.measure import COUNTRIES, Country

LIMIT_BYTES = 1_000_000
"""A recipe is a few thousand characters; a million is a book, and more is a mistake."""
_LIMIT_REMEDY = "Give one recipe, at most 1 MB of text."


def read_text(name: str, field: str) -> str:
    """The text of a file, or of the standard input where the name is '-'; refused where it is not a text."""
    if name == "-":
        raw = sys.stdin.buffer.read(LIMIT_BYTES + 1)
    else:
        path = Path(name)
        try:
            if path.is_dir():
                raise refuse(field, name, "This is a folder, not a file.", "Name one file in it.")
            with path.open("rb") as file:
                raw = file.read(LIMIT_BYTES + 1)
        except (OSError, ValueError) as trouble:
            why = (trouble.strerror if isinstance(trouble, OSError) else None) or "its name cannot be used"
            raise refuse(field, name, f"The file cannot be read: {why}.", "Check its name and its rights.") from trouble
    if len(raw) > LIMIT_BYTES:
        raise refuse(field, name, "This is more than 1 MB, too much for one recipe.", _LIMIT_REMEDY)
    for encoding in ("utf-8-sig", "utf-16") if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig",):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise refuse(field, name, "This is not a text in UTF-8.", "Save it as plain text (UTF-8), or paste the text.")


def _choice(value: str | None, field: str, allowed: tuple[str, ...]) -> str | None:
    if value is None or value in allowed:
        return value
    raise refuse(field, value, "This is not one of the choices.", f"Choose one of: {', '.join(allowed)}.")


def choice(value: str, field: str, allowed: tuple[str, ...]) -> str:
    """The value, where it is one of the choices."""
    _choice(value, field, allowed)
    return value


def open_product(name: str, spoons: str | None = None, eggs: str | None = None) -> Product:
    """A product from a file (our TOML, JSON-LD or a pasted text), from '-', or from the shelf by name."""
    from oventide.services.reading import read_file

    country: Country | None = next((c for c in COUNTRIES if c == _choice(spoons, "spoons", COUNTRIES)), None)
    egg_class: EggClass | None = next((c for c in EGG_CLASSES if c == _choice(eggs, "eggs", EGG_CLASSES)), None)
    if name != "-" and not os.path.lexists(name):
        stored = stored_product(name)
        if stored is not None:
            return stored[0]
        raise refuse(
            "formula",
            name,
            "There is no such file, and no formula of that name on the shelf.",
            "Give a file (TOML, JSON-LD or a pasted recipe), '-' for the standard input, or a stored name.",
        )
    return read_file(read_text(name, "formula"), "standard input" if name == "-" else name, country, egg_class)


def stored_product(name: str) -> tuple[Product, str, int] | None:
    """A stored formula with its key and revision, where the name is on the shelf and no file is meant."""
    if name == "-" or os.path.lexists(name) or not name.strip() or "/" in name or "." in name:
        return None
    from oventide.services.shelf import NotOnShelf, Shelf, key_from_name

    try:
        saved = Shelf.at().product(key_from_name(name))
    except NotOnShelf:
        return None
    return saved.content, saved.key, saved.number


def stored_kitchen_key(name: str | None) -> str:
    """The key of a stored kitchen; empty where a file, or none, was named."""
    if name is None or name == "-" or os.path.lexists(name):
        return ""
    from oventide.services.shelf import key_from_name

    return key_from_name(name)


def open_kitchen(name: str | None) -> Kitchen | None:
    """A kitchen from its TOML file or from the shelf; None where none was named."""
    if name is None:
        return None
    from oventide.services.foreseeing import read_kitchen

    if name != "-" and not os.path.lexists(name):
        if name.strip() and "/" not in name and "." not in name:
            from oventide.services.shelf import NotOnShelf, Shelf, key_from_name

            try:
                return Shelf.at().kitchen(key_from_name(name)).content
            except NotOnShelf:
                pass
        raise refuse(
            "kitchen",
            name,
            "There is no such file, and no kitchen of that name on the shelf.",
            "Give a kitchen's TOML file, or leave the option out: usual figures are then assumed and named.",
        )
    return read_kitchen(read_text(name, "kitchen"), "standard input" if name == "-" else name)


def check_target(path: str, field: str = "output") -> None:
    """Refuse a place that cannot be written to, before the work that is to be written there."""
    target = Path(path)
    if path == "-":
        return
    if target.is_dir():
        raise refuse(field, path, "This is a folder.", "Name a file in it, like sheet.pdf.")
    if not target.parent.is_dir():
        raise refuse(field, path, "Its folder is not there.", "Make the folder first, or name another.")


def write_whole(path: str, content: bytes, field: str = "output") -> None:
    """Write a file so that it is there whole or not at all; '-' is the standard output."""
    check_target(path, field)
    if path == "-":
        sys.stdout.buffer.write(content)
        return
    target = Path(path)
    beside = target.with_name(target.name + ".part")
    try:
        beside.write_bytes(content)
        beside.replace(target)
    except OSError as trouble:
        beside.unlink(missing_ok=True)
        raise refuse(
            field, path, f"The file cannot be written: {trouble.strerror}.", "Check the folder and its rights."
        ) from trouble
