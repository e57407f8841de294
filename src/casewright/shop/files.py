"""Reading a TOML file that a user wrote: text and data, or findings that say what is wrong with it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from casewright.findings import Finding, Severity
from casewright.units.grid import record

LARGEST_FILE = 1_000_000  # bytes; the longest real order is a few hundred lines
MOST_POINTS = 200  # on one line; a key of thousands of parts would take the parser all the memory there is
_AT = re.compile(r"\s*\(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")


@record
class UserFile:
    """A parsed file: the name that messages use, its text and its tables."""

    name: str
    text: str
    data: dict[str, Any]


def read_user_file(path: Path, code: str) -> UserFile | Finding:
    """Return the parsed file, or the finding `code`.unreadable that says why it cannot be read."""
    text = _read_text(path)
    if isinstance(text, _Problem):
        return _unreadable(code, path.name, text.message, text.remedy)
    return parse_user_text(text, path.name, code)


def parse_user_text(text: str, name: str, code: str) -> UserFile | Finding:
    """Return the parsed text of a file called `name`, or the finding that says what is wrong with it."""
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        return _unreadable(code, f"{name}:{line}", "holds a NUL byte", "save it as plain text (UTF-8)")
    crowded = next((n for n, row in enumerate(text.splitlines(), 1) if row.count(".") > MOST_POINTS), None)
    if crowded is not None:
        return _unreadable(
            code, f"{name}:{crowded}", f"has more than {MOST_POINTS} points on one line", "check that line"
        )
    try:
        return UserFile(name=name, text=text, data=tomllib.loads(text))
    except tomllib.TOMLDecodeError as wrong:
        return _toml_error(code, name, text, str(wrong))
    except (RecursionError, ValueError) as wrong:  # nested beyond reason, or a number of thousands of digits
        reason = "is nested too deeply" if isinstance(wrong, RecursionError) else f"holds {wrong}"
        return _unreadable(code, name, reason, "write the values plainly")


class _Problem:
    def __init__(self, message: str, remedy: str) -> None:
        self.message, self.remedy = message, remedy


def _read_text(path: Path) -> str | _Problem:
    try:
        if path.is_dir():
            return _Problem("is a folder", "give the TOML file itself")
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        return _Problem("there is no such file", "check the name and the folder")
    except (OSError, ValueError) as wrong:  # ValueError: a name that no file can have
        return _Problem(f"cannot be read ({getattr(wrong, 'strerror', None) or wrong})", "check the file's permissions")
    if len(raw) > LARGEST_FILE:
        return _Problem(f"is larger than {LARGEST_FILE:,} bytes", "an order or shop is a short text; check the file")
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as wrong:
        line = raw.count(b"\n", 0, wrong.start) + 1
        return _Problem(f"is not UTF-8 (line {line}, byte {wrong.start + 1})", "save it as UTF-8")


def _unreadable(code: str, place: str, message: str, remedy: str) -> Finding:
    return Finding(
        code=f"{code}.unreadable",
        severity=Severity.STOP,
        path="",
        message=message,
        remedy=remedy,
        place=place,
    )


def _toml_error(code: str, name: str, text: str, message: str) -> Finding:
    at = _AT.search(message)
    line, column = (int(at["line"]), int(at["column"])) if at and at["line"] else (text.count("\n") + 1, 1)
    what = _AT.sub("", message)
    return Finding(
        code=f"{code}.toml",
        severity=Severity.STOP,
        path="",
        message=f"is not valid TOML at line {line}, column {column}: {what}",
        remedy='a text needs quotes, such as width = "20 in"; a name before "=" may stand only once in its table',
        place=f"{name}:{line}",
    )
