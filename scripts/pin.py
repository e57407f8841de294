"""Write requirements.txt and requirements-test.txt: each release pinned, with the hashes of all its files.

The files name no index, so they are installed from whichever one the machine uses. One run answers
for every Python and machine that pyproject.toml admits.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RESOLVER = "uv==0.13.9"
OPTIONS = ("--universal", "--generate-hashes", "--no-emit-index-url", "--python-version", "3.11")


def main() -> int:
    """Resolve both files; return the exit code."""
    with tempfile.TemporaryDirectory() as folder:
        pip = [sys.executable, "-m", "pip", "install", "--quiet", "--target", folder, RESOLVER]
        subprocess.run(pip, check=True)
        resolver = str(Path(folder, "bin", "uv.exe" if os.name == "nt" else "uv"))
        pin(resolver, "requirements.txt")
        pin(resolver, "requirements-test.txt", "--extra", "test", "--constraint", "requirements.txt")
    return 0


def pin(resolver: str, target: str, *options: str) -> None:
    """Write one file, taking nothing of its former contents."""
    (ROOT / target).unlink(missing_ok=True)
    base = [resolver, "pip", "compile", "pyproject.toml", "--group", "build", *OPTIONS]
    command = [*base, "--custom-compile-command", "make requirements", "--quiet", "--output-file", target, *options]
    subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)


if __name__ == "__main__":
    sys.exit(main())
