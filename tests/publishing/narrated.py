"""A narration made from a demo dish's own words, as a cook would tell it, at a given speed."""

from __future__ import annotations

from chauka.kitchen import Dish
from chauka.publishing.captions import webvtt
from chauka.publishing.narration import Cue, Narration, read_narration


def told(dish: Dish, words_per_minute: float = 150.0, pause_s: float = 0.6) -> Narration:
    """Greeting, every ingredient with its amount, every step, a good-bye; cut into cues of nine words or so."""
    sentences = [f"Today we cook {dish.name.lower()}.", dish.story or "It is a plain dish.", "This is what goes in."]
    sentences += [f"We need {x.amount or 'a little'} {x.said}." for x in dish.lines]
    sentences += [s.text for s in dish.steps]
    sentences += ["Serve it and sit down with the others."]
    cues, at = [], 1.0
    for sentence in sentences:
        words = sentence.split()
        for start in range(0, len(words), 9):
            piece = words[start : start + 9]
            end = at + len(piece) * 60 / words_per_minute
            cues.append(Cue(round(at, 3), round(end, 3), " ".join(piece)))
            at = end
        at += pause_s
    return Narration(tuple(cues))


def as_file(narration: Narration) -> str:
    """The same as a WebVTT file."""
    return webvtt(narration.cues, broken=False)


def reread(narration: Narration) -> Narration:
    """Through the file and back."""
    return read_narration(as_file(narration))
