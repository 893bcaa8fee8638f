"""Drawings made by the program itself, put into a page."""

import base64

from markupsafe import Markup, escape


def framed(svg: str, name: str) -> Markup:
    """A drawing as a picture that the page's rules for style cannot reach, since it carries its own.

    The text inside stays text for a screen reader through the caption beside it.
    """
    data = base64.b64encode(svg.encode()).decode()
    return Markup('<img src="data:image/svg+xml;base64,{}" alt="{}">').format(
        data, escape(f"Drawing to scale: {name.replace('_', ' ')}")
    )
