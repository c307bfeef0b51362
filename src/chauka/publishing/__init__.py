"""A dish made ready for others: one `WriteUp` holds its numbers, and every output is set from it."""

from chauka.publishing.page_data import Credits, Film, page_data, page_data_json
from chauka.publishing.paper import sheet_pdf
from chauka.publishing.press import Sheet
from chauka.publishing.sheet import page_snippet, sheet_html
from chauka.publishing.style import HOUSE_STYLE, Style, style
from chauka.publishing.times import Times
from chauka.publishing.words import Language, Words, words
from chauka.publishing.write_up import Photograph, WriteUp, write_up

__all__ = [
    "HOUSE_STYLE", "Credits", "Film", "Language", "Photograph", "Sheet", "Style", "Times", "Words", "WriteUp",
    "page_data", "page_data_json", "page_snippet", "sheet_html", "sheet_pdf", "style", "words", "write_up",
]  # fmt: skip
