"""Put every page of docs/models and docs/validation into the contents, so that a new page cannot be forgotten.

MkDocs calls `on_config` (see mkdocs.yml). Titles are the pages' own headings.
"""

from pathlib import Path
from typing import Any

SECTIONS = {"Models": "models", "Validation": "validation"}


def pages_of(docs: Path, folder: str) -> list[dict[str, str]]:
    """Title and path of every page of a folder, by title."""
    found: list[dict[str, str]] = []
    for path in docs.joinpath(folder).glob("*.md"):
        heading = next(line for line in path.read_text("utf-8").splitlines() if line.startswith("# "))
        found.append({heading.removeprefix("# ").strip(): f"{folder}/{path.name}"})
    return sorted(found, key=lambda entry: next(iter(entry)).lower())


def on_config(config: Any) -> Any:
    """MkDocs event: add the pages to the sections that mkdocs.yml names."""
    for entry in config.nav:
        for section, folder in SECTIONS.items():
            if section in entry:
                entry[section] = entry[section] + pages_of(Path(config.docs_dir), folder)
    return config
