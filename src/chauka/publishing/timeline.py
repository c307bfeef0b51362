"""The showings as a timeline that editing programs read (OpenTimelineIO), and as a plain table of in and out times."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

import opentimelineio as otio

from chauka.publishing.captions import stamp
from chauka.publishing.film import Layer, Showing

FRAMES_PER_SECOND = 25.0


def otio_text(name: str, showings: Sequence[Showing], folder: str, *, rate: float = FRAMES_PER_SECOND) -> str:
    """An OpenTimelineIO file: one track a layer, the cards' pictures as clips, gaps between; times in whole frames."""
    timeline = otio.schema.Timeline(name)
    for layer in Layer:
        track = otio.schema.Track(str(layer), kind=otio.schema.TrackKind.Video)
        at = 0
        for shown in (s for s in showings if s.layer is layer):
            start, end = round(shown.start_s * rate), round(shown.end_s * rate)
            if start > at:
                track.append(otio.schema.Gap(duration=otio.opentime.RationalTime(start - at, rate)))
            track.append(_clip(shown, max(end - max(start, at), 1), folder, rate))
            at = max(end, at + 1)
        timeline.tracks.append(track)
    return str(timeline.to_json_string(indent=2)) + "\n"


def _clip(shown: Showing, frames: int, folder: str, rate: float) -> otio.schema.Clip:
    span = otio.opentime.TimeRange(otio.opentime.RationalTime(0, rate), otio.opentime.RationalTime(frames, rate))
    media = otio.schema.ExternalReference(target_url=f"{folder}/{shown.card.id}.png", available_range=span)
    return otio.schema.Clip(
        shown.card.id, media_reference=media, source_range=span, metadata={"chauka": {"alt": shown.card.alt}}
    )


def csv_text(showings: Iterable[Showing]) -> str:
    """Card, kind, layer, in, out (as times and in seconds), and the card in words."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("card", "kind", "layer", "in", "out", "in_s", "out_s", "words"))
    for s in showings:
        times = (stamp(s.start_s), stamp(s.end_s), f"{s.start_s:.3f}", f"{s.end_s:.3f}")
        writer.writerow((s.card.id, s.card.kind, s.layer, *times, s.card.alt))
    return out.getvalue()
