"""The pages of a packet in their order: each is a name, a record of what it shows, and the template of that name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from casewright.packet.pages.assembled import assembled
from casewright.packet.pages.assembling import assembling
from casewright.packet.pages.assumptions import assumptions
from casewright.packet.pages.cautions import cautions
from casewright.packet.pages.cover import cover
from casewright.packet.pages.exploded import exploded
from casewright.packet.pages.fastening import fastening
from casewright.packet.pages.findings import findings
from casewright.packet.pages.fitting import fitting
from casewright.packet.pages.groups import groups
from casewright.packet.pages.hardware import hardware
from casewright.packet.pages.layouts import layouts
from casewright.packet.pages.mouldings import mouldings
from casewright.packet.pages.openings import opening_schedule
from casewright.packet.pages.part_drawings import part_drawing_pages
from casewright.packet.pages.parts import parts
from casewright.packet.pages.setting import Setting


@dataclass(frozen=True, slots=True)
class Page:
    """A page: `context(setting)` is a frozen record, `templates/<name>.typ` sets it.

    `effort` is about how many seconds the pictures of two pieces take; 0 for a page that is made in no time, or that
    needs layouts or findings. A page with effort may be drawn in another process.
    """

    name: str
    context: Callable[[Setting], Any]
    effort: float = 0.0


PAGES: tuple[Page, ...] = (
    Page("cover", cover, effort=0.4),
    Page("assembled", assembled, effort=1.6),
    Page("exploded", exploded, effort=0.5),
    Page("groups", groups, effort=0.3),
    Page("hardware", hardware),
    Page("parts", parts),
    Page("layouts", layouts),
    Page("mouldings", mouldings),
    Page("part-drawings", part_drawing_pages, effort=2.0),
    Page("openings", opening_schedule),
    Page("fastening", fastening),
    Page("fitting", fitting),
    Page("assembling", assembling),
    Page("assumptions", assumptions),
    Page("findings", findings),
    Page("cautions", cautions),
)
