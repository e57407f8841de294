"""Writing a packet: whole or not at all, refused where findings stop, the same bytes every time."""

from __future__ import annotations

import csv
import errno
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import ezdxf.bbox
import pytest
from tests.packet import demo

from casewright.packet import apart
from casewright.packet.document import document, document_text
from casewright.packet.errors import OpenStops, OutputError, PacketError
from casewright.packet.pages.registry import PAGES
from casewright.packet.pages.setting import unframed_setting
from casewright.packet.parts_csv import COLUMNS
from casewright.packet.processes import waiting
from casewright.packet.write import write_packet

FEW = tuple(p for p in PAGES if p.name in ("parts", "findings"))  # the other pages are tested by themselves


def write(out: Path, **changed: Any) -> tuple[Path, ...]:
    given = {"project": demo.project(), "date": demo.DATE, "pages": FEW} | changed
    return write_packet(given.pop("project"), out, **given)


def tree(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_every_file_is_there_and_said(tmp_path: Path) -> None:
    told: list[tuple[str, float]] = []
    files = write(tmp_path / "deep" / "packet", progress=lambda what, share: told.append((what, share)))
    out = tmp_path / "deep" / "packet"
    names = {f.relative_to(out).as_posix() for f in files}
    assert names == set(tree(out))
    layouts = sum(len(laid.layout.patterns) for laid in demo.project().layouts)
    assert {"packet.pdf", "parts.csv", "order.json", "bedside.left.glb", "bedside.right.glb"} <= names
    assert sum(n.startswith("layout-") and n.endswith(".svg") for n in names) == layouts
    assert [share for _, share in told] == sorted(share for _, share in told)
    assert told[-1] == ("written", 1.0)
    assert [p.name for p in (tmp_path / "deep").iterdir()] == ["packet"]  # nothing left aside


def test_outlines_of_every_mark_are_read_by_an_independent_program(tmp_path: Path) -> None:
    write(tmp_path / "p")
    marks = set()
    for file in sorted((tmp_path / "p" / "outlines").iterdir()):
        mark = file.name.partition("-")[0]
        row = next(r for r in demo.setting().rows if r.mark == mark)
        read = ezdxf.readfile(file)
        assert read.header["$INSUNITS"] == 1  # inches, as the shop prints
        box = ezdxf.bbox.extents(read.modelspace().query('*[layer=="OUTLINE"]'))
        assert (box.size.x * 25.4, box.size.y * 25.4) == pytest.approx(row.cut[:2], abs=1e-3)
        marks.add(mark)
    assert marks == {r.mark for r in demo.setting().rows}


def test_a_foreign_file_among_the_outlines_is_left_alone(tmp_path: Path) -> None:
    write(tmp_path / "p")
    (tmp_path / "p" / "outlines" / "mine.txt").write_text("mine")
    with pytest.raises(OutputError, match="holds other files"):
        write(tmp_path / "p")
    assert (tmp_path / "p" / "outlines" / "mine.txt").read_text() == "mine"


def test_pages_drawn_apart_are_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pages = tuple(p for p in PAGES if p.name in ("cover", "groups"))
    monkeypatch.setattr(apart, "HERE", 1000.0)  # everything is dealt out
    assert apart.shares(pages, 1) == (("cover", "groups"),)
    with waiting(cores=2) as processes, apart.drawn_apart(demo.project(), "letter", pages, processes) as drawers:
        drawn = apart.gathered(drawers)
    setting = unframed_setting(demo.project(), "letter")
    assert drawn == {page.name: page.context(setting) for page in pages}


def test_a_drawing_process_that_fails_is_made_good(monkeypatch: pytest.MonkeyPatch) -> None:
    pages = tuple(p for p in PAGES if p.name == "cover")
    monkeypatch.setattr(apart, "HERE", 1000.0)
    monkeypatch.setattr("casewright.packet.processes.COMMAND", "raise SystemExit(3)")
    with waiting(cores=2) as processes, apart.drawn_apart(demo.project(), "letter", pages, processes) as drawers:
        assert [d.names for d in drawers] == [("cover",)]
        assert apart.gathered(drawers) == {}


def test_same_input_same_bytes(tmp_path: Path) -> None:
    write(tmp_path / "a")
    write(tmp_path / "b")
    assert tree(tmp_path / "a") == tree(tmp_path / "b")


def test_processes_with_other_hashes_write_the_same_bytes(tmp_path: Path) -> None:
    root = Path(__file__).resolve().parents[2]
    paths = os.pathsep.join([str(root), *(p for p in sys.path if p)])
    for seed in "1", "2":
        program = (
            "from tests.packet.test_write import write; from pathlib import Path\n"
            f"write(Path({str(tmp_path / seed)!r}))"
        )  # fmt: skip
        env = {**os.environ, "PYTHONPATH": paths, "PYTHONHASHSEED": seed}
        subprocess.run([sys.executable, "-c", program], env=env, check=True, cwd=root)
    assert tree(tmp_path / "1") == tree(tmp_path / "2")


def test_csv_read_back_is_the_model(tmp_path: Path) -> None:
    write(tmp_path / "p")
    with (tmp_path / "p" / "parts.csv").open(encoding="utf-8-sig", newline="") as file:
        read = list(csv.DictReader(file))
    assert tuple(read[0]) == COLUMNS
    rows = {r.mark: r for r in demo.setting().rows}
    assert [r["mark"] for r in read] == list(rows)
    for line in read:
        row = rows[line["mark"]]
        assert int(line["count"]) == row.count
        assert line["stock"] == row.stock
        for prefix, sizes in (("finished", row.finished), ("cut", row.cut), ("rough", row.rough)):
            given = [float(line[f"{prefix}_{axis}_mm"]) for axis in ("length", "width", "thickness")]
            assert given == pytest.approx(sizes, abs=6e-5)
        assert (line["mirror_of"] in rows and rows[line["mirror_of"]].mirror_of == row.mark) or line["mirror_of"] == ""


def test_layout_svgs_are_well_formed_and_name_what_they_show(tmp_path: Path) -> None:
    for file in write(tmp_path / "p"):
        if file.suffix == ".svg":
            root = ElementTree.fromstring(file.read_text(encoding="utf-8"))
            assert root[0].tag.endswith("title")
            assert len(root[0].text or "") > 10


def test_order_json_is_the_document(tmp_path: Path) -> None:
    write(tmp_path / "p")
    text = (tmp_path / "p" / "order.json").read_text(encoding="utf-8")
    assert text == document_text(demo.project())
    assert json.loads(text) == json.loads(json.dumps(document(demo.project())))


def test_stops_refuse_and_a_draft_goes_through(tmp_path: Path) -> None:
    stopped = demo.with_findings([demo.STOP])
    with pytest.raises(OpenStops, match="1 finding stops the work") as refused:
        write(tmp_path / "p", project=stopped)
    assert refused.value.findings == (demo.STOP,)
    assert list(tmp_path.iterdir()) == []
    write(tmp_path / "p", project=stopped, draft=True)
    assert all("DRAFT" in text for text in demo.texts((tmp_path / "p" / "packet.pdf").read_bytes()))


def test_a_draft_of_something_without_stops_is_no_draft(tmp_path: Path) -> None:
    write(tmp_path / "p", draft=True)
    assert not any("DRAFT" in text for text in demo.texts((tmp_path / "p" / "packet.pdf").read_bytes()))


def test_an_earlier_packet_is_replaced_as_a_whole(tmp_path: Path) -> None:
    write(tmp_path / "p")
    (tmp_path / "p" / "layout-of-last-week-1.svg").write_text("old")
    write(tmp_path / "p")
    assert not (tmp_path / "p" / "layout-of-last-week-1.svg").exists()
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


def test_a_folder_with_other_files_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("mine")
    with pytest.raises(OutputError, match="holds other files"):
        write(tmp_path)
    assert tree(tmp_path) == {"letters.txt": b"mine"}


@pytest.mark.parametrize("below", [".", "inner"])
def test_a_file_in_the_way(tmp_path: Path, below: str) -> None:
    (tmp_path / "taken").write_text("mine")
    with pytest.raises(OutputError, match="not a folder"):
        write(tmp_path / "taken" / below)
    assert tree(tmp_path) == {"taken": b"mine"}


def test_a_name_that_is_too_long(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="shorter"):
        write(tmp_path / ("x" * 300))
    assert list(tmp_path.iterdir()) == []


FAILURES = [
    (errno.ENOSPC, "the disk is full"),
    (errno.EACCES, "may not be written"),
    (errno.EROFS, "may not be written"),
    (errno.EIO, "nothing was written"),
]


@pytest.mark.parametrize(("number", "said"), FAILURES)
@pytest.mark.parametrize("nth", [1, 4])
def test_a_failure_while_writing_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, said: str, nth: int
) -> None:
    count = 0
    whole = Path.write_bytes

    def failing(self: Path, data: bytes) -> int:
        nonlocal count
        count += 1
        if count == nth:
            whole(self, data[: len(data) // 2])
            raise OSError(number, os.strerror(number), str(self))
        return whole(self, data)

    monkeypatch.setattr(Path, "write_bytes", failing)
    with pytest.raises(OutputError, match=said) as told:
        write(tmp_path / "p")
    assert told.value.path == tmp_path / "p"
    assert isinstance(told.value, PacketError)
    assert list(tmp_path.iterdir()) == []


def test_a_failure_keeps_the_earlier_packet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path / "p")
    before = tree(tmp_path)
    whole = Path.rename

    def failing(self: Path, target: Path) -> Path:
        if Path(target).name == "p" and not self.name.endswith("-before"):
            raise OSError(errno.EACCES, os.strerror(errno.EACCES), str(self))
        return whole(self, target)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(OutputError, match="may not be written"):
        write(tmp_path / "p")
    assert tree(tmp_path) == before


def test_a_folder_that_may_not_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refusing(*_: object, **__: object) -> str:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("tempfile.mkdtemp", refusing)
    with pytest.raises(OutputError, match="name a folder that you may write to"):
        write(tmp_path / "p")
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_paper_is_the_callers_mistake(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="letter, a4"):
        write(tmp_path / "p", paper="foolscap")
