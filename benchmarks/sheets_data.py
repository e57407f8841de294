"""Reads the public instances for `benchmarks.sheets` from CSV files (format: the README beside them)."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from casewright.layout.model import Goal, Saws, SheetDemand, SheetPart, SheetStock


@dataclass(frozen=True, slots=True)
class Instance:
    """One instance: its class, the demand, published best known value and bound (None where there is none)."""

    name: str
    group: str
    demand: SheetDemand
    known: int | None
    bound: int | None
    values: dict[str, int]


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))


def _by_instance(path: Path) -> dict[str, list[dict[str, str]]]:
    grouped: dict[str, list[dict[str, str]]] = defaultdict(list)
    for row in _rows(path):
        grouped[row["instance"]].append(row)
    return grouped


def _demand(items: list[dict[str, str]], stock: tuple[SheetStock, ...], *, turn: bool) -> SheetDemand:
    parts = tuple(
        SheetPart(
            id=row["item"], length=int(row["w"]), width=int(row["h"]), count=int(row.get("copies") or 1), turn=turn
        )
        for row in items
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=0), goals=(Goal.COST,))


def bwmv(data: Path, *, turn: bool, only_open: bool) -> Iterator[Instance]:
    """Bin packing of Berkey and Wang (1987), Martello and Vigo (1998): one square sheet size, fewest sheets."""
    items = _by_instance(data / "bwmv_items.csv")
    known = {row["instance"]: row for row in _rows(data / "bwmv_reference.csv")}
    mark = "R" if turn else "O"
    for row in _rows(data / "bwmv_instances.csv"):
        reference = known[row["instance"]]
        if only_open and reference[f"closed_{mark}"] == "1":
            continue
        sheet = SheetStock(id="sheet", length=int(row["bin_w"]), width=int(row["bin_h"]), price=1)
        best, bound = int(reference[f"bks_{mark}_guillotine_3stage"]), int(reference[f"lb_{mark}"])
        demand = _demand(items[row["instance"]], (sheet,), turn=turn)
        yield Instance(row["instance"], row["class"].zfill(2), demand, best, bound, {})


def vsbp(data: Path, *, turn: bool) -> Iterator[Instance]:
    """Bin packing with several sheet sizes (Hopper and Turton 2001, Ortmann 2010, Pisinger and Sigurd 2005)."""
    items, bins = _by_instance(data / "vsbp_items.csv"), _by_instance(data / "vsbp_bins.csv")
    for row in _rows(data / "vsbp_instances.csv"):
        stock = tuple(
            SheetStock(
                id=b["bin"],
                length=int(b["w"]),
                width=int(b["h"]),
                price=int(b["cost"]),
                count=int(b["copies"]) if b["copies"] else None,
            )
            for b in bins[row["instance"]]
        )
        demand = _demand(items[row["instance"]], stock, turn=turn)
        yield Instance(row["instance"], row["set"], demand, None, None, {})


def kp2d(data: Path, *, turn: bool) -> Iterator[Instance]:
    """One sheet filled for the greatest value (Beasley, Christofides and Whitlock, Wang, Fayard, Fekete and others)."""
    items = _by_instance(data / "kp2d_items.csv")
    for row in _rows(data / "kp2d_instances.csv"):
        sheet = SheetStock(id="sheet", length=int(row["sheet_w"]), width=int(row["sheet_h"]), price=1, count=1)
        rows = items[row["instance"]]
        best, proven = int(row["best_guillotine_oriented"]), row["proven_opt"]
        values = {item["item"]: int(item["profit"]) for item in rows}
        demand = _demand(rows, (sheet,), turn=turn)
        yield Instance(row["instance"], row["set"], demand, best, int(proven) if proven else None, values)
