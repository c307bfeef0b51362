"""One ingredient line, read: amount, unit, food, form, alternatives and the rest of what it says."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from chauka.reading.line_grammar import Amount, Parsed, Piece, parse
from chauka.reading.words import words


@dataclass(frozen=True, slots=True)
class OtherFood:
    """A food offered instead, with its own amount where the line says one."""

    food: str
    low: float | None = None
    high: float | None = None
    unit: str | None = None


@dataclass(slots=True)
class IngredientLine:
    """What a written line says. A number that it does not say is None, never a guess."""

    text: str
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    pack: Amount | None = None
    also: list[Amount] = field(default_factory=list)
    size: str | None = None
    food: str = ""
    form: list[str] = field(default_factory=list)
    alias: list[str] = field(default_factory=list)
    alternatives: list[OtherFood] = field(default_factory=list)
    purpose: str | None = None
    extra: str | None = None
    notes: list[str] = field(default_factory=list)
    optional: bool = False
    to_taste: bool = False
    as_required: bool = False
    approximate: bool = False


def read_line(text: str) -> IngredientLine:
    """Read one ingredient line as a cook wrote it. Any text gives a line; the unknown stays None."""
    parsed = parse(text)
    line = IngredientLine(text=text, approximate=parsed.approximate)
    _put_amount(line, parsed.amount)
    line.also += parsed.also
    runs = [p for p in parsed.pieces if p.kind == "run"]
    for piece in parsed.pieces:
        if piece.kind == "run" and not line.food and piece is not runs[-1] and _only_forms(piece.text):
            line.form.append(piece.text.lower().strip(" ,."))  # "boneless, skinless chicken"
            continue
        _READERS[piece.kind](line, piece)
    _close(line, parsed)
    return line


def _only_forms(text: str) -> bool:
    return all(_form_word(w) or w in words().set_of("manner") for w in re.findall(r"[\w'’-]+", text.lower()))


def _put_amount(line: IngredientLine, amount: Amount) -> None:
    line.low, line.high, line.pack, line.size = amount.low, amount.high, amount.pack, amount.size
    line.unit = amount.unit
    if amount.unit in words().set_of("counts"):
        line.unit = None
        if amount.unit == "dozen" and line.low is not None and line.high is not None:
            line.low, line.high = line.low * 12, line.high * 12
    if amount.level:
        line.form.append(amount.level)


# --- pieces ---------------------------------------------------------------------------------------

_OR = re.compile(r"(?:^|\s+)(?:or|ya)\s+|\s+/\s+|(?:^|\s)-?\s*or\s+", re.IGNORECASE)
_SLASH = re.compile(r"(?<=[^\W\d_])/\s*(?=[^\W\d_]{2})")
_KE_LIYE = re.compile(
    r"\s+((?:talne|tadke|tadka|sajane|sajaane|garnish|chhidakne|upar) ?(?:ke|lagane ke)? liye)\s*$", re.IGNORECASE
)
_DONE_IN = re.compile(
    r"\s((?:finely |thinly |roughly )?(?:cut|soaked|chopped|sliced|broken|torn|"
    r"slit|dissolved|mixed|diluted|crushed|made|mashed|"
    r"boiled|roasted|fried|beaten|ground|grated|divided|separated) (?:in|into|with|for|to|on|lengthwise)\b.*)$",
    re.IGNORECASE,
)
"""Behind a food's name: how it was worked, told by several words, "cut in cubes"."""

_COLOURS = frozenset(
    {"red", "green", "yellow", "white", "black", "brown", "orange", "purple", "sweet", "hot", "dark", "light"}
)
_PLUS = re.compile(r"(?:\s*\+\s*|(?:^|\s+)plus\s+)(?=.)", re.IGNORECASE)
_ALTERNATIVE = re.compile(
    r"(?:or|you can (?:also )?(?:substitute|use)|can (?:also )?(?:substitute|use|be)(?: with)?|could (?:try|use)|"
    r"substitute(?: with)?|alternatively|instead)\s+(?:with\s+)?(.+)",
    re.IGNORECASE,
)
_JOINED = re.compile(r"\s+(?:and|&|then)\s+|\s*\+\s*", re.IGNORECASE)


def _read_mark(_line: IngredientLine, _piece: Piece) -> None:
    """Marks only part the pieces."""


def _read_run(line: IngredientLine, piece: Piece) -> None:
    text = _take_flags(line, piece.text)
    text, extra = _split_once(_PLUS, text)
    if extra:
        line.extra = line.extra or ("plus " + extra if "plus" in piece.text.lower() else extra)
    text = _SLASH.sub(" / ", text)
    if found := _KE_LIYE.search(text):
        line.purpose, text = line.purpose or found[1].lower(), text[: found.start()]
    parts = [p for p in _OR.split(text) if p.strip(" -/")]
    if len(parts) == 2 and parts[0].lower().strip() in _COLOURS and len(parts[1].split()) > 1:
        parts[0] = f"{parts[0].strip()} {' '.join(parts[1].split()[1:])}"  # "red or green pepper"
    opens_with_or = bool(re.match(r"\s*or\s", text, re.IGNORECASE))
    for number, part in enumerate(parts):
        if number or (opens_with_or and line.food):
            _add_alternative(line, part)
        elif line.food:
            _read_after_food(line, part)
        else:
            _read_food(line, part)


def _read_bracket(line: IngredientLine, piece: Piece) -> None:
    """A bracket holds an amount, another name, a form, an alternative, or an aside."""
    for part in re.split(r"\s*[,;]\s*", piece.text):
        text = _take_flags(line, part)
        if not text or _is_aside(line, text) or _is_amount(line, text):
            continue
        if found := _ALTERNATIVE.match(text):
            _add_alternative(line, found.group(1))
        elif text.startswith("/"):
            _add_alternative(line, text.strip(" /"))
        elif _is_size(line, text) or _is_purpose(line, text):
            continue
        elif _is_form(text):
            line.form.append(text.lower())
        elif line.food:
            line.alias += [a.strip().lower() for a in re.split(r"\s*/\s*|\s+or\s+", text) if a.strip()]
        else:
            _read_food(line, text)


_READERS = {"run": _read_run, "bracket": _read_bracket, "mark": _read_mark}


def _read_food(line: IngredientLine, text: str) -> None:
    """The run that names the food, with forms before and behind the name."""
    told = _DONE_IN.search(text)
    if told and not words().starts("aside").match(told[1]):
        text = text[: told.start()]
    text, purpose = _split_purpose(text)
    if purpose:
        line.purpose = line.purpose or purpose
    text = _strip_filler(text)
    before, name, behind = split_forms(text)
    behind += [told[1].lower().strip(" ,.")] if told else []
    line.form += before
    line.food = name.lower().strip(" -,.:/")
    line.form += behind


def _read_after_food(line: IngredientLine, text: str) -> None:
    """A run after the food: its form, its purpose, or (after a bracket) the rest of its name."""
    text = text.strip(" -,.")
    if not text or _is_purpose(line, text) or _is_aside(line, text) or _is_size(line, text):
        return
    if line.low is None and _is_amount(line, text):
        return
    text, purpose = _split_purpose(text)
    line.purpose = line.purpose or purpose
    if not text:
        return
    if line.alias and not line.form and not _is_form(text) and len(text.split()) <= 2 and text[0].isupper():
        line.food = f"{line.food} {text.lower()}"  # "Sesame (Gingelly) Oil"
        return
    line.form += [p.strip(" ,").lower() for p in _JOINED.split(text) if p.strip(" ,")]


def _add_alternative(line: IngredientLine, text: str) -> None:
    text, purpose = _split_purpose(text)
    line.purpose = line.purpose or purpose
    parsed = parse(text)
    run = next((p.text for p in parsed.pieces if p.kind == "run"), "")
    name = split_forms(_strip_filler(run))[1].lower().strip(" -,./")
    amount = parsed.amount
    if name and not words().starts("aside").match(name):
        line.alternatives += [
            OtherFood(n, amount.low, amount.high, amount.unit) for n in re.split(r"\s+or\s+|\s*/\s*", name) if n
        ]
    elif not name and amount.low is not None:
        line.also.append(amount)


# --- what a phrase is -----------------------------------------------------------------------------


def _take_flags(line: IngredientLine, text: str) -> str:
    """Take "optional", "to taste" and "as required" out of a phrase."""
    if re.search(r"\boptional\b", text, re.IGNORECASE):
        line.optional = True
        text = re.sub(r"\(?\boptional\b.*", "", text, flags=re.IGNORECASE)
    if found := words().anywhere("to_taste").search(text):
        line.to_taste = True
        if re.match(r"\s*(?:or|plus)\b", text, re.IGNORECASE):
            line.extra, text = text.strip().lower(), ""
        text = text.replace(found.group(), " ")
    if found := words().anywhere("as_required").search(text):
        line.as_required = True
        text = text.replace(found.group(), " ")
    return text.strip(" ,-.")


def _is_aside(line: IngredientLine, text: str) -> bool:
    if not words().starts("aside").match(text):
        return False
    if _ALTERNATIVE.match(text) and line.food:
        return False
    found = re.search(r"\d.*$", text)
    if found and line.low is None:
        _is_amount(line, found.group())
    line.notes.append(text)
    return True


def _is_amount(line: IngredientLine, text: str) -> bool:
    """Whether the phrase is an amount and nothing else; then it is kept as "also", or as the amount itself."""
    parsed = parse(re.sub(r"\beach\b", "", text, flags=re.IGNORECASE))
    amount, rest = parsed.amount, " ".join(p.text for p in parsed.pieces if p.kind != "mark")
    if amount.low is None or (rest and not (set(rest.lower().split()) & set(line.food.split()) or "/" in rest)):
        return False
    if amount.unit is None and not rest and not parsed.approximate and (line.low is not None or not line.food):
        return False
    if line.low is not None and line.pack is None and (_is_container(line.unit) or "each" in text.lower().split()):
        line.pack = amount
        return True
    if line.low is None:
        line.low, line.high, line.unit = amount.low, amount.high, amount.unit
    else:
        line.also.append(amount)
    return True


def _is_container(unit: str | None) -> bool:
    return unit in words().set_of("containers") and unit not in ("stick", "block", "roll", "loaf")


def _is_size(line: IngredientLine, text: str) -> bool:
    if text.lower().strip() not in words().set_of("sizes"):
        return False
    line.size = line.size or text.lower().strip()
    return True


def _is_purpose(line: IngredientLine, text: str) -> bool:
    if not words().starts("purpose").match(text):
        return False
    line.purpose = line.purpose or text.strip().lower()
    return True


def _split_purpose(text: str) -> tuple[str, str | None]:
    """Part "oil for frying" into the food and what it is for."""
    found = words().anywhere("purpose").search(text)
    if (
        not found
        or not text[: found.start()].strip()
        or re.match(r"for (?:about |at least )?(?:\d|an? |one |two |half )", text[found.start() :])
    ):
        return text, None
    return text[: found.start()].strip(), text[found.start() :].strip().lower()


def _split_once(mark: re.Pattern[str], text: str) -> tuple[str, str | None]:
    """Part a text at the first mark: what stands before, what behind."""
    found = mark.search(text)
    if not found:
        return text, None
    return text[: found.start()].strip(), text[found.end() :].strip().lower() or None


def _is_form(text: str) -> bool:
    """Whether a phrase tells how a food is: it starts or ends with a form word, or measures a size."""
    said = re.findall(r"[\w'’-]+", text.lower())
    return bool(said) and (
        any(_form_word(w) for w in said) or bool(re.match(r"\d", text)) or said[0] in words().set_of("manner")
    )


def _form_word(word: str) -> bool:
    forms = words().set_of("forms")
    return word in forms or any(part in forms for part in word.split("-")[1:])


def _strip_filler(text: str) -> str:
    """Leave out words such as "some" and "your favourite" before a food."""
    while found := words().starts("filler").match(text):
        rest = text[found.end() :].strip()
        if not rest:
            break
        text = rest
    return text


def split_forms(text: str) -> tuple[list[str], str, list[str]]:
    """Part a food phrase into forms before the name, the name, and forms behind it.

    "finely chopped fresh basil" → (["finely chopped", "fresh"], "basil", []). A name never becomes
    empty, and pairs that belong together ("hot water", "rolled oats") are left whole.
    """
    said = text.split()
    whole = {pair for pair in words().lists["held"] if pair in text.lower()}
    start, end = 0, len(said)

    def held(index: int) -> bool:
        return any(said[index].lower().strip(",") in pair.split() for pair in whole)

    def plain(index: int) -> str:
        return said[index].lower().strip(",.")

    manner = words().set_of("manner")
    while start < end - 1 and not held(start):
        step = 2 if plain(start) in manner and start + 2 < end and _form_word(plain(start + 1)) else 1
        joined = plain(start) in ("and", "&", "or") and start
        if not (step == 2 or _form_word(plain(start)) or joined):
            break
        start += step
    while end - 1 > start and not held(end - 1) and (_form_word(plain(end - 1)) or plain(end - 1) in manner):
        end -= 1
    before = [p for p in re.split(r",\s*|\s+(?:and|&)\s+", " ".join(said[:start]).lower()) if p]
    behind = [" ".join(said[end:]).lower()] if end < len(said) else []
    return before, " ".join(said[start:end]), behind


def _close(line: IngredientLine, parsed: Parsed) -> None:
    """What only the whole line tells."""
    if parsed.juice and line.low is not None:
        line.form.insert(0, parsed.juice)
    elif parsed.juice:
        line.food = f"{parsed.juice} of {line.food}"
    if not line.food and line.form:
        line.food = line.form.pop(0)
    if not line.food and line.unit:
        line.food, line.unit = line.unit, None  # "2 cloves" is a spice, counted
    line.form = list(dict.fromkeys(f for f in line.form if f and f not in ("or", "and")))


def as_json(line: IngredientLine) -> dict[str, Any]:
    """The line as plain data, keys as in the label rules for such lines (`qty_low`, `unit`, `food` …)."""

    def amount(a: Amount) -> dict[str, Any]:
        return {"qty_low": a.low, "qty_high": a.high, "unit": a.unit}

    return {
        "text": line.text,
        "qty_low": line.low,
        "qty_high": line.high,
        "unit": line.unit,
        "pack": {"qty": line.pack.low, "unit": line.pack.unit} if line.pack else None,
        "also": [amount(a) for a in line.also],
        "size": line.size,
        "food": line.food,
        "form": line.form,
        "alias": line.alias,
        "alternatives": [
            {"food": a.food, "qty_low": a.low, "qty_high": a.high, "unit": a.unit} for a in line.alternatives
        ],
        "purpose": line.purpose,
        "extra": line.extra,
        "optional": line.optional,
        "to_taste": line.to_taste,
        "as_required": line.as_required,
        "approximate": line.approximate,
        "notes": line.notes,
    }
