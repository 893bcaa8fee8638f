"""Formulas as files: the text of a file that was sent, and a product written out as TOML or recipe JSON-LD."""

from oventide.errors import refuse
from oventide.intake import jsonld, product_toml
from oventide.intake.clean import MOST_BYTES
from oventide.timeline.procedure import Product

_TEXTS = "Give a plain text (UTF-8), our TOML or a recipe JSON file."


def text_of(content: bytes, name: str, field: str = "file") -> str:
    """The text in a file, UTF-8 or UTF-16 with its mark; refused where it is too long or no text.

    >>> text_of(b"500 g flour", "dough.txt")
    '500 g flour'
    """
    if len(content) > MOST_BYTES:
        raise refuse(field, name, "This is more than 1 MB, too much for one recipe.", "Give one recipe.")
    encoding = "utf-16" if content[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as trouble:
        raise refuse(field, name, "This file is not a text.", _TEXTS) from trouble
    if "\0" in text:
        raise refuse(field, name, "This file is not a text.", _TEXTS)
    return text


def as_toml(product: Product) -> str:
    """The product as TOML of our own design."""
    return product_toml.write(product)


def as_jsonld(product: Product) -> str:
    """The product as schema.org Recipe JSON-LD, which carries the whole of it."""
    return jsonld.write(product)
