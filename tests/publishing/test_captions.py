"""Captions: norms kept, nothing lost, files well formed."""

from __future__ import annotations

import re
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.publishing.narrated import told
from tests.publishing.samples import book

from chauka.publishing.captions import LINE_LETTERS, captions, norms, subrip, two_lines, webvtt
from chauka.publishing.narration import Cue, Narration

STAMP = re.compile(r"(\d{2}):(\d{2}):(\d{2})\.(\d{3}) --> (\d{2}):(\d{2}):(\d{2})\.(\d{3})\Z")


def check_webvtt(text: str) -> int:
    """Our own strict reader after the W3C text of WebVTT; returns the number of cues."""
    head, *blocks = text.removesuffix("\n").split("\n\n")
    assert head == "WEBVTT"
    last = -1
    for block in blocks:
        timing, *rows = block.split("\n")
        found = STAMP.match(timing)
        assert found, timing
        h1, m1, s1, f1, h2, m2, s2, f2 = map(int, found.groups())
        start, end = ((h1 * 60 + m1) * 60 + s1) * 1000 + f1, ((h2 * 60 + m2) * 60 + s2) * 1000 + f2
        assert end > start >= last
        assert rows
        assert all(row and "-->" not in row and "<" not in row for row in rows)
        assert not re.search(r"&(?!amp;|lt;|gt;)", block)
        last = start
    return len(blocks)


def test_norms_on_demo_dishes() -> None:
    """Every fourth dish told at 150 words a minute: at least 98 % of captions keep each norm."""
    found = [norms(captions(told(d))) for d in book().dishes[::4]]
    total = sum(n.captions for n in found)
    assert sum(n.speed * n.captions for n in found) / total >= 0.98
    assert sum(n.line * n.captions for n in found) / total == 1.0
    assert sum(n.length * n.captions for n in found) / total >= 0.98


def test_nothing_is_lost_and_nothing_overlaps() -> None:
    """Every word stands in the captions in order; no caption meets the next; none leaves its words by 1.5 s."""
    for dish in book().dishes[:4]:
        narration = told(dish)
        cues = captions(narration)
        assert " ".join(c.text for c in cues) == " ".join(c.text for c in narration.cues)
        assert all(a.end_s <= b.start_s for a, b in pairwise(cues))
        assert check_webvtt(webvtt(cues)) == len(cues)


@given(
    st.lists(
        st.tuples(
            st.floats(0.05, 5), st.floats(0, 3),
            st.text(st.characters(categories=["L", "P", "S", "N"]), min_size=1, max_size=90),
        ),
        min_size=1, max_size=12,
    )
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_any_narration_gives_well_formed_files(rows: list[tuple[float, float, str]]) -> None:
    """However fast, dense or odd the words are: well-formed WebVTT and SubRip, lines of 42 at most."""
    at, cues = 0.0, []
    for lasts, gap, text in rows:
        cues.append(Cue(round(at, 3), round(at + lasts, 3), text))
        at += lasts + gap
    made = captions(Narration(tuple(cues)))
    assert check_webvtt(webvtt(made)) == len(made)
    assert norms(made).line == 1.0
    assert "".join(c.text for c in made).replace(" ", "") == "".join(c.text for c in cues).replace(" ", "")
    assert subrip(made).count(" --> ") == len(made)


def test_two_even_lines() -> None:
    """A long caption breaks in two, after a sign where it can, never over 42."""
    lines = two_lines("Wash the dal in two or three waters, then drain it well and set aside.")
    assert lines == ("Wash the dal in two or three waters,", "then drain it well and set aside.")
    assert max(map(len, lines)) <= LINE_LETTERS
