"""The booklet as EPUB 3: one page a dish, contents, indexes, wheel, measures, cautions; the same bytes each time."""

from __future__ import annotations

import io
import uuid
import zipfile
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from chauka.publishing import press
from chauka.publishing.booklet import HEADS, WHEEL_NOTE, Booklet
from chauka.publishing.sheet import article, environment
from chauka.publishing.style import Style, style
from chauka.publishing.wheel import wheel_svg
from chauka.publishing.words import words

_XHTML = "application/xhtml+xml"
_THEN = (1980, 1, 1, 0, 0, 0)
_CONTAINER = (
    '<?xml version="1.0" encoding="utf-8"?>\n'
    '<container version="1.0" xmlns="urn:oasis:names:tc:opendocument:xmlns:container"><rootfiles>'
    '<rootfile full-path="EPUB/package.opf" media-type="application/oebps-package+xml"/></rootfiles></container>\n'
)


@dataclass(frozen=True, slots=True)
class _Item:
    id: str
    href: str
    media: str
    text: str
    properties: str = ""
    spine: bool = True


def booklet_epub(made: Booklet, issued: date, look: Style | None = None) -> bytes:
    """The booklet as EPUB 3.3; `issued` is the day that it says it was changed last."""
    items = [*_pages(made, look or style())]
    package = environment().get_template("epub/package.opf").render(
        b=_clean(made), items=items, modified=f"{issued.isoformat()}T00:00:00Z", identifier=_identifier(made)
    )  # fmt: skip
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as book:
        _put(book, "mimetype", "application/epub+zip", stored=True)
        _put(book, "META-INF/container.xml", _CONTAINER)
        _put(book, "EPUB/package.opf", package)
        for item in items:
            _put(book, f"EPUB/{item.href}", item.text)
    return out.getvalue()


def _pages(made: Booklet, look: Style) -> list[_Item]:
    b = _clean(made)
    courses = [(words().courses[course].capitalize(), of_it) for course, of_it in made.courses]
    wheel = Markup(wheel_svg(made.produce, look)) if made.produce else ""  # noqa: S704 -- drawn by us, no foreign words
    drawn = "svg" if made.produce else ""
    return [
        _page("title", b.title, _render("title", b=b)),
        _page("nav", HEADS["contents"], _render("nav", courses=courses), properties="nav"),
        _page("wheel", HEADS["wheel"], _render("wheel", b=b, wheel=wheel, note=WHEEL_NOTE), properties=drawn),
        _page("measures", HEADS["measures"], _render("measures", b=b)),
        *(_page(f"dish-{w.dish.id}", str(press.clean(w.dish.name)), article(w)) for _, of_it in courses for w in of_it),
        _page("care", HEADS["care"], _render("care", b=b)),
        _page("by-produce", HEADS["by_produce"], _render("index", head=HEADS["by_produce"], groups=b.by_produce)),
        _page("by-time", HEADS["by_time"], _render("index", head=HEADS["by_time"], groups=b.by_time)),
        _Item("style", "style.css", "text/css", _render("style.css"), spine=False),
    ]


def _page(name: str, title: str, body: str, properties: str = "") -> _Item:
    page = environment().get_template("epub/page.xhtml")
    text = page.render(title=title, body=Markup(press.clean(body)))  # noqa: S704 -- escaped where it was rendered
    return _Item(name, f"{name}.xhtml", _XHTML, text, properties)


def _render(name: str, **given: object) -> str:
    template = environment().get_template(f"epub/{name}" if "." in name else f"epub/{name}.html")
    return template.render(heads=HEADS, **given)


def _clean(made: Booklet) -> Booklet:
    """Without signs of control in what a person wrote: XML has none."""
    return Booklet(
        **{name: press.clean(getattr(made, name)) for name in ("title", "sub", "season", "author", "cautions")},
        dishes=made.dishes, produce=made.produce, measures=made.measures,
        by_produce=made.by_produce, by_time=made.by_time,
    )  # fmt: skip


def _identifier(made: Booklet) -> str:
    """The same booklet keeps its name through new editions."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'chauka booklet {made.title} {made.author}')}"


def _put(book: zipfile.ZipFile, path: str, text: str, *, stored: bool = False) -> None:
    info = zipfile.ZipInfo(path, _THEN)
    info.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    book.writestr(info, text.encode("utf-8"))
