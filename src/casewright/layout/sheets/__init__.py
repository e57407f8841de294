"""Sheet layouts: guillotine cutting of parts from sheets and offcuts, with bound, gap and proof.

`solve_sheets` is the door; `fill.fill_sheet` fills one sheet for value. Design note: docs/layout-sheets.md.
"""

from casewright.layout.sheets.solve import solve_sheets

__all__ = ["solve_sheets"]
