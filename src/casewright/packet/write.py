"""Writes a packet: everything into a folder aside, then one rename, so that there is a whole packet or none."""

from __future__ import annotations

import errno
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from itertools import chain
from pathlib import Path
from typing import Any

from casewright.packet.apart import Drawer, drawn_apart, gathered
from casewright.packet.document import document_text
from casewright.packet.drawing.explode import explode_offsets
from casewright.packet.drawing.svg import svg_of
from casewright.packet.errors import OpenStops, OutputError
from casewright.packet.gltf import glb
from casewright.packet.layout_drawing import drawn_patterns
from casewright.packet.outlines import FOLDER, part_outlines
from casewright.packet.pages.registry import PAGES, Page
from casewright.packet.pages.setting import PAPERS, PaperName, Setting, setting_of
from casewright.packet.parts_csv import parts_csv
from casewright.packet.processes import Process, waiting
from casewright.packet.step import needs_step, step_of
from casewright.packet.typesetting import timestamp, typeset
from casewright.project import Project
from casewright.solids.mesh import scene_of

Progress = Callable[[str, float], None]  # what is being done, and the share that is finished, 0 to 1
MARK = "order.json"  # a folder that holds this and nothing foreign is a packet that may be replaced
SVG_FONT = "'Source Sans 3', 'Source Sans Pro', sans-serif"


def write_packet(
    project: Project,
    out_dir: Path | str,
    *,
    paper: PaperName = "letter",
    draft: bool = False,
    date: str,
    progress: Progress | None = None,
    pages: tuple[Page, ...] = PAGES,
    step: bool = False,
    processes: Sequence[Process] | None = None,
) -> tuple[Path, ...]:
    """Write the packet of a project into `out_dir` and return its files.

    An earlier packet there is replaced as a whole. `step` adds a STEP file of each piece, which needs the extra of that
    name (StepUnavailable). `date` is printed and stamped; nothing asks the clock. Some pages are drawn in waiting
    `processes`, or in some started here; the files are the same without them. Raises OpenStops where findings stop the
    work and no draft was asked for, OutputError where it cannot be written, and ValueError for a paper that is not
    known; then nothing is left behind and an earlier packet stays as it was.
    """
    if paper not in PAPERS:
        raise ValueError(f"paper must be one of {', '.join(PAPERS)}, got {paper!r}")
    if step:
        needs_step()
    out = Path(out_dir)
    tell = progress or _silent
    check_place(out)
    with _ready(processes, pages) as ready, drawn_apart(project, paper, pages, ready) as drawers:
        if project.stops and not draft:
            raise OpenStops(project.stops)
        setting = setting_of(project, paper, date, draft=bool(project.stops))
        with _aside(out) as folder:
            models = step_files(setting) if step else ()
            for name, content in chain(packet_files(setting, pages, tell, drawers), models):
                (folder / name).parent.mkdir(exist_ok=True)
                (folder / name).write_bytes(content)
            names = sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())
            _put_in_place(folder, out)
    tell("written", 1.0)
    return tuple(out / name for name in names)


def _ready(processes: Sequence[Process] | None, pages: tuple[Page, ...]) -> AbstractContextManager[Sequence[Process]]:
    """Return the caller's processes, or some of our own where there is something to draw."""
    if processes is None and any(page.effort for page in pages):
        return waiting()
    return nullcontext(processes or ())


def packet_files(
    setting: Setting, pages: tuple[Page, ...], tell: Progress, drawers: Iterable[Drawer] = ()
) -> Iterator[tuple[str, bytes]]:
    """Yield every file of a packet: its name (with its folder) and content; `drawers` draw some pages apart."""
    project = setting.project
    yield "order.json", document_text(project).encode()
    yield "parts.csv", parts_csv(setting.rows)
    for laid in project.layouts:
        for drawn in drawn_patterns(setting, laid):
            yield f"{drawn.file}.svg", svg_of(drawn.picture, SVG_FONT).encode()
    tell("models", 0.1)
    for piece in setting.pieces:
        marks, offsets = setting.marks_of(piece), explode_offsets(piece, project.cache)
        scene = scene_of(piece, project.cache)
        yield f"{piece.path}.glb", glb(scene, piece.title, marks=marks, offsets=offsets, motions=piece.motions)
    for row in setting.rows:
        yield from part_outlines(row, project.style.system)
    contexts = _contexts(setting, pages, tell, drawers)
    tell("typesetting", 0.8)
    yield "packet.pdf", typeset(setting.frame, [(page.name, contexts[page.name]) for page in pages])


def step_files(setting: Setting) -> Iterator[tuple[str, bytes]]:
    """Yield the STEP file of each piece, its header stamped with the caller's date."""
    stamp = timestamp(setting.frame.date).strftime("%Y-%m-%dT%H:%M:%S")
    for piece in setting.pieces:
        yield f"{piece.path}.step", step_of(piece, marks=setting.marks_of(piece), stamp=stamp)


def _contexts(setting: Setting, pages: tuple[Page, ...], tell: Progress, drawers: Iterable[Drawer]) -> dict[str, Any]:
    """Return the context of each page by name: those that nobody draws apart are made here meanwhile."""
    apart = {name for drawer in drawers for name in drawer.names}
    here = [page for page in pages if page.name not in apart]
    made: dict[str, Any] = {}
    for number, page in enumerate(here):
        tell(f"page {page.name}", 0.2 + 0.5 * number / len(here))
        made[page.name] = page.context(setting)
    tell("drawings", 0.7)
    made |= gathered(drawers)
    return made | {page.name: page.context(setting) for page in pages if page.name not in made}


def check_place(out: Path) -> None:
    """Raise OutputError where a packet cannot stand at `out`, before anything is computed."""
    with _told(out):
        taken = out.is_symlink() or (out.exists() and not out.is_dir())
    if taken:
        raise OutputError(out, "is not a folder; name a folder that does not exist yet, or one that holds a packet")
    if out.is_dir() and not _replaceable(out):
        raise OutputError(out, "holds other files; name an empty folder, or one that holds a packet and nothing else")


def _replaceable(out: Path) -> bool:
    found = _listed(out)
    return not found or (any(p.name == MARK for p in found) and all(_is_ours(p) for p in found))


def _is_ours(path: Path) -> bool:
    if path.name == FOLDER and path.is_dir():
        return all(p.suffix == ".dxf" and p.is_file() for p in _listed(path))
    return _ours(path.name)


def _listed(out: Path) -> list[Path]:
    with _told(out):
        return list(out.iterdir())


def _ours(name: str) -> bool:
    return (
        name in ("packet.pdf", "parts.csv", MARK)
        or name.endswith((".glb", ".step"))
        or (name.startswith("layout-") and name.endswith(".svg"))
    )


@contextmanager
def _aside(out: Path) -> Iterator[Path]:
    """Give a new folder beside `out` and take it away again, whatever happens."""
    with _told(out):
        out.parent.mkdir(parents=True, exist_ok=True)
        folder = Path(tempfile.mkdtemp(prefix=f".{out.name}-", dir=out.parent))
    try:
        with _told(out):
            folder.chmod(0o755)  # mkdtemp makes it for its owner alone
            yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _put_in_place(folder: Path, out: Path) -> None:
    """Rename `folder` to `out`; an earlier packet steps aside first and comes back if that fails."""
    if not out.exists():
        folder.rename(out)
        return
    before = folder.with_name(folder.name + "-before")
    out.rename(before)
    try:
        folder.rename(out)
    except OSError:
        with suppress(OSError):
            before.rename(out)
        raise
    shutil.rmtree(before, ignore_errors=True)


@contextmanager
def _told(out: Path) -> Iterator[None]:
    """Turn what the system says into a message for the maker."""
    try:
        yield
    except OSError as error:
        raise OutputError(out, _message(error)) from error


def _message(error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full; nothing was written. Make room, or name a folder on another disk"
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "may not be written; name a folder that you may write to"
    if error.errno in (errno.ENOTDIR, errno.EEXIST):
        return "lies below something that is not a folder; name another place"
    if error.errno in (errno.ENAMETOOLONG, errno.EINVAL):
        return "is no name that this disk takes; name a shorter or plainer one"
    return f"cannot be written: {error.strerror or error}; nothing was written"


def _silent(_what: str, _share: float) -> None:
    return None
