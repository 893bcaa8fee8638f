"""From the sentences of a method to steps and make-up.

The dough moves through phases (mixed, rested, rolled out, rolled up, cut, in the tin, baked); the same word means
another step in another phase: to let it rise before shaping is the first rise, after cutting it is the proof.
"""

import re

from oventide.intake.actions import Event, events
from oventide.intake.baking import Baking
from oventide.intake.draft import BAKED, CUT, DOUGH_PHASE, LOG, PROOFED, RESTED, SHEET, TINNED, Draft
from oventide.intake.durations import Time, times
from oventide.intake.method_words import BESIDE, COLDEST_ROOM_C, COVER, DOUGH, FINAL, OPTION, PREFERMENT, RISES, WARM
from oventide.intake.oven import settings, temperatures
from oventide.intake.rules import rule
from oventide.intake.sizes import lengths, read_tin, rectangles, thickness_mm
from oventide.intake.wording import pieces_in, rise_target, with_foil
from oventide.kitchen.model import OvenKind
from oventide.makeup.model import MakeUp
from oventide.timeline.procedure import Span, Step, StepKind, Target

MOST_SENTENCES = 1500
"""A method has no more sentences than this; what follows is left unread."""

MOST_STEPS = 100
"""A method has no more steps than this; what follows is left unread."""


LONGEST_REST = 45.0
"""A rest up to this before more kneading belongs to the mixing [min]."""


class _Reader(Baking):
    """Goes through the sentences once, and keeps what was found."""

    def read(self, sentence: str) -> None:
        if len(self.drafts) >= MOST_STEPS:
            self.left.append(sentence)
            return
        found = events(sentence)
        before = len(self.drafts)
        unmixed = self.last_of("mix") is None
        self._facts(sentence)
        if (
            self.phase >= CUT
            and settings(sentence)
            and times(sentence)
            and not any(e.kind in {"bake", "oven"} for e in found)
        ):
            found = [Event("bake", "bake", sentence), *(event for event in found if event.kind == "foil")]
        found = with_foil(found)
        if self._is_preferment(sentence):
            self.pending.append(sentence)
            return
        optional = bool(OPTION.search(sentence)) or (
            self.optional
            and bool(
                re.search(
                    r"\bbefore (?:baking|continuing|proceeding)\b|\b(?:next|following) (?:day|morning)\b",
                    sentence,
                    re.I,
                )
            )
        )
        self.optional = optional
        if (
            optional
            and any(event.kind in {"chill", "rise", "warm"} for event in found)
            and not re.search(r"\bbake\b|\bcut\b|\broll\b", sentence, re.I)
        ):
            self.pending.append(sentence)
            return
        carried: Time | None = None
        touched: list[Draft] = []
        for at, event in enumerate(found):
            following = found[at + 1].kind if at + 1 < len(found) else ""
            draft = self._event(event, following, sentence, optional, carried)
            carried = None
            if draft is None:
                spare = times(event.text)
                carried = spare[-1] if spare and event.kind in {"tin", "cut", "roll", "sheet", "spread"} else None
            elif draft.kind in {"tin", "cut"} and times(event.text):
                carried = times(event.text)[-1]
            if draft is not None:
                touched.append(draft)
        if unmixed and self.last_of("mix") is not None:
            self._facts(sentence)  # its target temperature may stand in the words of the mixing itself
        for draft in touched:
            draft.sentences += [*self.pending, sentence]
            self.pending = []
        if not touched:
            if self.drafts and before and self.phase > DOUGH_PHASE and not any(e.kind == "oven" for e in found):
                self.drafts[-1].sentences.append(sentence)
                self.core(sentence, self.drafts[-1])
            else:
                self.pending.append(sentence)
        elif any(draft.kind == "bake" for draft in touched) or self.phase == BAKED:
            self.core(sentence, touched[-1])

    def _is_preferment(self, sentence: str) -> bool:
        return (
            self.phase == DOUGH_PHASE
            and bool(PREFERMENT.search(sentence))
            and not DOUGH.search(re.sub(r"pre-?dough|night before", "", sentence, flags=re.I))
        )

    def _facts(self, sentence: str) -> None:
        """Sizes and figures that stand in a sentence, whichever verb they belong to."""
        if self.tin is None:
            self.tin, self.tins, assumed = read_tin(sentence)
            self.notes += assumed if self.tin is not None else ()
        if self.phase <= RESTED and re.search(r"\b(?:dough|target|aim|final|ddt)\b", sentence, re.I):
            for item in temperatures(sentence):
                if 18 <= item.celsius <= 32 and not re.search(
                    r"\b(?:proof|prove|rise|bulk|room)\b", sentence[max(0, item.start - 30) : item.start], re.I
                ):
                    mix = self.last_of("mix")
                    if mix is None:
                        self.dough_c = item.celsius
                    else:
                        mix.target = Target(measure="dough_c", value=item.celsius)
        counted = re.match(
            r"^(?:(?:makes?|gives|you (?:get|want)) )?(\d{1,3}) (?:pieces|slices|rolls|buns|pcs)\b", sentence, re.I
        )
        if counted and self.pieces is None and self.phase >= SHEET and 2 <= int(counted[1]) <= 500:
            self.pieces = int(counted[1])
        side = re.search(
            r"\b(long|short)(?:er|est)?[ -]?(?:side|edge|end)s?\b|\broll(?:ed)? (?:it )?(?:up )?(long|short)(?:ways|wise)\b",
            sentence,
            re.I,
        )
        if side and re.search(r"\broll", sentence, re.I):
            self.side = (side[1] or side[2]).lower()
        numbered = re.search(r"\bfrom (?:the |a )?(\d{2,3}) ?cm (?:side|edge)\b", sentence, re.I)
        if numbered:
            self.side = float(numbered[1]) * 10

    def _event(self, event: Event, following: str, sentence: str, optional: bool, carried: Time | None) -> Draft | None:
        kind, text = event.kind, event.text
        baked = self.phase == BAKED
        if (baked and kind in {"rise", "cool", "tin", "warm"}) or (baked and kind == "chill" and not optional):
            return self.cool(text, sentence)
        if baked and kind in {"glaze", "spread"} and not re.search(r"^(?:make|for) the", sentence, re.I):
            return self.simple("glaze", text)
        if baked and kind == "keep":
            return self.simple("keep", text)
        if kind == "foil":
            return self.foil(text, sentence)
        if kind in {"bake", "oven"}:
            return self.bake(event, sentence)
        if kind == "mix" and self._only_rested(event, sentence):
            self.phase = DOUGH_PHASE
        if kind == "mix" and self.phase == DOUGH_PHASE:
            return self._mix(event, sentence)
        if kind == "rise":
            return self._rise(event, following, sentence, carried)
        if kind == "chill":
            return None if optional else self._chill(event, sentence, carried)
        if kind == "warm" and self.phase < BAKED and times(sentence):
            return self.timed("proof" if self.phase >= CUT else "temper", text, times(text) or times(sentence))
        if kind == "sheet" and self.phase <= SHEET:
            return self._sheet(text, sentence)
        if kind in {"spread", "glaze"} and self.phase == SHEET and "flour" not in text.lower()[:40]:
            return self.simple("spread", text)
        if kind == "roll" and RESTED - 1 <= self.phase <= LOG:
            self.phase = LOG
            return self.simple("roll", text)
        if kind == "cut":
            return self._cut(text)
        if kind == "tin" and self.phase in (LOG, CUT, TINNED):
            self.phase = TINNED
            return self.simple("tin", text)
        return None

    def _only_rested(self, event: Event, sentence: str) -> bool:
        """Whether a short rest so far was one in mixing (autolyse), as the dough is kneaded on after it."""
        last = self.drafts[-1] if self.drafts else None
        if (
            self.phase != RESTED
            or last is None
            or last.kind != "bulk"
            or last.span is None
            or last.span.high > LONGEST_REST
            or last.target is not None
            or not re.search(r"\bknead|\bmix", event.words)
            or (BESIDE.search(sentence) and not re.search(r"\bdough\b|\bknead", sentence, re.I))
        ):
            return False
        self.drafts.pop()
        mix = self.last_of("mix")
        if mix is None:
            self.pending += last.sentences
        else:
            mix.sentences += last.sentences
            mix.assumed.append(
                f"A rest of {last.span.likely:g} min between is part of the mixing; its time is not added"
            )
        return True

    def _mix(self, event: Event, sentence: str) -> Draft | None:
        weak = event.words in {"beat", "stir", "whisk", "add"}
        beside = BESIDE.search(sentence) and not re.search(r"\b(?:dough|knead|flour|yeast)\b", sentence, re.I)
        if beside or (
            weak and not re.search(r"\b(?:dough|flour|yeast|knead|mix)\b", sentence, re.I) and not self.last_of("mix")
        ):
            return None
        if re.search(r"\bfoamy|frothy|sit\b", sentence, re.I) and not re.search(r"\bknead|dough|mix", sentence, re.I):
            return None
        draft = self.last_of("mix")
        if draft is None:
            draft = Draft("mix")
            self.drafts.append(draft)
        draft.parts.append(event.text)
        spans = [time.span for time in times(event.text) if time.span.high <= 45]
        if re.search(r"\b(?:sit|rest|stand|autolyse)\b", event.text, re.I):
            spans = spans[:1] if re.search(r"knead|mix", event.words) else []
        if spans:
            sums = [draft.span, *spans] if draft.span is not None else spans
            draft.span = Span(
                low=sum(span.low for span in sums),
                likely=sum(span.likely for span in sums),
                high=sum(span.high for span in sums),
            )
            if len(sums) > 1:
                draft.assumed.append("Mixing times of the text added up")
        return draft

    def _rise(self, event: Event, following: str, sentence: str, carried: Time | None) -> Draft | None:
        text = event.text
        found = times(text) or ([carried] if carried is not None else [])
        rises = bool(RISES.search(text))
        if self.phase == DOUGH_PHASE:
            if not self.drafts or (
                BESIDE.search(sentence) and not re.search(r"dough|rise|prove|doubl", sentence, re.I)
            ):
                return None
            if found and found[0].span.high <= 10 and not rises:
                return None  # yeast left to wake, or a short rest in mixing
        elif BESIDE.search(sentence) and not rises and self.phase < SHEET:
            return None
        if following == "chill" and not found:
            return None
        if (
            self.phase == DOUGH_PHASE
            and following == "mix"
            and found
            and found[0].span.high <= LONGEST_REST
            and not rises
        ):
            return None
        if FINAL.search(sentence) and RESTED <= self.phase < CUT:
            self.phase = CUT
        if self.phase in (SHEET, LOG):
            if not found and not rises:
                return None
            if self.phase == LOG and rises and not re.search(r"\blog\b", sentence, re.I):
                self.phase = CUT
            else:
                return self.timed("temper", text, found)
        kind: StepKind = "bulk" if self.phase <= RESTED else "proof"
        if (
            self.phase < BAKED
            and kind == "bulk"
            and self.last_of("retard")
            and re.search(r"before (?:baking|rolling)|room temp", text, re.I)
        ):
            kind = "temper"
        last = self.drafts[-1] if self.drafts else None
        same = last is not None and last.kind == kind
        bare = not found and not rises and not same
        if bare and not re.search(r"warm|cover|until|aside", text, re.I):
            return None
        if (
            found
            and last is not None
            and last.kind == kind
            and last.span is not None
            and not re.search(r"\b(?:another|again|further|second|more|then|knock|punch|fold)\b", sentence, re.I)
        ):
            found = []
        draft = self.timed(kind, text, found)
        self._air(draft, text, sentence)
        self.phase = max(self.phase, RESTED) if kind in ("bulk", "temper") else max(self.phase, PROOFED)
        return draft

    def _air(self, draft: Draft, text: str, sentence: str) -> None:
        draft.covered = draft.covered or bool(COVER.search(sentence))
        for item in temperatures(text):
            if 15 <= item.celsius <= 45:
                draft.air_c = item.celsius if item.high is None else (item.celsius + item.high) / 2
                draft.where = "prover"
        if draft.air_c is None and WARM.search(text):
            warm = rule("warm_place")
            draft.air_c, draft.where = warm.figure("celsius"), "prover"
            draft.assumed.append(warm.text)
        target = rise_target(text)
        if target is not None:
            draft.target, note = target
            draft.assumed.append(note)

    def _chill(self, event: Event, sentence: str, carried: Time | None) -> Draft | None:
        text = event.text
        found = times(text) or ([carried] if carried is not None else [])
        adjective = re.search(r"\bchilled\b", event.words) and not found
        if adjective or (self.phase == DOUGH_PHASE and not self.drafts):
            return None
        if (
            BESIDE.search(sentence)
            and not re.search(r"\b(?:dough|log|roll|rolls|buns)\b", sentence, re.I)
            and self.phase < LOG
        ):
            return None
        if (
            re.search(r"\bovernight\b", event.words)
            and re.search(r"\broom temp", sentence, re.I)
            and self.phase == DOUGH_PHASE
        ):
            return None
        long = bool(found) and found[0].span.likely >= 180
        last = self.drafts[-1] if self.drafts else None
        if not found and last is not None and last.kind in {"chill", "retard"}:
            last.parts.append(text)
            return last
        if found and last is not None and last.kind in {"chill", "retard"} and last.span is None:
            last.kind = "retard" if long else "chill"
        elif (
            found
            and last is not None
            and last.kind in {"chill", "retard"}
            and sentence not in last.sentences
            and last.span is not None
        ):
            return None if last.span == found[0].span else self.timed("retard" if long else "chill", text, found)
        kind: StepKind = "retard" if long else "chill"
        draft = self.timed(kind, text, found)
        draft.where = "freezer" if re.search(r"\bfreez", text, re.I) else "fridge"
        draft.covered = draft.covered or bool(COVER.search(sentence)) or bool(re.search(r"\bwrap", sentence, re.I))
        cold = [item.celsius for item in temperatures(text) if item.celsius <= COLDEST_ROOM_C]
        draft.air_c = cold[0] if cold else draft.air_c
        self.phase = max(self.phase, RESTED)
        return draft

    def _sheet(self, text: str, sentence: str) -> Draft | None:
        sizes = rectangles(text) or rectangles(sentence)
        if (
            self.phase < SHEET
            and not sizes
            and thickness_mm(sentence) is None
            and not re.search(r"\bdough|out\b|rectang|oblong|square|it\b", text, re.I)
        ):
            return None
        if re.search(r"\bballs?\b", text, re.I):
            return None
        if sizes and self.sheet is None:
            self.sheet = (sizes[0].first_mm, sizes[0].second_mm)
            if sizes[0].guessed:
                self.notes.append("Sheet size without a unit taken as cm")
        if (
            self.sheet is None
            and re.search(r"\bsquare\b", sentence, re.I)
            and (ones := [v for v, _, _ in lengths(text) if v >= 100])
        ):
            self.sheet = (ones[0], ones[0])
        self.thickness = self.thickness or thickness_mm(sentence)
        self.phase = SHEET
        return self.simple("sheet", text)

    def _cut(self, text: str) -> Draft | None:
        number = pieces_in(text)
        widths = [value for value, _, _ in lengths(text) if 10 <= value <= 100]
        if self.phase < SHEET and (number is None or not re.search(r"\bdough|pieces|portions|balls", text, re.I)):
            return None
        if self.phase == BAKED or self.phase >= TINNED:
            return None
        if self.phase == SHEET and number is None and not widths:
            return None
        if number is not None and self.pieces is None:
            self.pieces = number
        if widths and self.piece_mm is None:
            self.piece_mm = widths[0]
        self.phase = CUT
        return self.simple("cut", text)


def read_method(sentences: list[str], oven: OvenKind | None = None) -> tuple[tuple[Step, ...], MakeUp, tuple[str, ...]]:
    """Steps and make-up of a method, and the sentences for which no step was found at all.

    `oven` picks among settings that the text gives for several kinds of oven.

    >>> steps, makeup, _ = read_method(["Roll out to 30 x 40 cm and roll up from the long side.", "Cut into 12."])
    >>> [step.kind for step in steps], makeup.sheet_length_mm, makeup.pieces
    (['sheet', 'roll', 'cut'], 300.0, 12)
    """
    reader = _Reader(oven)
    for sentence in sentences[:MOST_SENTENCES]:
        reader.read(sentence)
    reader.left += sentences[MOST_SENTENCES:]
    steps, makeup = reader.finish()
    return steps, makeup, (*reader.pending, *reader.left)
