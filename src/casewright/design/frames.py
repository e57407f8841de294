"""Placements in space: points, proper rotations, and the half-turns and mirrors of a blank.

Millimetres throughout; a frame maps its own coordinates into those of its parent. Axes are unit
vectors and always right-handed, so that no solid is ever turned inside out by being placed.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TypeAlias

from casewright.units.grid import record, snap

Vec: TypeAlias = tuple[float, float, float]

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
Z: Vec = (0.0, 0.0, 1.0)
ORIGIN: Vec = (0.0, 0.0, 0.0)


def add(a: Vec, b: Vec) -> Vec:
    """Return a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vec, b: Vec) -> Vec:
    """Return a − b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vec, k: float) -> Vec:
    """Return k·a."""
    return (a[0] * k, a[1] * k, a[2] * k)


def dot(a: Vec, b: Vec) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """Return the vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def norm(a: Vec) -> float:
    """Return the length of `a`."""
    return math.sqrt(dot(a, a))


def unit(a: Vec) -> Vec:
    """Return `a` with length 1; exact for axis directions. Raises ValueError for a null vector."""
    n = norm(a)
    if n < 1e-12:
        raise ValueError("a direction must not be a null vector")
    return (round(a[0] / n, 14) + 0.0, round(a[1] / n, 14) + 0.0, round(a[2] / n, 14) + 0.0)


@lru_cache(maxsize=1 << 12)
def _third(x: Vec, y: Vec) -> Vec:
    # Kept: a piece has thousands of frames and few directions.
    c = cross(x, y)
    return (round(c[0], 14) + 0.0, round(c[1], 14) + 0.0, round(c[2], 14) + 0.0)


@record
class Frame:
    """A place: `origin` in the parent, and the parent directions of its own x and y axes."""

    UNSNAPPED = ("x", "y")

    origin: Vec = ORIGIN
    x: Vec = X
    y: Vec = Y

    def validate(self) -> None:
        """Refuse axes that are not a right-handed unit pair."""
        if abs(dot(self.x, self.y)) > 1e-9 or abs(norm(self.x) - 1) > 1e-9 or abs(norm(self.y) - 1) > 1e-9:
            raise ValueError(f"axes are not unit and square to each other: {self.x} {self.y}")

    @property
    def z(self) -> Vec:
        """The third axis, x × y."""
        return _third(self.x, self.y)

    def point(self, p: Vec) -> Vec:
        """Map a point of this frame into the parent."""
        z = self.z
        return (
            self.origin[0] + p[0] * self.x[0] + p[1] * self.y[0] + p[2] * z[0],
            self.origin[1] + p[0] * self.x[1] + p[1] * self.y[1] + p[2] * z[1],
            self.origin[2] + p[0] * self.x[2] + p[1] * self.y[2] + p[2] * z[2],
        )

    def direction(self, v: Vec) -> Vec:
        """Map a direction of this frame into the parent."""
        return sub(self.point(v), self.origin)

    def local_point(self, p: Vec) -> Vec:
        """Map a point of the parent into this frame."""
        return self.local_direction(sub(p, self.origin))

    def local_direction(self, v: Vec) -> Vec:
        """Map a direction of the parent into this frame."""
        return (dot(v, self.x), dot(v, self.y), dot(v, self.z))

    def then(self, inner: Frame) -> Frame:
        """Return `inner` (given in this frame) as a frame of this one's parent."""
        return Frame(
            origin=self.point(inner.origin),
            x=unit(self.direction(inner.x)),
            y=unit(self.direction(inner.y)),
        )

    def inverse(self) -> Frame:
        """Return the frame that undoes this one."""
        return Frame(
            origin=self.local_point(ORIGIN),
            x=(self.x[0], self.y[0], self.z[0]),
            y=(self.x[1], self.y[1], self.z[1]),
        )

    def relative(self, other: Frame) -> Frame:
        """Return `other` (same parent) as seen from this frame."""
        return Frame(
            origin=self.local_point(other.origin),
            x=unit(self.local_direction(other.x)),
            y=unit(self.local_direction(other.y)),
        )

    def moved(self, by: Vec) -> Frame:
        """Return the frame shifted by a vector of the parent."""
        return Frame(origin=add(self.origin, by), x=self.x, y=self.y)

    def reflected_x(self, length: float) -> Frame:
        """Mirror the frame across the parent's plane x = 0 and its content across its own x = length/2.

        Both mirrors together are a proper rotation, so this is again a frame: what stood in it must
        be the content reflected by x → length − x.
        """
        # World mirror M = diag(-1,1,1); content mirror p -> (length - px, py, pz).
        # M(o + (length - px) x + py y + pz z) = M(o + length x) - px Mx + py My + pz Mz
        far = self.point((length, 0.0, 0.0))
        return Frame(
            origin=(-far[0], far[1], far[2]),
            x=(self.x[0] + 0.0, -self.x[1] + 0.0, -self.x[2] + 0.0),
            y=(-self.y[0] + 0.0, self.y[1] + 0.0, self.y[2] + 0.0),
        )


def rotation_about(axis: Vec, degrees: float) -> Frame:
    """Return the frame turned right-handedly by `degrees` about `axis` through the origin (Rodrigues)."""
    u = unit(axis)
    c, s = cosd(degrees), sind(degrees)

    def turn(v: Vec) -> Vec:
        k = dot(u, v) * (1 - c)
        w = cross(u, v)
        return unit((v[0] * c + w[0] * s + u[0] * k, v[1] * c + w[1] * s + u[1] * k, v[2] * c + w[2] * s + u[2] * k))

    return Frame(x=turn(X), y=turn(Y))


def sind(degrees: float) -> float:
    """Sine of an angle in degrees, exact at multiples of 90."""
    d = degrees % 360.0
    exact = {0.0: 0.0, 90.0: 1.0, 180.0: 0.0, 270.0: -1.0}
    return exact[d] if d in exact else math.sin(math.radians(d))


def cosd(degrees: float) -> float:
    """Cosine of an angle in degrees, exact at multiples of 90."""
    return sind(degrees + 90.0)


def snapped(v: Vec) -> Vec:
    """Return the point on the grid."""
    return (snap(v[0]), snap(v[1]), snap(v[2]))
