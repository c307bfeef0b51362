"""Our WebVTT files against an independent parser of the W3C's format (npm package webvtt-parser); needs Node."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import platformdirs
import pytest
from tests.publishing.narrated import told
from tests.publishing.samples import book

from chauka.publishing.captions import captions, webvtt

VERSION = "2.2.0"
FOLDER = Path(platformdirs.user_cache_dir("chauka-tests")) / f"webvtt-parser-{VERSION}"
SCRIPT = """
const { WebVTTParser } = require(process.argv[1] + "/node_modules/webvtt-parser/parser.js");
const texts = JSON.parse(require("fs").readFileSync(0, "utf8"));
const read = texts.map(text => new WebVTTParser().parse(text, "subtitles/captions/descriptions"));
console.log(JSON.stringify(read.map(r => ({ cues: r.cues.length, errors: r.errors.map(e => e.message) }))));
"""


def parsed(texts: list[str]) -> list[dict[str, object]]:
    """How many cues the parser finds in each text, and what it complains of."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        pytest.skip("the WebVTT parser needs Node and npm")
    if not (FOLDER / "node_modules" / "webvtt-parser").exists():
        fetched = subprocess.run(  # noqa: S603 -- npm itself
            [
                npm,
                "install",
                "--silent",
                "--no-audit",
                "--no-fund",
                "--prefix",
                str(FOLDER),
                f"webvtt-parser@{VERSION}",
            ],
            capture_output=True,
            text=True,
            check=False,
            timeout=120,
        )
        if fetched.returncode:
            pytest.skip(f"npm could not bring the WebVTT parser: {fetched.stderr[-200:]}")
    run = subprocess.run(  # noqa: S603 -- our own script
        [node, "-e", SCRIPT, str(FOLDER)],
        input=json.dumps(texts),
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    found: list[dict[str, object]] = json.loads(run.stdout)
    return found


def test_captions_parse_without_a_complaint() -> None:
    """Captions of every fifth demo dish: no error, and as many cues as were written."""
    made = [captions(told(dish)) for dish in book().dishes[::5]]
    found = parsed([webvtt(rows) for rows in made])
    assert [f["errors"] for f in found] == [[] for _ in made]
    assert [f["cues"] for f in found] == [len(rows) for rows in made]


def test_the_parser_does_complain_of_a_bad_file() -> None:
    """A cue that ends before it starts is an error, so an empty list of errors means something."""
    (found,) = parsed(["WEBVTT\n\n00:00:05.000 --> 00:00:02.000\nbackwards\n"])
    assert found["errors"]
