"""The sample order and shop that a new user starts from."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from casewright.findings import Finding, Severity
from casewright.shop.errors import FileError

SAMPLES = (("order.toml", "casewright.order", "lantern-hill.toml"), ("shop.toml", "casewright.shop", "default.toml"))


def write_samples(folder: Path) -> tuple[Path, ...]:
    """Write order.toml and shop.toml into a folder, made if need be; returns their paths.

    Raises FileError where one is there already: nothing is overwritten.
    """
    targets = [folder / name for name, _, _ in SAMPLES]
    for target in targets:
        if target.exists():
            raise FileError((_exists(target),))
    folder.mkdir(parents=True, exist_ok=True)
    for target, (_, package, source) in zip(targets, SAMPLES, strict=True):
        text = (files(package) / "data" / source).read_text(encoding="utf-8")
        with target.open("x", encoding="utf-8") as file:
            file.write(text)
    return tuple(targets)


def _exists(path: Path) -> Finding:
    return Finding(
        code="new.exists",
        severity=Severity.STOP,
        path="",
        place=str(path),
        message="is there already; nothing was written",
        remedy="choose an empty folder",
    )
