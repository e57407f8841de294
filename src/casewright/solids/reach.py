"""How far volumes reach: which cuts of a part have anything to do with a place in it.

Boxes, not shapes: a volume that is named may still miss the place, one that is not named surely does.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from itertools import compress

import numpy as np
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.frames import Frame
from casewright.design.parts import Hardware, Part
from casewright.design.volumes import Cone, HalfSpace, Loft, Lowered, Prism, Volume

Box = NDArray[np.float64]  # (2, 3): low and high corner, mm
ENDLESS = 1e9  # mm


def lowered(thing: Part | Hardware, cache: Cache) -> Lowered:
    """Return a thing as volumes in its own frame."""
    return cache.made("lowered", thing.key, thing.lowered)


@dataclass(frozen=True, slots=True, eq=False)
class Near:
    """A thing without what stays clear of a place; equal keys have equal volumes."""

    key: Hashable
    volumes: Lowered


def near(thing: Part | Hardware, room: Box, margin: float, cache: Cache) -> Near:
    """Return a thing without the additions and removals that stay `margin` mm clear of a box (own frame).

    Within the box it is as it was; outside it may be more.
    """
    whole = lowered(thing, cache)
    low, high = room[0] - margin, room[1] + margin
    changes = (*whole.removals, *whole.additions)
    boxes = cache.made("reaches", thing.key, lambda: np.array([reach(v) for v in changes]).reshape(-1, 2, 3))
    meets = ((boxes[:, 0] <= high) & (low <= boxes[:, 1])).all(axis=1).tolist()
    kept = tuple([meet and _cuts_into(v, low, high) for v, meet in zip(changes, meets, strict=True)])
    cuts = len(whole.removals)
    volumes = Lowered(
        base=whole.base,
        removals=tuple(compress(whole.removals, kept)),
        additions=tuple(compress(whole.additions, kept[cuts:])),
    )
    return Near(key=(thing.key, kept), volumes=volumes)


def reach(volume: Volume) -> Box:
    """Return a box around a volume in the frame that it is given in; a half-space has no end."""
    match volume:
        case Cone():
            return _turned(volume.frame, volume.height, max(volume.r0, volume.r1))
        case Prism():
            return _corners(volume.frame, volume.outline.box, volume.height)
        case Loft():
            (a0, b0, a1, b1), (c0, d0, c1, d1) = volume.lower.box, volume.upper.box
            flat = (min(a0, c0), min(b0, d0), max(a1, c1), max(b1, d1))
            return _corners(volume.frame, flat, volume.height)
        case HalfSpace():
            return np.array([[-ENDLESS] * 3, [ENDLESS] * 3])


def moved(box: Box, frame: Frame) -> Box:
    """Return a box around a box of a frame, in the frame's parent."""
    axes = np.array((frame.x, frame.y, frame.z)).T
    middle = axes @ ((box[0] + box[1]) / 2) + np.array(frame.origin)
    half = np.abs(axes) @ ((box[1] - box[0]) / 2)
    return np.array((middle - half, middle + half))


def _cuts_into(volume: Volume, low: NDArray[np.float64], high: NDArray[np.float64]) -> bool:
    if not isinstance(volume, HalfSpace):
        return True
    normal = np.array(volume.frame.z)
    farthest = np.where(normal > 0, high, low)  # the corner that lies deepest in it
    return bool(normal @ (farthest - np.array(volume.frame.origin)) >= 0)


def _turned(frame: Frame, height: float, radius: float) -> Box:
    ends = np.array((frame.origin, frame.point((0.0, 0.0, height))))
    # A disc reaches radius × sin(angle between its axis and the direction).
    out = radius * np.sqrt(np.maximum(0.0, 1 - np.array(frame.z) ** 2))
    return np.array((ends.min(axis=0) - out, ends.max(axis=0) + out))


def _corners(frame: Frame, flat: tuple[float, float, float, float], height: float) -> Box:
    x0, y0, x1, y1 = flat
    return moved(np.array(((x0, y0, 0.0), (x1, y1, height))), frame)
