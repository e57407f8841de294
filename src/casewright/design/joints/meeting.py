"""Where two placed parts meet: the direction from one into the other, their common rectangle, the line of a joint."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.frames import Vec, scale
from casewright.design.parts import Placed
from casewright.design.sites import Span, world_box

AXES: tuple[Vec, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Part b stands against part a, or `reach` mm into it; mm, piece frame.

    `drive` points from a into b along axis `axis`. `lo` and `hi` are the corners of the rectangle that the two have
    in common, in the face of a that b meets. `run` is the longer axis of that rectangle, `thick` the other.
    """

    axis: int
    drive: Vec
    lo: Vec
    hi: Vec
    reach: float

    @property
    def run(self) -> int:
        """The longer axis of the common rectangle."""
        return max((i for i in range(3) if i != self.axis), key=lambda i: self.hi[i] - self.lo[i])

    @property
    def thick(self) -> int:
        """The shorter axis of the common rectangle."""
        return 3 - self.axis - self.run

    @property
    def length(self) -> float:
        """Length of the joint along its run."""
        return self.hi[self.run] - self.lo[self.run]

    @property
    def thickness(self) -> float:
        """Size of the joint across its run."""
        return self.hi[self.thick] - self.lo[self.thick]

    @property
    def plane(self) -> float:
        """Where the face of a lies, on the axis."""
        return self.lo[self.axis]

    def line(self, at: float | None = None) -> tuple[Vec, Vec]:
        """Return the line along the run in the middle of the joint, shifted to `at` on the axis if given."""
        start, end = list(self.lo), list(self.hi)
        start[self.thick] = end[self.thick] = (self.lo[self.thick] + self.hi[self.thick]) / 2
        if at is not None:
            start[self.axis] = end[self.axis] = at
        return (start[0], start[1], start[2]), (end[0], end[1], end[2])

    @property
    def middle(self) -> Vec:
        """The middle of the common rectangle."""
        a, b = self.line()
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def meeting(a: Placed, b: Placed, axis: int | None = None) -> Meeting:
    """Return how part b meets part a; the `axis` is found where it is not given.

    Found is the axis on which each reaches past the other, by the least. Raises ValueError where they do not meet.
    """
    (al, ah), (bl, bh) = world_box(a), world_box(b)
    axes = [i for i in range(3) if _past(al[i], ah[i], bl[i], bh[i])] if axis is None else [axis]
    common = [_common((al[i], ah[i]), (bl[i], bh[i])) for i in range(3)]
    if not axes or any(hi - lo < -1e-3 for lo, hi in common):
        raise ValueError(f"{b.path} does not meet {a.path}")
    on = min(axes, key=lambda i: common[i][1] - common[i][0])
    forward = bl[on] + bh[on] > al[on] + ah[on]
    lo, hi = [c[0] for c in common], [c[1] for c in common]
    reach = max(0.0, hi[on] - lo[on])
    lo[on] = hi[on] = ah[on] if forward else al[on]
    drive = AXES[on] if forward else scale(AXES[on], -1.0)
    return Meeting(axis=on, drive=_clean(drive), lo=(lo[0], lo[1], lo[2]), hi=(hi[0], hi[1], hi[2]), reach=_zero(reach))


def _past(al: float, ah: float, bl: float, bh: float) -> bool:
    """True where each of two intervals reaches past the other."""
    return (al < bl - 1e-6 and ah < bh - 1e-6) or (bl < al - 1e-6 and bh < ah - 1e-6)


def _common(a: Span, b: Span) -> Span:
    return (max(a[0], b[0]), min(a[1], b[1]))


def _zero(value: float) -> float:
    return 0.0 if value < 1e-6 else value


def _clean(v: Vec) -> Vec:
    return (v[0] + 0.0, v[1] + 0.0, v[2] + 0.0)
