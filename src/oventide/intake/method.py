"""From the sentences of a method to steps and make-up.

The dough moves through phases (mixed, rested, rolled out, rolled up, cut, in the tin, baked); the same word means
another step in another phase: to let it rise before shaping is the first rise, after cutting it is the proof.
"""

import re
from dataclasses import dataclass, field, replace

from oventide.intake.actions import Event, events
from oventide.intake.amounts import quantity_at, tokens
from oventide.intake.durations import Time, times
from oventide.intake.oven import Reading, choose, settings, temperatures
from oventide.intake.rules import rule
from oventide.intake.sizes import lengths, read_tin, rectangles, thickness_mm
from oventide.kitchen.model import OvenKind
from oventide.makeup.model import MakeUp, Tin
from oventide.timeline.procedure import Span, Step, StepKind, Target, Where

_PREFERMENT = re.compile(r"\b(?:sponge|poolish|biga|pre-?ferment|levain|tangzhong|yudane|soaker|roux|starter)\b", re.I)
_DOUGH = re.compile(r"\b(?:dough|knead|rest of|remaining|everything|all (?:the )?ingredients|final)\b", re.I)
_BESIDE = re.compile(
    r"\b(?:filling|glaze|icing|frosting|syrup|custard|streusel|crumb(?:le)?|topping|onions?|dates|apples?|pears?|spinach|jam|"
    r"curd|yeast (?:mixture )?until foamy|foamy|frothy)\b",
    re.I,
)
_OPTION = re.compile(
    r"\b(?:optional(?:ly)?|option|if (?:you )?(?:like|wish|prefer|want|making|baking)|alternatively|(?:you )?can (?:also |either )?(?:be|now|chill|refrigerate|freeze)|"
    r"may be|make[- ]ahead|or (?:refrigerate|chill|overnight))\b",
    re.I,
)
_COVER = re.compile(
    r"\bcover(?:ed)?\b|\bcling\b|\bfilm\b|\bplastic wrap\b|\blid\b|\btea ?towel\b|\bdamp cloth\b|\bclingfilm\b", re.I
)
_FOIL_ON = re.compile(r"\b(?:covered|cover|foil|lid)\b", re.I)
_FOIL_OFF = re.compile(
    r"\buncover(?:ed)?\b|\b(?:remove|take off|lift off|without)\b[^.;]{0,20}\b(?:foil|cover|lid)\b|\bopen\b|\bfoil off\b",
    re.I,
)
_CORE = re.compile(r"\b(?:core|cent(?:re|er)|middle|intern\w+|inside|probe|registers?|reads?|thermometer)\b", re.I)
_WARM = re.compile(
    r"\b(?:warm (?:place|spot|corner)|somewhere warm|airing cupboard|proving (?:box|drawer)|warm (?:room|kitchen))\b",
    re.I,
)
_RISES = re.compile(r"\b(?:ris(?:e|en|es|ing)|prov\w+|proof\w*|ferment\w*|bulk|doubl\w+|puff\w+)\b", re.I)
_WORD_COUNT = r"(\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|a dozen)"
_PIECES = (
    re.compile(rf"\b(?:in|into)(?: about)? {_WORD_COUNT}\b(?! ?(?:cm|mm|inch|in\b|\"|x |× ?\d+ ?cm thick))", re.I),
    re.compile(rf"\b{_WORD_COUNT} (?:equal(?:-sized?)? |even(?:-sized)? |thick |generous )?(?:pieces|slices|rolls|buns|rounds|portions|parts|swirls|scrolls|wheels|snails|knots|spirals)\b", re.I),
    re.compile(rf"\b(?:cut|slice|divide)(?: the log| the roll| it| dough| the dough)?(?: in)? {_WORD_COUNT}\b(?! ?(?:cm|mm|inch|in\b|\"))", re.I),
    re.compile(rf"\b{_WORD_COUNT} ?[x×] ?\d", re.I),
)  # fmt: skip

_DOUGH_PHASE, _RESTED, _SHEET, _LOG, _CUT, _TINNED, _PROOFED, _BAKED = range(8)


MOST_STEPS = 100
"""A method has no more steps than this; what follows is left unread."""


@dataclass
class _Draft:
    """A step on its way."""

    kind: StepKind
    parts: list[str] = field(default_factory=list)
    """The words that belong to it alone."""
    sentences: list[str] = field(default_factory=list)
    span: Span | None = None
    target: Target | None = None
    where: Where = "room"
    air_c: float | None = None
    covered: bool = False
    oven_kind: OvenKind | None = None
    assumed: list[str] = field(default_factory=list)
    settled: bool = False

    def step(self) -> Step:
        return Step(
            kind=self.kind,
            minutes=self.span,
            target=self.target,
            ends_by="target" if self.span is None and self.target is not None else "clock",
            where=self.where,
            air_c=None if self.air_c is None else round(self.air_c, 1),
            covered=self.covered,
            oven_kind=self.oven_kind,
            text=" ".join(dict.fromkeys(self.sentences)),
            assumed=tuple(dict.fromkeys(note for note in self.assumed if note)),
        )


class _Reader:
    """Goes through the sentences once, and keeps what was found."""

    def __init__(self, oven: OvenKind | None) -> None:
        self.oven = oven
        self.phase = _DOUGH_PHASE
        self.drafts: list[_Draft] = []
        self.pending: list[str] = []
        self.preheat: list[str] = []
        self.sheet: tuple[float, float] | None = None
        self.thickness: float | None = None
        self.side: str | float | None = None
        self.pieces: int | None = None
        self.piece_mm: float | None = None
        self.tin: Tin | None = None
        self.tins = 1
        self.notes: list[str] = []
        self.optional = False
        self.left: list[str] = []

    # -- sentences ---------------------------------------------------------------------------------------------

    def read(self, sentence: str) -> None:
        if len(self.drafts) >= MOST_STEPS:
            self.left.append(sentence)
            return
        found = events(sentence)
        before = len(self.drafts)
        self._facts(sentence)
        if (
            self.phase >= _CUT
            and settings(sentence)
            and times(sentence)
            and not any(e.kind in {"bake", "oven"} for e in found)
        ):
            found = [Event("bake", "bake", sentence), *(event for event in found if event.kind == "foil")]
        found = _with_foil(found)
        if self._is_preferment(sentence):
            self.pending.append(sentence)
            return
        optional = bool(_OPTION.search(sentence)) or (
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
        touched: list[_Draft] = []
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
        for draft in touched:
            draft.sentences += [*self.pending, sentence]
            self.pending = []
        if not touched:
            if self.drafts and before and self.phase > _DOUGH_PHASE and not any(e.kind == "oven" for e in found):
                self.drafts[-1].sentences.append(sentence)
                self._core(sentence, self.drafts[-1])
            else:
                self.pending.append(sentence)
        elif any(draft.kind == "bake" for draft in touched) or self.phase == _BAKED:
            self._core(sentence, touched[-1])

    def _is_preferment(self, sentence: str) -> bool:
        return (
            self.phase == _DOUGH_PHASE
            and bool(_PREFERMENT.search(sentence))
            and not _DOUGH.search(re.sub(r"pre-?dough|night before", "", sentence, flags=re.I))
        )

    def _facts(self, sentence: str) -> None:
        """Sizes and figures that stand in a sentence, whichever verb they belong to."""
        if self.tin is None:
            self.tin, self.tins, assumed = read_tin(sentence)
            self.notes += assumed if self.tin is not None else ()
        if self.phase <= _RESTED and re.search(r"\b(?:dough|target|aim|final|ddt)\b", sentence, re.I):
            for item in temperatures(sentence):
                if 18 <= item.celsius <= 32 and (mix := self._last("mix")):
                    if not re.search(
                        r"\b(?:proof|prove|rise|bulk|room)\b", sentence[max(0, item.start - 30) : item.start], re.I
                    ):
                        mix.target = Target(measure="dough_c", value=item.celsius)
        side = re.search(r"\b(long|short)(?:er|est)?[ -]?(?:side|edge|end)s?\b", sentence, re.I)
        if side and re.search(r"\broll", sentence, re.I):
            self.side = side[1].lower()
        numbered = re.search(r"\bfrom (?:the |a )?(\d{2,3}) ?cm (?:side|edge)\b", sentence, re.I)
        if numbered:
            self.side = float(numbered[1]) * 10

    def _core(self, sentence: str, last: _Draft) -> None:
        bake = last if last.kind == "bake" else self._last("bake")
        if bake is None:
            return
        for item in temperatures(sentence):
            if 78 <= item.celsius <= 101 and (_CORE.search(sentence) or item.kind is None):
                bake.target = Target(
                    measure="core_c", value=round(item.celsius, 1), high=None if item.high is None else item.high
                )

    def _last(self, kind: str) -> _Draft | None:
        return next((draft for draft in reversed(self.drafts) if draft.kind == kind), None)

    # -- events ------------------------------------------------------------------------------------------------

    def _event(
        self, event: Event, following: str, sentence: str, optional: bool, carried: Time | None
    ) -> _Draft | None:
        kind, text = event.kind, event.text
        baked = self.phase == _BAKED
        if (baked and kind in {"rise", "cool", "tin", "warm"}) or (baked and kind == "chill" and not optional):
            return self._cool(text, sentence)
        if baked and kind in {"glaze", "spread"} and not re.search(r"^(?:make|for) the", sentence, re.I):
            return self._simple("glaze", text)
        if baked and kind == "keep":
            return self._simple("keep", text)
        if kind == "foil":
            return self._foil(text, sentence)
        if kind in {"bake", "oven"}:
            return self._bake(event, sentence)
        if kind == "mix" and self.phase == _DOUGH_PHASE:
            return self._mix(event, sentence)
        if kind == "rise":
            return self._rise(event, following, sentence, carried)
        if kind == "chill":
            return None if optional else self._chill(event, sentence, carried)
        if kind == "warm" and self.phase < _BAKED and times(sentence):
            return self._timed("proof" if self.phase >= _CUT else "temper", text, times(text) or times(sentence))
        if kind == "sheet" and self.phase <= _SHEET:
            return self._sheet(text, sentence)
        if kind in {"spread", "glaze"} and self.phase == _SHEET and "flour" not in text.lower()[:40]:
            return self._simple("spread", text)
        if kind == "roll" and _RESTED - 1 <= self.phase <= _LOG:
            self.phase = _LOG
            return self._simple("roll", text)
        if kind == "cut":
            return self._cut(text)
        if kind == "tin" and self.phase in (_LOG, _CUT, _TINNED):
            self.phase = _TINNED
            return self._simple("tin", text)
        return None

    def _simple(self, kind: StepKind, text: str) -> _Draft:
        last = self.drafts[-1] if self.drafts else None
        if last is None or last.kind != kind:
            last = _Draft(kind)
            self.drafts.append(last)
        last.parts.append(text)
        if kind == "keep" and times(text):
            last.span = times(text)[0].span
        return last

    def _timed(self, kind: StepKind, text: str, found: list[Time]) -> _Draft:
        """A step with a time; words of the same kind without a time of their own go to the step before."""
        last = self.drafts[-1] if self.drafts else None
        if last is None or last.kind != kind or (found and last.span is not None):
            last = _Draft(kind)
            self.drafts.append(last)
        last.parts.append(text)
        if found:
            last.span = found[0].span
            last.assumed.append(found[0].assumed)
        return last

    def _mix(self, event: Event, sentence: str) -> _Draft | None:
        weak = event.words in {"beat", "stir", "whisk", "add"}
        beside = _BESIDE.search(sentence) and not re.search(r"\b(?:dough|knead|flour|yeast)\b", sentence, re.I)
        if beside or (
            weak and not re.search(r"\b(?:dough|flour|yeast|knead|mix)\b", sentence, re.I) and not self._last("mix")
        ):
            return None
        if re.search(r"\bfoamy|frothy|sit\b", sentence, re.I) and not re.search(r"\bknead|dough|mix", sentence, re.I):
            return None
        draft = self._last("mix")
        if draft is None:
            draft = _Draft("mix")
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

    def _rise(self, event: Event, following: str, sentence: str, carried: Time | None) -> _Draft | None:
        text = event.text
        found = times(text) or ([carried] if carried is not None else [])
        rises = bool(_RISES.search(text))
        if self.phase == _DOUGH_PHASE:
            if not self.drafts or (
                _BESIDE.search(sentence) and not re.search(r"dough|rise|prove|doubl", sentence, re.I)
            ):
                return None
            if found and found[0].span.high <= 10 and not rises:
                return None  # yeast left to wake, or a short rest in mixing
        elif _BESIDE.search(sentence) and not rises and self.phase < _SHEET:
            return None
        if following == "chill" and not found:
            return None
        if self.phase in (_SHEET, _LOG):
            if not found and not rises:
                return None
            if self.phase == _LOG and rises and not re.search(r"\blog\b", sentence, re.I):
                self.phase = _CUT
            else:
                return self._timed("temper", text, found)
        kind: StepKind = "bulk" if self.phase <= _RESTED else "proof"
        if (
            self.phase < _BAKED
            and kind == "bulk"
            and self._last("retard")
            and re.search(r"before (?:baking|rolling)|room temp", text, re.I)
        ):
            kind = "temper"
        last = self.drafts[-1] if self.drafts else None
        same = last is not None and last.kind == kind and sentence in "".join(last.sentences + [sentence])
        if not found and not rises and not (same and last is not None and not last.settled):
            if not re.search(r"warm|cover|until|aside", text, re.I):
                return None
        if (
            found
            and last is not None
            and last.kind == kind
            and last.span is not None
            and not re.search(r"\b(?:another|again|further|second|more|then|knock|punch|fold)\b", sentence, re.I)
        ):
            found = []
        draft = self._timed(kind, text, found)
        self._air(draft, text, sentence)
        self.phase = max(self.phase, _RESTED) if kind in ("bulk", "temper") else max(self.phase, _PROOFED)
        return draft

    def _air(self, draft: _Draft, text: str, sentence: str) -> None:
        draft.covered = draft.covered or bool(_COVER.search(sentence))
        for item in temperatures(text):
            if 15 <= item.celsius <= 45:
                draft.air_c = item.celsius if item.high is None else (item.celsius + item.high) / 2
                draft.where = "prover"
        if draft.air_c is None and _WARM.search(text):
            warm = rule("warm_place")
            draft.air_c, draft.where = warm.figure("celsius"), "prover"
            draft.assumed.append(warm.text)
        target = _rise_target(text)
        if target is not None:
            draft.target, note = target
            draft.assumed.append(note)

    def _chill(self, event: Event, sentence: str, carried: Time | None) -> _Draft | None:
        text = event.text
        found = times(text) or ([carried] if carried is not None else [])
        adjective = re.search(r"\bchilled\b", event.words) and not found
        if adjective or (self.phase == _DOUGH_PHASE and not self.drafts):
            return None
        if (
            _BESIDE.search(sentence)
            and not re.search(r"\b(?:dough|log|roll|rolls|buns)\b", sentence, re.I)
            and self.phase < _LOG
        ):
            return None
        if (
            re.search(r"\bovernight\b", event.words)
            and re.search(r"\broom temp", sentence, re.I)
            and self.phase == _DOUGH_PHASE
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
            return None if last.span == found[0].span else self._timed("retard" if long else "chill", text, found)
        kind: StepKind = "retard" if long else "chill"
        draft = self._timed(kind, text, found)
        draft.where = "freezer" if re.search(r"\bfreez", text, re.I) else "fridge"
        draft.covered = draft.covered or bool(_COVER.search(sentence)) or bool(re.search(r"\bwrap", sentence, re.I))
        self.phase = max(self.phase, _RESTED)
        return draft

    def _sheet(self, text: str, sentence: str) -> _Draft | None:
        sizes = rectangles(text) or rectangles(sentence)
        if (
            self.phase < _SHEET
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
        self.phase = _SHEET
        return self._simple("sheet", text)

    def _cut(self, text: str) -> _Draft | None:
        number = _pieces(text)
        widths = [value for value, _, _ in lengths(text) if 10 <= value <= 100]
        if self.phase < _SHEET and (number is None or not re.search(r"\bdough|pieces|portions|balls", text, re.I)):
            return None
        if self.phase == _BAKED or self.phase >= _TINNED:
            return None
        if self.phase == _SHEET and number is None and not widths:
            return None
        if number is not None and self.pieces is None:
            self.pieces = number
        if widths and self.piece_mm is None:
            self.piece_mm = widths[0]
        self.phase = _CUT
        return self._simple("cut", text)

    def _bake(self, event: Event, sentence: str) -> _Draft | None:
        text = event.text
        found = [
            time
            for time in times(text)
            if not re.search(
                r"\b(?:after|last|every|first)\s(?:the\s)?$", text[max(0, time.start - 12) : time.start], re.I
            )
        ]
        if event.words == "cook" or event.words == "cooked":
            if self.phase < _TINNED or not found:
                return None
        if not found and re.search(r"\b(?:\d{1,2}) more\b", text):
            minutes = float(re.search(r"\b(\d{1,2}) more\b", text)[1])  # type: ignore[index]
            found = [Time(Span(low=minutes, likely=minutes, high=minutes), 0, 0)]
        if event.kind == "oven" and not found:
            last = self.drafts[-1] if self.drafts else None
            if last is not None and last.kind == "bake" and last.span is None:
                last.parts.append(text)
                return last
            self.preheat.append(text)
            return None
        if (
            re.search(
                r"\b(?:before|until|to|ready to|when you) $", sentence[: sentence.lower().find(event.words)][-12:], re.I
            )
            and not found
        ):
            return None
        if self.phase < _SHEET and not found and not settings(text):
            return None
        last = self.drafts[-1] if self.drafts else None
        if last is not None and last.kind == "bake" and (last.span is None or not found):
            draft = last
        else:
            draft = _Draft("bake", where="oven")
            self.drafts.append(draft)
        draft.parts.append(text)
        self.phase = _BAKED
        if found:
            stages = _stages(text, found)
            draft.span, draft.covered = stages[0][0].span, stages[0][1] or draft.covered
            draft.assumed.append(stages[0][0].assumed)
            for time, covered in stages[1:]:
                draft = _Draft(
                    "bake", where="oven", span=time.span, covered=covered, parts=[text], sentences=[sentence]
                )
                self.drafts.append(draft)
        elif _FOIL_ON.search(text) and not _FOIL_OFF.search(text):
            draft.covered = True
        return draft

    def _foil(self, text: str, sentence: str) -> _Draft | None:
        """``foil for the first 15 min`` splits a bake; ``cover with foil if …`` is a remark."""
        bakes = [draft for draft in self.drafts if draft.kind == "bake"]
        if re.search(r"\bif\b|\bshould\b|\bwhen\b", sentence, re.I) and not re.search(r"\bfirst\b", sentence, re.I):
            return None
        if not bakes:
            if self.phase >= _CUT and not _FOIL_OFF.search(text) and re.search(r"\bbake|oven", sentence, re.I):
                self.preheat.append("covered")
            return None
        found = times(text)
        first = re.search(r"\bfirst\b", sentence, re.I)
        total = bakes[-1].span
        if len(bakes) == 1 and found and total is not None and first and found[0].span.likely < total.likely:
            cover = found[0].span
            rest = Span(
                low=max(0.0, total.low - cover.high), likely=total.likely - cover.likely, high=total.high - cover.low
            )
            opened = replace(
                bakes[0],
                span=rest,
                covered=False,
                parts=list(bakes[0].parts),
                sentences=list(bakes[0].sentences),
                assumed=[],
            )
            bakes[0].span, bakes[0].covered = cover, True
            self.drafts.insert(self.drafts.index(bakes[0]) + 1, opened)
            return opened
        if (
            len(bakes) == 1
            and total is not None
            and _FOIL_OFF.search(text)
            and found
            and re.search(r"\b(?:after|last)\b", sentence, re.I)
        ):
            part = found[0].span
            after = bool(re.search(r"\bafter\b", sentence, re.I))
            cover = (
                part
                if after
                else Span(low=total.low - part.low, likely=total.likely - part.likely, high=total.high - part.high)
            )
            if cover.likely < total.likely:
                bakes[0].covered = True
                rest = Span(
                    low=max(0.0, total.low - cover.high),
                    likely=total.likely - cover.likely,
                    high=max(0.0, total.high - cover.low),
                )
                opened = replace(
                    bakes[0],
                    span=rest,
                    covered=False,
                    parts=list(bakes[0].parts),
                    sentences=list(bakes[0].sentences),
                    assumed=[],
                )
                bakes[0].span = cover
                self.drafts.insert(self.drafts.index(bakes[0]) + 1, opened)
                return opened
        if found and _FOIL_OFF.search(text):
            bakes[-1].covered = bakes[-1].covered or bool(_FOIL_OFF.search(text) and len(bakes) == 1)
            draft = _Draft("bake", where="oven", span=found[0].span, parts=[text])
            self.drafts.append(draft)
            return draft
        if _FOIL_OFF.search(text):
            if len(bakes) == 1 and "foil" in text.lower():
                bakes[0].covered = True
            return bakes[-1]
        return bakes[-1]

    def _cool(self, text: str, sentence: str) -> _Draft | None:
        found = times(text)
        last = self.drafts[-1]
        if last.kind == "cool":
            if found and last.span is None:
                last.span = found[0].span
            elif found and last.span is not None:
                more = found[0].span
                last.span = Span(
                    low=last.span.low + more.low, likely=last.span.likely + more.likely, high=last.span.high + more.high
                )
            last.parts.append(text)
        else:
            before_glaze = re.search(r"\bglaz|\bdrizzl|\bcooled\b", text, re.I) and not found and self._last("cool")
            if before_glaze:
                return None
            last = _Draft("cool", parts=[text], span=found[0].span if found else None)
            self.drafts.append(last)
        if last.span is None and re.search(r"\bcomplete\w*|\bfully|\bcold\b", sentence, re.I):
            slow = rule("cool_completely")
            last.span = slow.span
            last.assumed.append(slow.text)
        return last

    # -- the end -----------------------------------------------------------------------------------------------

    def finish(self) -> tuple[tuple[Step, ...], MakeUp]:
        self._ovens()
        if self.pending and self.drafts:
            self.drafts[0 if self.phase == _DOUGH_PHASE else -1].sentences += self.pending
            self.pending = []
        return tuple(draft.step() for draft in self.drafts), self._makeup()

    def _ovens(self) -> None:
        """Give every bake its setting: its own words first, then the preheating, then the stage before."""
        earlier: tuple[Reading | None, str] = choose(settings(" ".join(self.preheat)), self.oven)
        bakes = [draft for draft in self.drafts if draft.kind == "bake"]
        if bakes and "covered" in self.preheat:
            bakes[0].covered = True
        own_before = False
        for draft in bakes:
            own = choose(settings(" ".join(draft.parts)), self.oven)
            reading, note = own if own[0] is not None else earlier
            if own[0] is None and own_before:
                later = choose(settings(" ".join(self.preheat[1:])), self.oven)
                reading, note = later if later[0] is not None else (reading, note)
            if reading is None:
                continue
            draft.air_c, draft.oven_kind = reading.celsius, reading.kind
            draft.assumed.append(note)
            own_before = own[0] is not None
            earlier = (reading, "")

    def _makeup(self) -> MakeUp:
        notes = list(self.notes)
        length = width = None
        if self.sheet is not None:
            short, long = min(self.sheet), max(self.sheet)
            if isinstance(self.side, float):
                near = min(self.sheet, key=lambda value: abs(value - float(self.side or 0)))
                width = near
                length = short if near == long else long
            elif self.side == "short":
                length, width = long, short
            else:
                length, width = short, long
                if self.side is None and short != long:
                    notes.append("Rolled up from the long side assumed: the text does not say")
        if self.thickness is not None and self.sheet is None:
            notes.append(f"The text asks for a sheet {self.thickness:g} mm thick")
        pieces = self.pieces
        if pieces is None and self.piece_mm and width:
            pieces = max(1, int(width / self.piece_mm + 0.05))
            notes.append(f"{pieces} pieces from slices of {self.piece_mm:g} mm along {width:g} mm")
        return MakeUp(
            sheet_length_mm=length, sheet_width_mm=width, pieces=pieces, tin=self.tin, tins=self.tins,
            assumed=tuple(dict.fromkeys(notes)),
        )  # fmt: skip


def _with_foil(found: list[Event]) -> list[Event]:
    """Foil that is named in the words of a bake belongs to it; only "first", "after" and "last" stand for themselves."""
    out: list[Event] = []
    for event in found:
        if (
            event.kind == "foil"
            and out
            and out[-1].kind == "bake"
            and not re.search(r"\b(?:first|after|last|if)\b", event.text, re.I)
        ):
            out[-1] = Event("bake", out[-1].words, out[-1].text + event.text)
        else:
            out.append(event)
    return out


def _stages(text: str, found: list[Time]) -> list[tuple[Time, bool]]:
    """The times of a bake, each with whether it is covered."""
    out: list[tuple[Time, bool]] = []
    for at, time in enumerate(found):
        start = 0 if at == 0 else found[at - 1].end
        tail = re.split(r"[,;.]|\bthen\b|\band\b", text[time.end :], maxsplit=1)[0]
        near = text[start : time.end] + tail
        off = _FOIL_OFF.search(near)
        on = _FOIL_ON.search(near) and not re.search(r"\bif\b", near, re.I)
        out.append((time, bool(on) and not off))
    if (
        len(out) > 1
        and not any(covered for _, covered in out)
        and not re.search(r"\b(?:then|and|more|further|another)\b", text, re.I)
    ):
        return out[:1]
    return out


def _rise_target(text: str) -> tuple[Target, str] | None:
    """What a rise is aimed at: doubled, puffy, 1.8x, by half."""
    lowered = text.lower()
    times_ = re.search(
        r"(?<![\d.])([1-3](?:[.,]\d{1,2})?)\s?(?:x|×|times)\b(?! ?\d)|\b[x×]\s?([1-3][.,]\d{1,2})\b", lowered
    )
    if times_:
        value = float((times_[1] or times_[2]).replace(",", "."))
        return Target(measure="rise", value=value), ""
    if re.search(r"\bby half\b|\bhalf (?:again|as (?:big|high))\b", lowered):
        return Target(measure="rise", value=1.5, low=1.3, high=1.7), "By half read as 1.5 times the volume"
    for pattern, name in (
        (r"\b(?:almost|nearly|not quite) (?:doubl\w+|twice)", "almost_doubled"),
        (r"\bdoubl(?:e|ed|es|ing)\b|\btwice (?:its|the|their)\b", "doubled"),
        (r"\bpuff(?:y|ed)\b|\bwell[- ]risen\b", "puffy"),
    ):
        if re.search(pattern, lowered):
            aim = rule(name)
            return Target(
                measure="rise", value=aim.figure("value"), low=aim.figure("low"), high=aim.figure("high")
            ), aim.text
    return None


def _pieces(text: str) -> int | None:
    """The number of pieces that a cut gives.

    >>> _pieces("cut into 12 slices"), _pieces("Cut into 3 cm slices"), _pieces("slice into nine")
    (12, None, 9)
    """
    for pattern in _PIECES:
        match = pattern.search(text)
        if match:
            value, _, _ = quantity_at(tokens(match[1]), 0)
            if value is not None and 2 <= value <= 500:
                return int(value)
    return None


def read_method(sentences: list[str], oven: OvenKind | None = None) -> tuple[tuple[Step, ...], MakeUp, tuple[str, ...]]:
    """Steps and make-up of a method, and the sentences for which no step was found at all.

    `oven` picks among settings that the text gives for several kinds of oven.

    >>> steps, makeup, _ = read_method(["Roll out to 30 x 40 cm and roll up from the long side.", "Cut into 12."])
    >>> [step.kind for step in steps], makeup.sheet_length_mm, makeup.pieces
    (['sheet', 'roll', 'cut'], 300.0, 12)
    """
    reader = _Reader(oven)
    for sentence in sentences:
        reader.read(sentence)
    steps, makeup = reader.finish()
    return steps, makeup, (*reader.pending, *reader.left)
