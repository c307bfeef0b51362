"""Reading a file of translations: only what our own files have in them."""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass, field
from pathlib import Path


@dataclass
class Message:
    """One message: its text in English, that of several (empty where there is one form), and its translations."""

    flags: str = ""
    texts: dict[str, str] = field(default_factory=dict)

    @property
    def english(self) -> str:
        """The text that the pages ask for."""
        return self.texts["msgid"]

    @property
    def said(self) -> dict[str, str]:
        """Its translations by their place in the file."""
        return {key: text for key, text in self.texts.items() if key.startswith("msgstr")}


def read(path: Path) -> list[Message]:
    """All messages but the head of the file."""
    return [
        message for block in path.read_text("utf-8").split("\n\n") if (message := _message(block)).texts.get("msgid")
    ]


def _message(block: str) -> Message:
    message, key = Message(), ""
    for line in block.splitlines():
        if line.startswith("#"):
            message.flags += line if line.startswith("#,") else ""
            continue
        found = re.fullmatch(r'(?:(msg\S+) )?(".*")', line)
        assert found, line
        key = found[1] or key
        message.texts[key] = message.texts.get(key, "") + ast.literal_eval(found[2])
    return message
