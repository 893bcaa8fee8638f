"""The bench in each language: what the laptop sends to a tablet has no English left but the baker's own words."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from oventide.journal.store import Journal
from oventide.services.bakes import Bakes
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.words.catalogue import LANGUAGES, ingredient_names, messages
from oventide.words.speaker import Speaker

NOW = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)


@pytest.fixture
def bakes(tmp_path: Path) -> Iterator[Bakes]:
    opened = Journal(f"sqlite:///{tmp_path / 'journal.sqlite3'}")
    yield Bakes(opened, None, lambda: NOW)
    opened.close()


@pytest.mark.parametrize("language", [language for language in LANGUAGES if language != "en"])
def test_a_view_is_told_whole(bakes: Bakes, language: str) -> None:
    bake = bakes.begin(
        demo_product(), demo_kitchen(), product_key="coils", product_revision=1, kitchen_key="quay", name="Coils"
    )
    reading = {"uid": "abcdefgh1", "deed": "reading", "at": NOW.isoformat(), "step": 0,
               "quantity": "dough temperature", "value": 26.5}  # fmt: skip
    weighed = {"uid": "abcdefgh2", "deed": "weighed", "at": NOW.isoformat(), "step": 0, "line": "0.0", "value": 60.0}
    speaker = Speaker(language)
    noted = bakes.note(bake.key, {"entries": [reading, weighed]}, NOW + timedelta(minutes=1), speaker)
    assert len(noted.taken) == 2
    view = noted.view
    own = {step.text for step in demo_product().procedure.steps}
    said = [
        *(text for step in view.steps for text in (step.name, step.action, step.target, step.outside, *step.cautions)),
        *(
            text
            for line in (*view.weighing, *view.weigh_later)
            for text in (line.component, line.name, line.difference)
        ),
        *(alarm.words for alarm in view.alarms),
        *(each.words for each in view.noted),
        *view.said,
    ]
    assert said
    english = {message for message, told in messages(language).said.items() if told != message}
    english |= {name for key, name in ingredient_names("en").items() if ingredient_names(language)[key] != name}
    left = [text for text in said if text and text not in own and text in english]
    assert left == []
    stretches = {
        part.strip()
        for message, told in messages(language).said.items()
        for part in re.split(r"\{\w+\}", message)
        if len(re.findall(r"[A-Za-z]{2,}", part)) >= 3 and part not in told
    }
    left = [(text, part) for text in said for part in stretches if part in text]
    assert left == []
    names = {line.name for line in (*view.weighing, *view.weigh_later)}
    assert ingredient_names(language)["poppy_seed"] in names
    assert any(speaker.number(26.5, 1) in each.words for each in view.noted)
