"""A narration, cue by cue → a draft dish.

One pass over the sentences keeps what a listener keeps in mind: the foods named so far, the step under
way, the food and the number spoken of last. Corrections change what was said before; digressions,
conditions ("if you want it hot …") and likenesses change nothing. No language model; every rule is here,
in `hearing` (what one sentence holds) and `pairing` (which amount is of which food).
"""

from __future__ import annotations

import re
from dataclasses import replace

from chauka.reading.corrections import settle, unit_minutes
from chauka.reading.cues import Narration, Sentence, read_cues, refuse_if_endless, sentences
from chauka.reading.draft import Draft, Withdrawn
from chauka.reading.heard_lines import Larder
from chauka.reading.heard_steps import Steps
from chauka.reading.hearing import Heard, hear
from chauka.reading.mentions import Mention
from chauka.reading.method_words import method_words
from chauka.reading.pairing import is_vague, pair
from chauka.reading.questions import ask
from chauka.reading.speech import Kind, Quantity, quantities_in

_ENOUGH_FOR = re.compile(r"\b(?:serves|feeds|enough for|makes|for about)\b", re.IGNORECASE)
_RIGHT_UNIT = re.compile(
    r"\b(tea|table) ?spoons?,? (?:and )?not (?:a )?(?:tea|table) ?spoons?|\b(tea|"
    r"table) ?spoons?,? (?:i mean|i meant|sorry)\b|"
    r"\b(?:i mean|i meant|sorry|no),? (?:a )?(tea|table) ?spoons?\b(?! of)",
    re.IGNORECASE,
)
_KEEPS = re.compile(
    r"\b(?:it|this|that|they|which)?\s*(?:keeps|will keep|won't keep|doesn't keep|does not keep|stays good|lasts)\b.*|"
    r"\b(?:keep|store|put) (?:it|this|them) in the (?:fridge|freezer|refrigerator)\b|"
    r"\beat it the same day\b|\bthe same day\b|\bfinish it\b",
    re.IGNORECASE,
)
_LEAVING = re.compile(
    r"\b(?:leave|leaving) out (?:the |any )?$|\b(?:skip|omit|without|forget|forget about|"
    r"no need for|not using|not adding) (?:the |any )?$",
    re.IGNORECASE,
)


def read_narration(text: str) -> Draft:
    """The draft dish that a WebVTT, SubRip or plain-text narration tells, with an editor's questions.

    Raises `InputError` where it is longer than one dish needs.
    """
    narration = read_cues(text)
    refuse_if_endless(sum(len(cue.text) for cue in narration.cues))
    draft = Listener(narration).draft()
    ask(draft)
    return draft


class Listener:
    """Hears one sentence after the other."""

    def __init__(self, narration: Narration) -> None:
        self.narration = narration
        self.result = Draft(title=narration.title)
        self.larder = Larder(self.result)
        self.steps = Steps(self.result)
        self.last: Quantity | None = None
        self.in_aside = True

    def draft(self) -> Draft:
        """The draft after the last cue."""
        for sentence in sentences(self.narration.cues):
            self._hear(hear(sentence, self.larder.known))
        self.steps.finish()
        self.larder.finish()
        told = {c for step in self.result.steps for c in step.cues} | {
            c for line in self.result.lines for c in line.cues
        }
        self.result.asides = [c for c in self.result.asides if c not in told]
        self.result.times_s = {
            c.number: (c.start_s, c.end_s) for c in self.narration.cues if c.start_s is not None and c.end_s is not None
        }
        return self.result

    def _hear(self, heard: Heard) -> None:
        self._keep_caution(heard)
        if self._is_yield(heard.sentence) or self._is_keeping(heard):
            return
        if self._is_aside(heard):
            self.result.asides += [c for c in heard.cues if c not in self.result.asides]
            self.in_aside = True
            return
        self.in_aside = False
        if not heard.tokens:
            self.result.notes.append((heard.sentence.text, heard.cues[0]))
            return
        if self._is_title(heard):
            return
        self._cup_size(heard)
        if self._is_served_with(heard):
            return
        self._take_back(heard)
        self._corrects(heard)
        self.steps.hear(heard, self.larder)
        self.larder.hear(heard, self.steps)
        self.steps.time(heard)
        self.last = next((q for q in reversed(heard.quantities)), self.last)

    # --- what is not a line or a step --------------------------------------------------------------

    def _is_yield(self, sentence: Sentence) -> bool:
        """ "Enough for four people, maybe three"."""
        found = quantities_in(list(sentence.tokens))
        people = [q for q in found if q.kind is Kind.PEOPLE]
        enough = _ENOUGH_FOR.search(sentence.text)
        bare = [q for q in found if q.kind is Kind.BARE]
        if any(q.kind is Kind.FOOD for q in found) and not people:
            return False
        if not people and not (enough and bare):
            return False
        counts = [*people, *bare] if people else bare
        if re.search(r"\beach\b|\bper person\b", sentence.text, re.IGNORECASE):
            return False
        self.result.yield_low = min(q.low for q in counts)
        self.result.yield_high = max(q.high for q in counts)
        self.result.yield_unit = (
            "people" if people or "serves" in sentence.text.lower() else _noun_after(sentence, bare)
        )
        self.result.yield_cues += range(sentence.cues[0], sentence.cues[1] + 1)
        return not any(q.kind is Kind.FOOD for q in found)

    def _is_keeping(self, heard: Heard) -> bool:
        plainly = _KEEPS.search(heard.sentence.text) is not None
        if re.search(r"\b(?:must|should) have been|\bwas in the\b", heard.sentence.text, re.IGNORECASE):
            return False
        keeping = not heard.measures_food and (plainly or ("keep" in heard.turns and heard.technique is None))
        about = (
            self.result.keeping
            and re.search(r"\bkeep(?:ing|s)?\b", heard.sentence.text, re.IGNORECASE)
            and not heard.measures_food
        )
        if not (keeping or about) or "digress" in heard.turns:
            return False
        self.result.keeping = f"{self.result.keeping} {heard.sentence.text}".strip()
        self.result.keeping_cues += heard.cues
        return True

    def _is_aside(self, heard: Heard) -> bool:
        tells = bool(heard.technique or heard.vessel or heard.measures_food or heard.until)
        tells |= bool(heard.of_kind(Kind.MINUTES) or heard.of_kind(Kind.WHISTLES))
        if "digress_weak" in heard.turns and not (tells or heard.mentions):
            return True
        if "strong" in heard.turns and heard.quantities:
            return False
        if "digress" in heard.turns and not any(is_vague(heard.tokens, m) for m in heard.mentions):
            return not (heard.measures_food and heard.mentions) and not heard.of_kind(Kind.WHISTLES)
        return self.in_aside and not tells and not heard.mentions and not heard.quantities and bool(heard.tokens)

    def _is_title(self, heard: Heard) -> bool:
        """The dish named before anything is measured or done: its foods are known from then on, and no more."""
        if (
            self.result.lines
            or self.result.steps
            or heard.quantities
            or heard.technique
            or heard.vessel
            or not heard.mentions
        ):
            return False
        if not self.result.title:
            self.result.title = re.sub(
                r"^(?:so |today |and |this is |we are making |i am making |i'm making )+",
                "",
                heard.text.rstrip("."),
                flags=re.IGNORECASE,
            )
        for mention in heard.mentions:
            self.larder.know(mention.key, mention.said)
        return True

    def _is_served_with(self, heard: Heard) -> bool:
        """Bread, rice and pickle named without an amount once the cooking is over are eaten beside the dish."""
        staples = method_words().lists["staples"]
        beside = [m for m in heard.mentions if m.said.split()[-1] in staples and self.larder.find(m.key) is None]
        over = bool(self.result.steps) and self.steps.is_over
        serving = re.search(r"\b(?:serve|serving|eat|goes) (?:it |this |hot |well )*with\b", heard.text, re.IGNORECASE)
        if beside and heard.of_kind(Kind.MINUTES) and serving:
            heard.mentions = [m for m in heard.mentions if m not in beside]
            self.result.served_with += [m.said for m in beside]
            return False
        if heard.mentions and re.match(r"^(?:and )?serve (?:\w+ )?with\b", heard.text, re.IGNORECASE):
            beside = heard.mentions
        elif not beside or heard.measures_food or not (over or serving):
            return False
        if len(beside) < len(heard.mentions) and not serving:
            return False
        self.result.served_with += [
            s for s in dict.fromkeys(m.said for m in heard.mentions) if s not in self.result.served_with
        ]
        self.steps.serve(heard)
        return True

    def _cup_size(self, heard: Heard) -> None:
        """ "A two hundred ml cup" tells the cup, and is no amount."""
        for quantity in heard.of_kind(Kind.FOOD):
            behind = heard.tokens[quantity.end].low if quantity.end < len(heard.tokens) else ""
            if quantity.unit == "millilitre" and behind in ("cup", "katori", "glass", "bowl"):
                self.result.cup_ml = quantity.high
                heard.quantities.remove(quantity)

    def _keep_caution(self, heard: Heard) -> None:
        """Sentences of safety are kept word for word, wherever they stand."""
        speech = method_words().speech
        text = heard.sentence.text
        orders = re.search(
            r"(?<!i )(?<!we )(?<!you )\b(?:don't|do not|never|careful|make sure|always|must not|before you)\b",
            text,
            re.IGNORECASE,
        )
        if speech["unsafe"].search(text) or (
            orders and speech["caution"].search(text) and (heard.mentions or heard.vessel)
        ):
            self.result.cautions.append((text, heard.cues[0]))

    # --- corrections -------------------------------------------------------------------------------

    def _take_back(self, heard: Heard) -> None:
        """ "Not tamarind", "leave the tamarind out", "ginger, no, garlic": foods that were named and are not used."""
        for mention in list(heard.mentions):
            before = [t.low for t in heard.tokens[max(0, mention.start - 2) : mention.start]]
            lead = " ".join(t.low for t in heard.tokens[max(0, mention.start - 5) : mention.start]) + " "
            out = mention.end < len(heard.tokens) and heard.tokens[mention.end].low == "out"
            leaving = _LEAVING.search(lead) or (out and re.search(r"\b(?:leave|leaving|keep)\b", lead))
            said_not = before[-1:] == ["not"] or before == ["not", "the"] or "instead of" in " ".join(before)
            swapped = self._swapped(heard, mention)
            if not (said_not or leaving or swapped):
                continue
            line = self.larder.find(mention.key)
            gone = any(w.food.split()[-1] == mention.said.split()[-1] for w in self.result.withdrawn)
            if line is None and not (swapped or said_not or gone or leaving):
                continue
            heard.mentions.remove(mention)
            heard.dropped.append(mention.key)
            if swapped:
                self._put_in_its_place(heard, mention)
            cues = self.larder.withdraw(line) if line is not None and not swapped else []
            self._withdrawn(mention.said, [*cues, *heard.cues])

    def _swapped(self, heard: Heard, mention: Mention) -> bool:
        """A food, then a word of correction, then another food, without an amount between: the first is gone."""
        others = [m for m in heard.mentions if m.start > mention.end and m.key != mention.key]
        if (
            not others
            or "correct" not in heard.turns
            or any(mention.end <= q.start < others[0].start - 3 for q in heard.quantities)
        ):
            return False
        between = " ".join(t.low for t in heard.tokens[mention.end : others[0].start])
        return bool(
            re.match(r"^,? ?(?:no|sorry|i mean|i meant|actually|wait|oops|rather)\b", between.strip(" ,"))
        ) or bool(re.match(r"^, (?:no|sorry|i mean|oops|wait)\b", between))

    @staticmethod
    def _put_in_its_place(heard: Heard, gone: Mention) -> None:
        """The food said instead takes the place, and so the amount, of the one taken back."""
        later = next((m for m in heard.mentions if m.start > gone.end and m.key != gone.key), None)
        if later is not None and not any(later.start - 4 <= q.start <= later.start for q in heard.quantities):
            heard.mentions[heard.mentions.index(later)] = replace(later, start=gone.start, end=gone.end)

    def _withdrawn(self, food: str, cues: list[int]) -> None:
        key = food.rsplit(maxsplit=1)[-1]
        known = next((w for w in self.result.withdrawn if w.food.split()[-1] == key), None)
        if known:
            self.result.withdrawn.remove(known)
            cues = sorted({*known.cues, *cues})
        self.result.withdrawn.append(Withdrawn(known.food if known else food, tuple(dict.fromkeys(cues))))

    def _corrects(self, heard: Heard) -> None:
        """A number said again after "no", "make that", "actually" replaces the one before."""
        settled = settle(heard)
        if settled:
            self.larder.pending_correction = self.steps.pending_correction = settled
        self._unit_corrected(heard)
        if "correct" not in heard.turns and not re.match(r"^(?:no|not)\b", heard.text, re.IGNORECASE):
            return
        pairs = pair(heard)
        for quantity in pairs.floating:
            if quantity.kind is Kind.FOOD or (quantity.kind is Kind.BARE and not quantity.more):
                if (
                    quantity.kind is Kind.BARE
                    and self.last is not None
                    and self.last.kind in (Kind.MINUTES, Kind.WHISTLES)
                ):
                    factor = unit_minutes(self.last)
                    quantity.kind, quantity.low, quantity.high = (
                        self.last.kind,
                        quantity.low * factor,
                        quantity.high * factor,
                    )
                elif self.larder.correct(quantity, heard):
                    heard.quantities.remove(quantity)
        for mention, amount in pairs.foods:
            line = self.larder.find(mention.key)
            if (
                amount
                and line is not None
                and self.result.lines[line].stated
                and "strong" in heard.turns
                and not amount.more
            ):
                self.larder.replace(line, amount, heard)
                heard.quantities.remove(amount)

    def _unit_corrected(self, heard: Heard) -> None:
        """ "Teaspoon, not tablespoon"."""
        found = _RIGHT_UNIT.search(heard.text)
        if not found:
            return
        right = f"{next(g for g in found.groups() if g).lower()}spoon"
        told = [q for q in heard.quantities if q.unit in ("spoon", "teaspoon", "tablespoon") and q.unit != right]
        if told:
            old = replace(told[-1])
            told[-1].unit = right
            self.larder.pending_correction = (old, told[-1])
        else:
            self.larder.correct_unit(right, heard)


def _noun_after(sentence: Sentence, counted: list[Quantity]) -> str:
    end = counted[-1].end
    return sentence.tokens[end].low if end < len(sentence.tokens) and sentence.tokens[end].low.isalpha() else "people"
