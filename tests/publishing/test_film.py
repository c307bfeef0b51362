"""Cards in step with a narration: mentions, steps, showings, chapters, timeline, description."""

from __future__ import annotations

import csv
import io
import json
from itertools import pairwise

import opentimelineio as otio
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.publishing.narrated import told
from tests.publishing.samples import all_write_ups, book, demo_write_up, line, small_dish, written
from tests.publishing.test_captions import check_webvtt

from chauka.publishing import style
from chauka.publishing.captions import webvtt
from chauka.publishing.cards import CardKind, cards
from chauka.publishing.description import description
from chauka.publishing.film import LATE_S, LEAST_CHAPTER_S, LEAST_HOLD_S, Layer, chapters, showings
from chauka.publishing.follow import Followed, follow, stem
from chauka.publishing.narration import Cue, Narration
from chauka.publishing.page_data import Credits
from chauka.publishing.text import line_text
from chauka.publishing.timeline import csv_text, otio_text


def test_first_mentions_by_hand() -> None:
    """Spinach is first spoken of in the second cue; water never."""
    dish = small_dish(
        lines=(line("spinach", "C033", said="spinach leaves"), line("water", "K505", said="water")), steps=()
    )
    spoken = Narration((Cue(0, 2, "Good evening."), Cue(5, 7, "Take the spinach,"), Cue(9, 10, "leaves of spinach.")))
    found = follow(dish, spoken)
    assert found.lines.keys() == {"spinach"}
    assert 9 <= found.lines["spinach"] <= 10 or 5 <= found.lines["spinach"] <= 7


def test_stems() -> None:
    """Plurals meet their singulars."""
    assert [stem(w) for w in ("tomatoes", "tomato", "Leaves,", "leaf", "onions", "chillies", "moss")] == [
        "tomato", "tomato", "leaf", "leaf", "onion", "chilly", "moss",
    ]  # fmt: skip


def test_all_told_lines_and_steps_are_found_in_order() -> None:
    """Where all is told: 95 % of lines and 90 % of steps are found, steps in their order, 85 % at their sentence."""
    lines = steps = found_lines = found_steps = right = 0
    for dish in book().dishes:
        spoken = told(dish)
        found = follow(dish, spoken)
        times = [found.steps[s.id] for s in dish.steps if s.id in found.steps]
        assert times == sorted(times)
        lines, steps = lines + len(dish.lines), steps + len(dish.steps)
        found_lines, found_steps = found_lines + len(found.lines), found_steps + len(times)
        for s in dish.steps:
            opening = " ".join(s.text.split()[:9])
            at = next(c.start_s for c in spoken.cues if c.text == opening)
            right += s.id in found.steps and abs(found.steps[s.id] - at) < 0.01
    assert found_lines >= 0.95 * lines
    assert found_steps >= 0.9 * steps
    assert right >= 0.85 * steps


def test_showings_keep_their_rules() -> None:
    """No two cards of a layer meet; each stands long enough; an ingredient's card comes within 1.5 s of its word."""
    look = style()
    for w in all_write_ups()[:5]:
        spoken = told(w.dish)
        found = follow(w.dish, spoken)
        shown = showings(cards(w, look), found, spoken.end_s)
        for layer in Layer:
            here = [s for s in shown if s.layer is layer]
            assert all(a.end_s <= b.start_s + 1e-9 for a, b in pairwise(here))
        assert all(s.end_s - s.start_s >= LEAST_HOLD_S - 0.002 for s in shown)
        for s in shown:
            if s.card.kind is CardKind.LINE:
                assert -0.001 <= s.start_s - found.lines[s.card.lines[0]] <= LATE_S + 0.001


@given(
    st.dictionaries(st.sampled_from(["dal", "water"]), st.floats(0, 60)),
    st.dictionaries(st.sampled_from(["soak", "cut", "boil"]), st.floats(0, 60)),
)
@settings(max_examples=50, deadline=None)
def test_any_times_give_sound_showings_and_chapters(lines: dict[str, float], steps: dict[str, float]) -> None:
    """Whatever was heard when: nothing overlaps, nothing ends after the film, chapters tile it."""
    w = written(small_dish())
    heard = Followed(lines, steps)
    for layer in Layer:
        here = [s for s in showings(cards(w, style()), heard, 61.0) if s.layer is layer]
        assert all(a.end_s <= b.start_s + 1e-9 for a, b in pairwise(here))
        assert all(s.end_s <= 61.0 for s in here)
    parts = chapters(w, heard, 61.0)
    assert parts[0].start_s == 0
    assert parts[-1].end_s == 61.0
    assert all(a.end_s == b.start_s for a, b in pairwise(parts))
    assert all(c.end_s - c.start_s >= LEAST_CHAPTER_S - 0.01 for c in parts)
    assert check_webvtt(webvtt(parts, broken=False)) == len(parts)


def _shown() -> tuple[tuple[object, ...], object]:
    w = demo_write_up("hill-rajma")
    spoken = told(w.dish)
    return showings(cards(w, style()), follow(w.dish, spoken), spoken.end_s), spoken


def test_the_timeline_reads_back() -> None:
    """The open library reads our timeline: two tracks, every clip where the table says, to the frame."""
    shown, _ = _shown()
    text = otio_text("Hill-style rajma", shown, "cards/1920x1080")  # type: ignore[arg-type]
    timeline = otio.adapters.read_from_string(text, "otio_json")
    rows = {r["card"]: r for r in csv.DictReader(io.StringIO(csv_text(shown)))}  # type: ignore[arg-type]
    assert [t.name for t in timeline.tracks] == ["plates", "lower third"]
    seen = 0
    for clip in timeline.find_clips():
        at = clip.range_in_parent().start_time.to_seconds()
        assert at == pytest.approx(float(rows[clip.name]["in_s"]), abs=0.045)
        assert clip.media_reference.target_url == f"cards/1920x1080/{clip.name}.png"
        seen += 1
    assert seen == len(rows) == len(shown)
    assert json.loads(text)["OTIO_SCHEMA"] == "Timeline.1"
    assert text == otio_text("Hill-style rajma", shown, "cards/1920x1080")  # type: ignore[arg-type]


def test_description_has_all_amounts_and_chapters_and_a_limit() -> None:
    """Every line, the chapters from 0:00, credits; never longer than allowed, amounts kept longest."""
    w = demo_write_up("hill-rajma")
    spoken = told(w.dish)
    parts = chapters(w, follow(w.dish, spoken), spoken.end_s)
    text = description(w, parts, Credits(author="Meera", page_url="https://example.org/rajma"))
    assert all(line_text(x) in text for x in w.dish.lines)
    assert "0:00 Hill-style rajma" in text
    assert "Meera" in text
    for most in (5000, 1200, 700, 300, 60):
        short = description(w, parts, most=most)
        assert len(short) <= most
    assert line_text(w.dish.lines[-1]) in description(w, parts, most=1300)
