"""The demonstration order, computed once for all tests of this folder."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

from pypdf import PdfReader

from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.findings import Finding, Severity, worst_first
from casewright.order import load_order
from casewright.packet.pages.registry import PAGES
from casewright.packet.pages.setting import PaperName, Setting, setting_of
from casewright.packet.typesetting import typeset
from casewright.project import Project
from casewright.shop import built_in_shop
from casewright.units import MILLIMETRES

ORDER = Path(__file__).resolve().parents[2] / "examples" / "lantern-hill.toml"
DATE = "2026-11-02"
SHARED = Cache()  # designs, solids and layouts do not depend on how lengths are printed
STOP = Finding(
    code="front.too_tall", severity=Severity.STOP, path="bedside.left/front", value=20.0, limit=60.0,
    message="drawer and rails leave 20.0 mm for the door", remedy="a lower drawer",
)  # fmt: skip
ACCEPTED = Finding(
    code="stile.narrow",
    severity=Severity.WARN,
    path="bedside.left/frame",
    message="narrow",
    accepted="the client knows",
)


def project(system: str = "in") -> Project:
    """Return the demonstration project, its lengths printed in inches or mm."""
    return _project(system)


@cache
def _project(system: str) -> Project:
    shop = built_in_shop()
    shop = shop if system == "in" else replace(shop, style=MILLIMETRES)
    return Project(load_order(ORDER, BUILT_IN.kinds), shop, SHARED)


def with_findings(found: Iterable[Finding]) -> Project:
    """Return the demonstration project with further findings."""
    plain = project()
    twin = Project(plain.order, plain.shop, plain.cache)
    vars(twin)["findings"] = worst_first([*plain.findings, *found])  # in place of the ones that it would work out
    return twin


def setting(system: str = "in", paper: PaperName = "letter") -> Setting:
    """Return what the pages are made from."""
    return _setting(system, paper)


@cache
def _setting(system: str, paper: PaperName) -> Setting:
    return setting_of(project(system), paper, DATE, draft=False)


@cache
def contexts(system: str, paper: PaperName) -> tuple[tuple[str, Any], ...]:
    """Return name and context of every page."""
    return tuple((page.name, page.context(setting(system, paper))) for page in PAGES)


def context(name: str, system: str = "in", paper: PaperName = "letter") -> Any:
    """Return the context of one page."""
    return dict(contexts(system, paper))[name]


def pdf(system: str = "in", paper: PaperName = "letter") -> bytes:
    """Return the whole packet's PDF."""
    return _pdf(system, paper)


@cache
def _pdf(system: str, paper: PaperName) -> bytes:
    return typeset(setting(system, paper).frame, contexts(system, paper))


@cache
def texts(content: bytes) -> tuple[str, ...]:
    """Return the text of each page, every run of white space as one blank."""
    return tuple(plain(page.extract_text()) for page in PdfReader(BytesIO(content)).pages)


def as_set(text: str) -> str:
    """Return a text as a page sets it, read back: "2-1/2" is a whole number and a true fraction."""
    return re.sub(r"(\d)-(\d+/\d)", r"\1 \2", plain(text).strip())


def plain(text: str) -> str:
    """Return a text with every run of white space as one blank, and words whole that a line broke at their hyphen."""
    return re.sub(r"(?<=[a-z])- (?=[a-z])", "-", re.sub(r"\s+", " ", text))
