"""Put this checkout on the environment's path and make the `chauka` command.

Does what an editable install does, without fetching a build back end: the lock file then holds
everything that is ever installed.
"""

from __future__ import annotations

import sys
import sysconfig
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def main() -> None:
    """Write the path file and the command."""
    site = Path(sysconfig.get_path("purelib"))
    (site / "chauka-checkout.pth").write_text(f"{ROOT / 'src'}\n", encoding="utf-8")
    command = Path(sys.executable).parent / "chauka"
    command.write_text(
        f"#!{sys.executable}\nimport sys\n\nfrom chauka.cli import main\n\nsys.exit(main())\n",
        encoding="utf-8",
    )
    command.chmod(0o755)


if __name__ == "__main__":
    main()
