"""The JSON document of a project: what `casewright show --json` prints and a packet keeps as order.json."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from casewright.design.assembly import ChainItem, PieceDesign, needs_of
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Fastener, Part, Placed
from casewright.design.printed_sizes import printed_sizes
from casewright.findings import Finding
from casewright.packet import document_records as rec
from casewright.packet.document_layouts import layout_record
from casewright.packet.hardware_list import BoughtRow, fastener_rows, hardware_rows
from casewright.packet.pages.setting import revision
from casewright.packet.parts_list import PartRow, parts_list
from casewright.project import Project
from casewright.solids.measure import mass_of
from casewright.stock.sundries import Need

FORMAT = "casewright/1"


def document(project: Project) -> dict[str, Any]:
    """Return everything computed, as plain values ready for JSON; described in docs/json.md."""
    return asdict(document_record(project))


def document_text(project: Project) -> str:
    """Return the document as JSON text, the same for the same project."""
    return json.dumps(document(project), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def document_record(project: Project) -> rec.Document:
    """Return the document as a record."""
    return rec.Document(
        format=FORMAT,
        revision=revision(project),
        order=_order(project),
        room=_room(project),
        pieces=tuple(_piece(project, p) for p in project.assembly.pieces),
        parts=tuple(_part(row) for row in parts_list(project)),
        hardware=tuple(_bought(row) for row in hardware_rows(project)),
        fasteners=tuple(_bought(row) for row in fastener_rows(project)),
        layouts=tuple(layout_record(laid) for laid in project.layouts),
        practice={rule.name: rule.value for rule in project.practice.rules},
        findings=tuple(finding_record(f) for f in project.findings),
    )


def _order(project: Project) -> rec.OrderRecord:
    order, shop = project.order, project.shop
    return rec.OrderRecord(
        file=order.file,
        title=order.title,
        client=order.client,
        due=order.due,
        units=order.units,
        shop=shop.name,
        shop_file=shop.file,
        shop_found=shop.found,
    )


def _room(project: Project) -> rec.RoomRecord:
    room, wet = project.order.room, project.moisture
    return rec.RoomRecord(
        humidity_low_percent=room.humidity_low,
        humidity_high_percent=room.humidity_high,
        humidity_fitting_percent=room.humidity_fitting,
        temperature_celsius=room.temperature,
        moisture_dry_percent=wet.dry,
        moisture_damp_percent=wet.damp,
        moisture_fitted_percent=wet.fitted,
    )


def _piece(project: Project, piece: PieceDesign) -> rec.PieceRecord:
    printed = printed_sizes(piece, project.style)
    return rec.PieceRecord(
        path=piece.path,
        kind=piece.kind,
        title=piece.title,
        count=piece.count,
        width_mm=piece.width,
        depth_mm=piece.depth,
        height_mm=piece.height,
        mass_kg=round(piece_mass(project, piece), 4),
        placed=tuple(_placed(project, p) for p in piece.placed),
        joints=tuple(
            rec.JointRecord(id=j.id, kind=j.kind.value, a=j.a, b=j.b, glued=j.glued, at_mm=j.frame.origin, why=j.why)
            for j in piece.joints
        ),
        fasteners=tuple(_fastener(f) for f in piece.fasteners),
        sizes=tuple(
            rec.SizeRecord(
                name=s.name,
                value_mm=s.value,
                printed=printed[s.name].text,
                role=s.role.value,
                because=s.because,
                rule=s.rule,
                measured=s.measured,
            )
            for s in piece.sizes
        ),
        chains=tuple(
            rec.ChainRecord(
                id=c.id,
                axis=c.axis,
                total=_link(c.total),
                items=tuple(_link(i) for i in c.items),
                absorber=c.absorber,
                least_mm=c.least,
                most_mm=c.most,
            )
            for c in piece.chains
        ),
        fits=tuple(
            rec.FitRecord(
                id=f.id,
                housing=_link(f.housing),
                insert=_link(f.insert),
                allow_mm=f.allow,
                play_mm=f.play,
                least_mm=f.least,
                most_mm=f.most,
            )
            for f in piece.fits
        ),
        steps=tuple(
            rec.StepRecord(
                id=s.id,
                kind=s.kind.value,
                text=s.text,
                into=s.into,
                brings=s.brings,
                moves_mm=s.moves,
                closes=s.closes,
                cautions=tuple(c.text for c in s.cautions),
                lie=s.lie.value,
                packed=s.packed,
                squares=s.squares,
                cuts=s.cuts,
                makes=s.makes,
                made_in=s.made_in,
                uses=s.uses,
                needs=tuple(map(_need, needs_of(s))),
                sands=tuple(rec.SandingRecord(grit=g.grit, times=g.times) for g in s.sands),
                dry_fit=s.dry_fit,
                unit=s.unit,
                noun=s.noun,
            )
            for s in piece.steps
        ),
    )


def piece_mass(project: Project, piece: PieceDesign) -> float:
    """Return the mass of a piece in kg: parts, hardware and fasteners; glue and finish not counted."""
    things = sum(mass_of(p.thing, project.cache) for p in piece.placed)
    return things + sum(f.mass for f in piece.fasteners)


def _need(need: Need) -> rec.NeedRecord:
    return rec.NeedRecord(thing=need.thing.value, mass_kg=need.mass)


def _link(item: ChainItem) -> rec.LinkRecord:
    return rec.LinkRecord(name=item.name, value_mm=item.value)


def _frame(frame: Frame) -> rec.PlaceRecord:
    return rec.PlaceRecord(origin_mm=frame.origin, x_direction=frame.x, y_direction=frame.y)


def _placed(project: Project, placed: Placed) -> rec.PlacedRecord:
    mark, thing = project.mark_of(placed), placed.thing
    is_part = isinstance(thing, Part)
    return rec.PlacedRecord(
        path=placed.path,
        name=placed.name,
        kind="part" if is_part else "hardware",
        mark=mark.label if mark else "",
        item=thing.stock if isinstance(thing, Part) else thing.item,
        place=_frame(placed.frame),
    )


def _fastener(f: Fastener) -> rec.FastenerRecord:
    return rec.FastenerRecord(
        path=f.path, item=f.item, joint=f.joint, parts=f.parts, length_mm=f.length, place=_frame(f.frame)
    )


def _part(row: PartRow) -> rec.PartRecord:
    return rec.PartRecord(
        mark=row.mark,
        mirror_of=row.mirror_of,
        name=row.name,
        count=row.count,
        counts=dict(row.counts),
        form=row.form.value,
        stock=row.stock,
        finished_mm=_rounded(row.finished),
        cut_mm=_rounded(row.cut),
        rough_mm=_rounded(row.rough),
        cut_printed=_texts(row),
        grain=bool(row.grain),
        bands=row.bands,
        shows=row.shows,
        finishes=row.finishes,
        ends=row.ends,
        hand=row.hand,
        features=tuple(f"{f.describe()} on {f.face.value}" for f in row.part.features),
    )


def _texts(row: PartRow) -> tuple[str, str, str]:
    length, width, thickness = (size.text for size in row.printed)
    return (length, width, thickness)


def _rounded(sizes: Vec) -> Vec:
    # Sums of grid numbers carry float noise in the last bits; the grid itself is coarser than this.
    return (round(sizes[0], 6), round(sizes[1], 6), round(sizes[2], 6))


def _bought(row: BoughtRow) -> rec.BoughtRecord:
    return rec.BoughtRecord(item=row.item, name=row.name, count=row.count, counts=dict(row.counts))


def finding_record(f: Finding) -> rec.FindingRecord:
    """Return a finding as `check --json` and the document give it."""
    return rec.FindingRecord(
        code=f.code,
        severity=f.severity.value,
        path=f.path,
        message=f.message,
        value=f.value,
        limit=f.limit,
        unit=f.unit,
        source=f.source,
        remedy=f.remedy,
        place=f.place,
        related=f.related,
        accepted=f.accepted,
        stops=f.stops,
    )
