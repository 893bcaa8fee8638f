"""Figures as data: what loads, what refuses to load, and what a draw looks like."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.evidence import parameters
from oventide.evidence.parameters import EvidenceError, Parameter, draw, load


def _load_text(text: str, monkeypatch: pytest.MonkeyPatch, tmp_path) -> parameters.ParameterSet:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "room.toml").write_text(text, "utf-8")
    monkeypatch.setattr(parameters, "files", lambda _: tmp_path)
    monkeypatch.setattr(parameters, "sources", lambda: {"practice": None})
    return parameters.load.__wrapped__("room")


GOOD = 'value = 2\nunit = "g"\ngrade = "remembered"\nwhat = "a weight"\n'


def test_a_parameter_without_a_range_is_fixed(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    found = _load_text(f"[a.b]\n{GOOD}", monkeypatch, tmp_path)["a.b"]
    assert (found.low, found.value, found.high, found.spread) == (2, 2, 2, "fixed")


@pytest.mark.parametrize(
    "broken",
    [
        GOOD + "lwo = 1\n",
        GOOD.replace('unit = "g"\n', ""),
        GOOD.replace("remembered", "guessed"),
        GOOD.replace("remembered", "read"),
        GOOD + 'source = "nobody"\n',
        GOOD + "low = 3\n",
        GOOD + 'spread = "wide"\n',
    ],
    ids=["slip", "no-unit", "no-grade", "read-without-source", "unknown-source", "low-above-value", "no-spread"],
)
def test_a_file_that_breaks_the_rules_does_not_load(broken: str, monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    with pytest.raises(EvidenceError):
        _load_text(f"[a]\n{broken}", monkeypatch, tmp_path)


@given(
    st.sampled_from(["normal", "lognormal", "uniform"]),
    st.floats(0.5, 5), st.floats(0.01, 0.4), st.floats(0.01, 2.0),
)  # fmt: skip
def test_low_and_high_are_the_ends_of_ninety_per_cent(spread, value: float, down: float, up: float) -> None:
    low, high = value * (1 - down), value * (1 + up)
    parameter = Parameter("x", value, "1", "", "assumed", low, high, spread)
    ends = parameter.at(np.array([0.05, 0.5, 0.95]))
    if spread == "uniform":
        assert ends[0] == pytest.approx(low + 0.05 * (high - low))
    else:
        assert ends == pytest.approx([low, value, high], rel=1e-6)


def test_same_seed_same_members_and_one_member_is_the_likely_kitchen() -> None:
    rows = [Parameter("a", 2, "1", "", "assumed", 1, 4, "lognormal"), Parameter("b", 3, "1", "", "exact", 3, 3)]
    first, again, other = draw(rows, 64, 5), draw(rows, 64, 5), draw(rows, 64, 6)
    assert np.array_equal(first["a"], again["a"])
    assert not np.array_equal(first["a"], other["a"])
    assert (first["b"] == 3).all()
    assert draw(rows, 1, 5)["a"].tolist() == [2]
    assert 0.4 < float(np.mean(first["a"] < 2)) < 0.6


def test_every_published_range_of_balance_names_its_source() -> None:
    for name, parameter in load("formula-balance").parameters.items():
        assert parameter.source, name
