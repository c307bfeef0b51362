"""Photos on dishes and lots: put on, taken off, taken back; given out only by their sum, in the sizes there are."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pikepdf
import pytest
from PIL import Image
from tests.services.small_house import BOOK, NOW
from tests.services.test_picture import photo

from chauka.errors import InputError
from chauka.publishing import Language, Sheet
from chauka.services import page, past, photos
from chauka.store import books
from chauka.store.models import Household


@pytest.fixture
def owner(book_file: Path) -> Household:
    return books.create(BOOK)


def test_a_dish_shows_its_photo_until_it_is_taken_off(owner: Household) -> None:
    shown = photos.put_on_dish(owner, "boiled-rice", photo((2000, 1000)), " ", NOW)
    assert photos.of_dish(owner, "boiled-rice") == shown
    assert (shown.words, shown.width, shown.height) == ("Boiled rice", 1280, 640)
    assert photos.of_dishes(owner) == {"boiled-rice": shown}
    photos.take_off_dish(owner, "boiled-rice", NOW)
    assert photos.of_dish(owner, "boiled-rice") is None
    past.undo(owner, NOW)
    assert photos.of_dish(owner, "boiled-rice") == shown
    with pytest.raises(InputError, match="shows none"):
        photos.take_off_dish(owner, "wilted-spinach", NOW)


def test_a_lot_shows_its_photo_while_it_is_there(owner: Household) -> None:
    shown = photos.put_on_lot(owner, "spinach-1", photo(), "a bunch", NOW)
    assert photos.of_lots(owner, {"spinach-1"}) == {"spinach-1": shown}
    photos.take_off_lot(owner, "spinach-1", NOW)
    assert photos.of_lots(owner, {"spinach-1"}) == {}


def test_sizes(owner: Household) -> None:
    shown = photos.put_on_dish(owner, "boiled-rice", photo((2000, 1000)), "", NOW)
    sizes = {size: Image.open(io.BytesIO(photos.file(owner, shown.digest, size))).size for size in photos.SIZES}
    assert sizes == {"full": (1280, 640), "page": (760, 380), "small": (176, 88)}


@pytest.mark.parametrize("digest", ["", "..", "../../etc/passwd", "0" * 63, "0" * 64, "A" * 64, "0" * 64 + "\n"])
def test_only_what_is_in_the_book_is_given_out(owner: Household, digest: str) -> None:
    with pytest.raises(InputError, match="is not in this book"):
        photos.file(owner, digest, "full")


@pytest.mark.parametrize("put", [photos.put_on_dish, photos.put_on_lot])
def test_nothing_is_kept_for_what_is_not_there(owner: Household, put: object) -> None:
    with pytest.raises(InputError):
        put(owner, "no-such-thing", photo(), "", NOW)  # type: ignore[operator]
    with pytest.raises(InputError, match="300 letters"):
        photos.put_on_dish(owner, "boiled-rice", photo(), "x" * 301, NOW)
    assert past.view(owner).days == ()


def test_the_write_up_shows_it_with_its_words(owner: Household) -> None:
    """On the page by its address, in the pack as a file beside the sheet, on paper with its words for a reader."""
    photos.put_on_dish(owner, "boiled-rice", photo((800, 600)), "a bowl of rice", NOW)
    assert (
        '<img src="/here.jpg" alt="a bowl of rice" width="760" height="570">'
        in page.write_up(owner, "boiled-rice", "/here.jpg").html
    )
    with zipfile.ZipFile(io.BytesIO(page.pack_zip(owner, "boiled-rice"))) as pack:
        assert pack.read("boiled-rice/sheet/photo.jpg").startswith(b"\xff\xd8\xff")
        assert 'src="photo.jpg"' in pack.read("boiled-rice/sheet/en.html").decode()
    pdf = pikepdf.open(io.BytesIO(page.sheet_pdf(owner, "boiled-rice", Sheet.A4, Language.ENGLISH, "spring")))
    said = [str(o["/Alt"]) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]
    assert "a bowl of rice" in said
