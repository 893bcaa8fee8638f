"""A formula goes out as a file and comes back the same; a file that is none is answered in words."""

import pytest
from starlette.testclient import TestClient

from oventide.services import reading

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}


def send(client: TestClient, content: bytes, name: str, **data: str):
    return client.post(
        "/reading", data={"text": "", "spoons": "", "eggs": "", **data}, files={"file": (name, content)}, headers=OWN
    )


@pytest.mark.parametrize("ending", ["toml", "jsonld"])
def test_a_file_that_went_out_comes_back_the_same(client: TestClient, key: str, ending: str) -> None:
    answer = client.get(f"/formulas/{key}/formula.{ending}")
    assert answer.status_code == 200
    assert f'filename="{key}.{ending}"' in answer.headers["content-disposition"]
    saved = client.app.state.shelf.product(key).content
    assert reading.read_file(answer.text, f"{key}.{ending}") == saved
    page = send(client, answer.content, f"{key}.{ending}")
    assert page.status_code == 200
    assert f'value="{saved.name}"' in page.text


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_text_file_is_read_like_a_paste(client: TestClient, recipe: str, encoding: str) -> None:
    page = send(client, recipe.encode(encoding), "knots.txt")
    assert page.status_code == 200
    assert 'value="400 g bread flour"' in page.text


@pytest.mark.parametrize(
    ("content", "name", "words"),
    [
        (b"\x89PNG\r\n\x1a\n\xff\xfe\x00\x00", "photo.png", "not a text"),
        (b"500 g flour\0", "half.txt", "not a text"),
        (b"1 g flour\n" * 110_000, "book.txt", "more than 1 MB"),
        (b'[[component]]\nname = "half', "half.toml", ""),
        (b'{"@type": "Recipe"', "half.json", ""),
    ],
)
def test_a_file_that_is_no_recipe_marks_its_box(client: TestClient, content: bytes, name: str, words: str) -> None:
    answer = send(client, content, name)
    assert answer.status_code == 422
    mark = answer.text.split('id="mark-file">')[1].split("</span>")[0]
    assert "<b>" in mark
    assert words in mark
    assert len(client.app.state.shelf.products()) == 1


def test_a_text_and_a_file_at_once_are_not_guessed_between(client: TestClient, recipe: str) -> None:
    answer = send(client, b"500 g flour", "dough.txt", text=recipe)
    assert answer.status_code == 422
    assert "A text and a file were given" in answer.text
    assert "Quayside seed knots" in answer.text, "what was typed is kept"


def test_forty_megabytes_of_file_are_refused(client: TestClient) -> None:
    answer = send(client, b"a" * 41_943_040, "large.txt")
    assert answer.status_code == 413
    assert "more than a recipe" in answer.text


def test_what_is_no_form_is_answered_in_words(client: TestClient) -> None:
    answer = client.post("/reading", content=b"--x\r\nnonsense", headers={
        **OWN, "content-type": "multipart/form-data; boundary=x"})  # fmt: skip
    assert answer.status_code in (400, 422)
    assert "<html" in answer.text
    two = client.post("/reading", data={"text": ""}, headers=OWN,
                      files=[("file", ("a.txt", b"a")), ("other", ("b.txt", b"b"))])  # fmt: skip
    assert two.status_code == 400
    assert "one file at a time" in two.text
