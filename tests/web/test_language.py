"""The language of the bench and of paper: chosen once, kept by the browser; and the words that the scripts ask for."""

import pytest

from oventide.words.catalogue import LANGUAGES, bench_messages


def test_a_language_is_kept_and_the_baker_goes_back(client):
    answer = client.post("/language", data={"language": "de", "paper": "it", "back": "/paste"}, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/paste"
    assert "oventide_language=de" in answer.headers["set-cookie"]
    assert "oventide_paper=it" in answer.headers["set-cookie"]


@pytest.mark.parametrize("back", ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example"])
def test_a_language_nobody_speaks_and_a_way_out_are_not_taken(client, back):
    answer = client.post("/language", data={"language": "tlh", "back": back}, follow_redirects=False)
    assert answer.headers["location"] == "/"
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("language", [*LANGUAGES, "tlh"])
def test_scripts_get_their_own_messages_and_no_others(client, language):
    answer = client.get(f"/words/{language}.json")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("application/json")
    assert answer.json() == bench_messages(language if language in LANGUAGES else "en")
    assert "Raw flour, dough and egg are not for tasting." not in answer.json()
