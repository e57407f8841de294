"""Make or repair the virtual environment that the make targets use. Needs Python and pip, no more.

    python scripts/environment.py .venv requirements.txt

The environment is marked as whole only after everything is installed, and the mark says for which
requirements, Python and folder. Anything else, a half-made environment too, is made anew. A set of
requirements may be installed on top of a whole environment that lacks it.
"""

from __future__ import annotations

import hashlib
import json
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

OLDEST, TOO_NEW = (3, 11), (3, 15)
WARMED = ("casewright.solids.warm", "casewright.layout.warm")  # compile their kernels ahead of the first use
PROBE = "import casewright, click, manifold3d, numpy, shapely"


def main(arguments: Sequence[str]) -> int:
    """Set up the environment named first with the requirements named second; return the exit code."""
    folder, requirements = Path(arguments[0]).absolute(), Path(arguments[1]).absolute()
    if not OLDEST <= sys.version_info < TOO_NEW:
        print(f"Casewright needs Python 3.11 to 3.14, this is {platform.python_version()}", file=sys.stderr)
        return 2
    mark = folder / f".whole-{requirements.stem}"
    wanted = fingerprint(folder, requirements)
    if read(mark) == wanted and works(folder):
        return 0
    print(f"Setting up {folder.name} from {requirements.name} with Python {platform.python_version()}", flush=True)
    try:
        if not is_sound(folder):
            make_anew(folder)
        install(folder, "--requirement", str(requirements))
        install(folder, "--no-index", "--no-deps", "--no-build-isolation", "--editable", str(requirements.parent))
        warm(folder)
    except subprocess.CalledProcessError as error:
        print(
            f"Set-up ended early: {' '.join(map(str, error.cmd[:6]))} … failed. See above; run make again.",
            file=sys.stderr,
        )
        return 1
    mark.write_text(wanted, encoding="utf-8")
    return 0


def fingerprint(folder: Path, requirements: Path) -> str:
    """Return what an environment is valid for: where it stands, its Python, the project's own and its bought parts."""
    import tomllib  # there only from the oldest Python that main() lets through

    project = tomllib.loads((requirements.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    digest = hashlib.blake2b(requirements.read_bytes() + json.dumps(project).encode(), digest_size=16)
    return f"{folder} {sys.version_info[:3]} {platform.machine()} {digest.hexdigest()}"


def read(mark: Path) -> str:
    """Return the text of a mark, or nothing where there is none."""
    return mark.read_text(encoding="utf-8") if mark.is_file() else ""


def python_of(folder: Path) -> Path:
    """Return the environment's own Python."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def works(folder: Path) -> bool:
    """True where the environment's Python starts and finds the packages."""
    return runs(folder, PROBE)


def runs(folder: Path, program: str) -> bool:
    """True where a one-line program ends well in the environment."""
    try:
        done = subprocess.run([python_of(folder), "-c", program], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def is_sound(folder: Path) -> bool:
    """True where some set of requirements was installed to its end by this Python, and can be built upon."""
    requirements = folder.parent.glob("requirements*.txt")
    valid = any(read(folder / f".whole-{r.stem}") == fingerprint(folder, r) for r in requirements)
    return valid and works(folder)


def make_anew(folder: Path) -> None:
    """Replace whatever stands at `folder` by an empty environment.

    Where Python comes without its own pip (some Linux packages), the pip that started us fills it.
    """
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    shutil.rmtree(folder, ignore_errors=True)
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", folder], check=True)


def install(folder: Path, *what: str) -> None:
    """Install into the environment by pip."""
    pip = [sys.executable, "-m", "pip", "--python", str(python_of(folder)), "--disable-pip-version-check"]
    subprocess.run([*pip, "install", "-qq", *what], check=True)


def warm(folder: Path) -> None:
    """Compile the kernels now, so that the first order does not wait. It is a comfort: failing is no error."""
    for module in WARMED:
        if runs(folder, f"import importlib.util as u, sys; sys.exit(u.find_spec({module!r}) is None)"):
            subprocess.run([python_of(folder), "-m", module], check=False)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
