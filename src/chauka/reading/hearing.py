"""What one spoken or written sentence holds: numbers, foods, actions, a vessel, a flame, an end, turns of speech."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from chauka.kitchen.forms import Heat, Technique, Vessel
from chauka.reading.cues import Sentence
from chauka.reading.mentions import Mention, mentions_in
from chauka.reading.method_words import method_words
from chauka.reading.speech import Kind, Quantity, quantities_in
from chauka.reading.spoken_numbers import Token

_BEFORE_VERB = frozenset(
    [
        ",",
        ".",
        ";",
        ":",
        "and",
        "then",
        "you",
        "i",
        "we",
        "to",
        "just",
        "now",
        "so",
        "please",
        "lets",
        "let's",
        "i'll",
        "we'll",
        "also",
        "again",
        "first",
        "gently",
        "lightly",
        "slowly",
        "finely",
        "roughly",
        "quickly",
        "simply",
        "immediately",
        "must",
        "should",
        "can",
        "will",
        "them",
        "it",
        "or",
        "-",
        "i'd",
        "you'll",
        "don't",
        "dont",
        "never",
        "always",
        "they",
        "which",
        "meantime",
        "time",
        "start",
        "keep",
        "keeps",
        "by",
        "am",
        "are",
        "is",
        "i'm",
        "we're",
        "thoroughly",
        "properly",
        "well",
        "carefully",
        "meanwhile",
        "next",
        "finally",
        "straight",
        "i've",
    ]
)
_DONE_BEFORE = frozenset(
    {"i", "we", "i've", "we've", "already", "have", "had", "got", "been", "was", "were", "is", "are"}
)
_NEGATIVE = re.compile(
    r"\b(?:don't|do not|dont|never|not to|no need to|without|shouldn't|should not|won't|didn't)\b[^,.;!?]*",
    re.IGNORECASE,
)
_UNTIL = re.compile(r"\b(?:till|until|untill|'til)\s+([^,.;!?]+(?:,? (?:but|and) [^,.;!?]+)?)", re.IGNORECASE)
_WANT = re.compile(
    r"^(?:you want|we want|it should be|they should be|you should get|it should)\s+([^.;!?]+)", re.IGNORECASE
)
_WHEN = re.compile(
    r"\b(?:when|once|as soon as|in case|because|or else|or)\b\s+(?:it|they|the|that|this|you)\b[^,.;!?]*|"
    r"\b(?:after|before)\b\s+(?:it|they|you)\b[^,.;!?]*",
    re.IGNORECASE,
)
_NO = re.compile(
    r"(?:^|[,.;]\s)(?:oh )?no\b(?! (?:need|more|salt|onion|garlic|sugar|oil|water|lumps|one))", re.IGNORECASE
)
_BOILING = re.compile(r"\b(?:(?:bring|come|comes)\b.{0,20}\bboil|rolling boil)\b", re.IGNORECASE)
_READY = re.compile(
    r"\bwhen (?:they|it|the \w+|the \w+ \w+) (?:pops?|crackles?|splutters?|sizzles?|browns?|splits?)\b", re.IGNORECASE
)
_GOING_IN = re.compile(r"\b(?:go|goes|going)\s+(?:straight\s+|right\s+|back\s+)?(?:in|into|on)\b", re.IGNORECASE)
_REMARK = re.compile(r"^(?:see|look|like this|you see|you will see|you know)\b", re.IGNORECASE)
_RANK = {
    "pressure-cook": 9, "deep-fry": 9, "shallow-fry": 9, "temper": 8, "bake": 8, "steam": 8, "griddle": 8, "blanch": 8,
    "simmer": 7, "boil": 7, "roast": 7, "saute": 7, "cook": 6, "grind": 6, "knead": 6, "soak": 6, "sprout": 6, "set": 5,
    "cut": 5, "grate": 5, "rest": 4, "cool": 4, "assemble": 4, "press": 3, "peel": 3, "heat": 2, "add": 2,
    "mix": 2, "wash": 1, "pick": 1,
}  # fmt: skip
"""Which action names the step where a sentence tells several: cooking before cutting before adding."""

_FRACTIONS = frozenset({"quarter", "halve", "half"})
_OBJECTS = frozenset({"the", "them", "it", "each"})
_NEEDS_MINUTES = frozenset({"rest", "set"})


@dataclass(slots=True)
class Heard:
    """One sentence, taken apart."""

    sentence: Sentence
    text: str
    tokens: list[Token]
    quantities: list[Quantity]
    mentions: list[Mention]
    does: str | None = None
    done: list[str] = field(default_factory=list)
    technique: Technique | None = None
    vessel: Vessel | None = None
    vessel_said: str = ""
    heat: Heat | None = None
    until: str = ""
    turns: frozenset[str] = frozenset()
    remark: bool = False
    ended: str = ""
    """How the step before ended, "when they crackle"."""
    dropped: list[tuple[str, ...]] = field(default_factory=list)

    @property
    def cues(self) -> list[int]:
        """All cues that the sentence touches."""
        first, last = self.sentence.cues
        return list(range(first, last + 1))

    @property
    def measures_food(self) -> bool:
        """Whether an amount of food is said."""
        return any(q.kind is Kind.FOOD for q in self.quantities)

    def of_kind(self, kind: Kind) -> list[Quantity]:
        """Numbers that count this."""
        return [q for q in self.quantities if q.kind is kind]


def hear(sentence: Sentence, known: Iterable[tuple[str, ...]]) -> Heard:
    """Take a sentence apart. What stands under "if you want …" is left out; what stands under "don't" does nothing."""
    speech = method_words().speech
    tokens = _unconditional(sentence)
    text = _join(tokens)
    turns = frozenset(name for name, pattern in speech.items() if name != "begin" and pattern.search(sentence.text))
    if _NO.search(sentence.text):
        turns |= {"correct"}
    if speech["begin"].match(
        re.sub(r"^(?:so|and|oh|okay|ok|well|right|alright|yes)[,.]?\s+(?=\w)", "", text, flags=re.IGNORECASE)
    ):
        turns |= {"begin"}
    heard = Heard(sentence, text, tokens, quantities_in(tokens), mentions_in(tokens, known), turns=turns)
    _within_names(heard)
    heard.remark = bool(_REMARK.match(text))
    _find_until(heard)
    _forget_mentions_of_the_end(heard)
    plain = _NEGATIVE.sub(lambda m: " " * len(m.group()), text)
    _find_vessel(heard, plain)
    _find_heat(heard, plain)
    _find_actions(heard, plain)
    return heard


def _within_names(heard: Heard) -> None:
    """A unit that is part of a food's name is none, "one bottle gourd"; a lone "one" counts nothing, "a quick one"."""
    for quantity in list(heard.quantities):
        named = any(m.start < quantity.end <= m.end and m.end - m.start > 1 for m in heard.mentions)
        if quantity.unit and named:
            quantity.unit, quantity.kind, quantity.end = None, Kind.BARE, quantity.end - 1
        before = heard.tokens[quantity.start - 1].low if quantity.start else ","
        one = heard.tokens[quantity.start].low == "one" and quantity.kind is Kind.BARE and quantity.high == 1
        ahead = any(0 <= m.start - quantity.end <= 3 for m in heard.mentions)
        if one and not ahead and before not in _BEFORE_ONE:
            heard.quantities.remove(quantity)


_BEFORE_ONE = frozenset(
    {",", ".", "it", "that", "to", "no", "sorry", "actually", "just", "only", "be", "with", "not", "about"}
)


def _unconditional(sentence: Sentence) -> list[Token]:
    """The tokens outside a clause that begins with a condition; none if the sentence begins with one."""
    conditional = method_words().speech["conditional"]
    clauses: list[list[Token]] = [[]]
    for token in sentence.tokens:
        clauses[-1].append(token)
        if token.text in (",", ";"):
            clauses.append([])
    kept: list[Token] = []
    for number, clause in enumerate(clauses):
        if conditional.search(_join(clause)):
            if number == 0:
                return []
            continue
        kept += clause
    return kept


def _join(tokens: list[Token]) -> str:
    return re.sub(r"\s+([.,;:!?…)])", r"\1", " ".join(t.text for t in tokens))


def _find_until(heard: Heard) -> None:
    found = _UNTIL.search(heard.text)
    wanted = _WANT.match(heard.text)
    if found:
        heard.until = found.group().strip()
    elif wanted and not heard.of_kind(Kind.WHISTLES) and not heard.measures_food:
        heard.until = wanted.group(1).strip()


def _forget_mentions_of_the_end(heard: Heard) -> None:
    """ "Till the oil comes out" names no oil that goes in; "when it crackles" ends the step before."""
    opening = re.match(r"^(?:and |then |so |now )*(?:when|once|as soon as)\b[^,]*,", heard.text, re.IGNORECASE)
    words = heard.until.lower().split()
    lows = [t.low for t in heard.tokens]
    start = next((n for n, w in enumerate(lows) if w in ("till", "until", "untill")), None)
    span = range(start, start + len(words) + 1) if start is not None and words else range(0)
    opened = len(opening.group().replace(",", " ,").split()) if opening else 0
    if not heard.until:
        ready = _READY.search(heard.text)
        heard.until = ready.group() if ready and not opening else "it boils" if _BOILING.search(heard.text) else ""
    heard.mentions = [m for m in heard.mentions if m.start not in span and m.start >= opened]
    if opening:
        heard.ended = opening.group().rstrip(",").strip()


def _find_vessel(heard: Heard, plain: str) -> None:
    for pattern, vessel in method_words().vessels:
        for found in pattern.finditer(plain):
            before = plain[max(0, found.start() - 24) : found.start()].lower()
            washing = re.search(r"\b(?:wash|rinse|clean|like) (?:out )?(?:the|a) $", before)
            if re.match(r"\s+of\b", plain[found.end() :]):
                continue  # "a pot of dal"
            placed = re.search(
                r"\b(?:in|into|on|onto|to|over|the|my|a|an|another|same|big|small|heavy|heat|hot)\s+(?:\w+\s+)?$",
                before,
            )
            if washing or (vessel is Vessel.BOX and not re.search(r"\b(?:in|into)\s+(?:\w+\s+){0,2}$", before)):
                continue
            if placed or not before.strip():
                heard.vessel, heard.vessel_said = vessel, found.group().lower()
                return


def _find_heat(heard: Heard, plain: str) -> None:
    for pattern, heat in method_words().heats:
        for found in pattern.finditer(plain):
            word = found.group().lower()
            lone = word in ("low", "medium", "high", "simmer")
            if lone and not re.search(
                r"\b(?:on|at|to|heat|flame|keep it|turn it)\s+$|^\s*$|,\s*$", plain[: found.start()].lower()
            ):
                continue
            if word == "simmer" or (lone and re.match(r"\s*-?size", plain[found.end() :])):
                continue
            heard.heat = heat
            return


def _find_actions(heard: Heard, plain: str) -> None:
    """The actions told: verbs where an order or an "I" puts them, and phrases; the weightiest names the step."""
    text = _WHEN.sub(lambda m: " " * len(m.group()), _UNTIL.sub(lambda m: " " * len(m.group()), plain))
    found: list[str] = []
    for pattern, does in method_words().phrases:
        for match in pattern.finditer(text):
            before = text[: match.start()].lower()
            if does == "temper" and before.strip() and re.search(r"\bfor (?:the |our |this )?$", before):
                continue
            found.append(does)
    if _GOING_IN.search(text):
        found.append("add")
    found += _verbs(heard, text)
    if heard.vessel is Vessel.GRINDER and "wash" not in found:
        found.append("grind")
    found = [does for does in found if does not in _NEEDS_MINUTES or _may_rest(heard, text, does)]
    if found and not heard.remark:
        heard.does = max(found, key=lambda d: _RANK.get(d, 2))
        heard.technique = _technique(heard.does)


def _technique(does: str) -> Technique | None:
    """The technique of an action; heating a vessel is none yet."""
    if does == "heat":
        return None
    return {"add": Technique.MIX, "cook": Technique.SIMMER}.get(does) or Technique(does)


def _may_rest(heard: Heard, text: str, does: str) -> bool:
    if heard.heat is not None:
        return False
    return (
        bool(heard.of_kind(Kind.MINUTES)) or does == "set" or bool(re.search(r"\b(?:overnight|aside|covered)\b", text))
    )


def _verbs(heard: Heard, text: str) -> list[str]:
    verbs = method_words().verbs
    said = re.findall(r"[\w'’-]+|[.,;:!?]", text.lower().replace("’", "'"))
    found: list[str] = []
    for at, word in enumerate(said):
        verb = verbs.get(word)
        before = said[at - 1] if at else "."
        behind = said[at + 1] if at + 1 < len(said) else "."
        if (
            verb is None
            or (verb.does == "add" and word.startswith("go"))
            or (word in _FRACTIONS and behind not in _OBJECTS)
            or (word.startswith("throw") and re.search(r"\bthrow\w* (?:\w+ ){0,4}(?:away|out)\b", text))
        ):
            continue
        two_before = said[at - 2] if at > 1 else "."
        if verb.past:
            lasting = verb.does in ("soak", "sprout", "set") and (behind == "overnight" or heard.of_kind(Kind.MINUTES))
            if (before in _DONE_BEFORE and behind != "of") or behind == "already" or lasting:
                heard.done.append(verb.does)
            continue
        if before == "just" and behind in ("it", "them") and verb.does in ("wash", "pick", "peel"):
            continue
        if before not in _BEFORE_VERB or behind in (
            "skin",
            "of",
            "colour",
            "color",
            "flame",
            "heat",
            "at",
            "is",
            "size",
        ):
            continue
        if before in ("it", "them") and two_before in ("let", "lets", "make"):
            found.append(verb.does)
            continue
        if before in ("it", "or", "they", "which", "always", "is", "are") and not word.endswith("ing"):
            continue
        found.append(verb.does)
    return found
