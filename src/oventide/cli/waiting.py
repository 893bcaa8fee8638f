"""A bar on the terminal while something takes longer; silent where nobody looks."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Progress = Callable[[float], None]


@contextmanager
def waiting(words: str) -> Iterator[Progress | None]:
    """Give a function to call with the share done (0 to 1), or None where the errors go to no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    bar = Progress(TextColumn("{task.description}"), BarColumn(), console=Console(stderr=True), transient=True)
    with bar:
        task = bar.add_task(words, total=1.0)
        yield lambda share: bar.update(task, completed=min(max(share, 0.0), 1.0))
