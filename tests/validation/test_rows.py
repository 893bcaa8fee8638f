"""Every check of the validation book: met, or missed for a reason that is written down."""

import importlib
import pkgutil

import pytest

from validation import rows
from validation.model import Check, run_once

CHECKS = [
    check
    for module in pkgutil.iter_modules(rows.__path__)
    for check in importlib.import_module(f"validation.rows.{module.name}").CHECKS
]


def _cases() -> list[object]:
    return [pytest.param(check, id=check.id, marks=[pytest.mark.slow] if check.slow else []) for check in CHECKS]


@pytest.mark.parametrize("check", _cases())
def test_check(check: Check) -> None:
    """A check without a reason holds; one with a reason still misses."""
    outcome = run_once(check)
    told = f"published {check.published}, ours {outcome.ours} {check.unit}, off by {outcome.error:.4g}"
    if check.miss:
        assert not outcome.ok, f"no longer misses, take its reason out: {told}"
    else:
        assert outcome.ok, told


def test_ids_are_unique() -> None:
    ids = [check.id for check in CHECKS]
    assert len(ids) == len(set(ids))
