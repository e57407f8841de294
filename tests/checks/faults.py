"""The fault library: small edits of sound examples, each with the code and the path that it must be found by.

`also` are stops that the same mistake rightly raises beside its own (a moved part also collides); every other stop
would be a foreign one. Those of `blind_faults.py` were written by people who had not seen the checks.
"""

from __future__ import annotations

from tests.checks.faults_around import AROUND
from tests.checks.faults_assembly import ASSEMBLY
from tests.checks.faults_device import DEVICE
from tests.checks.faults_fasteners import FASTENERS
from tests.checks.faults_fit import FIT
from tests.checks.faults_looks import LOOKS
from tests.checks.faults_motion import MOTION
from tests.checks.faults_movement import MOVEMENT
from tests.checks.faults_reach import REACH
from tests.checks.faults_strength import STRENGTH
from tests.checks.faults_structure import STRUCTURE

FAULTS = STRUCTURE + MOTION + ASSEMBLY + FASTENERS + FIT + LOOKS + AROUND + REACH + DEVICE + MOVEMENT + STRENGTH
