"""The steps of a let-in device: its recess before anything hides the face, the module after the finish."""

from __future__ import annotations

from casewright.design.blocks.step_words import POWER, ROUT, by
from casewright.design.draft import Draft
from casewright.design.frames import Vec, scale
from casewright.design.sequence import Sequence

ROOM = 60.0  # mm: how far off a module and its keeper come from


def in_the_top(d: Draft) -> bool:
    """True where a device lies in a top that is laid on."""
    return any(j.id.endswith("/device~top") for j in d.joints)


def cut_recess(s: Sequence, d: Draft, where: str) -> None:
    """Cut recess and channel into `where`, such as "the top's underside, measured from its finished edges"."""
    left, sanded = d.led["device.wood_at_cutting"], d.led["device.wood_over"]
    s.work(
        f"Cut recess and channel into {where}, before its face is "
        f"sanded: leave {left:.2f} mm over the recess, {sanded:.2f} mm once it is sanded",
        (ROUT,),
    )


def lay_module(s: Sequence, d: Draft, *, into: str = "", room: float = ROOM) -> None:
    """Lay the module into its recess and hold it; `room` (mm) is how far off it comes from."""
    way = _way(d)
    s.bring(
        ["device"],
        "Lay the module in its recess, its plug in the channel to the back",
        into=into,
        moves=by(way, room),
        cautions=(POWER,),
    )
    packed = any(line.path == d.full("device_keeper") for line in d.bought)
    s.bring(
        ["device_keeper"],
        f"{'Lay the felt on it, then hold' if packed else 'Hold'} it with the keeper, two screws, no glue",
        into=into,
        moves=by(way, room),
    )


def _way(d: Draft) -> Vec:
    """Return the way into the recess: against the z of the module, which looks out of it."""
    return scale(d.at("device").frame.direction((0.0, 0.0, 1.0)), -1.0)
