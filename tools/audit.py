"""Ask whether a locked library has a known vulnerability: `make audit`.

pip-audit runs in a throwaway environment, so that chauka does not depend on it. Where it cannot be had or the advisory
service does not answer, that is said and nothing fails: a build must not depend on somebody else's server. A
vulnerability that is found fails.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

TOOL = "pip-audit>=2.10,<3"
LOCKED = "requirements-dev.txt"
LONGEST_S = 240


def main() -> int:
    """0 where nothing is known or nobody answers, 1 where a library is vulnerable."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            venv.create(folder, with_pip=True)
            python = Path(folder) / "bin" / "python"
            _run(python, "pip", "install", "-q", "--disable-pip-version-check", TOOL).check_returncode()
            told = _run(python, "pip_audit", "-r", LOCKED, "--require-hashes", "--disable-pip", "--format", "json")
            libraries = json.loads(told.stdout)["dependencies"]
        except (OSError, subprocess.SubprocessError, ValueError, KeyError) as error:
            return _skipped(type(error).__name__)
    looked_at = [one for one in libraries if "vulns" in one]
    if not looked_at:
        return _skipped("it knows none of our libraries")
    found = [(one, fault) for one in looked_at for fault in one["vulns"]]
    for one, fault in found:
        print(f"{one['name']} {one['version']}: {fault['id']}, mended in {', '.join(fault['fix_versions']) or 'none'}")
    print(f"audit: {len(looked_at)} of {len(libraries)} libraries looked up, {len(found)} known vulnerabilities")
    return 1 if found else 0


def _run(python: Path, module: str, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(python), "-m", module, *words], capture_output=True, text=True, timeout=LONGEST_S, check=False
    )


def _skipped(why: str) -> int:
    print(f"audit: skipped, the advisory service does not answer here ({why})")
    return 0


if __name__ == "__main__":
    sys.exit(main())
