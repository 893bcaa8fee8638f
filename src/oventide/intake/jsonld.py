"""schema.org Recipe as JSON-LD, in and out.

Out: the recipe in schema.org's words, and under our own key `oventide:product` everything it has no word for.
In: our own key where the words around it still say the same; else the words are read as a pasted recipe.
"""

import html
import json
import re
from typing import Any

from pydantic import ValidationError

from oventide.errors import refuse
from oventide.formula.model import Measures
from oventide.intake.clean import check_size
from oventide.intake.text import read_recipe
from oventide.timeline.procedure import Product

CONTEXT = "https://schema.org"
OWN = "oventide:product"
_TAG = re.compile(r"<[^<>]{0,300}>")
_SCRIPT = re.compile(r"<script[^>]{0,200}application/ld\+json[^>]{0,200}>", re.IGNORECASE)


def write(product: Product) -> str:
    """JSON-LD text that reads back as the same product."""
    document = _public(product) | {OWN: product.model_dump(mode="json")}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _public(product: Product) -> dict[str, Any]:
    """The product in schema.org's own words."""
    document: dict[str, Any] = {
        "@context": [CONTEXT, {"oventide": "urn:oventide:"}],
        "@type": "Recipe",
        "name": product.name,
        "recipeIngredient": [line.text for part in product.formula.components for line in part.lines],
        "recipeInstructions": [
            {"@type": "HowToStep", "name": step.name or step.kind, "text": step.text or step.name or step.kind}
            for step in product.procedure.steps
        ],
    }
    if product.makeup.pieces is not None:
        document["recipeYield"] = f"{product.makeup.pieces} pieces"
    if product.notes:
        document["description"] = product.notes
    return document


def looks_like(text: str) -> bool:
    """Whether a text is JSON, or a page with JSON-LD in it."""
    start = text.lstrip("\ufeff \t\r\n")[:1]
    return (
        start in {"{"}
        or (start == "[" and bool(re.match(r"^\[\s*\{", text.lstrip("\ufeff \t\r\n"))))
        or bool(_SCRIPT.search(text[:500_000]))
    )


def read(text: str, measures: Measures | None = None) -> Product:
    """The product of a JSON-LD text, or of the first Recipe in it."""
    check_size(text, "recipe")
    recipe = _recipe(_parse(text))
    if recipe is None:
        raise refuse(
            "recipe",
            text.strip()[:60],
            "There is no Recipe of schema.org in it.",
            "Paste the recipe's words, or another file.",
        )
    own = recipe.get(OWN)
    if isinstance(own, dict):
        try:
            product = Product.model_validate_json(json.dumps(own))
        except ValidationError as error:
            first = error.errors()[0]
            field = ".".join(str(part) for part in first["loc"])
            raise refuse(
                f"recipe.{OWN}.{field}",
                first.get("input", ""),
                first["msg"] + ".",
                f"Correct it, or delete {OWN}: the words are read then.",
            ) from None
        public = {key: value for key, value in recipe.items() if key != OWN}
        if all(public.get(key) == item for key, item in _public(product).items()):
            return product
    return _from_words(recipe, measures)


def _parse(text: str) -> object:
    bare = text.lstrip("\ufeff \t\r\n")
    if not bare.startswith(("{", "[")):
        scripts = _SCRIPT.search(text)
        if scripts is None:
            raise refuse("recipe", bare[:60], "This is not JSON.", "Paste the recipe's words instead.")
        for found in _SCRIPT.finditer(text):
            end = text.find("</script", found.end())
            inner = text[found.end() : end if end >= 0 else len(text)]
            try:
                document = json.loads(inner)
            except (ValueError, RecursionError):
                continue
            if _recipe(document) is not None:
                return document
        return {}
    try:
        return json.loads(bare)
    except RecursionError:
        raise refuse("recipe", "", "The brackets are nested too deep.", "Paste the recipe's words instead.") from None
    except ValueError as error:
        place = getattr(error, "lineno", None)
        line = f"Line {place} is" if place else "It is"
        raise refuse(
            "recipe", bare[:60], f"{line} not finished or not JSON.", "Copy the whole block again, from { to }."
        ) from None


def _recipe(node: object, depth: int = 0) -> dict[str, Any] | None:
    """The first Recipe in a document, depth first."""
    if depth > 12:
        return None
    if isinstance(node, list):
        return next((found for item in node[:500] if (found := _recipe(item, depth + 1)) is not None), None)
    if not isinstance(node, dict):
        return None
    kind = node.get("@type")
    kinds = kind if isinstance(kind, list) else [kind]
    if any(isinstance(item, str) and item.rsplit("/", 1)[-1] == "Recipe" for item in kinds):
        return node
    for key in ("@graph", "mainEntity", "mainEntityOfPage", "itemListElement", "item"):
        found = _recipe(node.get(key), depth + 1)
        if found is not None:
            return found
    return None


def _words(item: object) -> str:
    """Plain words of a value: without tags and entities."""
    if isinstance(item, list):
        return "\n".join(_words(entry) for entry in item)
    if isinstance(item, int | float) and not isinstance(item, bool):
        return f"{item:g}"
    if not isinstance(item, str):
        return ""
    text = re.sub(r"<(?:br|/p|/li|/div)[^<>]{0,50}>", "\n", item, flags=re.IGNORECASE)
    return html.unescape(html.unescape(_TAG.sub(" ", text))).strip()


def _steps(item: object, depth: int = 0) -> list[str]:
    """Instructions in any of the forms that schema.org allows."""
    if depth > 6:
        return []
    if isinstance(item, list):
        return [step for entry in item for step in _steps(entry, depth + 1)]
    if isinstance(item, dict):
        inner = item.get("itemListElement")
        if inner is not None:
            return _steps(inner, depth + 1)
        text, name = _words(item.get("text")), _words(item.get("name"))
        return [text or name] if text or name else []
    return [line for line in _words(item).splitlines() if line.strip()]


def _from_words(recipe: dict[str, Any], measures: Measures | None) -> Product:
    ingredients = recipe.get("recipeIngredient") or recipe.get("ingredients") or []
    lines = [line for line in _words(ingredients).splitlines() if line.strip()]
    steps = [re.sub(r"\s*\n\s*", " ", step) for step in _steps(recipe.get("recipeInstructions"))]
    if not lines and not steps:
        raise refuse(
            "recipe", "", "The Recipe holds neither ingredients nor instructions.", "Paste the recipe's words instead."
        )
    name = _words(recipe.get("name")).splitlines()
    made = recipe.get("recipeYield") or recipe.get("yield") or ""
    amounts = [_words(entry) for entry in (made if isinstance(made, list) else [made]) if _words(entry)]
    text = [f"# {name[0] if name else 'Recipe'}", ""]
    if amounts:
        longest = max(amounts, key=len)
        text.append(longest if re.match(r"^(?:makes|yield|serves)", longest, re.I) else f"Yield: {longest}")
    text += ["Ingredients", *lines, "Method", *steps]
    product = read_recipe("\n".join(text), measures)
    told = _words(recipe.get("description"))
    notes = "\n".join(part for part in (told, product.notes) if part)
    return product.model_copy(update={"name": name[0] if name else product.name, "notes": notes})
