"""A closed outline from a drawing file, DXF or SVG: for a shop's own profiles and for free recesses.

What a file may do is limited: it lies in or below the folder of the file that names it, is at most 2 MB,
and holds at most 2,000 lines and arcs on the layer that is read.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from casewright.shop.outline_dxf import dxf_loops
from casewright.shop.outline_joining import OutlineError
from casewright.shop.outline_svg import svg_loops
from casewright.stock.loops import Loop
from casewright.stock.sections import sound_loop

LARGEST_OUTLINE = 2_000_000  # bytes
LARGEST_SIZE = 6000.0  # mm
MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": 25.4}

_READERS: dict[str, Callable[[bytes, str, float | None], list[Loop]]] = {".dxf": dxf_loops, ".svg": svg_loops}


def read_outline(name: str, folder: Path | None, layer: str = "", unit: str = "") -> Loop:
    """Return the one closed outline of a file, counter-clockwise, in mm as drawn.

    `name` is relative to `folder`; `layer` is the layer of a DXF file or the id of an SVG element; `unit` ("mm", "cm",
    "in") is that of a file that does not say its own. Raises OutlineError.
    """
    scale = _scale(unit)
    path = _inside(name, folder)
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        raise OutlineError(f'"{name}" is neither a .dxf nor a .svg file', "save the drawing as DXF")
    loops = reader(_bytes(path, name), layer, scale)
    if len(loops) != 1:
        where = f' on layer "{layer}"' if layer else ""
        remedy = "draw one outline of lines and arcs" if not loops else 'keep one, or name its layer with layer = "…"'
        raise OutlineError(f'"{name}" holds {len(loops) or "no"} closed outlines{where}; expected one', remedy)
    return _sound(loops[0], name)


def _sound(loop: Loop, name: str) -> Loop:
    if any(abs(v) > LARGEST_SIZE * 100 for x, y, _ in loop for v in (x, y)):
        raise OutlineError(f'"{name}" lies far away from its origin', "move the drawing to its origin; check its unit")
    try:
        return sound_loop(loop)
    except ValueError as wrong:
        raise OutlineError(f'"{name}": {wrong}', "mend the drawing") from None


def _scale(unit: str) -> float | None:
    if unit and unit not in MILLIMETRES:
        raise OutlineError(f'got the unit "{unit[:20]}"; expected one of {", ".join(MILLIMETRES)}')
    return MILLIMETRES[unit] if unit else None


def _inside(name: str, folder: Path | None) -> Path:
    """Return the path of a file that lies in or below `folder`."""
    if folder is None:
        raise OutlineError(f'"{name}" cannot be found: this text has no folder', "save it as a file beside the drawing")
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder.resolve())
    except (OSError, ValueError) as wrong:  # a name that no file can have
        raise OutlineError(f'"{name[:60]}" is no name of a file', "check the name") from wrong
    if not inside or Path(name).is_absolute():
        raise OutlineError(f'"{name}" lies outside the folder of this file', "put the drawing beside it")
    return path


def _bytes(path: Path, name: str) -> bytes:
    try:
        if not path.is_file():
            raise OutlineError(f'there is no file "{name}"', "its name is relative to the file that names it")
        with path.open("rb") as file:
            raw = file.read(LARGEST_OUTLINE + 1)
    except OSError as wrong:
        raise OutlineError(f'"{name}" cannot be read ({wrong.strerror})', "check the file's permissions") from wrong
    if len(raw) > LARGEST_OUTLINE:
        raise OutlineError(
            f'"{name}" is larger than {LARGEST_OUTLINE:,} bytes', "keep the outline alone in the drawing"
        )
    return raw
