"""The pack: everything in it, the same bytes each time, a manifest that tells the truth."""

from __future__ import annotations

import hashlib
import json

from tests.publishing.narrated import told
from tests.publishing.samples import demo_write_up, small_dish, written

from chauka.publishing import style
from chauka.publishing.card_art import Frame
from chauka.publishing.pack import MANIFEST, pack
from chauka.publishing.page_data import Credits, Film


def test_all_parts_are_there_and_the_manifest_names_them() -> None:
    """Sheets, page data, cards in pixels and lines, film files; sizes and sums as in the manifest."""
    w = demo_write_up()
    files = pack(w, style(), narration=told(w.dish), credit=Credits(film=Film("https://example.org/film")))
    by_path = {f.path: f for f in files}
    assert len(by_path) == len(files)
    wanted = {
        "sheet/a4-en.pdf", "sheet/a4-hi.pdf", "sheet/a5-en.pdf", "sheet/a5-hi.pdf", "sheet/en.html", "page/data.json",
        "page/snippet.html", "cards/1920x1080/title.png", "cards/wide/title.svg", "cards/tall/title.svg",
        "cards/alt.csv", "film/captions.vtt", "film/captions.srt", "film/chapters.vtt", "film/cards.otio",
        "film/cards.csv", "film/description.txt", MANIFEST,
    }  # fmt: skip
    assert wanted <= by_path.keys()
    manifest = json.loads(by_path[MANIFEST].data)
    assert {e["path"] for e in manifest["files"]} == by_path.keys() - {MANIFEST}
    for entry in manifest["files"]:
        data = by_path[entry["path"]].data
        assert (len(data), hashlib.sha256(data).hexdigest()) == (entry["bytes"], entry["sha256"])
    assert manifest["narration"]["captions_within_line_length"] == 1.0
    assert '"startOffset"' in by_path["page/data.json"].data.decode()


def test_the_same_bytes_each_time() -> None:
    """Same dish, same style, same narration: same bytes, file by file."""
    w = written(small_dish())
    once, again = (pack(w, style(), narration=told(w.dish), frames=(Frame.TALL,)) for _ in range(2))
    assert once == again
    assert any(f.path.startswith("cards/1080x1920/") for f in once)


def test_without_a_narration_there_is_still_a_description() -> None:
    """No film files but the text under a film, and no clip offsets."""
    files = {f.path: f for f in pack(demo_write_up(), style(), frames=())}
    assert "film/description.txt" in files
    assert "film/captions.vtt" not in files
    assert "startOffset" not in files["page/data.json"].data.decode()
