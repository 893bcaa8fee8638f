"""The documented schema is the models' own: docs are fresh, and every field of the brief stands in them."""

import importlib.util
import json
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("schema_tool", ROOT / "tools" / "schema.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_docs_are_fresh(tool):
    assert tool.stale() == [], "run: python tools/schema.py"


def properties(name: str, part: str | None = None) -> set[str]:
    schema = json.loads((ROOT / "docs" / "schema" / f"{name}.json").read_text("utf-8"))
    return set((schema["$defs"][part] if part else schema)["properties"])


def test_the_promised_fields_are_there():
    assert {"components", "unread"} <= properties("read")
    assert {"name", "lines"} <= properties("read", "ReadComponent")
    assert {"text", "amount", "unit", "ingredient", "grams", "assumed"} <= properties("read", "ReadLine")
    assert properties("read", "GramsRange") == {"low", "likely", "high"}
    assert {"baker_percent", "grams"} <= properties("weigh", "WeighLine")
    assert {"true_water_percent", "sugar_on_water_percent"} <= properties("weigh", "Totals")
    wanted = "thickness_mm turns log_diameter_mm log_length_mm piece_height_mm layout gaps fill"
    assert set(wanted.split()) <= properties("makeup")
    assert {"name", "unit", "p5", "p50", "p95", "because", "sources"} <= properties("foresee", "Reading")
    assert {"start", "end", "readings"} <= properties("foresee", "StepForecast")


def test_a_changed_model_makes_the_docs_stale(tool, monkeypatch):
    from pydantic import BaseModel

    class Other(BaseModel):
        name: str

    monkeypatch.setitem(tool.ANSWERS, "read", (Other, "oventide read"))
    assert "docs/schema/read.json" in tool.stale()
