"""The cases that the laptop's fold and the scripts of the bench are both held to; the scripts in tests/web/bench."""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from oventide.bench.fold import fold
from oventide.bench.model import Bake, Entry, Taken

CASES = json.loads(Path(__file__).with_name("fold_cases.json").read_text("utf-8"))


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["name"])
def test_the_laptop_folds_as_the_cases_say(bake: Bake, case: dict) -> None:
    assert len(bake.product.procedure.steps) == CASES["steps"], "the cases are written for this many steps"
    start = bake.started_at
    latest = max((minutes for _, _, minutes, _ in case["entries"]), default=0)
    taken = [
        Taken(
            number=number,
            taken_at=start + timedelta(minutes=latest + 1),
            entry=Entry.model_validate({"uid": uid, "deed": deed, "at": start + timedelta(minutes=minutes), **fields}),
        )
        for number, (uid, deed, minutes, fields) in enumerate(case["entries"], start=1)
    ]
    now = fold(bake, taken)
    done: dict[str, float] = {}
    for one in now.counted:
        if one.entry.deed == "done":
            done.setdefault(str(one.entry.step), (one.at - start).total_seconds() / 60)
    offered = [one.entry.uid for one in now.counted if one.entry.deed != "heard"]
    assert now.now_step == case["now"]
    assert done == case["done"]
    assert {line: each.bowl_g for line, each in now.weighed.items()} == case["weighed"]
    assert sorted(now.heard) == case["heard"]
    assert now.undone & {entry[0] for entry in case["entries"]} == set(case["undone"])
    assert [reading.uid for reading in now.readings] == case["readings"]
    assert (now.finished_at is not None) is case["finished"]
    assert (offered[-1] if offered else None) == case["last"]
