"""Text to numbers and back: lengths in mm, angles in degrees, and how a size is rounded for print."""

from casewright.units.angles import format_angle, parse_angle
from casewright.units.lengths import AngleError, LengthError, UnitsError, parse_length
from casewright.units.printed import INCHES, MILLIMETRES, LengthStyle, Role, format_length, round_length

__all__ = [
    "INCHES",
    "MILLIMETRES",
    "AngleError",
    "LengthError",
    "LengthStyle",
    "Role",
    "UnitsError",
    "format_angle",
    "format_length",
    "parse_angle",
    "parse_length",
    "round_length",
]
