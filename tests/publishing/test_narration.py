"""Reading a narration."""

from __future__ import annotations

import contextlib
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.narrated import reread, told
from tests.publishing.samples import book

from chauka.errors import InputError
from chauka.publishing.captions import subrip, webvtt
from chauka.publishing.narration import Cue, Narration, read_narration

VTT = """WEBVTT - a title

STYLE
::cue { color: white }

NOTE spoken by the cook

1
00:01.000 --> 00:03.500 align:start position:10%
<v Meera>Wash the <i>dal</i> &amp; drain it.

01:00:00.000 --> 01:00:02.000
Done.
"""


def test_webvtt_with_everything() -> None:
    """Settings, notes, styles, tags, entities, short and long times."""
    found = read_narration(VTT)
    assert found.cues == (Cue(1.0, 3.5, "Wash the dal & drain it."), Cue(3600.0, 3602.0, "Done."))


def test_subrip() -> None:
    """Commas, counters, carriage returns, a byte-order mark."""
    text = "\ufeff1\r\n00:00:01,000 --> 00:00:02,000\r\nWash it.\r\nWell.\r\n\r\n"
    assert read_narration(text).cues == (Cue(1.0, 2.0, "Wash it. Well."),)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "no words with times"),
        ("WEBVTT\n\n00:05.000 --> 00:04.000\nx\n", "narration line 3.*ends before"),
        ("WEBVTT\n\n00:05.000 --> 00:06.000\nx\n\n00:01.000 --> 00:02.000\ny\n", "line 6.*starts before"),
        ("WEBVTT\n\n5 s --> 6 s\nx\n", "'5 s' is no time"),
        ("just words\n", "has no time"),
        ("WEBVTT\n\n00:05.000 -->\nx\n", "'' is no time"),
    ],
)
def test_bad_files_are_refused_by_line(text: str, complaint: str) -> None:
    """What is wrong, and on which line."""
    with pytest.raises(InputError, match=complaint):
        read_narration(text)


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes it fall over."""
    with contextlib.suppress(InputError):
        assert read_narration(text).cues


@given(st.text(st.characters(categories=["L", "N", "P", "S"]), min_size=1, max_size=40))
def test_what_is_written_reads_back(text: str) -> None:
    """WebVTT keeps any text, angle brackets and ampersands included."""
    cues = (Cue(0.0, 1.5, text),)
    assert read_narration(webvtt(cues, broken=False)).cues == cues


def test_times_of_words_lie_in_their_cue() -> None:
    """Words follow each other without a gap inside a cue."""
    words = Narration((Cue(1.0, 3.0, "wash the dal"),)).words
    assert words[0].start_s == 1.0
    assert words[-1].end_s == pytest.approx(3.0)
    assert all(a.end_s == b.start_s for a, b in pairwise(words))


def test_a_told_dish_reads_back() -> None:
    """A whole narration survives both formats."""
    narration = told(book().dish("hill-rajma"))
    assert reread(narration) == narration
    assert [c.text for c in read_narration(subrip(narration.cues)).cues] == [c.text for c in narration.cues]
