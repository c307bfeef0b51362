"""Photos: what a camera sends comes out small, upright and bare; what is hostile is refused in words, unread."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, PngImagePlugin

from chauka.errors import InputError
from chauka.services import picture


def photo(size: tuple[int, int] = (64, 48), kind: str = "JPEG", mode: str = "RGB", **how: Any) -> bytes:
    """A picture with a red left half, as a file."""
    image = Image.new("RGB", size, (20, 120, 40))
    image.paste((200, 20, 20), (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    image.convert(mode).save(out, kind, **how)
    return out.getvalue()


def _opened(data: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(data))
    image.load()
    return image


def _red(image: Image.Image, at: tuple[int, int]) -> bool:
    red, green, _ = image.convert("RGB").getpixel(at)  # type: ignore[misc]
    return bool(red > green)


MODES = {
    "JPEG": ("RGB", "L", "CMYK"),
    "PNG": ("RGB", "L", "RGBA", "P", "LA", "1", "I;16"),
    "WEBP": ("RGB", "RGBA"),
}


@pytest.mark.parametrize(("kind", "mode"), [(kind, mode) for kind, modes in MODES.items() for mode in modes])
def test_what_cameras_and_programs_write_becomes_a_jpeg(kind: str, mode: str) -> None:
    made = picture.taken(photo(kind=kind, mode=mode))
    image = _opened(made.jpeg)
    assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (64, 48))
    assert (made.width, made.height) == (64, 48)


def test_a_large_photo_is_made_smaller() -> None:
    made = picture.taken(photo((3000, 1500)))
    assert (made.width, made.height) == (1280, 640)
    assert len(made.jpeg) <= picture.LARGEST_BYTES
    assert max(_opened(picture.smaller(made.jpeg, 160, 8000)).size) == 160


def test_noise_is_pressed_into_the_bytes_that_there_are() -> None:
    out = io.BytesIO()
    Image.effect_noise((1000, 1000), 120).save(out, "PNG")
    assert len(picture.taken(out.getvalue()).jpeg) <= picture.LARGEST_BYTES


def test_place_time_and_every_hidden_word_are_gone() -> None:
    """EXIF with a position, a comment, an XMP packet and what is appended behind the picture."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0132] = "SecretCamera", "2027:03:14 07:00:00"
    exif.get_ifd(0x8825)[2] = (31.0, 6.0, 12.0)
    sent = photo(exif=exif, comment=b"SecretComment", xmp=b"<x>SecretPacket</x>") + b"<script>Secret()</script>"
    assert sent.count(b"Secret") == 4
    made = picture.taken(sent).jpeg
    assert b"Secret" not in made
    assert b"Exif" not in made
    assert not _opened(made).getexif()


@pytest.mark.parametrize(
    ("turn", "left", "red_at"), [(1, (64, 48), (5, 20)), (3, (64, 48), (60, 20)), (6, (48, 64), (20, 5))]
)
def test_it_is_the_way_up_that_the_camera_was_held(turn: int, left: tuple[int, int], red_at: tuple[int, int]) -> None:
    exif = Image.Exif()
    exif[0x0112] = turn
    image = _opened(picture.taken(photo(exif=exif)).jpeg)
    assert image.size == left
    assert _red(image, red_at)


def test_what_is_transparent_lies_on_paper() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(out, "PNG")
    red, green, blue = _opened(picture.taken(out.getvalue()).jpeg).getpixel((20, 20))  # type: ignore[misc]
    assert min(red, green, blue) > 230


def _png(width: int, height: int, body: bytes = b"") -> bytes:
    """A PNG that says it is so large, whatever is in it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _resized(jpeg: bytes, width: int, height: int) -> bytes:
    """The same JPEG, saying that it is so large."""
    at = jpeg.index(b"\xff\xc0")
    return jpeg[: at + 5] + struct.pack(">HH", height, width) + jpeg[at + 9 :]


def _webp(width: int, height: int) -> bytes:
    size = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    return b"RIFF\x1e\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0" + size + b"\0" * 12


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
HOSTILE = {
    "nothing": (b"", "empty"),
    "text": (b"hello", "no photo that chauka reads"),
    "drawing with a script": (SVG, "no photo that chauka reads"),
    "page": (b"<!doctype html><script>alert(1)</script>", "no photo that chauka reads"),
    "archive": (b"PK\3\4" + b"\0" * 40, "no photo that chauka reads"),
    "gif": (b"GIF89a" + b"\0" * 40, "no photo that chauka reads"),
    "tiff": (b"II*\0" + b"\0" * 40, "no photo that chauka reads"),
    "heic": (b"\0\0\0\x18ftypheic" + b"\0" * 40, "HEIC"),
    "jpeg signature alone": (b"\xff\xd8\xff", "size cannot be read"),
    "drawing that says jpeg": (b"\xff\xd8\xff" + SVG, "size cannot be read"),
    "png bomb": (_png(60_000, 60_000, zlib.compress(b"\0" * 1_000_000)), "60000 × 60000 pixels"),
    "flat png bomb": (_png(2**31 - 1, 1), "pixels"),
    "png of no size": (_png(0, 10), "size cannot be read"),
    "jpeg bomb": (_resized(photo(), 65_000, 65_000), "65000 × 65000 pixels"),
    "webp bomb": (_webp(16_384, 16_384), "16384 × 16384 pixels"),
    "webp that is none": (b"RIFF\0\0\0\0WEBPJUNK" + b"\0" * 40, "size cannot be read"),
    "png cut short": (photo(kind="PNG", size=(300, 300))[:-60], "damaged or cut short"),
    "jpeg cut short": (photo(size=(300, 300))[:-400], "damaged or cut short"),
    "webp cut short": (photo(kind="WEBP", size=(300, 300))[:60], "damaged or cut short"),
    "png without a picture": (_png(10, 10), "damaged or cut short"),
    "written over and over": (photo() + b"\xff\xda\0\x08" * 101, "over and over"),
    "too many bytes": (b"\xff\xd8\xff" + b"\0" * picture.MOST_BYTES, "the most is 15 MB"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_honest_photo_is_refused_in_words(name: str) -> None:
    data, complaint = HOSTILE[name]
    with pytest.raises(InputError, match=complaint):
        picture.taken(data)


def test_a_bomb_is_refused_before_any_decoder_sees_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("decoded")

    monkeypatch.setattr(Image, "open", never)
    for name in ("png bomb", "flat png bomb", "jpeg bomb", "webp bomb", "too many bytes"):
        with pytest.raises(InputError, match=HOSTILE[name][1]):
            picture.taken(HOSTILE[name][0])


def test_a_photo_that_is_also_a_page_or_an_archive_is_only_a_photo_afterwards() -> None:
    info = PngImagePlugin.PngInfo()
    info.add_text("note", "<script>alert(1)</script>")
    for sent in (photo() + b"PK\3\4<script>alert(1)</script>", photo(kind="PNG", pnginfo=info)):
        made = picture.taken(sent).jpeg
        assert b"script" not in made
        assert b"PK\3\4" not in made


def test_unfolding_words_in_a_picture_do_not_unfold() -> None:
    """A PNG whose text unfolds to thirty megabytes."""
    text = b"note\0\0" + zlib.compress(b"a" * 30_000_000, 1)
    chunk = struct.pack(">I", len(text)) + b"zTXt" + text + struct.pack(">I", zlib.crc32(b"zTXt" + text))
    whole = photo(kind="PNG")
    with pytest.raises(InputError, match="damaged"):
        picture.taken(whole[:33] + chunk + whole[33:])


@settings(max_examples=150)
@given(st.data())
def test_no_damage_does_anything_but_an_input_error(data: st.DataObject) -> None:
    whole = data.draw(st.sampled_from([photo(kind=kind, size=(40, 30)) for kind in ("JPEG", "PNG", "WEBP")]))
    at = data.draw(st.integers(0, len(whole) - 1))
    noise = data.draw(st.binary(min_size=1, max_size=8))
    sent = whole[:at] + noise + whole[at + data.draw(st.integers(0, 12)) :]
    try:
        made = picture.taken(sent)
    except InputError:
        return
    assert _opened(made.jpeg).format == "JPEG"
