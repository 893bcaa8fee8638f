"""The passphrase that lets a tablet join: chosen from our own list of words, or the baker's own. Kept as a hash."""

import math
import secrets
import threading
import unicodedata
from functools import cache
from pathlib import Path

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from oventide.errors import refuse

WORDS_FILE = Path(__file__).parent / "data" / "join_words.txt"
WORDS = 5
SHORTEST = 14
LONGEST = 200
_HASHER = PasswordHasher()  # argon2id, with the library's own costs
_ONE_AT_A_TIME = threading.Lock()
"""A hash takes 64 MB for a moment; many at once would starve a small laptop."""


@cache
def word_list() -> tuple[str, ...]:
    """Our own list of short plain words.

    >>> len(word_list()) > 512, len(set(word_list())) == len(word_list())
    (True, True)
    """
    return tuple(WORDS_FILE.read_text(encoding="utf-8").split())


def chosen() -> str:
    """Five words by chance.

    >>> len(chosen().split())
    5
    """
    return " ".join(secrets.choice(word_list()) for _ in range(WORDS))


def bits() -> float:
    """How much chance is in a passphrase that is chosen here [bit].

    >>> 45 < bits() < 50
    True
    """
    return WORDS * math.log2(len(word_list()))


def plain(text: str) -> str:
    """As it is compared: a tablet's keyboard writes capitals, hyphens and double spaces of its own accord.

    >>> plain("  Lantern-oak  TIDE ")
    'lantern oak tide'
    """
    return " ".join(unicodedata.normalize("NFKC", text).casefold().replace("-", " ").split())


def checked(text: str) -> str:
    """The baker's own passphrase, if it is long enough to withstand guessing."""
    words = plain(text)
    if not SHORTEST <= len(words) <= LONGEST or len(set(words)) < 6:
        raise refuse("passphrase", "", f"A passphrase has {SHORTEST} to {LONGEST} letters, and not the same few over "
                     "and over.", "Take four or five words that have nothing to do with each other, or leave it empty: "
                     "then five words are chosen.")  # fmt: skip
    return words


def hashed(text: str) -> str:
    """What is stored: argon2id with its own salt and costs; the passphrase cannot be read from it."""
    with _ONE_AT_A_TIME:
        return _HASHER.hash(plain(text))


def is_right(text: str, stored: str) -> bool:
    """Whether this is the passphrase of the hash. Takes as long for a wrong one as for the right one."""
    with _ONE_AT_A_TIME:
        try:
            return _HASHER.verify(stored, plain(text[: 2 * LONGEST]))
        except (VerificationError, InvalidHashError):
            return False
