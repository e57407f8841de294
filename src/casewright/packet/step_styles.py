"""The colours at the end of a STEP file in an order of their own: the kernel writes them as its hash tables have them.

Every representation of colours is a list of styled solids; each is written anew, in the order of the solids it styles,
one chain of entities from the styled item down to its colour (ISO 10303-46).
"""

from __future__ import annotations

import re

_HEAD = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION"
_ENTITY = re.compile(r"#(\d+) = (.*?);\n", re.DOTALL)
_NUMBER = re.compile(r"#(\d+)")
_CHAIN = (
    "STYLED_ITEM('color',(#{next}),#{solid})",
    "PRESENTATION_STYLE_ASSIGNMENT((#{next}))",
    "SURFACE_STYLE_USAGE(.BOTH.,#{next})",
    "SURFACE_SIDE_STYLE('',(#{next}))",
    "SURFACE_STYLE_FILL_AREA(#{next})",
    "FILL_AREA_STYLE('',(#{next}))",
    "FILL_AREA_STYLE_COLOUR('',#{next})",
)


def ordered_styles(text: str) -> str:
    """Return a STEP file with its colours in the order of the solids. One without colours is returned as it is."""
    if _HEAD not in text:
        return text
    start = text.rindex("\n#", 0, text.index(_HEAD)) + 1
    end = text.index("ENDSEC;", start)
    entities = {int(m[1]): " ".join(m[2].split()) for m in _ENTITY.finditer(text[start:end])}
    groups = sorted(_groups(entities))
    return text[:start] + _written(groups, int(_NUMBER.match(text[start:])[1])) + text[end:]  # type: ignore[index]


def _groups(entities: dict[int, str]) -> list[tuple[list[tuple[int, str]], int]]:
    """Return for each representation its styled solids, each with its colour, and its context."""
    out = []
    for body in entities.values():
        if body.startswith(_HEAD):
            *items, context = (int(n) for n in _NUMBER.findall(body))
            out.append((sorted(_styled(entities, i) for i in items), context))
    return out


def _styled(entities: dict[int, str], item: int) -> tuple[int, str]:
    style, solid = (int(n) for n in _NUMBER.findall(entities[item]))
    body = entities[style]
    while not body.startswith(("COLOUR_RGB", "DRAUGHTING_PRE_DEFINED_COLOUR")):
        body = entities[int(_NUMBER.findall(body)[-1])]
    return solid, body


def _written(groups: list[tuple[list[tuple[int, str]], int]], number: int) -> str:
    lines: list[str] = []
    for items, context in groups:
        head = number
        number += 1
        first = []
        body: list[str] = []
        for solid, colour in items:
            first.append(number)
            for line in _CHAIN:
                body.append(f"#{number} = {line.format(next=number + 1, solid=solid)};")
                number += 1
            body.append(f"#{number} = {colour};")
            number += 1
        listed = ",".join(f"#{n}" for n in first)
        lines += [f"#{head} = {_HEAD}('',({listed}),#{context});", *body]
    return "\n".join(lines) + "\n"
