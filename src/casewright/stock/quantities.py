"""What the numbers of a stock record are: `Size`, `Length` and `Offset` are millimetres.

Any other float is not a length. A file may give a length as a text with its unit, or as a
number in the unit of the file; see `rows`.
"""

from __future__ import annotations

from typing import Annotated, TypeAlias

SIZE, LENGTH, OFFSET = "size", "length", "offset"

Size: TypeAlias = Annotated[float, SIZE]  # mm, more than 0
Length: TypeAlias = Annotated[float, LENGTH]  # mm, 0 or more
Offset: TypeAlias = Annotated[float, OFFSET]  # mm, either way
