"""Finds the line of a key path in a TOML text, for messages and for the places of pieces.

The text has been parsed before, so that it is known to be valid TOML. Keys inside inline tables and
lists are looked for by the nearest key that starts a line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

KeyPath = tuple[str | int, ...]

_KEY = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')"""
_DOTTED = rf"{_KEY}(?:\s*\.\s*{_KEY})*"
_TABLE = re.compile(rf"^\s*\[\s*({_DOTTED})\s*\]\s*(?:\#.*)?$")
_ARRAY = re.compile(rf"^\s*\[\[\s*({_DOTTED})\s*\]\]\s*(?:\#.*)?$")
_VALUE = re.compile(rf"^\s*({_DOTTED})\s*=(.*)$", re.DOTALL)
_TOKEN = re.compile(r'"""|\'\'\'|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|\#[^\n]*|[\[\]{}]|.', re.DOTALL)


def line_of(text: str, path: KeyPath) -> int | None:
    """Return the line (from 1) where `path`, or the nearest table around it, is written; None if nowhere."""
    index = _index(text)
    nearest = (index[path[:n]] for n in range(len(path), 0, -1) if path[:n] in index)
    return next(nearest, None)


def place_of(name: str, text: str, path: KeyPath) -> str:
    """Return "file:line" of `path`, or the file's name alone."""
    line = line_of(text, path)
    return name if line is None else f"{name}:{line}"


def key_text(path: KeyPath) -> str:
    """Return a key path as it is shown: ("piece", 0, "width") is "piece[1].width"."""
    text = ""
    for key in path:
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}" if text else key
    return text


@lru_cache(maxsize=4)
def _index(text: str) -> dict[KeyPath, int]:
    """Return the line of every table and value that starts a line; the first where one is written twice."""
    index: dict[KeyPath, int] = {}
    for line, path in _keys(text):
        index.setdefault(path, line)
    return index


def _keys(text: str) -> Iterator[tuple[int, KeyPath]]:
    """Yield every line that starts a table or a value, with the key path that it starts."""
    table: KeyPath = ()
    counts: dict[KeyPath, int] = {}
    for line, statement in _statements(text):
        if array := _ARRAY.match(statement):
            keys = _resolve(_split(array[1]), counts, last=False)
            counts[keys] = counts.get(keys, -1) + 1
            table = (*keys, counts[keys])
            yield line, table
        elif header := _TABLE.match(statement):
            table = _resolve(_split(header[1]), counts, last=True)
            yield line, table
        elif value := _VALUE.match(statement):
            yield line, table + _split(value[1])


def _resolve(keys: KeyPath, counts: dict[KeyPath, int], last: bool) -> KeyPath:
    """Put the index of the newest element after each key that names an array of tables."""
    path: KeyPath = ()
    for i, key in enumerate(keys):
        path = (*path, key)
        if path in counts and (last or i < len(keys) - 1):
            path = (*path, counts[path])
    return path


def _split(dotted: str) -> KeyPath:
    keys = re.findall(_KEY, dotted)
    return tuple(k[1:-1] if k[0] in "\"'" else k for k in keys)


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Yield (line, text) of each statement; values over several lines are one statement."""
    line, start, buffer = 1, 1, ""
    depth, quote = 0, ""
    for token in _TOKEN.finditer(text + "\n"):
        piece = token[0]
        if quote:
            quote = "" if piece == quote else quote
        elif piece in ('"""', "'''"):
            quote = piece
        elif "=" in buffer:  # brackets of a table header are not those of a value
            depth += (piece in "[{" and 1) - (piece in "]}" and 1)
        buffer += piece
        line += piece.count("\n")
        if piece == "\n" and not quote and depth <= 0:
            yield start, buffer.rstrip("\n")
            start, buffer, depth = line, "", 0
