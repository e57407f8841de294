"""The run of moulding around left side, front and right side of a body, square at the wall.

Common practice. Lengths are long point to long point: front = body width + 2 projections, return = body depth
(from the frame's face) + one projection.
"""

from __future__ import annotations

from casewright.design.blocks.body import Body
from casewright.design.blocks.moulding_runs import Leg, run_along
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sections import projection

FRONT_HOSTS = {"crown": "frame/rail.top"}


def moulding_run(
    d: Draft,
    kit: Kit,
    body: Body,
    *,
    name: str,
    role: str,
    foot_z: float,
    front_host: str | None = None,
    moisture: float = 0.0,
) -> None:
    """Place the three pieces of a moulding whose lower edge is at `foot_z`; `moisture` as in `run_along`.

    `front_host` is what the front piece is pinned to; without it, the frame's top rail for a crown, else its bottom
    rail.
    """
    half, depth = body.width / 2, body.depth
    out = d.let(f"{name}.projection", projection(kit.stick(role)), rule="from the drawn section")
    front, side = f"{name}.front_length", f"{name}.return_length"
    d.let(
        front,
        body.width + 2 * out,
        "body.width",
        f"{name}.projection",
        rule="body + 2 projections, long points",
    )
    d.let(
        side,
        depth + out,
        "body.depth",
        f"{name}.projection",
        rule="body depth + 1 projection, long point",
    )
    host = front_host or FRONT_HOSTS.get(role, "frame/rail.bottom")
    legs = (
        Leg(name="left", start=(-half, depth), end=(-half, 0.0), host="side.left", size=side),
        Leg(name="front", start=(-half, 0.0), end=(half, 0.0), host=host, size=front),
        Leg(name="right", start=(half, 0.0), end=(half, depth), host="side.right", size=side),
    )
    run_along(d, kit, legs, name=name, role=role, foot_z=foot_z, moisture=moisture)
