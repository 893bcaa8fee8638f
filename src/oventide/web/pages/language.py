"""The language of the bench and the language of paper, kept in cookies of this browser; and the scripts' own words."""

from pydantic import RootModel

from oventide.web.ask import Ask, Data, Redirect
from oventide.words.catalogue import LANGUAGES, bench_messages, known_language


def handle(ask: Ask) -> Redirect:
    """Set what was chosen and go back to where the baker was."""
    cookies = {}
    if ask.form.get("language") in LANGUAGES:
        cookies["oventide_language"] = ask.form["language"]
    if ask.form.get("paper") in LANGUAGES:
        cookies["oventide_paper"] = ask.form["paper"]
    back = ask.form.get("back", "/")
    return Redirect(back if back.startswith("/") and not back.startswith(("//", "/\\")) else "/", cookies)


def handle_words(ask: Ask) -> Data:
    """What the scripts at the bench say in a language: message by message, English where the language is not known."""
    return Data(RootModel[dict[str, str]](bench_messages(known_language(ask.path["language"]))))
