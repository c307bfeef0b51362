"""A dish made ready for others: one `WriteUp` holds its numbers, and every output is set from it."""

from chauka.publishing.page_data import page_data, page_data_json
from chauka.publishing.sheet import sheet_css, sheet_html
from chauka.publishing.write_up import Times, WriteUp, write_up

__all__ = ["Times", "WriteUp", "page_data", "page_data_json", "sheet_css", "sheet_html", "write_up"]
