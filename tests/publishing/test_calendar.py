"""The calendar feed: RFC 5545 rules checked by ourselves, a round trip, and changes that do not double."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.publishing.made_plan import NAMES, SUNDAY, bench, plan, run_sheet
from tests.publishing.samples import book

from chauka.keeping import lot_use_by
from chauka.publishing import press
from chauka.publishing.calendar import (
    Event,
    bench_events,
    cooking_event,
    feed,
    plan_events,
    step_events,
    use_by_events,
)

STAMP = datetime.combine(date(2027, 3, 13), time(20))


def everything(serve: time = time(20, 0)) -> list[Event]:
    """All kinds of entries."""
    lots = [
        (lot, lot.id, lot_use_by(lot, book().house, book().dish(lot.dish) if lot.dish else None)) for lot in book().lots
    ]
    return [
        *plan_events(plan(serve), NAMES), *bench_events(bench(), NAMES), cooking_event(run_sheet(), "dinner"),
        *use_by_events(lots),
    ]  # fmt: skip


def check_rfc5545(data: bytes) -> int:
    """Our own reading of RFC 5545 (from memory): lines, folding, required properties; returns the number of events."""
    assert data.endswith(b"\r\n")
    rows = data.split(b"\r\n")[:-1]
    assert all(b"\n" not in row and b"\r" not in row and len(row) <= 75 for row in rows)
    unfolded = re.sub(rb"\r\n[ \t]", b"", data).decode("utf-8").split("\r\n")[:-1]
    assert unfolded[0] == "BEGIN:VCALENDAR"
    assert unfolded[-1] == "END:VCALENDAR"
    head = unfolded[: unfolded.index("BEGIN:VEVENT")] if "BEGIN:VEVENT" in unfolded else unfolded
    assert sum(r.startswith("PRODID:") for r in head) == 1
    assert "VERSION:2.0" in head
    uids = []
    text = "\n".join(unfolded)
    for body in re.findall(r"BEGIN:VEVENT\n(.*?)\nEND:VEVENT", text, re.DOTALL):
        alarms = re.findall(r"BEGIN:VALARM\n(.*?)\nEND:VALARM", body, re.DOTALL)
        own = re.sub(r"BEGIN:VALARM\n.*?\nEND:VALARM\n?", "", body, flags=re.DOTALL).splitlines()
        names = [re.split("[:;]", row, maxsplit=1)[0] for row in own]
        for once in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"):
            assert names.count(once) == 1, (once, body)
        assert "DURATION" not in names
        value = dict(row.split(":", 1) for row in own)
        assert re.fullmatch(r"\d{8}T\d{6}Z", value["DTSTAMP"])
        whole_day = "DTSTART;VALUE=DATE" in value
        start, end = (value.get(f"{n};VALUE=DATE" if whole_day else n, "") for n in ("DTSTART", "DTEND"))
        assert re.fullmatch(r"\d{8}" if whole_day else r"\d{8}T\d{6}", start)
        assert end > start
        for alarm in alarms:
            keys = [re.split("[:;]", row, maxsplit=1)[0] for row in alarm.splitlines()]
            assert keys.count("ACTION") == keys.count("TRIGGER") == keys.count("DESCRIPTION") == 1
        uids.append(value["UID"])
    assert len(uids) == len(set(uids))
    return len(uids)


def test_the_feed_is_sound_and_round_trips() -> None:
    """Every rule holds; the icalendar library reads the same entries back."""
    events = everything()
    data = feed(book().house.name, events, STAMP)
    assert check_rfc5545(data) == len(events) > 20
    read = icalendar.Calendar.from_ical(data)
    found = {str(e["uid"]).split("@")[0]: e for e in read.walk("VEVENT")}
    for event in events:
        entry = found[event.uid]
        assert entry.decoded("dtstart") == event.start
        assert entry.decoded("dtend") == event.end
        assert str(entry["summary"]) == event.summary
        assert str(entry.get("description", "")) == event.text
    assert read.to_ical() == data


def test_same_plan_same_bytes() -> None:
    """No clock in the feed."""
    assert feed("house", everything(), STAMP) == feed("house", reversed(everything()), STAMP)


def test_a_change_updates_and_does_not_double() -> None:
    """Dinner an hour later, the soak earlier, other dishes' names: the UIDs stay."""
    before = {e.uid: e for e in everything()}
    after = {e.uid: e for e in everything(time(21, 0))}
    assert before.keys() == after.keys()
    dinner = f"sitting-{SUNDAY}-dinner"
    assert before[dinner].start != after[dinner].start
    soaks = [next(iter(bench_events(bench(at), NAMES))) for at in (time(20), time(22))]
    assert soaks[0].uid == soaks[1].uid
    assert soaks[0].start != soaks[1].start


def test_two_entries_with_one_uid_are_refused() -> None:
    """A feed never carries two entries that mean one."""
    event = everything()[0]
    with pytest.raises(ValueError, match="UID"):
        feed("house", [event, event], STAMP)


@given(st.text(max_size=200), st.text(max_size=400), st.integers(0, 3000))
@settings(max_examples=80)
def test_any_words_are_escaped(summary: str, text: str, minutes: int) -> None:
    """Commas, semicolons, line breaks, any Unicode: one sound entry, its words as they were."""
    start = datetime.combine(SUNDAY, time(8))
    event = Event("x", start, start + timedelta(minutes=5), summary, text, timedelta(minutes=minutes))
    data = feed("house", [event], STAMP)
    assert check_rfc5545(data) == 1
    (read,) = icalendar.Calendar.from_ical(data).walk("VEVENT")
    assert str(read.get("description", "")) == press.clean(text)


def test_whole_days_end_on_the_next() -> None:
    """A use-by is a whole day that blocks nobody's time, and rings the morning before."""
    lot = book().lots[0]
    event = next(iter(use_by_events([(lot, "x", lot_use_by(lot, book().house))])))
    assert isinstance(event.start, date)
    assert not isinstance(event.start, datetime)
    assert event.alarm == timedelta(hours=16)
    assert b"TRANSP:TRANSPARENT" in feed("house", [event], STAMP)


def test_a_run_sheet_rings_at_each_step() -> None:
    """One entry a row, each with an alarm at its start; an independent reader gets back the same moments."""
    sheet = run_sheet()
    data = feed("House", [cooking_event(sheet, "dinner"), *step_events(sheet, "dinner")], STAMP)
    assert check_rfc5545(data) == len(sheet.entries) + 1
    read = [e for e in icalendar.Calendar.from_ical(data).walk("VEVENT") if str(e["UID"]).startswith("stove-")]
    assert sorted(e["DTSTART"].dt for e in read) == sorted(entry.start for entry in sheet)
    assert all(e.walk("VALARM")[0]["TRIGGER"].dt == timedelta(0) for e in read)
