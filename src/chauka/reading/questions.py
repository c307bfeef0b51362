"""The questions that a careful editor asks of a draft."""

from __future__ import annotations

from collections.abc import Iterator

from chauka import quantities
from chauka.kitchen.forms import Technique
from chauka.reading.draft import Asks, Draft, DraftLine, DraftStep, Question
from chauka.reading.foods import match_food

_TIMED = frozenset({
    Technique.BOIL, Technique.SIMMER, Technique.STEAM, Technique.BAKE, Technique.DEEP_FRY, Technique.SHALLOW_FRY,
    Technique.ROAST, Technique.SAUTE, Technique.PRESSURE_COOK, Technique.BLANCH,
})  # fmt: skip
_LONG = frozenset({Technique.SOAK, Technique.SPROUT, Technique.SET})
_EASY = frozenset({"E520", "E033"})
"""Foods of which any piece will do: a lemon is squeezed to taste."""

_TRIFLES = ("a drop of", "a splash of", "a touch of", "a drizzle of", "a few drops of", "a dab of", "plenty of")


def ask(draft: Draft, *, listed: int = 0) -> None:
    """Match the foods and put the questions into the draft; `listed` lines stood in a written list."""
    _match(draft)
    gone = {w.food for w in draft.withdrawn}
    lines = [(n, line) for n, line in enumerate(draft.lines) if line.food not in gone]
    draft.questions = [
        *_amounts([(n, line) for n, line in lines if not listed or n < listed]),
        *_spoons(lines),
        *([] if draft.cup_ml else _cups(lines)),
        *_weights(lines),
        *_times(draft),
        *_uses(draft, lines),
        *_unlisted(lines, listed),
        *_whole(draft),
    ]


def _match(draft: Draft) -> None:
    for line in draft.lines:
        match = match_food(line.food, frying_fat="T012")
        line.code, line.sure = (match.best.code, match.sure) if match.best else (None, False)


def _amounts(lines: list[tuple[int, DraftLine]]) -> Iterator[Question]:
    for _, line in lines:
        if not line.stated and not line.to_taste and line.vague not in _TRIFLES:
            how = (
                "How many"
                if line.food.split()[-1].endswith("s") and line.food.split()[-1] != "asparagus"
                else "How much"
            )
            said = f" (only “{line.vague}” is said)" if line.vague else ""
            yield Question(line.food, Asks.AMOUNT, f"{how} {line.food}?{said}", tuple(line.cues))


def _spoons(lines: list[tuple[int, DraftLine]]) -> Iterator[Question]:
    for _, line in lines:
        if line.unit == "spoon":
            yield Question(
                f"spoon of {line.food}", Asks.UNIT, f"A teaspoon or a tablespoon of {line.food}?", tuple(line.cues)
            )


def _cups(lines: list[tuple[int, DraftLine]]) -> Iterator[Question]:
    cups = sorted({c for _, line in lines if line.unit in ("cup", "katori", "glass", "bowl") for c in line.cues})
    unit = next((line.unit for _, line in lines if line.unit in ("cup", "katori", "glass", "bowl")), None)
    if unit:
        yield Question(f"{unit} size", Asks.UNIT, f"Which {unit}: how many millilitres does it hold?", tuple(cups))


def _weights(lines: list[tuple[int, DraftLine]]) -> Iterator[Question]:
    """Counted foods whose pieces no table weighs: one question for all of them."""
    open_ = [
        line for _, line in lines if line.stated and line.unit in (None, "bunch", "bundle") and not _piece_known(line)
    ]
    if open_:
        names = " and ".join(line.food for line in open_)
        cues = tuple(sorted({c for line in open_ for c in line.cues}))
        yield Question(
            f"weight of {names}",
            Asks.WEIGHT,
            f"What {'do' if len(open_) > 1 or names.endswith('s') else 'does'} the {names} weigh?",
            cues,
        )


def _piece_known(line: DraftLine) -> bool:
    if line.code is None:
        return False
    if line.code.startswith("G") or line.code in _EASY or line.food.split()[-1] in ("leaves", "leaf"):
        return True
    return any(
        w.measure.unit in ("piece", "bunch") and not w.ml for w in quantities.household_weights().get(line.code, ())
    )


def _times(draft: Draft) -> Iterator[Question]:
    for step in draft.steps:
        name = _name(step, draft)
        if step.whistles is not None and step.high_min is None:
            flame = "" if step.heat else ", and on what flame"
            text = f"Roughly how many minutes are {step.whistles} whistles{flame}?"
            yield Question("cooker heat and whistle timing", Asks.TIME, text, tuple(step.cues))
        elif step.technique in _LONG and not step.closed:
            yield Question(
                f"{step.technique} time of {name}",
                Asks.TIME,
                f"How long does {name} {step.technique}?",
                tuple(step.cues),
            )
        elif step.technique in _TIMED and not step.closed and not step.done_before:
            yield Question(
                f"{step.technique} time", Asks.TIME, f"How long to {step.technique} {name}?", tuple(step.cues)
            )
    told = {n for s in draft.steps if s.technique in _LONG for n in s.lines}
    for number, line in enumerate(draft.lines):
        for form, doing in (("soaked", "soaked"), ("sprouted", "sprouted")):
            if form in line.form and number not in told:
                yield Question(
                    f"{form} {line.food}", Asks.TIME, f"How long are the {line.food} {doing}?", tuple(line.cues)
                )


def _name(step: DraftStep, draft: Draft) -> str:
    foods = [draft.lines[n].food for n in step.lines if n < len(draft.lines)]
    return " and ".join(foods[:2]) or "it"


def _uses(draft: Draft, lines: list[tuple[int, DraftLine]]) -> Iterator[Question]:
    used = {n for step in draft.steps for n in step.lines}
    if draft.steps:
        for number, line in lines:
            if number not in used:
                yield Question(line.food, Asks.UNUSED, f"Where does the {line.food} go in?", tuple(line.cues))


def _unlisted(lines: list[tuple[int, DraftLine]], listed: int) -> Iterator[Question]:
    for number, line in lines:
        if listed and number >= listed and (line.stated or line.food.split()[-1] != "water"):
            text = f"The method uses {line.food}, which the list does not name: how much, and shall it be listed?"
            yield Question(line.food, Asks.UNLISTED, text, tuple(line.cues))


def _whole(draft: Draft) -> Iterator[Question]:
    if draft.yield_low is None:
        yield Question("yield", Asks.YIELD, "How many people does it serve?")
    if not draft.keeping:
        yield Question("keeping", Asks.KEEPING, "How long does it keep, and where?")
