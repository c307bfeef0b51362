"""How well narrations are read, on a folder of `*.vtt` (or `*.srt`, `*.txt`) files, each with its `*.gold.json`.

    python -m benchmarks.narration FOLDER [--json] [--misses]

- amounts_right: of the stated ingredients, those with the same amount and unit in a line of that food.
- corrections_applied: of the amounts, foods and steps that the cook corrects, those where the last word holds.
- steps_right: of the gold steps, those that have a step of ours over the same cues, in the same order (longest
  run in order), with the same minutes and whistles (minutes that the gold infers are not asked for).
- gaps_asked: of the gold gaps, those that a question of ours asks: the same kind, over a common cue or food.
- needless_questions: our questions that match no gap (counted over all files).
- safety_lines_kept: of the gold `safety` cues, those among our cautions; null where the gold has none.
"""

from __future__ import annotations

import json
import re
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from chauka.reading import Draft, DraftLine, DraftStep, Question, read_narration

_SAME_KIND = {"weight": {"amount", "weight"}, "amount": {"amount", "weight"}}


def main(folder: Path, *, misses: bool = False) -> dict[str, Any]:
    """All figures over the folder."""
    tally: dict[str, list[int]] = {
        k: [0, 0] for k in ("amounts_right", "corrections_applied", "steps_right", "gaps_asked")
    }
    safety, needless, seconds, cues = [0, 0], 0, 0.0, 0
    read_narration("Add one cup of water to the pot and boil it for five minutes.")  # words and tables, once
    for gold_path in sorted(folder.glob("*.gold.json")):
        gold = json.loads(gold_path.read_text(encoding="utf-8"))
        text = _spoken(gold_path)
        start = time.perf_counter()
        draft = read_narration(text)
        seconds += time.perf_counter() - start
        cues += gold.get("cue_count", 0)
        judge = _Judge(gold, draft, misses=misses, name=gold_path.name.removesuffix(".gold.json"))
        for key, results in judge.all().items():
            tally[key][0] += sum(results)
            tally[key][1] += len(results)
        needless += judge.needless()
        kept = judge.safety()
        safety[0] += sum(kept)
        safety[1] += len(kept)
    return {
        **{key: round(right / total, 4) if total else None for key, (right, total) in tally.items()},
        "needless_questions": needless,
        "safety_lines_kept": round(safety[0] / safety[1], 4) if safety[1] else None,
        "seconds_per_100_cues": round(100 * seconds / cues, 3) if cues else None,
    }


def _spoken(gold_path: Path) -> str:
    stem = gold_path.name.removesuffix(".gold.json")
    found = next(p for ending in ("vtt", "srt", "txt") if (p := gold_path.with_name(f"{stem}.{ending}")).exists())
    return found.read_text(encoding="utf-8")


class _Judge:
    def __init__(self, gold: Mapping[str, Any], draft: Draft, *, misses: bool, name: str) -> None:
        self.gold, self.draft, self.misses, self.name = gold, draft, misses, name
        self.matched = _match_steps(gold["steps"], draft.steps)

    def all(self) -> dict[str, list[bool]]:
        return {
            "amounts_right": [
                self._told(_has_amount(i, self.draft.lines), "amount", i)
                for i in self.gold["ingredients"]
                if i["stated"]
            ],
            "corrections_applied": self._corrections(),
            "steps_right": self._steps(),
            "gaps_asked": [
                self._told(any(_asks(q, g) for q in self.draft.questions), "gap", g) for g in self.gold["gaps"]
            ],
        }

    def _told(self, right: bool, what: str, detail: object) -> bool:
        if self.misses and not right:
            print(f"{self.name}: missed {what}: {json.dumps(detail, ensure_ascii=False)[:240]}", file=sys.stderr)
        return right

    def _corrections(self) -> list[bool]:
        foods = [i for i in self.gold["ingredients"] if i.get("corrected_from")]
        steps = [n for n, s in enumerate(self.gold["steps"]) if s.get("corrected_from")]
        return [
            *(self._told(_has_amount(i, self.draft.lines), "corrected amount", i) for i in foods),
            *(
                self._told(not _named(w["food"], self.draft.lines), "withdrawn", w)
                for w in self.gold.get("withdrawn", [])
            ),
            *(self._told(self._times_right(n), "corrected step", self.gold["steps"][n]) for n in steps),
        ]

    def _times_right(self, n: int) -> bool:
        ours, gold = self.matched.get(n), self.gold["steps"][n]
        return ours is not None and _same_times(gold, self.draft.steps[ours])

    def _steps(self) -> list[bool]:
        ordered = _longest_run([(n, self.matched[n]) for n in sorted(self.matched)])
        return [
            self._told(
                n in ordered and self._times_right(n),
                "step",
                {"gold": s["text"], "cues": s["cues"], "ours": self.matched.get(n)},
            )
            for n, s in enumerate(self.gold["steps"])
        ]

    def needless(self) -> int:
        found = [q for q in self.draft.questions if not any(_asks(q, g) for g in self.gold["gaps"])]
        for question in found:
            self._told(False, "needless question", question.text)
        return len(found)

    def safety(self) -> list[bool]:
        kept = {cue for _, cue in self.draft.cautions}
        spans = [c if isinstance(c, list) else c["cues"] for c in self.gold.get("safety", [])]
        return [self._told(any(min(s) <= cue <= max(s) for cue in kept), "safety", s) for s in spans]


def _words(text: str) -> set[str]:
    return {w.rstrip("s") for w in re.findall(r"[a-z]+", text.lower())} - {"for", "the", "of", "in", "finishing"}


def _named(food: str, lines: Sequence[DraftLine]) -> bool:
    return any(_words(food) == _words(line.food) for line in lines)


def _has_amount(gold: Mapping[str, Any], lines: Sequence[DraftLine]) -> bool:
    head = _words(gold["food"])
    for line in lines:
        ours = _words(" ".join([line.food, *line.form]))
        if (head <= ours or _words(line.food) <= head) and set(gold["cues"]) & set(line.cues):
            same_unit = (line.unit or "piece") == (gold["unit"] or "piece")
            if line.low == gold["qty_low"] and line.high == gold["qty_high"] and same_unit:
                return True
    return False


def _span(step: Mapping[str, Any]) -> set[int]:
    return set(range(step["cues"][0], step["cues"][-1] + 1))


def _match_steps(gold: Sequence[Mapping[str, Any]], ours: Sequence[DraftStep]) -> dict[int, int]:
    """Each gold step's best step of ours: the most common cues for their joint number; each of ours serves once."""
    scored = sorted(
        (
            (-len(_span(g) & set(o.cues)) / len(_span(g) | set(o.cues)), not _same_times(g, o), n, m)
            for n, g in enumerate(gold)
            for m, o in enumerate(ours)
            if _span(g) & set(o.cues)
        ),
    )
    found: dict[int, int] = {}
    for _, _, n, m in scored:
        if n not in found and m not in found.values():
            found[n] = m
    return found


def _same_times(gold: Mapping[str, Any], ours: DraftStep) -> bool:
    low, high = (None, None) if gold.get("inferred_minutes") else (gold["minutes_low"], gold["minutes_high"])
    if gold.get("inferred_minutes") and ours.high_min is not None:
        return False
    return (ours.low_min, ours.high_min) == (low, high) and ours.whistles == gold["whistles"]


def _longest_run(pairs: Sequence[tuple[int, int]]) -> set[int]:
    """The gold steps of the longest rising run of ours."""
    best: list[list[int]] = []
    for at, (_, ours) in enumerate(pairs):
        before = [best[n] for n in range(at) if pairs[n][1] < ours]
        best.append([*max(before, key=len, default=[]), at])
    return {pairs[at][0] for at in max(best, key=len, default=[])}


def _asks(question: Question, gap: Mapping[str, Any]) -> bool:
    kind = str(question.asks)
    if gap["kind"] not in _SAME_KIND.get(kind, {kind}):
        return False
    if gap["kind"] in ("yield", "keeping"):
        return True
    about = _words(question.about) & _words(gap["about"]) - {"time", "amount", "size"}
    return bool(about) or (
        bool(set(question.cues) & set(gap["cues"])) and kind == gap["kind"] and kind in ("time", "unit")
    )


@click.command()
@click.argument("folder", type=click.Path(exists=True, file_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--misses", is_flag=True, help="Print what was missed on stderr.")
def command(folder: Path, *, as_json: bool, misses: bool) -> None:
    """Read the narrations of FOLDER and compare them with their gold."""
    figures = main(folder, misses=misses)
    print(json.dumps(figures) if as_json else "\n".join(f"{key}: {value}" for key, value in figures.items()))


if __name__ == "__main__":
    command()
