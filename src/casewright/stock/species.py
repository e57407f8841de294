"""Species from published values: units to SI, and one figure that has to be derived.

The file has one published value a row, in its own unit, with its source and basis.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from casewright.stock.model import Fact, Species

PSI = 0.006894757293168361  # MPa: 1 lbf / 1 in², exact conversion factors
LBF = 4.4482216152605  # N

_TO_SI: dict[str, float] = {"": 1.0, "%": 1.0, "per % MC": 1.0, "psi": PSI, "1e6 psi": PSI * 1e6, "lbf": LBF}

_FIELDS = (
    "radial_coefficient",
    "tangential_coefficient",
    "radial_shrinkage",
    "tangential_shrinkage",
    "specific_gravity",
    "modulus_of_rupture",
    "modulus_of_elasticity",
    "compression_across",
    "shear",
    "side_hardness",
)


def read_species(rows: Iterable[Mapping[str, str]]) -> dict[str, Species]:
    """Return the species by id from rows (id, name, value_of, value, unit, source, basis)."""
    names: dict[str, str] = {}
    facts: dict[str, list[Fact]] = {}
    for row in rows:
        names[row["id"]] = row["name"]
        fact = Fact(
            of=row["value_of"], value=float(row["value"]), unit=row["unit"], source=row["source"], basis=row["basis"]
        )
        facts.setdefault(row["id"], []).append(fact)
    return {key: _species(key, names[key], tuple(found)) for key, found in facts.items()}


def specific_gravity_at_12(green: float) -> float:
    """Return specific gravity at 12 % moisture content from the one on green volume.

    G₁₂ = G / (1 − 0.265 a G), a = (30 − 12) / 30 (Wood Handbook Ch. 4; from memory).
    """
    return green / (1 - 0.265 * 0.6 * green)


def _species(species_id: str, name: str, facts: tuple[Fact, ...]) -> Species:
    by_field = {f.of: f.value * _TO_SI[f.unit] for f in facts}
    if "specific_gravity" not in by_field:
        by_field["specific_gravity"] = specific_gravity_at_12(by_field["specific_gravity_green"])
    values: dict[str, float | None] = {field: by_field.get(field) for field in _FIELDS}
    return Species(
        id=species_id,
        name=name,
        source="; ".join(sorted({f.source for f in facts})),
        basis="memory" if any(f.basis == "memory" for f in facts) else "read",
        facts=facts,
        **values,
    )
