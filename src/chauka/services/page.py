"""The page: a dish written up for others, as a view or as a pack of files."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from chauka import publishing
from chauka.errors import InputError
from chauka.kitchen import Book, Dish
from chauka.publishing.card_art import Frame, card_svgs
from chauka.publishing.cards import Card, cards
from chauka.publishing.check import Finding, check_pack, check_remade
from chauka.publishing.narration import Narration, read_narration
from chauka.publishing.pack import PackFile, pack
from chauka.publishing.press import Sheet
from chauka.publishing.read_back import read_page
from chauka.publishing.sheet import PHOTO
from chauka.publishing.words import Language
from chauka.services import cooked, photos
from chauka.store import books
from chauka.store.files import write_whole
from chauka.store.models import Household

_LARGEST_NARRATION = 2_000_000  # bytes: about thirty hours of speech


@dataclass(frozen=True, slots=True)
class PageView:
    """A finished write-up: its numbers, the sheet as HTML, and the page data for search engines."""

    write_up: publishing.WriteUp
    html: str
    data: dict[str, Any]


@dataclass(frozen=True, slots=True)
class PackView:
    """A pack that was written: where, and its files."""

    folder: Path
    files: tuple[PackFile, ...]
    write_up: publishing.WriteUp

    @property
    def bytes(self) -> int:
        """Size of all files."""
        return sum(len(f.data) for f in self.files)


def write_up(
    household: Household, dish_id: str, photo_src: str = PHOTO, language: Language = Language.ENGLISH
) -> PageView:
    """The write-up of one dish, as cooked in this house; `photo_src` is where its photo is given out."""
    return _page(made_up(household, dish_id), photo_src, language)


def of_book(book: Book, dish_id: str) -> PageView:
    """The same for a book already loaded, without what earlier batches weighed."""
    return _page(publishing.write_up(book.dish(dish_id), book.house))


def _page(made: publishing.WriteUp, photo_src: str = PHOTO, language: Language = Language.ENGLISH) -> PageView:
    sheet = publishing.sheet_html(made, photo_src=photo_src, language=language)
    return PageView(made, sheet, publishing.page_data(made))


def made_up(household: Household, dish_id: str) -> publishing.WriteUp:
    """The numbers of one dish alone, and its photo."""
    book = books.load_book(household)
    dish = book.dish(dish_id)
    made = publishing.write_up(dish, book.house, cooked.of_dish(household, dish))
    return replace(made, photo=photos.for_print(household, dish_id))


def narration_of(path: Path) -> Narration:
    """A narration from a WebVTT or SubRip file; `InputError` says what is wrong with it."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise InputError({"narration": (f"{path} cannot be read ({error.strerror})",)}) from None
    if len(data) > _LARGEST_NARRATION:
        raise InputError({"narration": (f"{path} is larger than two megabytes: give captions, not the film",)})
    try:
        return read_narration(data.decode("utf-8"))
    except UnicodeDecodeError:
        raise InputError({"narration": (f"{path} is no UTF-8 text; save it as UTF-8",)}) from None


def write_pack(
    household: Household,
    dish_id: str,
    folder: Path,
    *,
    style: str = publishing.HOUSE_STYLE,
    season: str | None = None,
    narration: Path | None = None,
    credit: publishing.Credits | None = None,
    frames: Sequence[Frame] = (Frame.HD,),
) -> PackView:
    """Write a dish's whole pack into a folder, the manifest last, so that a manifest means that all is there."""
    look = publishing.style(style, season=season)
    heard = narration_of(narration) if narration else None
    made = made_up(household, dish_id)
    files = pack(made, look, narration=heard, credit=credit, frames=frames)
    if folder.exists() and not folder.is_dir():
        raise InputError({"folder": (f"{folder} is a file; name a folder",)})
    for file in files:
        write_whole(folder / file.path, file.data, mode=0o644)
    return PackView(folder, files, made)


def check(
    household: Household,
    dish_id: str,
    folder: Path,
    *,
    style: str = publishing.HOUSE_STYLE,
    season: str | None = None,
    credit: publishing.Credits | None = None,
) -> tuple[Finding, ...]:
    """What in a written pack differs from the dish as it is now; nothing where every number is the dish's.

    Give the style and credits that the pack was written with: sheets and cards are made again and compared.
    """
    if not folder.is_dir():
        raise InputError({"folder": (f"{folder} is no folder; write the pack first, with -o",)})
    files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}
    made = made_up(household, dish_id)
    frames = [frame for frame in Frame if any(path.startswith(f"cards/{frame.value.name}/") for path in files)]
    again = {f.path: f.data for f in pack(made, publishing.style(style, season=season), credit=credit, frames=frames)}
    return (*check_pack(made, files), *check_remade(files, again))


def read_dish(path: Path) -> Dish:
    """The dish of a page or page-data file that chauka wrote."""
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError({"page": (f"{path} cannot be read: {error}",)}) from None
    bare = text.replace("<", "\\u003c")  # inside JSON it stands in strings alone
    html = text if "<script" in text else f'<script type="application/ld+json">{bare}</script>'
    return read_page(html)


def pack_zip(
    household: Household,
    dish_id: str,
    *,
    season: str | None = None,
    narration: str | None = None,
    credit: publishing.Credits | None = None,
) -> bytes:
    """The whole pack as one archive, the same bytes for the same dish; `narration` is the text of its file."""
    look = publishing.style(season=season)
    heard = read_narration(narration) if narration else None
    made = made_up(household, dish_id)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for file in pack(made, look, narration=heard, credit=credit):
            info = zipfile.ZipInfo(f"{dish_id}/{file.path}", (1980, 1, 1, 0, 0, 0))
            info.compress_type = (
                zipfile.ZIP_STORED if file.path.endswith((".png", ".pdf", ".jpg")) else zipfile.ZIP_DEFLATED
            )
            info.external_attr = 0o644 << 16
            archive.writestr(info, file.data)
    return out.getvalue()


def sheet_pdf(household: Household, dish_id: str, paper: Sheet, language: publishing.Language, season: str) -> bytes:
    """One sheet as PDF."""
    look = publishing.style(season=season)
    return publishing.sheet_pdf(made_up(household, dish_id), paper=paper, language=language, look=look)


def card_list(household: Household, dish_id: str) -> tuple[Card, ...]:
    """The cards of a dish, to choose from."""
    return cards(made_up(household, dish_id), publishing.style())


def card_svg(household: Household, dish_id: str, card_id: str, frame: Frame = Frame.HD) -> bytes:
    """One card as a drawing; an `InputError` names what there is."""
    found = card_list(household, dish_id)
    for card in found:
        if card.id == card_id:
            return card_svgs([card], frame, publishing.style())[0]
    raise InputError({"card": (f"{card_id!r} is none of {', '.join(c.id for c in found)}",)})
