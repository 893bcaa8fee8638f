"""Oven, foil and cooling: the part of a method from the oven on."""

import re
from dataclasses import replace

from oventide.intake.actions import Event
from oventide.intake.draft import BAKED, CUT, DOUGH_PHASE, SHEET, TINNED, Draft, MethodState
from oventide.intake.durations import Time, times
from oventide.intake.oven import Reading, choose, settings, temperatures
from oventide.intake.rules import rule
from oventide.intake.wording import FOIL_OFF, FOIL_ON, stages
from oventide.makeup.model import MakeUp
from oventide.timeline.procedure import Span, Step, Target

_CORE = re.compile(r"\b(?:core|cent(?:re|er)|middle|intern\w+|inside|probe|registers?|reads?|thermometer)\b", re.I)


def _minutes_left_out(text: str) -> list[Time]:
    """``lid on for the first 12``: minutes, as nothing else is counted in a bake."""
    short = re.search(r"\bfirst (\d{1,2})\b(?! ?(?:min|h|x|cm))", text, re.I)
    if short is None:
        return []
    minutes = float(short[1])
    return [Time(Span(low=minutes, likely=minutes, high=minutes), short.start(1), short.end(1))]


class Baking(MethodState):
    """Reads bakes with their covered and open parts, settings, core temperature, and cooling."""

    def core(self, sentence: str, last: Draft) -> None:
        bake = last if last.kind == "bake" else self.last_of("bake")
        if bake is None:
            return
        for item in temperatures(sentence):
            if 78 <= item.celsius <= 101 and (_CORE.search(sentence) or item.kind is None):
                bake.target = Target(
                    measure="core_c", value=round(item.celsius, 1), high=None if item.high is None else item.high
                )

    def bake(self, event: Event, sentence: str) -> Draft | None:
        text = event.text
        found = [
            time
            for time in times(text)
            if not re.search(
                r"\b(?:after|last|every|first)\s(?:the\s)?$", text[max(0, time.start - 12) : time.start], re.I
            )
        ]
        if (event.words == "cook" or event.words == "cooked") and (self.phase < TINNED or not found):
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
        if self.phase < SHEET and not found and not settings(text):
            return None
        last = self.drafts[-1] if self.drafts else None
        if last is not None and last.kind == "bake" and (last.span is None or not found):
            draft = last
        else:
            draft = Draft("bake", where="oven")
            self.drafts.append(draft)
        draft.parts.append(text)
        self.phase = BAKED
        if found:
            parts = stages(text, found)
            draft.span, draft.covered = parts[0][0].span, parts[0][1] or draft.covered
            draft.assumed.append(parts[0][0].assumed)
            for time, covered in parts[1:]:
                draft = Draft("bake", where="oven", span=time.span, covered=covered, parts=[text], sentences=[sentence])
                self.drafts.append(draft)
        elif FOIL_ON.search(text) and not FOIL_OFF.search(text):
            draft.covered = True
        return draft

    def foil(self, text: str, sentence: str) -> Draft | None:
        """``foil for the first 15 min`` splits a bake; ``cover with foil if …`` is a remark."""
        bakes = [draft for draft in self.drafts if draft.kind == "bake"]
        if re.search(r"\bif\b|\bshould\b|\bwhen\b", sentence, re.I) and not re.search(r"\bfirst\b", sentence, re.I):
            return None
        if not bakes:
            if self.phase >= CUT and not FOIL_OFF.search(text) and re.search(r"\bbake|oven", sentence, re.I):
                self.preheat.append("covered")
            return None
        found = times(text) or _minutes_left_out(text)
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
            and FOIL_OFF.search(text)
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
        if (
            len(bakes) == 1
            and total is not None
            and found
            and not FOIL_OFF.search(text)
            and re.search(r"\b(?:after|last)\b", sentence, re.I)
            and found[0].span.likely < total.likely
        ):
            part = found[0].span
            left = Span(
                low=max(0.0, total.low - part.high),
                likely=total.likely - part.likely,
                high=max(0.0, total.high - part.low),
            )
            after = bool(re.search(r"\bafter\b", text, re.I))
            under = replace(
                bakes[0],
                span=left if after else part,
                covered=True,
                parts=list(bakes[0].parts),
                sentences=list(bakes[0].sentences),
                assumed=[],
            )
            bakes[0].span = part if after else left
            self.drafts.insert(self.drafts.index(bakes[0]) + 1, under)
            return under
        if found and FOIL_OFF.search(text):
            bakes[-1].covered = bakes[-1].covered or bool(FOIL_OFF.search(text) and len(bakes) == 1)
            draft = Draft("bake", where="oven", span=found[0].span, parts=[text])
            self.drafts.append(draft)
            return draft
        if FOIL_OFF.search(text):
            if len(bakes) == 1 and "foil" in text.lower():
                bakes[0].covered = True
            return bakes[-1]
        return bakes[-1]

    def cool(self, text: str, sentence: str) -> Draft | None:
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
            before_glaze = re.search(r"\bglaz|\bdrizzl|\bcooled\b", text, re.I) and not found and self.last_of("cool")
            if before_glaze:
                return None
            last = Draft("cool", parts=[text], span=found[0].span if found else None)
            self.drafts.append(last)
        if last.span is None and re.search(r"\bcomplete\w*|\bfully|\bcold\b", sentence, re.I):
            slow = rule("cool_completely")
            last.span = slow.span
            last.assumed.append(slow.text)
        return last

    def set_ovens(self) -> None:
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

    def finish(self) -> tuple[tuple[Step, ...], MakeUp]:
        self.set_ovens()
        mix = next((draft for draft in self.drafts if draft.kind == "mix"), None)
        if mix is not None and mix.target is None and self.dough_c is not None:
            mix.target = Target(measure="dough_c", value=self.dough_c)
        if self.pending and self.drafts:
            self.drafts[0 if self.phase == DOUGH_PHASE else -1].sentences += self.pending
            self.pending = []
        return tuple(draft.step() for draft in self.drafts), self._makeup()

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
                    notes.append(
                        f"Rolled up from the long side assumed, as the text does not say: the log is {long / 10:.3g} cm long, "
                        f"{short / 10:.3g} cm are rolled up"
                    )
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
