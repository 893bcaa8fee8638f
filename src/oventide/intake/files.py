"""Any recipe file or paste as a product: what it is, is decided by its content, never by its name."""

import re
import tomllib

from oventide.errors import refuse
from oventide.formula.model import Measures
from oventide.intake import jsonld, product_toml
from oventide.intake.clean import check_size
from oventide.intake.text import read_recipe
from oventide.timeline.procedure import Product

_TOML_SIGN = re.compile(
    r"^\s*(?:\[\[?[A-Za-z_]+\]?\]\s*(?:#.*)?|(?:name|spoons|eggs|notes|unread|kind|lines|do|sheet|pieces|tin)\s*=.*)$",
    re.MULTILINE,
)
_TABLE_SIGN = re.compile(r"^\s*\[\[?(?:component|makeup|step)\]?\]", re.MULTILINE)


def kind_of(text: str) -> str:
    """``toml``, ``json`` or ``text``.

    >>> kind_of('name = "Rolls"\\n[[component]]'), kind_of('{"@type": "Recipe"}'), kind_of("500 g flour")
    ('toml', 'json', 'text')
    """
    if jsonld.looks_like(text):
        return "json"
    head = text[:200_000]
    if _TABLE_SIGN.search(head) or len(_TOML_SIGN.findall(head)) >= 2:
        return "toml"
    if "=" in head[:2000]:
        try:
            if product_toml.is_product(tomllib.loads(text)):
                return "toml"
        except (tomllib.TOMLDecodeError, RecursionError):
            pass
    return "text"


def _unmarked_utf16(data: bytes) -> str | None:
    """UTF-16 without its mark: nearly every second byte of the start is nothing, and the others are letters."""
    start = data[:2000]
    half = len(start) // 2
    if half < 10:
        return None
    even, odd = start[0::2].count(0), start[1::2].count(0)
    if odd > 0.8 * half and even < 0.02 * half:
        return "utf-16-le"
    return "utf-16-be" if even > 0.8 * half and odd < 0.02 * half else None


def decode(data: bytes, field: str = "file") -> str:
    """Bytes of a file as text: UTF-8, or UTF-16 with its mark, or Windows letters. Refuses what is no text."""
    if len(data) > 4_000_000:
        raise refuse(
            field, f"{len(data) / 1e6:.1f} MB", "A recipe is read up to 1 MB of text.", "Give only the recipe."
        )
    for mark, code in ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return data.decode(code, errors="replace")
    unmarked = _unmarked_utf16(data)
    if unmarked is not None:
        return data.decode(unmarked, errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        if b"\x00" in data[:4000]:
            raise refuse(
                field, f"{len(data)} bytes", "This is not text; it looks like a picture, a PDF or a packed file.",
                "Open the recipe where you can read it, and copy its words.",
            ) from None  # fmt: skip
        return data.decode("cp1252", errors="replace")


def read_product(text: str, name: str = "", measures: Measures | None = None) -> Product:
    """The product of a text of any of our three kinds. `name` is the file's name, used where the text has no title."""
    check_size(text, name or "text")
    kind = kind_of(text)
    if kind == "toml":
        return product_toml.read(text)
    product = jsonld.read(text, measures) if kind == "json" else read_recipe(text, measures)
    if product.name in {"Dough", "Recipe"} and name:
        stem = re.sub(r"\.\w{1,5}$", "", name.replace("\\", "/").rsplit("/", 1)[-1])
        if stem and stem != "-":
            return product.model_copy(
                update={"name": stem, "formula": product.formula.model_copy(update={"name": stem})}
            )
    return product
