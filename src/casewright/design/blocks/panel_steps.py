"""What is done to panels before anything is joined: those of strips are glued up, edges of sheets are banded.

Each step is silent where a piece has nothing for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from casewright.design.blocks.step_words import BANDING, GLUE, PLANE, SAW
from casewright.design.draft import Draft
from casewright.design.parts import Part, PartKind, Placed
from casewright.design.sequence import Sequence


def prepare_panels(s: Sequence, d: Draft) -> None:
    """Glue up what is of strips, which rests before it is cut, then band edges: both come first of all."""
    placed = [d.at(path.removeprefix(f"{d.path}/")) for path in d.under("")]
    parts = [p for p in placed if isinstance(p.thing, Part)]
    glued = [p for p in parts if p.part.blank.made_of is not None]
    if glued:
        text = f"Glue up from strips, over the final size: {_counted(glued)}; let it rest a day before it is flattened"
        only_top = all(p.part.kind is PartKind.TOP for p in glued)
        then = "" if only_top else "; then cut to size what the parts list does not mark as cut to fit"
        s.work(f"{text}{then}", (GLUE, PLANE) if only_top else (GLUE, PLANE, SAW))
    banded = [p for p in parts if p.part.bands]
    # A top gets its bands in the step that cuts it.
    if any(p.part.kind is not PartKind.TOP for p in banded):
        s.work(
            "Band the edges that the parts list names, ends before edges, and trim them flush; of what is cut to fit, "
            "once it is cut",
            (BANDING,),
        )


def _counted(placed: Iterable[Placed]) -> str:
    """Return the names of parts without their hands, each once with how often it comes: "side ×2, bottom"."""
    names = Counter(" ".join(w for w in p.name.split() if w not in ("left", "right")) for p in placed)
    return ", ".join(f"{name} ×{n}" if n > 1 else name for name, n in names.items())
