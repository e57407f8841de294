"""Ways to look at a piece: parallel projections, by what lies to the right and what lies up."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from casewright.design.frames import Vec, X, Y, Z, cross, dot, unit
from casewright.units.grid import record


@record
class View:
    """A parallel view: piece directions that run to the right and up on the page (unit, square to each other)."""

    UNSNAPPED = ("right", "up")

    name: str
    right: Vec
    up: Vec

    def validate(self) -> None:
        """Refuse directions that are not square to each other."""
        if abs(dot(self.right, self.up)) > 1e-9:
            raise ValueError(f"right and up of a view must be square to each other: {self.right} {self.up}")

    @property
    def towards(self) -> Vec:
        """The direction from the piece to the viewer, right × up."""
        return cross(self.right, self.up)

    @property
    def matrix(self) -> NDArray[np.float64]:
        """Rows right, up, towards: maps piece directions to (x right, y up, z to the viewer)."""
        return np.array([self.right, self.up, self.towards])


def view_from(name: str, towards: Vec) -> View:
    """Return the view of a viewer who stands off in a direction, z up. Raises ValueError for straight up or down."""
    away = unit(towards)
    right = unit(cross(Z, away))
    return View(name=name, right=right, up=cross(away, right))


NEG_X: Vec = (-1.0, 0.0, 0.0)
NEG_Y: Vec = (0.0, -1.0, 0.0)

FRONT = View(name="front", right=X, up=Z)
BACK = View(name="back", right=NEG_X, up=Z)
SIDE = View(name="side", right=Y, up=Z)  # from the right
LEFT_SIDE = View(name="left side", right=NEG_Y, up=Z)
PLAN = View(name="plan", right=X, up=Y)
UNDERSIDE = View(name="underside", right=X, up=NEG_Y)

# Isometric: equal foreshortening of the three axes, seen from the front, the right and above.
ISOMETRIC = view_from("isometric", (1.0, -1.0, 1.0))
ISOMETRIC_LEFT = view_from("isometric from the left", (-1.0, -1.0, 1.0))
# What a person sees: mostly the front, a little of the right side and of the top.
THREE_QUARTER = view_from("three-quarter", (0.55, -1.0, math.sin(math.radians(35.0))))
