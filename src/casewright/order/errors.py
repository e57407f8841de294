"""Errors of the order room.

FileError       (casewright.shop.errors) a user's file cannot be used; carries every finding
└── OrderError  (here) the order
    └── EditError  an edit of an order's text that cannot be made
"""

from __future__ import annotations

from casewright.shop.errors import FileError


class OrderError(FileError):
    """The order cannot be read, or names or sizes in it are wrong; `findings` say all of it."""


class EditError(OrderError):
    """A value cannot be set in the order's text."""
