"""The whole write-up as a pack of files with a manifest: the same bytes for the same dish, style and narration."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from chauka.publishing.captions import captions, norms, subrip, webvtt
from chauka.publishing.card_art import Frame, card_pngs, card_svgs
from chauka.publishing.cards import Card, cards
from chauka.publishing.description import description
from chauka.publishing.film import chapters, showings
from chauka.publishing.follow import follow
from chauka.publishing.narration import Narration
from chauka.publishing.page_data import NO_CREDITS, Credits, page_data_json
from chauka.publishing.paper import sheet_pdf
from chauka.publishing.press import Sheet
from chauka.publishing.sheet import PHOTO, page_snippet, sheet_html
from chauka.publishing.style import Style
from chauka.publishing.timeline import csv_text, otio_text
from chauka.publishing.words import Language
from chauka.publishing.write_up import WriteUp

MANIFEST = "manifest.json"


@dataclass(frozen=True, slots=True)
class PackFile:
    """One file of a pack: its path in the folder, what it is, its bytes."""

    path: str
    what: str
    data: bytes


def pack(
    write_up: WriteUp,
    style: Style,
    *,
    narration: Narration | None = None,
    credit: Credits | None = None,
    frames: Sequence[Frame] = (Frame.HD,),
) -> tuple[PackFile, ...]:
    """Sheets, page data, cards, and with a narration the film's files; the manifest last.

    `frames` are the sizes in which cards are painted; drawings are made for the wide and the tall shape always.
    """
    found = cards(write_up, style)
    by = credit or NO_CREDITS
    film = tuple(_film(write_up, found, narration, by, frames)) if narration else ()
    if narration and by.film:
        clips = follow(write_up.dish, narration).clips(narration.end_s)
        by = replace(by, film=replace(by.film, clips=clips))
    files = [
        *_sheets(write_up, style, by),
        *_page(write_up, by),
        *_cards(found, style, frames),
        *(film or (_text("film/description.txt", "text under the film", description(write_up, credit=by)),)),
    ]
    return (*files, _manifest(write_up, style, narration, files))


def _sheets(write_up: WriteUp, style: Style, by: Credits) -> Iterator[PackFile]:
    for paper in Sheet:
        for language in Language:
            made = sheet_pdf(write_up, paper=paper, language=language, look=style, author=by.author or "")
            yield PackFile(f"sheet/{paper}-{language}.pdf", f"sheet for {paper.upper()}, labelled in {language}", made)
    for language in Language:
        html = sheet_html(write_up, language=language, credit=by)
        yield _text(f"sheet/{language}.html", f"sheet for screen and print, labelled in {language}", html)
    if write_up.photo:
        yield PackFile(f"sheet/{PHOTO}", write_up.photo.words, write_up.photo.jpeg)


def _page(write_up: WriteUp, by: Credits) -> Iterator[PackFile]:
    yield _text("page/data.json", "page data, schema.org Recipe", page_data_json(write_up, by) + "\n")
    yield _text("page/snippet.html", "page data to paste into a page", page_snippet(write_up, by))


def _cards(found: Sequence[Card], style: Style, frames: Sequence[Frame]) -> Iterator[PackFile]:
    for frame in frames:
        for card, picture in zip(found, card_pngs(found, frame, style), strict=True):
            yield PackFile(f"cards/{frame.value.name}/{card.id}.png", card.alt, picture)
    for name, frame in (("wide", Frame.HD), ("tall", Frame.TALL)):
        for card, drawing in zip(found, card_svgs(found, frame, style), strict=True):
            yield PackFile(f"cards/{name}/{card.id}.svg", card.alt, drawing)
    yield _text("cards/alt.csv", "every card in words", _alt(found))


def _film(
    write_up: WriteUp, found: Sequence[Card], narration: Narration, by: Credits, frames: Sequence[Frame]
) -> Iterator[PackFile]:
    followed = follow(write_up.dish, narration)
    shown = showings(found, followed, narration.end_s)
    parts = chapters(write_up, followed, narration.end_s)
    cues = captions(narration)
    folder = f"../cards/{(frames or (Frame.HD,))[0].value.name}"
    yield _text("film/captions.vtt", "captions, WebVTT", webvtt(cues))
    yield _text("film/captions.srt", "captions, SubRip", subrip(cues))
    yield _text("film/chapters.vtt", "chapters, WebVTT", webvtt(parts, broken=False))
    yield _text("film/cards.otio", "cards in step with the narration", otio_text(write_up.dish.name, shown, folder))
    yield _text("film/cards.csv", "in and out times of the cards", csv_text(shown))
    yield _text("film/description.txt", "text under the film", description(write_up, parts, by))


def _alt(found: Sequence[Card]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("card", "words"))
    writer.writerows((card.id, card.alt) for card in found)
    return out.getvalue()


def _manifest(write_up: WriteUp, style: Style, narration: Narration | None, files: Sequence[PackFile]) -> PackFile:
    entries = [
        {"path": f.path, "what": f.what, "bytes": len(f.data), "sha256": hashlib.sha256(f.data).hexdigest()}
        for f in files
    ]
    told: dict[str, object] = {
        "dish": write_up.dish.id, "name": write_up.dish.name, "style": style.name, "accent": style.accent,
        "files": entries,
    }  # fmt: skip
    if narration:
        kept = norms(captions(narration))
        followed = follow(write_up.dish, narration)
        told["narration"] = {
            "seconds": round(narration.end_s, 3),
            "captions": kept.captions,
            "captions_within_reading_speed": round(kept.speed, 4),
            "captions_within_line_length": round(kept.line, 4),
            "not_heard_lines": [x.id for x in write_up.dish.lines if x.id not in followed.lines],
            "not_heard_steps": [x.id for x in write_up.dish.steps if x.id not in followed.steps],
        }
    return _text(MANIFEST, "what is in this pack", json.dumps(told, ensure_ascii=False, indent=2) + "\n")


def _text(path: str, what: str, text: str) -> PackFile:
    return PackFile(path, what, text.encode("utf-8"))
