"""A photo as somebody sent it → a plain JPEG of ours: nothing of the file but its pixels is kept.

What a file claims to be is never believed. Its first bytes say what it is, its own header how large the
picture is, and both are looked at before anything is decoded, so that a small file that unfolds to
gigabytes is refused for the price of reading some bytes. Then it is decoded, turned the way up that
the camera noted, made smaller and written anew: place, time, camera, colour profile and whatever was
hidden behind the picture are gone.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import NoReturn

from PIL import Image, ImageOps

from chauka.errors import InputError

MOST_BYTES = 15_000_000
"""What a phone's camera makes is smaller."""

MOST_PIXELS: Mapping[str, int] = {"JPEG": 52_000_000, "PNG": 25_000_000, "WEBP": 25_000_000}
"""A JPEG takes three bytes a pixel at the worst, the others up to eight."""

LONGEST_SIDE = 20_000
MOST_SCANS = 100
"""A camera writes a dozen at most, with its previews; each is gone through in full, whatever little it holds."""

LARGEST_SIDE, LARGEST_BYTES = 1280, 260_000
"""What is kept: at most so many pixels on the longer side, and about so many bytes."""

GROUND = (253, 250, 242)
"""Paper, behind what is transparent."""

_QUALITIES = (82, 60)
_SMALLER = 0.75
_LEAST_SIDE = 200

_DAMAGED = (OSError, SyntaxError, ValueError, EOFError, LookupError, TypeError, ArithmeticError, MemoryError,
            AssertionError, struct.error, zlib.error, Warning, Image.DecompressionBombError)  # fmt: skip
"""What Pillow raises for damaged files."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A JPEG of ours."""

    jpeg: bytes
    width: int
    height: int


def taken(data: bytes) -> Picture:
    """The photo in the bytes of a file. An `InputError` says what is wrong with it."""
    if not data:
        _refuse("the file is empty; choose a photo")
    if len(data) > MOST_BYTES:
        _refuse(f"is {len(data) / 1e6:.0f} MB; the most is {MOST_BYTES // 1_000_000} MB: send it smaller")
    kind = _kind(data)
    width, height = _size(kind, data)
    if max(width, height) > LONGEST_SIDE or width * height > MOST_PIXELS[kind]:
        most = f"{MOST_PIXELS[kind] // 1_000_000} million"
        _refuse(f"is {width} × {height} pixels; the most is {most} as {kind}: send it smaller")
    if kind == "JPEG" and data.count(b"\xff\xda") > MOST_SCANS:
        _refuse("is damaged: it is written over and over")
    return _written(_decoded(data, kind, (width, height)), LARGEST_SIDE, LARGEST_BYTES)


def smaller(jpeg: bytes, side: int, most_bytes: int) -> bytes:
    """A picture of ours for a smaller frame: at most `side` pixels on the longer side, about so many bytes."""
    kind = _kind(jpeg)
    size = _size(kind, jpeg)
    if max(size) > LARGEST_SIDE:
        _refuse("is no picture that chauka wrote")
    return _written(_decoded(jpeg, kind, size, side), side, most_bytes).jpeg


def size(jpeg: bytes) -> tuple[int, int]:
    """Width and height of a picture of ours, in pixels."""
    return _size("JPEG", jpeg)


# --- what it is, by its first bytes ----------------------------------------------------------------


def _kind(data: bytes) -> str:
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "WEBP"
    if data[4:12] in (b"ftypheic", b"ftypheix", b"ftypmif1", b"ftypavif"):
        _refuse("is a HEIC or AVIF photo, which chauka does not read; let the phone send it as JPEG")
    return _refuse("is no photo that chauka reads; send a JPEG, PNG or WebP")


def _size(kind: str, data: bytes) -> tuple[int, int]:
    """Width and height by the file's own header, read by us: no decoder has seen it yet."""
    try:
        width, height = _READERS[kind](data)
    except (struct.error, IndexError):
        width = height = 0
    if width < 1 or height < 1:
        _refuse("is damaged: its size cannot be read")
    return width, height


def _png_size(data: bytes) -> tuple[int, int]:
    if data[12:16] != b"IHDR":
        return 0, 0
    width, height = struct.unpack_from(">II", data, 16)
    return width, height


def _webp_size(data: bytes) -> tuple[int, int]:
    chunk = data[12:16]
    if chunk == b"VP8X":
        return 1 + int.from_bytes(data[24:27], "little"), 1 + int.from_bytes(data[27:30], "little")
    if chunk == b"VP8L":
        bits = int.from_bytes(data[21:25], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if chunk == b"VP8 ":
        width, height = struct.unpack_from("<HH", data, 26)
        return width & 0x3FFF, height & 0x3FFF
    return 0, 0


_FRAMES = frozenset({0xC0, 0xC1, 0xC2, 0xC3, 0xC5, 0xC6, 0xC7, 0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF})
_ALONE = frozenset({0x01, *range(0xD0, 0xDA)})
"""Markers without a length: restarts, begin and end."""


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """The largest frame that any header names: a second one must not be larger than the one that was looked at."""
    at, width, height = 2, 0, 0
    while at + 9 < len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        if marker in _ALONE:
            at += 2
            continue
        if marker in _FRAMES:
            high, wide = struct.unpack_from(">HH", data, at + 5)
            width, height = max(width, wide), max(height, high)
        if marker == 0xDA:  # the picture itself begins
            break
        at += 2 + int(struct.unpack_from(">H", data, at + 2)[0])
    return width, height


_READERS: Mapping[str, Callable[[bytes], tuple[int, int]]] = {
    "JPEG": _jpeg_size,
    "PNG": _png_size,
    "WEBP": _webp_size,
}


# --- decoded and written anew ----------------------------------------------------------------------


def _decoded(data: bytes, kind: str, size: tuple[int, int], side: int = LARGEST_SIDE) -> Image.Image:
    try:
        with Image.open(io.BytesIO(data), formats=[kind]) as image:
            if image.size != size:
                _refuse("is damaged: it names two sizes")
            image.draft("RGB", (side, side))
            image.load()
            image.thumbnail((side, side), Image.Resampling.LANCZOS)
            made = _on_paper(_upright(image))
            made.info.clear()
            return made
    except _DAMAGED as error:
        if isinstance(error, InputError):
            raise
        _refuse("is damaged or cut short; take it again")


def _upright(image: Image.Image) -> Image.Image:
    """As the camera was held; what is damaged in its notes is passed over."""
    try:
        return ImageOps.exif_transpose(image) or image
    except _DAMAGED:
        return image


def _on_paper(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I"):  # sixteen bits a pixel
        image = image.convert("I").point(lambda v: v / 256).convert("L")
    if "A" not in image.getbands() and "transparency" not in image.info:
        return image.convert("RGB")
    clear = image.convert("RGBA")
    paper = Image.new("RGB", clear.size, GROUND)
    paper.paste(clear, mask=clear.getchannel("A"))
    return paper


def _written(image: Image.Image, side: int, most_bytes: int) -> Picture:
    """As good as goes into so many bytes; smaller where it does not."""
    image.thumbnail((side, side), Image.Resampling.LANCZOS)
    while True:
        for quality in _QUALITIES:
            out = io.BytesIO()
            image.save(out, "JPEG", quality=quality, optimize=True, progressive=True)
            if out.tell() <= most_bytes:
                return Picture(out.getvalue(), *image.size)
        if max(image.size) <= _LEAST_SIDE:
            return Picture(out.getvalue(), *image.size)
        image.thumbnail((int(image.width * _SMALLER) or 1, int(image.height * _SMALLER) or 1))


def _refuse(complaint: str) -> NoReturn:
    raise InputError({"photo": (complaint,)})
