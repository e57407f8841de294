"""What a feature is: one change to a blank, with its datum and its numbers.

A feature is a record with a `face`, `made_at`, the `joint` that asked for it (not compared: what
is cut does not depend on who asked) and three duties: `lower` it to volumes, `carry` it along with
a turn of the blank, and `describe` it in a maker's words.
"""

from __future__ import annotations

from enum import Enum
from typing import Protocol, runtime_checkable

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.volumes import Volume


class MadeAt(Enum):
    """Where a feature is made."""

    BENCH = "bench"  # on the single part
    ASSEMBLY = "assembly"  # once parts are together: drilled through, trimmed in place


@runtime_checkable
class Feature(Protocol):
    """The contract of every feature record."""

    @property
    def face(self) -> Face:
        """The face that it is made from."""

    @property
    def made_at(self) -> MadeAt:
        """On the bench or at assembly."""

    @property
    def joint(self) -> str:
        """Id of the joint that asked for it, or empty."""

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """Return the volumes to remove, in the blank's frame."""

    def carry(self, turn: Turn, blank: Blank) -> Feature:
        """Return the same feature on the turned (or mirrored) blank."""

    def describe(self) -> str:
        """Return the trade's name for it, without numbers."""
