"""The steps of a draft while it is being heard."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from chauka.kitchen.forms import Attention, Heat, Technique, Vessel
from chauka.reading.draft import Draft, DraftStep
from chauka.reading.hearing import Heard
from chauka.reading.speech import Kind, Quantity

if TYPE_CHECKING:
    from chauka.reading.heard_lines import Larder

PREPARING = frozenset({Technique.CUT, Technique.PEEL, Technique.PICK, Technique.WASH, Technique.GRATE, Technique.SOAK})
_FINISHING = frozenset({Technique.REST, Technique.ASSEMBLE, Technique.COOL})
_PASSIVE = frozenset(
    {Technique.REST, Technique.SOAK, Technique.SPROUT, Technique.SET, Technique.COOL, Technique.PRESSURE_COOK}
)
_NOW_AND_THEN = frozenset({Technique.BOIL, Technique.SIMMER, Technique.STEAM, Technique.BAKE})
_ALREADY_GONE = re.compile(r"\b(?:done|gone|over|later|ago|passed|up now|are up)\b", re.IGNORECASE)
_ALL = re.compile(
    r"\b(?:everything|all of (?:it|this|these|them)|these|them|all this|all that|the lot)\b", re.IGNORECASE
)
_AT_ONCE = re.compile(r"\b(?:straight ?away|at once|immediately|right away|straight on|quickly)\b", re.IGNORECASE)


_THEN = re.compile(r"^(?:and |so )*(?:then|next)\b", re.IGNORECASE)
_HEADING = re.compile(r"^(?:so |and |okay,? |now,? )*(?:for (?:the|our)|while|meanwhile)\b", re.IGNORECASE)
_GO_ON = (
    frozenset({Technique.SIMMER, Technique.BOIL, Technique.PRESSURE_COOK}),
    frozenset({Technique.TEMPER, Technique.SAUTE}),
)
"""Actions that follow each other within one step until it is said how long it lasts."""


class Steps:
    """The step under way, and when another begins."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft
        self.current: DraftStep | None = None
        self.waiting: list[int] = []
        self.before: DraftStep | None = None
        self.pending_correction: tuple[Quantity, Quantity] | None = None
        self.told = 0

    @property
    def is_over(self) -> bool:
        """Whether the cooking is over: the last step rests, cools or serves, or has been said to end."""
        last = self.draft.steps[-1] if self.draft.steps else None
        return last is not None and (last.technique in _FINISHING or last.closed)

    def hear(self, heard: Heard, larder: Larder) -> None:
        """Begin another step where the sentence does, and add to the step under way what it says of it."""
        self.before = None
        if self._is_forgotten(heard):
            self._prepare_before(heard, larder)
            return
        if "late" in heard.turns and heard.technique in (None, Technique.MIX) and not heard.measures_food:
            return
        if self._begins(heard, larder):
            self._begin(heard, larder)
        step = self.current
        if step is None:
            return
        says = heard.technique or heard.vessel or heard.heat or heard.until or heard.mentions or heard.quantities
        if not (says or heard.remark):
            return
        step.cues += [c for c in heard.cues if c not in step.cues]
        if heard.sentence.text not in step.text:
            step.text = f"{step.text} {heard.sentence.text}".strip()
        self._add_to(step, heard)

    def _add_to(self, step: DraftStep, heard: Heard) -> None:
        knife = step.technique in PREPARING and step.technique is not Technique.CUT
        if heard.technique and (step.technique in (None, Technique.MIX) or knife):
            step.technique = heard.technique
        if heard.vessel and step.vessel is None:
            step.vessel, step.vessel_said = heard.vessel, heard.vessel_said
        step.heat = heard.heat or step.heat
        if heard.until and not step.until:
            step.until = heard.until
        step.at_once |= bool(_AT_ONCE.search(heard.text))

    # --- when another begins -----------------------------------------------------------------------

    def _begins(self, heard: Heard, larder: Larder) -> bool:
        """Whether the sentence begins another step."""
        step = self.current
        acts = heard.does is not None or heard.vessel is not None
        if step is None:
            return acts
        if heard.ended and acts:
            step.until = step.until or heard.ended
            return True
        rested = step.technique in (Technique.REST, Technique.COOL) and heard.technique is not step.technique
        if rested and acts:
            return True
        if step.technique in PREPARING and self._leaves_the_knife(heard, acts=acts):
            return acts
        return self._goes_elsewhere(step, heard, larder) if acts else self._begins_without_action(step, heard)

    def _goes_elsewhere(self, step: DraftStep, heard: Heard, larder: Larder) -> bool:
        if heard.does == "add":
            return self._begins_adding(step, heard)
        if heard.does in (None, "heat"):
            return self._moves(step, heard)
        return self._differs(step, heard, larder)

    def _begins_without_action(self, step: DraftStep, heard: Heard) -> bool:
        """ "Then the potatoes": put in. A heading ends the step, and what follows is listed for the next."""
        begins = "begin" in heard.turns
        brought = begins or heard.measures_food or bool(heard.of_kind(Kind.BARE))
        if brought and heard.mentions and step.closed and not heard.remark and "correct" not in heard.turns:
            return True
        if begins and heard.mentions and step.lines and (heard.of_kind(Kind.MINUTES) or heard.until):
            return True
        named_later = step.closed and not (heard.mentions or heard.quantities) and _THEN.match(heard.text)
        if begins and (named_later or _HEADING.match(heard.text)):
            self.current = None
        return False

    @staticmethod
    def _begins_adding(step: DraftStep, heard: Heard) -> bool:
        """What is put into another vessel, or with a time of its own, or into a step that is closed."""
        if heard.vessel not in (None, step.vessel):
            return True
        if step.lines and step.technique in (Technique.TEMPER, Technique.SAUTE) and heard.of_kind(Kind.MINUTES):
            return True
        adding = step.technique in (None, Technique.MIX) and not step.closed
        begins = step.closed or "begin" in heard.turns
        return begins and not adding and not re.search(r"\bhere\b", heard.text)

    @staticmethod
    def _moves(step: DraftStep, heard: Heard) -> bool:
        """Another vessel, named or heated; "take it out on a plate" is no step of its own."""
        if heard.does is None and heard.vessel in (Vessel.BOWL, Vessel.BOX) and not heard.mentions:
            return False
        other = heard.vessel is not step.vessel
        moved = other and (step.vessel is not None or (heard.does == "heat" and bool(step.lines)))
        return moved or ("begin" in heard.turns and (step.closed or other))

    def _leaves_the_knife(self, heard: Heard, *, acts: bool) -> bool:
        """Whether a cutting step is over: something goes into a vessel, or another food is brought out."""
        if heard.vessel is not None and heard.technique not in PREPARING:
            return heard.vessel not in (Vessel.BOWL, Vessel.BOX) or heard.measures_food
        brought = not acts and heard.mentions and (heard.measures_food or heard.of_kind(Kind.BARE))
        if brought:
            self.current = None
        return bool(brought)

    def _differs(self, step: DraftStep, heard: Heard, larder: Larder) -> bool:
        """Whether another action is another step: not where it only goes on with this one."""
        new, old, begins = heard.technique, step.technique, "begin" in heard.turns
        if old is None:
            return step.closed
        if heard.vessel is not None and step.vessel is not None and heard.vessel is not step.vessel:
            return True
        named = {larder.find(m.key) for m in heard.mentions}
        if new in PREPARING and old in PREPARING:
            return step.closed or begins or (bool(named) and not named & set(step.lines))
        if new is old and not (new is Technique.GRIND and None in named and step.lines):
            return step.closed and not any(q.more for q in heard.quantities) and bool(begins or heard.mentions)
        apart = (new is Technique.PRESS and None in named and bool(heard.of_kind(Kind.BARE)) and bool(step.lines)) or (
            new is Technique.MIX and heard.vessel is not None and old in PREPARING | {Technique.PRESS, Technique.GRIND}
        )
        goes_on = not step.closed and (
            (new in (Technique.MIX, Technique.PRESS) and not begins) or any({new, old} <= alike for alike in _GO_ON)
        )
        return apart or not goes_on

    def _begin(self, heard: Heard, larder: Larder) -> None:
        self.told += 1
        step = DraftStep(text="", spoken=self.told)
        self.draft.steps.append(step)
        self.current = step
        asked_for = any(larder.find(m.key) in self.waiting for m in heard.mentions)
        if self.waiting and (not asked_for or _ALL.search(heard.text)):
            step.lines += [n for n in self.waiting if n not in step.lines]
            self.waiting = []

    # --- done before, told late --------------------------------------------------------------------

    def _is_forgotten(self, heard: Heard) -> bool:
        done = [
            d for d in heard.done if d in ("cut", "peel", "grate", "soak", "wash", "pick", "boil", "sprout", "press")
        ]
        lasting = any(d in ("soak", "sprout") for d in heard.done)
        return (
            bool(done)
            and (
                lasting
                or "forgot" in heard.turns
                or re.search(r"\balready\b", heard.text, re.IGNORECASE) is not None
                or "late" in heard.turns
            )
        ) or ("forgot" in heard.turns and heard.technique in PREPARING | {Technique.SOAK})

    def _prepare_before(self, heard: Heard, larder: Larder) -> None:
        """A preparation told late stands behind the last preparation before the step under way."""
        self.told += 1
        done = heard.done[0] if heard.done else heard.does or "cut"
        step = DraftStep(
            text=heard.sentence.text,
            technique=Technique(done),
            spoken=self.told,
            cues=list(heard.cues),
            done_before=True,
        )
        steps = self.draft.steps
        place = max((n + 1 for n, s in enumerate(steps) if s.technique in PREPARING), default=0)
        if step.technique in (Technique.SOAK, Technique.SPROUT):
            place = 0
        steps.insert(place, step)
        step.until = "overnight" if "overnight" in heard.text.lower() else ""
        self.before = step
        if not heard.mentions and larder.focus:
            step.lines.append(larder.focus[-1])
            line = self.draft.lines[larder.focus[-1]]
            word = {
                "cut": "cut",
                "soak": "soaked",
                "boil": "boiled",
                "peel": "peeled",
                "grate": "grated",
                "wash": "washed",
            }
            line.form += [word[done]] if done in word and word[done] not in line.form else []
        if self.current is not None:
            self.current.cues += [c for c in heard.cues if c not in self.current.cues]

    # --- lines and times ---------------------------------------------------------------------------

    def use(self, line: int) -> None:
        """A line goes into the step under way, or waits for the next one."""
        for step in (self.before, self.current):
            if step is not None and line not in step.lines:
                step.lines.append(line)
        if self.current is None and self.before is None and line not in self.waiting:
            self.waiting.append(line)
        elif self.current is not None and line in self.waiting:
            self.waiting.remove(line)

    def time(self, heard: Heard) -> None:
        """Minutes and whistles of the step under way; "two more" is added, a correction replaces."""
        step = self.before if self.before is not None and heard.of_kind(Kind.MINUTES) else self.current
        if step is None:
            return
        for quantity in heard.of_kind(Kind.WHISTLES):
            self._whistles(step, quantity)
        behind = heard.text.lower()
        for quantity in heard.quantities:
            if quantity.kind is Kind.MINUTES:
                self._minutes(step, quantity, heard)
            elif (
                quantity.kind is Kind.BARE
                and quantity.more
                and step.high_min is not None
                and re.search(r"\bmore\b", behind)
            ) and not any(quantity.end <= m.start <= quantity.end + 2 for m in heard.mentions):
                self._longer(step, quantity)
        self.pending_correction = None

    def _whistles(self, step: DraftStep, quantity: Quantity) -> None:
        whistles = round(quantity.high)
        if step.whistles is not None and step.whistles != whistles:
            step.corrected_from = f"{step.whistles} whistles"
        elif self.pending_correction and self.pending_correction[1] is quantity:
            step.corrected_from = f"{self.pending_correction[0].high:g} whistles"
        step.whistles = whistles
        if step.technique in (None, Technique.MIX, Technique.SIMMER, Technique.BOIL):
            step.technique = Technique.PRESSURE_COOK
        step.vessel = step.vessel or Vessel.PRESSURE_COOKER

    def _minutes(self, step: DraftStep, quantity: Quantity, heard: Heard) -> None:
        around = " ".join(t.low for t in heard.tokens[max(0, quantity.start - 3) : quantity.end + 3])
        if step.high_min is None:
            step.low_min, step.high_min = quantity.low, quantity.high
            if self.pending_correction and self.pending_correction[1] is quantity:
                step.corrected_from = f"{self.pending_correction[0].high:g} min"
        elif quantity.more or re.search(r"\b(?:more|another|further|extra)\b", around):
            self._longer(step, quantity)
        elif "correct" in heard.turns and not _ALREADY_GONE.search(around):
            step.corrected_from = f"{step.high_min:g} min"
            step.low_min, step.high_min = quantity.low, quantity.high
        elif _ALREADY_GONE.search(around) or re.search(r"\bafter\b", around):
            return
        elif step.low_min is not None and "then" in heard.text.lower():
            step.low_min, step.high_min = step.low_min + quantity.low, step.high_min + quantity.high

    @staticmethod
    def _longer(step: DraftStep, quantity: Quantity) -> None:
        if step.high_min is not None and step.low_min is not None:
            step.corrected_from = f"{step.high_min:g} min, then {quantity.high:g} more"
            step.low_min, step.high_min = step.low_min + quantity.low, step.high_min + quantity.high

    def serve(self, heard: Heard) -> None:
        """The last step: what it is eaten with."""
        self.told += 1
        self.draft.steps.append(
            DraftStep(
                heard.sentence.text,
                Technique.ASSEMBLE,
                cues=list(heard.cues),
                spoken=self.told,
                attention=Attention.HANDS_ON,
            )
        )
        self.current = None

    def finish(self) -> None:
        """What only the end tells: attention, techniques left open, foods that wait for a step."""
        for step in self.draft.steps:
            if step.technique is None:
                fat = any(self.draft.lines[n].food.split()[-1] in ("oil", "ghee", "butter") for n in step.lines)
                step.technique = Technique.TEMPER if fat and not step.closed else _usual(step)
            elif step.technique is Technique.MIX and step.high_min is not None and (step.heat not in (None, Heat.NONE)):
                step.technique = _usual(step)
            elif step.technique is Technique.MIX and step.vessel is Vessel.PRESSURE_COOKER and step.closed:
                step.technique = Technique.PRESSURE_COOK
            if step.vessel is Vessel.LADLE and step.technique in (Technique.SAUTE, Technique.SIMMER):
                step.technique = Technique.TEMPER
            if step.attention is None:
                step.attention = _attention(step)
        later = [s for s in self.draft.steps if s.technique not in PREPARING and s.technique not in _FINISHING]
        if later and self.waiting:
            used = {n for s in self.draft.steps for n in s.lines}
            later[-1].lines += [n for n in self.waiting if n not in used]


def _usual(step: DraftStep) -> Technique:
    """What a vessel with food in it does when nobody says."""
    if step.vessel is Vessel.PRESSURE_COOKER:
        return Technique.PRESSURE_COOK
    if step.vessel is None and step.heat is None and not step.closed:
        return Technique.MIX
    return {
        Vessel.GRINDER: Technique.GRIND, Vessel.STEAMER: Technique.STEAM, Vessel.GRIDDLE: Technique.GRIDDLE,
        Vessel.WOK: Technique.SAUTE, Vessel.LADLE: Technique.TEMPER, Vessel.BOWL: Technique.MIX,
        Vessel.BOX: Technique.REST,
    }.get(step.vessel or Vessel.POT, Technique.SIMMER)  # fmt: skip


def _attention(step: DraftStep) -> Attention:
    if step.technique in _PASSIVE:
        return Attention.HANDS_OFF
    return Attention.NOW_AND_THEN if step.technique in _NOW_AND_THEN else Attention.HANDS_ON
