"""Printed sizes keep every fit whose limits lie further apart than the finest division that a page may print."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from casewright.design.assembly import ChainItem, Fit, PieceDesign
from casewright.design.ledger import Size
from casewright.design.printed_sizes import keeps_fit, printed_sizes
from casewright.units.printed import LengthStyle, Role

STYLES = (LengthStyle(system="mm", division=0.5), LengthStyle(system="in", division=32))
FINEST = 25.4 / 256  # mm: an eighth of 1/32 in


@given(st.floats(100.0, 900.0), st.floats(0.5, 20.0), st.floats(0.0, 1.0), st.sampled_from(STYLES))
def test_a_narrow_fit_is_printed_so_that_it_holds(
    housing: float, play: float, share: float, style: LengthStyle
) -> None:
    """The play lies anywhere between limits that are a finest division apart, and a little."""
    sizes = tuple(
        Size(name=name, value=value, role=role, because=(), rule="")
        for name, value, role in (("seat", housing, Role.HOUSING), ("panel", housing - play, Role.INSERT))
    )
    least = play - share * (FINEST + 0.03)
    fit = Fit(
        id="fit",
        housing=ChainItem(name="seat", value=housing),
        insert=ChainItem(name="panel", value=housing - play),
        least=least,
        most=least + FINEST + 0.03,
    )
    piece = PieceDesign(path="x", kind="", title="", width=1.0, depth=1.0, height=1.0, sizes=sizes, fits=(fit,))
    assert keeps_fit(fit, printed_sizes(piece, style))
