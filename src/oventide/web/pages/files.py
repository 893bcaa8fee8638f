"""A formula as a file: our TOML, or recipe JSON-LD; both lead back to the same formula."""

from oventide.services import files
from oventide.web.ask import Ask, Download


def handle_toml(ask: Ask) -> Download:
    """The formula as TOML."""
    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    return Download(files.as_toml(saved.content).encode(), "application/toml; charset=utf-8", f"{saved.key}.toml")


def handle_jsonld(ask: Ask) -> Download:
    """The formula as recipe JSON-LD."""
    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    return Download(files.as_jsonld(saved.content).encode(), "application/ld+json", f"{saved.key}.jsonld")
