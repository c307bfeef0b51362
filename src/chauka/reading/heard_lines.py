"""The ingredient lines of a draft while it is being heard."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from chauka.reading.draft import Draft, DraftLine
from chauka.reading.hearing import Heard
from chauka.reading.mentions import Mention
from chauka.reading.method_words import method_words
from chauka.reading.pairing import is_small, is_vague, pair
from chauka.reading.speech import Kind, Quantity
from chauka.reading.words import words

if TYPE_CHECKING:
    from chauka.reading.heard_steps import Steps

SHARED = frozenset({"water", "salt", "oil", "sugar", "ghee"})
"""Foods that a dish takes several times: named again in another step they are another line."""

_MADE_OF = frozenset({"puree", "paste", "mixture", "water", "piece", "green", "cube", "slice"})
"""Behind a food's name these mean that food again: "the tomato puree" of the tomatoes."""

_REMARK = re.compile(r"\b(?:is|are|was|were|had|has|gives|gets|comes|looks|smells|tastes|means)\b", re.IGNORECASE)


_Key = tuple[str, ...]


def _equal(line: _Key, said: _Key) -> bool:
    return line == said


def _last_word(line: _Key, said: _Key) -> bool:
    """ "The seeds" are the jackfruit seeds; "the oil" may be any."""
    return len(said) == 1 < len(line) and line[-1] == said[0] and said[0] not in ("water", "oil", "powder")


def _first_word(line: _Key, said: _Key) -> bool:
    """ "The coriander" is the coriander seeds; "mustard" is not the mustard oil."""
    return len(said) == 1 < len(line) and line[0] == said[0] and line[-1] not in ("oil", "milk", "flour", "juice")


def _longer(line: _Key, said: _Key) -> bool:
    """ "Red potatoes" are the potatoes; curry leaves are not "leaves"."""
    return len(line) == 1 < len(said) and said[-1] == line[0] and line[0] not in ("water", "oil", "leaf", "seed")


_SAME_FOOD = (_equal, _last_word, _first_word, _longer)
"""Ways in which a name means a line, the surest first."""


class Larder:
    """Finds, adds, corrects and withdraws lines."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft
        self.known: list[tuple[str, ...]] = []
        self.keys: list[tuple[str, ...]] = []
        self.listed = 0
        self.focus: list[int] = []
        self.said: dict[tuple[str, ...], str] = {}
        self.pending_correction: tuple[Quantity, Quantity] | None = None

    def know(self, key: tuple[str, ...], said: str = "") -> None:
        """Remember a food that was named."""
        self.said.setdefault(key, said or " ".join(key))
        if key not in self.known:
            self.known.append(key)

    def finish(self) -> None:
        """Drop the withdrawn lines; the steps' line numbers follow."""
        kept = [n for n, key in enumerate(self.keys) if key]
        places = {old: new for new, old in enumerate(kept)}
        self.draft.lines = [self.draft.lines[n] for n in kept]
        for step in self.draft.steps:
            step.lines = [places[n] for n in dict.fromkeys(step.lines) if n in places]

    def listing(self, line: DraftLine, key: tuple[str, ...]) -> None:
        """Take a line of a written list: the method then uses it and does not change it."""
        self.draft.lines.append(line)
        self.keys.append(key)
        self.know(key, line.food)
        self.listed = len(self.draft.lines)

    def find(self, key: tuple[str, ...]) -> int | None:
        """The latest line that a name means: the same words, or the last or first word of a longer name."""
        alive = [n for n in range(len(self.keys) - 1, -1, -1) if self.keys[n]]
        for same in _SAME_FOOD:
            meant = [number for number in alive if same(self.keys[number], key)]
            main = [n for n in meant if self.draft.lines[n].unit not in ("teaspoon", "pinch", "tablespoon")]
            if meant:
                return meant[0] if self.keys[meant[0]] == key else (main or meant)[0]
        return None

    def hear(self, heard: Heard, steps: Steps) -> None:
        """Take the foods of a sentence: new lines, amounts for lines named before, uses in the step under way."""
        pairs = pair(heard)
        for pointing in pairs.pointing:
            self._fill_focus(pointing, heard)
        for mention, quantity in pairs.foods:
            self._take(mention, quantity, heard, steps)
        for floating in pairs.floating:
            if floating.kind is Kind.FOOD:
                self._spice_or_focus(floating, heard, steps)
        self.pending_correction = None

    # --- one food ----------------------------------------------------------------------------------

    def _take(self, mention: Mention, quantity: Quantity | None, heard: Heard, steps: Steps) -> None:
        vague = is_vague(heard.tokens, mention) if quantity is None or is_small(quantity) else ""
        at = self.find(mention.key)
        if at is None and quantity is None and mention.key[-1] in _MADE_OF and len(mention.key) > 1:
            at = self.find(mention.key[:-1])
        if quantity is not None and is_small(quantity):
            vague, quantity = vague or f"a {quantity.unit} of", None
        if at is None or self._is_another(at, mention, quantity, vague, steps):
            if at is None and quantity is None and not vague and not self._tells(heard, steps):
                self.know(mention.key, mention.said)
                return
            at = self._new(mention)
        if self._only_spoken_of(mention, quantity, heard):
            return
        line = self.draft.lines[at]
        line.cues += [c for c in self._cues(mention, heard) if c not in line.cues]
        if quantity is not None and (not line.stated or self._is_corrected(quantity)) and at >= self.listed:
            self._set(line, quantity, heard)
        elif vague and not line.stated:
            line.vague = vague
        if at < self.listed:
            steps.use(at)
            return
        line.form += [f for f in _forms(heard, mention) if f not in line.form]
        line.optional |= bool(re.search(r"\boptional\b", heard.text, re.IGNORECASE))
        line.to_taste |= bool(re.search(r"\bto (?:your )?taste\b", heard.text, re.IGNORECASE))
        self.focus = [n for n in self.focus if n != at] + [at]
        if "late" not in heard.turns or quantity is not None:
            steps.use(at)

    def _is_corrected(self, quantity: Quantity | None) -> bool:
        """Whether the amount was put right in this sentence after it had been given before it."""
        pending = self.pending_correction
        if quantity is None or pending is None or pending[1] is not quantity:
            return False
        return any(line.low == pending[0].low and line.stated for line in self.draft.lines)

    @staticmethod
    def _only_spoken_of(mention: Mention, quantity: Quantity | None, heard: Heard) -> bool:
        """ "This coconut is sweet", "don't roast the coconut": a line named, not used here."""
        if quantity is not None:
            return False
        before = " ".join(t.low for t in heard.tokens[max(0, mention.start - 7) : mention.start]).rsplit(",", 1)[-1]
        behind = heard.tokens[mention.end].low if mention.end < len(heard.tokens) else ""
        barred = re.search(r"\b(?:don't|do not|never|without|or the)\b", before) is not None
        return barred or behind in ("is", "are", "was", "were", "has", "have", "had", "gets", "splits", "keeps")

    def _tells(self, heard: Heard, steps: Steps) -> bool:
        """Whether a food named without an amount goes into the dish, or is only spoken of."""
        if heard.technique or heard.vessel or heard.measures_food or "late" in heard.turns:
            return True
        if heard.remark or _REMARK.search(heard.text):
            return "using" in heard.text.lower()
        return steps.current is not None or "begin" in heard.turns or bool(self.draft.lines)

    def _is_another(self, at: int, mention: Mention, quantity: Quantity | None, vague: str, steps: Steps) -> bool:
        line = self.draft.lines[at]
        if self._is_corrected(quantity) or at < self.listed:
            return False
        if mention.key[-1] in SHARED and self.keys[at][-1] == mention.key[-1]:
            if "oil" in mention.key and mention.key != self.keys[at]:
                return True
            used_here = steps.current is not None and at in steps.current.lines
            if quantity is not None:
                return line.stated or quantity.more or (bool(line.vague) and not used_here)
            return (bool(vague) and not used_here) or (
                mention.key == ("salt",) and not used_here and bool(line.vague or line.stated)
            )
        if quantity is None:
            return False
        same = line.low == quantity.low and line.unit == self._unit(quantity)
        return line.stated and (quantity.more or not same)

    def _new(self, mention: Mention) -> int:
        """A new line; a lone "seeds" takes the full name of a food named before."""
        said, key = mention.said, mention.key
        if len(key) == 1 and (full := next((k for k in reversed(self.known) if len(k) > 1 and k[-1] == key[0]), None)):
            said, key = " ".join((*full[:-1], mention.said)), full
        self.draft.lines.append(DraftLine(said))
        self.keys.append(key)
        self.know(key)
        return len(self.draft.lines) - 1

    @staticmethod
    def _cues(mention: Mention, heard: Heard) -> list[int]:
        return sorted({t.cue for t in heard.tokens[mention.start : mention.end]}) or heard.cues

    def _set(self, line: DraftLine, quantity: Quantity, heard: Heard) -> None:
        line.low, line.high, line.unit, line.stated = quantity.low, quantity.high, self._unit(quantity), True
        line.size = quantity.size if quantity.unit is None else None
        before = " ".join(t.low for t in heard.tokens[max(0, quantity.start - 3) : quantity.start])
        line.approximate |= bool(re.search(r"\b(?:about|maybe|around|roughly|say|almost|nearly)\b", before))
        line.cues += [c for c in heard.cues if c not in line.cues]
        if self.pending_correction and self.pending_correction[1] is quantity:
            line.corrected_from = _said(self.pending_correction[0])

    @staticmethod
    def _unit(quantity: Quantity) -> str | None:
        return quantity.unit

    def _fill_focus(self, quantity: Quantity, heard: Heard) -> None:
        """ "I have about twenty of them": of the food spoken of last, in this sentence or before it."""
        if heard.mentions:
            mention = heard.mentions[-1]
            at = self.find(mention.key)
            if at is None:
                full = next((k for k in reversed(self.known) if k[-1] == mention.key[-1]), mention.key)
                at = self._new(
                    Mention(mention.start, mention.end, " ".join(full) if full != mention.key else mention.said, full)
                )
            self._set(self.draft.lines[at], quantity, heard)
        elif self.focus:
            self._set(self.draft.lines[self.focus[-1]], quantity, heard)

    def _spice_or_focus(self, quantity: Quantity, heard: Heard, steps: Steps) -> None:
        """An amount without a food: "four cloves" are the spice; else it is of the last food without an amount."""
        if quantity.unit == "clove":
            at = self._new(Mention(quantity.start, quantity.end, "cloves", ("clove",)))
            quantity.unit = None
            self._set(self.draft.lines[at], quantity, heard)
            steps.use(at)
            return
        lacking = [n for n in self.focus[-4:] if not self.draft.lines[n].stated and self.keys[n]]
        if lacking and not heard.mentions:
            self._set(self.draft.lines[lacking[-1]], quantity, heard)
        elif not self.draft.lines and self.known and not heard.mentions and quantity.unit not in ("teaspoon", "pinch"):
            key = self.known[-1]  # "the market was full of turnips. I got half a kilo"
            at = self._new(Mention(0, 0, self.said.get(key, " ".join(key)), key))
            self._set(self.draft.lines[at], quantity, heard)
            self.focus.append(at)
        elif self.focus and not heard.mentions and self.draft.lines[self.focus[-1]].unit == "spoon":
            self.replace(self.focus[-1], quantity, heard)  # "one spoon of paste. One teaspoon."

    # --- corrections -------------------------------------------------------------------------------

    def correct(self, quantity: Quantity, heard: Heard) -> bool:
        """An amount without a food after a word of correction: of the last line in that unit, or the last at all."""
        stated = [n for n in self.focus if self.draft.lines[n].stated and self.keys[n]]
        same = [n for n in stated if self.draft.lines[n].unit == quantity.unit or quantity.kind is Kind.BARE]
        spoons = [
            n for n in stated if {self.draft.lines[n].unit, quantity.unit} <= {"spoon", "teaspoon", "tablespoon", "cup"}
        ]
        if quantity.kind is Kind.BARE and not _follows_correction(heard, quantity):
            return False
        for choice in (same, spoons):
            if choice:
                self.replace(choice[-1], quantity, heard)
                return True
        return False

    def replace(self, at: int, quantity: Quantity, heard: Heard) -> None:
        """Put another amount in a line and remember the first."""
        line = self.draft.lines[at]
        line.corrected_from = _amount_text(line)
        if quantity.kind is Kind.BARE:
            quantity.unit = line.unit
        line.low, line.high, line.unit = quantity.low, quantity.high, quantity.unit
        line.cues += [c for c in heard.cues if c not in line.cues]

    def correct_unit(self, right: str, heard: Heard) -> None:
        """Another spoon for the last line that was measured with one."""
        for at in reversed(self.focus):
            line = self.draft.lines[at]
            if line.unit in ("spoon", "teaspoon", "tablespoon"):
                line.corrected_from = _amount_text(line)
                line.unit = right
                line.cues += [c for c in heard.cues if c not in line.cues]
                return

    def withdraw(self, at: int) -> list[int]:
        """Take a line out (its place stays so that the others keep theirs); its cues."""
        self.keys[at] = ()
        self.focus = [n for n in self.focus if n != at]
        return self.draft.lines[at].cues


def _follows_correction(heard: Heard, quantity: Quantity) -> bool:
    """Whether a bare number stands near a word of correction, or the sentence says little else."""
    before = " ".join(t.low for t in heard.tokens[max(0, quantity.start - 4) : quantity.start])
    return len(heard.tokens) <= 6 or bool(
        method_words().speech["correct"].search(before) or re.search(r"\bno\b|\bnot\b|\bgo for\b|\bmake\b", before)
    )


def _forms(heard: Heard, mention: Mention) -> list[str]:
    """Words of form right before the food and behind it, up to the next food."""
    following = [m.start for m in heard.mentions if m.start > mention.start]
    end = min([*following, mention.end + 9, len(heard.tokens)])
    around = [*heard.tokens[max(0, mention.start - 2) : mention.start], *heard.tokens[mention.end : end]]
    forms = words().set_of("forms") - {"cold", "cut", "whole", "good", "optional", "divided", "big"}
    until = heard.until.lower()
    return [t.low for t in around if t.low in forms and t.low not in until]


def _said(quantity: Quantity) -> str:
    return (
        f"{quantity.low:g}"
        + (f"–{quantity.high:g}" if quantity.high != quantity.low else "")
        + f" {quantity.unit or ''}".rstrip()
    )


def _amount_text(line: DraftLine) -> str:
    number = f"{line.low:g}" if line.low is not None else ""
    return f"{number} {line.unit or ''}".strip()
