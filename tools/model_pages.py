"""Put every page of docs/models into the contents of the documents, so that a new model's page cannot be forgotten.

MkDocs calls `on_config` (see mkdocs.yml). Titles are the pages' own headings.
"""

from pathlib import Path
from typing import Any

SECTION = "Models"


def model_pages(docs: Path) -> list[dict[str, str]]:
    """Title and path of every model's page, by title."""
    found: list[dict[str, str]] = []
    for path in docs.joinpath("models").glob("*.md"):
        heading = next(line for line in path.read_text("utf-8").splitlines() if line.startswith("# "))
        found.append({heading.removeprefix("# ").strip(): f"models/{path.name}"})
    return sorted(found, key=lambda entry: next(iter(entry)).lower())


def on_config(config: Any) -> Any:
    """MkDocs event: add the pages to the section that mkdocs.yml names."""
    for entry in config.nav:
        if SECTION in entry:
            entry[SECTION] = entry[SECTION] + model_pages(Path(config.docs_dir))
    return config
