"""What pieces may be ordered to keep: names, and the room that each needs, mm; from memory or common practice."""

from __future__ import annotations

from typing import Literal

from casewright.units.grid import record

ContentName = Literal[
    "paperbacks",
    "books",
    "large books",
    "binders",
    "records",
    "folded clothes",
    "shoes",
    "plates",
    "bottles",
    "hanging files",
    "hangers",
    "coats",
]
Keeps = Literal["shelf", "drawer", "rod"]


@record
class Content:
    """A thing to keep: on what, and the width, height and depth of the opening that it needs, mm.

    Under a rod the height is what hangs down below it, the depth that of a hanger with its clothes.
    """

    name: ContentName
    on: Keeps
    width: float
    height: float
    depth: float
    source: str


PRACTICE = "common practice"
CONTENTS: tuple[Content, ...] = (
    Content(name="paperbacks", on="shelf", width=150.0, height=190.0, depth=110.0, source="from memory: 110 × 180 mm"),
    Content(
        name="books", on="shelf", width=150.0, height=250.0, depth=160.0, source="from memory: octavo, 160 × 240 mm"
    ),
    Content(name="large books", on="shelf", width=150.0, height=330.0, depth=250.0, source="from memory: 250 × 320 mm"),
    Content(name="binders", on="shelf", width=150.0, height=325.0, depth=285.0, source="from memory: 285 × 318 mm"),
    Content(name="records", on="shelf", width=150.0, height=325.0, depth=315.0, source="from memory: sleeve 315 mm"),
    Content(name="folded clothes", on="shelf", width=300.0, height=250.0, depth=330.0, source=PRACTICE),
    Content(name="shoes", on="shelf", width=220.0, height=150.0, depth=300.0, source=PRACTICE),
    Content(name="plates", on="shelf", width=280.0, height=150.0, depth=280.0, source=PRACTICE),
    Content(name="bottles", on="shelf", width=90.0, height=330.0, depth=90.0, source=PRACTICE),
    Content(
        name="hanging files", on="drawer", width=330.0, height=265.0, depth=300.0, source="from memory: rails 330 mm"
    ),
    Content(name="hangers", on="rod", width=300.0, height=1000.0, depth=530.0, source=PRACTICE),
    Content(name="coats", on="rod", width=300.0, height=1500.0, depth=560.0, source=PRACTICE),
)
