"""A draft as plain data for machines: each value with the cues (or lines) it came from."""

from __future__ import annotations

from typing import Any

from chauka.reading.draft import Draft, DraftLine, DraftStep


def draft_as_json(draft: Draft) -> dict[str, Any]:
    """Title, yield, keeping, ingredients, withdrawn foods, steps, questions, cautions, notes and digressions."""
    return {
        "title": draft.title,
        "yield": _yield(draft),
        "total_minutes": draft.total_min,
        "keeping": {"text": draft.keeping, "cues": draft.keeping_cues} if draft.keeping else None,
        "cup_ml": draft.cup_ml,
        "ingredients": [_line(line) for line in draft.lines],
        "withdrawn": [{"food": w.food, "cues": list(w.cues)} for w in draft.withdrawn],
        "steps": [_step(step, n, draft) for n, step in enumerate(draft.steps, start=1)],
        "served_with": draft.served_with,
        "cautions": [{"text": text, "cues": [cue]} for text, cue in draft.cautions],
        "notes": [{"text": text, "cues": [cue]} for text, cue in draft.notes],
        "digressions": _runs(draft.asides),
        "questions": [
            {"about": q.about, "kind": str(q.asks), "question": q.text, "cues": list(q.cues)} for q in draft.questions
        ],
    }


def _yield(draft: Draft) -> dict[str, Any] | None:
    if draft.yield_low is None:
        return None
    return {"low": draft.yield_low, "high": draft.yield_high, "unit": draft.yield_unit, "cues": draft.yield_cues}


def _line(line: DraftLine) -> dict[str, Any]:
    return {
        "food": line.food,
        "stated": line.stated,
        "qty_low": line.low,
        "qty_high": line.high,
        "unit": line.unit,
        "form": line.form,
        "size": line.size,
        "part": line.part or None,
        "optional": line.optional,
        "to_taste": line.to_taste,
        "approximate": line.approximate,
        "said_vaguely": line.vague or None,
        "corrected_from": line.corrected_from or None,
        "food_code": line.code,
        "food_sure": line.sure,
        "cues": line.cues,
        "text": line.text or None,
    }


def _step(step: DraftStep, number: int, draft: Draft) -> dict[str, Any]:
    times = [draft.times_s[c] for c in step.cues if c in draft.times_s]
    return {
        "n": number,
        "spoken_order": step.spoken,
        "text": step.text,
        "technique": str(step.technique) if step.technique else None,
        "vessel": str(step.vessel) if step.vessel else None,
        "vessel_said": step.vessel_said or None,
        "heat": str(step.heat) if step.heat else None,
        "minutes_low": step.low_min,
        "minutes_high": step.high_min,
        "whistles": step.whistles,
        "until": step.until or None,
        "attention": str(step.attention) if step.attention else None,
        "at_once": step.at_once,
        "done_before": step.done_before,
        "ingredients": [draft.lines[n].food for n in step.lines],
        "lines": step.lines,
        "corrected_from": step.corrected_from or None,
        "cues": [min(step.cues), max(step.cues)] if step.cues else [],
        "start_s": min((t[0] for t in times), default=None),
        "end_s": max((t[1] for t in times), default=None),
    }


def _runs(cues: list[int]) -> list[list[int]]:
    """Numbers as runs, [1, 2, 3, 7] → [[1, 3], [7, 7]]."""
    runs: list[list[int]] = []
    for cue in sorted(set(cues)):
        if runs and cue == runs[-1][1] + 1:
            runs[-1][1] = cue
        else:
            runs.append([cue, cue])
    return runs
