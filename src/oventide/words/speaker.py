"""One voice in one language: messages, numbers, dates and clock times, lists; and English sentences told again."""

import gettext
from collections.abc import Callable, Iterable
from datetime import date, datetime
from functools import cache

from babel import Locale
from babel.dates import format_date
from babel.lists import format_list
from babel.numbers import format_decimal

from oventide.words.catalogue import ENGLISH, LANGUAGES, ingredient_names, messages
from oventide.words.retelling import Retelling, localised

_LOCALES = {"en": "en_GB", "fr": "fr", "de": "de", "it": "it", "es": "es"}
Value = str | int | float


class Speaker:
    """Says things in a language. Messages are written in English, with {named} places for values.

    >>> Speaker("de").number(2.5, 1), Speaker("en").number(2000), Speaker("fr").say("no such message")
    ('2,5', '2000', 'no such message')
    """

    def __init__(self, language: str = ENGLISH) -> None:
        self.language = language if language in LANGUAGES else ENGLISH
        self.locale = Locale.parse(_LOCALES[self.language])

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Speaker) and other.language == self.language

    def __hash__(self) -> int:
        return hash(self.language)

    @property
    def is_english(self) -> bool:
        return self.language == ENGLISH

    def say(self, msgid: str, /, **values: Value) -> str:
        """A message with its values; numbers are written as the language writes them."""
        return self._filled(messages(self.language).said.get(msgid, msgid), values)

    def say_many(self, one: str, many: str, count: int, /, **values: Value) -> str:
        """A message whose form hangs on a number, which is the value {count}.

        >>> [Speaker("en").say_many("{count} piece", "{count} pieces", count) for count in (1, 12)]
        ['1 piece', '12 pieces']
        """
        forms = messages(self.language).many.get(one, (one, many))
        return self._filled(forms[_rule(messages(self.language).rule)(count)], {**values, "count": count})

    def _filled(self, form: str, values: dict[str, Value]) -> str:
        if not values:
            return form
        return form.format(**{name: self._shown(value) for name, value in values.items()})

    def _shown(self, value: Value) -> str:
        return value if isinstance(value, str) else self.number(value)

    def number(self, value: float, decimals: int | None = None) -> str:
        """A decimal number without marks between thousands, as a scale shows it.

        >>> Speaker("it").number(1253.04, 1), Speaker("en").number(-0.4), Speaker("es").number(0.5)
        ('1253,0', '−0.4', '0,5')
        """
        pattern = "0.###" if decimals is None else "0" if decimals == 0 else "0." + "0" * decimals
        return format_decimal(value, format=pattern, locale=self.locale).replace("-", "−")

    def clock(self, moment: datetime) -> str:
        """The time of day, always in 24 hours."""
        return f"{moment:%H:%M}"

    def day(self, day: date) -> str:
        """A date in few words.

        >>> Speaker("en").day(date(2026, 11, 25)), Speaker("de").day(date(2026, 11, 25))
        ('25 Nov 2026', '25.11.2026')
        """
        return format_date(day, format="medium", locale=self.locale)

    def moment(self, moment: datetime) -> str:
        """A date with its time of day."""
        return f"{self.day(moment.date())}, {self.clock(moment)}"

    def listed(self, items: Iterable[str]) -> str:
        """Things in a row, as a sentence holds them.

        >>> Speaker("en").listed(["wheat", "milk", "egg"]), Speaker("it").listed(["a", "b"])
        ('wheat, milk and egg', 'a e b')
        """
        return format_list(list(items), style="standard", locale=self.locale)

    def ingredient(self, ingredient_id: str | None, written: str) -> str:
        """What an ingredient is called: in English as it was written, elsewhere by the pantry's name for it there."""
        if self.is_english or ingredient_id is None:
            return written
        return ingredient_names(self.language).get(ingredient_id, written)

    def retell(self, text: str) -> str:
        """An English sentence of this program in the language; what is not recognised stays as it was written."""
        return text if self.is_english else _retelling(self.language)(text)

    def thing(self, name: str) -> str:
        """What a part of a formula is called. It is looked up in lower case: `Spread` is a deed, `spread` a thing.

        >>> Speaker("de").thing("Spread"), Speaker("de").retell("Spread"), Speaker("de").thing("Aunt Ada's paste")
        ('Aufstrich', 'Bestreichen', "Aunt Ada's paste")
        """
        plain = name[:1].lower() + name[1:]
        told = self.retell(plain)
        return name if told == plain else told[:1].upper() + told[1:]

    def knows(self, text: str) -> bool:
        """Whether a whole English text is one of ours, so that all of it can be told again."""
        return _retelling(self.language).knows(text)

    def figure(self, text: str) -> str:
        """A figure that is already in words (2.5 g), with the language's decimal mark.

        >>> Speaker("fr").figure("×1.8")
        '×1,8'
        """
        return text if self.is_english else localised(text, self.language)


@cache
def _rule(expression: str) -> Callable[[int], int]:
    return gettext.c2py(expression)


@cache
def _retelling(language: str) -> Retelling:
    own, here = ingredient_names(ENGLISH), ingredient_names(language)
    return Retelling({own[key]: here[key] for key in own} | messages(language).said, language)
