"""The worked example of docs/how-to-add.md as a plug-in of another package: a kind of piece and a profile."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"```python\n(.*?)```", re.S)
PLUG_IN = '''
from casewright.catalogue import Catalogue
from casewright.design.build import PieceBuilder

CATALOGUE = Catalogue(
    kinds=(PICTURE_FRAME,), builders=(PieceBuilder(kind="picture-frame", build=build_picture_frame),)
)
STOCK = """
units = "mm"
[stock.sticks.frame-plain-30]
like = "panel-ogee-32"
name = "plain frame moulding, 30 × 15 mm"
section = [[0, 0], [15, 0], [15, 30], [0, 30]]
price = 4.0
"""
'''
ORDER = """
format = 1
title = "Lantern Hill, hall: a frame"
units = "mm"
[roles]
applied_moulding = "frame-plain-30"
[[piece]]
kind = "picture-frame"
width = 500
height = 400
"""


def worked_example() -> str:
    """Return both files of the worked example as one module: the second uses the record of the first."""
    page = (ROOT / "docs" / "how-to-add.md").read_text(encoding="utf-8")
    first, second = BLOCK.findall(page)
    later = second.replace("from __future__ import annotations\n", "")
    return f"{first}\n{later}\n{PLUG_IN}"


@pytest.fixture
def installed(tmp_path: Path) -> Path:
    """A folder that holds an installed package, as pip leaves it."""
    (tmp_path / "frames.py").write_text(worked_example(), encoding="utf-8")
    info = tmp_path / "frames-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: frames\nVersion: 1.0\n", encoding="utf-8")
    points = "[casewright.catalogue]\nframes = frames:CATALOGUE\n[casewright.stock]\nframes = frames:STOCK\n"
    (info / "entry_points.txt").write_text(points, encoding="utf-8")
    (tmp_path / "order.toml").write_text(ORDER, encoding="utf-8")
    return tmp_path


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    paths = os.pathsep.join([str(folder), str(ROOT / "src")])
    return subprocess.run(
        [sys.executable, "-m", "casewright", *arguments, str(folder / "order.toml")],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": paths},
        check=False,
    )


def test_a_plug_in_adds_a_piece_and_a_profile(installed: Path) -> None:
    checked = run(installed, "check")
    assert checked.returncode == 0, checked.stdout + checked.stderr
    shown = run(installed, "show", "--json")
    document = json.loads(shown.stdout)
    parts = document["parts"]
    # Two members of 500 mm and two of 400 mm, all of the plug-in's moulding (outside truth: what was ordered).
    assert sorted((round(p["cut_mm"][0], 3), p["count"]) for p in parts) == [(400.0, 2), (500.0, 2)]
    assert {p["stock"] for p in parts} == {"frame-plain-30"}


def test_a_plug_in_whose_stock_is_wrong_is_named(installed: Path) -> None:
    text = (installed / "frames.py").read_text(encoding="utf-8").replace("price = 4.0", "prise = 4.0")
    (installed / "frames.py").write_text(text, encoding="utf-8")
    refused = run(installed, "check")
    assert refused.returncode == 2
    assert "plug-in frames" in refused.stdout + refused.stderr
    assert "prise" in refused.stdout + refused.stderr
    assert "Traceback" not in refused.stdout + refused.stderr
