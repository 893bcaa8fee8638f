"""Drawings made by the program itself, put into a page as they are."""

from markupsafe import Markup


def framed(svg: str) -> Markup:
    """A drawing as part of the page, so that its text is text and takes the page's type.

    The canvas in oventide.makeup.svg escapes every text and writes no script and no style, so nothing that a baker
    typed can act here; the page's content policy would refuse it besides.
    """
    return Markup(svg)
