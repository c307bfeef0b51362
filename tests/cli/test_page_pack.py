"""`chauka page` writes a pack and proves it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.cli.running import Run

VTT = "WEBVTT\n\n00:01.000 --> 00:04.000\nWash the spinach and chop it.\n\n00:05.000 --> 00:09.000\nNow add the salt.\n"


@pytest.fixture
def narration(tmp_path: Path) -> Path:
    """A short narration."""
    path = tmp_path / "film.vtt"
    path.write_text(VTT, "utf-8")
    return path


@pytest.mark.usefixtures("small_house")
def test_a_pack_is_written_and_proven(run: Run, tmp_path: Path, narration: Path) -> None:
    """Folder with a manifest; the check finds nothing; after a change it does, with exit code 1."""
    out = tmp_path / "pack"
    code, said, err = run("page", "wilted-spinach", "--narration", str(narration), "-o", str(out), "--json")
    assert (code, err) == (0, "")
    manifest = json.loads((out / "manifest.json").read_text("utf-8"))
    assert json.loads(said)["files"] == len(manifest["files"]) + 1
    assert (out / "film" / "cards.otio").exists()
    code, said, _ = run("page", "wilted-spinach", "--check", str(out))
    assert code == 0
    assert "Every number in this pack is the dish's." in said
    sheet = out / "sheet" / "a4-en.pdf"
    sheet.write_bytes(sheet.read_bytes() + b"x")
    code, said, _ = run("page", "wilted-spinach", "--check", str(out))
    assert code == 1
    assert "sheet/a4-en.pdf" in said


@pytest.mark.usefixtures("small_house")
def test_bad_files_are_refused_in_words(run: Run, tmp_path: Path) -> None:
    """A narration that is none, a style that is none, a narration without a folder."""
    bad = tmp_path / "bad.vtt"
    bad.write_text("WEBVTT\n\n5 --> 6\nx\n", "utf-8")
    for words, complaint in (
        (("--narration", str(bad), "-o", str(tmp_path / "p")), "narration line 3"),
        (("--narration", str(bad)), "-o FOLDER"),
        (("--style", str(tmp_path / "none.toml"), "-o", str(tmp_path / "p")), "cannot be read"),
        (("--check", str(tmp_path / "none")), "no folder"),
    ):
        code, _, err = run("page", "wilted-spinach", *words)
        assert code != 0
        assert complaint in err
    assert not (tmp_path / "p").exists()


@pytest.mark.usefixtures("small_house")
def test_a_booklet_is_bound(run: Run, tmp_path: Path) -> None:
    """PDF and EPUB, without a dish named."""
    code, said, err = run("page", "--booklet", str(tmp_path / "b"), "--today", "2027-03-14", "--json")
    assert (code, err) == (0, "")
    assert {Path(row["file"]).name for row in json.loads(said)} == {"booklet.pdf", "booklet.epub"}


@pytest.mark.usefixtures("small_house")
def test_nothing_named_says_what_to_name(run: Run) -> None:
    """No dish and no list: the message says what there is."""
    code, _, err = run("page")
    assert code != 0
    assert "--booklet" in err
