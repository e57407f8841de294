"""The command line: `casewright new | check | show | packet`."""

from casewright.cli.main import main

__all__ = ["main"]
