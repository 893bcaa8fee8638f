"""Data that a page carries for its scripts, written so that nothing in it can end the script element."""

from collections.abc import Iterable

from markupsafe import Markup
from pydantic import BaseModel


def as_json(model: BaseModel) -> Markup:
    """A model for a script element of type application/json.

    >>> class Word(BaseModel):
    ...     words: str
    >>> as_json(Word(words="</script>"))
    Markup('{"words":"\\\\u003c/script>"}')
    """
    return Markup(model.model_dump_json().replace("<", "\\u003c"))


def as_json_list(models: Iterable[BaseModel]) -> Markup:
    """Several models as a list."""
    return Markup("[") + Markup(",").join(as_json(model) for model in models) + Markup("]")
