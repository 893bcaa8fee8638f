"""Write docs/schema/*.json and docs/schema.md from the models that the commands answer with.

    python tools/schema.py            writes them
    python tools/schema.py --check    says which are stale, and ends with 1

The words beside a field are the text that stands below it in the model's source.
"""

import ast
import inspect
import json
import sys
import textwrap
from itertools import pairwise
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from oventide.bench.model import Alarms, BenchView, Noted
from oventide.forecast.model import Forecast
from oventide.press.model import BenchSheet
from oventide.services.answers import MakeUpAnswer, ReadAnswer, WeighAnswer
from oventide.services.bake_list import BakeList
from oventide.services.record import Record
from oventide.services.travelling import ToldAnswer, TravelAnswer

DOCS = Path(__file__).resolve().parent.parent / "docs"
ANSWERS: dict[str, tuple[type[BaseModel], str]] = {
    "read": (ReadAnswer, "oventide read FILE|- --json"),
    "weigh": (WeighAnswer, "oventide weigh FORMULA [--pieces N | --dough-g X | --flour-g X | --factor X] --json"),
    "makeup": (MakeUpAnswer, "oventide makeup FORMULA --sheet 40x30cm --pieces 12 --tin rectangle:20x30cm --json"),
    "foresee": (Forecast, "oventide foresee FORMULA --kitchen FILE [--ready-by HH:MM] [--seed N] --json"),
    "travel": (TravelAnswer, "oventide travel FORMULA --to-tin round:24cm [--to-oven static …] --json"),
    "rescue": (ToldAnswer, "oventide rescue FORMULA --forgot salt --found shaping --json"),
    "chill": (ToldAnswer, "oventide chill FORMULA --dough 4kg --depth 12cm [--hours 10h] --json"),
    "weep": (ToldAnswer, "oventide weep FORMULA [--spread LINE] [--strewn LINE] --hours 12h --json"),
    "glaze": (ToldAnswer, "oventide glaze FORMULA [--line LINE] --surface 60C --json"),
    "probe": (ToldAnswer, "oventide probe FORMULA --core 84C --after 25min [--tops pale] --json"),
    "proof": (ToldAnswer, "oventide proof FORMULA --room 18C --room 26C --json"),
    "log-show": (BenchView, "oventide log start FORMULA, oventide log show [BAKE] --json"),
    "log": (Noted, "oventide log weigh|reading|mark|done|undo|note|ready-by|rescue|finish BAKE … --json"),
    "log-alarms": (Alarms, "oventide log alarms --json, oventide log heard [ALARM] --json"),
    "log-list": (BakeList, "oventide log list [WORDS] --json"),
    "log-record": (Record, "oventide log record BAKE --json"),
    "log-forgot": (ToldAnswer, "oventide log forgot BAKE salt --json"),
    "sheet": (BenchSheet, "oventide sheet FORMULA -o FILE.pdf prints this; the pages show it"),
}
HEAD = """# What the commands answer

Made by `tools/schema.py` from the models; a test fails where this page is stale. Do not edit it by hand.

`--json` prints one object, with two spaces of indent, on the standard output and nothing else there. Refusals go to
the standard error, one line each (`field (value): what is allowed. what to do.`), with exit code 2 and nothing on the
standard output. Exit code 1 is a fault of the program, 130 is Ctrl-C.

Masses are in grams, lengths in millimetres, times in minutes, temperatures in °C, shares of flour in per cent,
unless a field says otherwise. What is not known is `null`, never zero and never NaN; a sentence says why. A field
that is not marked "may be null" is always there. JSON Schema (draft 2020-12) of each answer: `schema/*.json`.

The order of `--sheet WxL`: W is the width, along the log; L is the length that is rolled up.
"""


def _subclasses(model: type[BaseModel]) -> dict[str, type[BaseModel]]:
    """A model and every model that its fields hold, by name."""
    found: dict[str, type[BaseModel]] = {}

    def visit(annotation: Any) -> None:
        if inspect.isclass(annotation) and issubclass(annotation, BaseModel):
            if annotation.__name__ not in found:
                found[annotation.__name__] = annotation
                for field in annotation.model_fields.values():
                    visit(field.annotation)
            return
        for argument in getattr(annotation, "__args__", ()):
            visit(argument)

    visit(model)
    return found


def field_words(model: type[BaseModel]) -> dict[str, str]:
    """The text below each field in the model's source."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(model)))
    body = tree.body[0].body if isinstance(tree.body[0], ast.ClassDef) else []
    words = {}
    for node, following in pairwise(body):
        if (
            isinstance(node, ast.AnnAssign)
            and isinstance(node.target, ast.Name)
            and isinstance(following, ast.Expr)
            and isinstance(following.value, ast.Constant)
            and isinstance(following.value.value, str)
        ):
            words[node.target.id] = " ".join(following.value.value.strip('" ').split())
    return words


def schema_of(model: type[BaseModel]) -> dict[str, Any]:
    """The JSON Schema of an answer as it is printed, with the words of the source."""
    schema = model.model_json_schema(mode="serialization")
    models = _subclasses(model)
    for name, part in [(model.__name__, schema), *schema.get("$defs", {}).items()]:
        if name in models:
            words = field_words(models[name])
            for field, entry in part.get("properties", {}).items():
                if field in words:
                    entry["description"] = words[field]
            part["required"] = list(part.get("properties", {}))
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    return schema


def kind_words(entry: dict[str, Any]) -> str:
    """The type of a field in words."""
    if "$ref" in entry:
        name = entry["$ref"].rsplit("/", 1)[1]
        return f"[{name}](#{name.lower()})"
    if "enum" in entry:
        return "one of " + ", ".join(f"`{value}`" for value in entry["enum"])
    if "const" in entry:
        return f"`{entry['const']}`"
    if "anyOf" in entry:
        kinds = [kind_words(option) for option in entry["anyOf"] if option.get("type") != "null"]
        return " or ".join(kinds) + ", may be null" * any(option.get("type") == "null" for option in entry["anyOf"])
    if entry.get("type") == "array":
        return f"list of {kind_words(entry['items'])}" if "items" in entry else "list"
    if entry.get("type") == "object":
        return "object of " + kind_words(entry.get("additionalProperties") or {})
    return {"string": "text", "number": "number", "integer": "whole number", "boolean": "true or false"}.get(
        entry.get("type", ""), "any"
    )


def _table(part: dict[str, Any]) -> list[str]:
    lines = ["| field | is | |", "|---|---|---|"]
    for field, entry in part.get("properties", {}).items():
        words = entry.get("description", "").replace("|", "\\|")
        lines.append(f"| `{field}` | {kind_words(entry)} | {words} |")
    return lines


def page(schemas: dict[str, dict[str, Any]]) -> str:
    """docs/schema.md."""
    lines = [HEAD]
    parts: dict[str, dict[str, Any]] = {}
    for command, schema in schemas.items():
        _, usage = ANSWERS[command]
        lines += [f"## {command}", "", f"`{usage}`", "", schema.get("description", ""), ""]
        lines += [*_table(schema), ""]
        parts |= schema.get("$defs", {})
    lines += ["## Parts", ""]
    for name, part in sorted(parts.items()):
        if "properties" in part:
            lines += [f"### {name}", "", " ".join(part.get("description", "").split()), "", *_table(part), ""]
    return "\n".join(lines).rstrip() + "\n"


def documents() -> dict[Path, str]:
    """Every generated file with its content."""
    schemas = {command: schema_of(model) for command, (model, _) in ANSWERS.items()}
    made = {
        DOCS / "schema" / f"{command}.json": json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
        for command, schema in schemas.items()
    }
    return made | {DOCS / "schema.md": page(schemas)}


def stale() -> list[str]:
    """Generated files that do not say what the models say."""
    return [
        str(path.relative_to(DOCS.parent))
        for path, content in documents().items()
        if not path.is_file() or path.read_text("utf-8") != content
    ]


def main() -> int:
    """Write, or check."""
    if "--check" in sys.argv[1:]:
        names = stale()
        for name in names:
            print(f"{name} is stale: run tools/schema.py")
        return 1 if names else 0
    for path, content in documents().items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
