"""The example of the docs does what the docs say."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import dedent

from chauka.scheduling import Goal, Spot, Status

PAGE = Path(__file__).parents[2] / "docs" / "scheduling.md"


def test_the_chair_is_painted_by_sprayer():
    """The code under "Any problem" is run as it stands."""
    section = PAGE.read_text(encoding="utf-8").split("## Any problem")[1].split("\n## ")[0]
    code = dedent("\n".join(re.findall(r"^(?:    .*|)$", section, re.MULTILINE)))
    names: dict = {}
    exec(compile(code, str(PAGE), "exec"), names)  # noqa: S102 - our own page
    answer = names["answer"]
    assert answer.status is Status.PROVEN
    assert answer.spots["paint"] == Spot(17, 20, 1)
    assert answer.level(Goal.SESSION).value == 8
