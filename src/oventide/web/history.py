"""What can be taken back while a formula is edited: earlier states of the form, packed into the form itself.

Nothing is stored on the server. Earlier states are nearly alike, so that forty of them pack into a few kilobytes.
"""

import base64
import binascii
import json
import zlib
from dataclasses import dataclass, field

MOST = 40
LIMIT_BYTES = 2_500_000


@dataclass(frozen=True)
class Turn:
    """One change that can be taken back: what it did, and the formula on the other side of it, as JSON."""

    words: str
    draft: str


@dataclass(frozen=True)
class History:
    """Changes done, newest last, and changes taken back, next one last."""

    past: tuple[Turn, ...] = field(default=())
    coming: tuple[Turn, ...] = field(default=())

    @classmethod
    def unpacked(cls, packed: str) -> "History":
        """The history that a form carried; an empty one where it cannot be read."""
        try:
            opened = zlib.decompressobj()
            text = opened.decompress(base64.b64decode(packed, validate=True), LIMIT_BYTES)
            if not opened.eof:
                return cls()
            sides = json.loads(text)
            past, coming = (tuple(Turn(*map(str, turn)) for turn in side[-MOST:]) for side in sides)
        except (ValueError, TypeError, zlib.error, binascii.Error, RecursionError):
            return cls()
        return cls(past, coming)

    def packed(self) -> str:
        """The history as a form's text.

        >>> History.unpacked(History().done("salt", "{}").packed()).past[0].words
        'salt'
        """
        sides = [[[t.words, t.draft] for t in side[-MOST:]] for side in (self.past, self.coming)]
        if sides == [[], []]:
            return ""
        text = json.dumps(sides, ensure_ascii=False, separators=(",", ":")).encode()
        while len(text) > LIMIT_BYTES and sides[0]:
            sides[0].pop(0)
            text = json.dumps(sides, ensure_ascii=False, separators=(",", ":")).encode()
        return base64.b64encode(zlib.compress(text, 9)).decode()

    def done(self, words: str, before: str) -> "History":
        """With a change that was just made; what had been taken back is gone."""
        return History((*self.past, Turn(words, before)))

    def taken_back(self, now: str) -> tuple[str, "History"]:
        """The formula before the last change, and the history there.

        >>> History().done("salt", "before").taken_back("now")[0]
        'before'
        """
        if not self.past:
            return now, self
        turn = self.past[-1]
        return turn.draft, History(self.past[:-1], (*self.coming, Turn(turn.words, now)))

    def brought_again(self, now: str) -> tuple[str, "History"]:
        """The formula after the change that was taken back last.

        >>> draft, back = History().done("salt", "before").taken_back("now")
        >>> back.brought_again(draft)[0]
        'now'
        """
        if not self.coming:
            return now, self
        turn = self.coming[-1]
        return turn.draft, History((*self.past, Turn(turn.words, now)), self.coming[:-1])
