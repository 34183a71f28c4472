"""Paint solvents: what the vapour question needs of each.

A safety data sheet of the product stands before this table; where both speak, the lower flammable limit counts.
"""

from __future__ import annotations

from dataclasses import dataclass

# Lower flammable limits are the lowest of IEC 60079-20-1:2010, NFPA 497:2008 and the NIOSH Pocket Guide; flash points
# the lowest of the three, the -40 °C that NFPA 497 prints for isobutanol left out as an evident misprint. Densities at
# 20 °C and everything of the rows marked 'from memory' are handbook values from memory.


@dataclass(frozen=True, kw_only=True, slots=True)
class Solvent:
    """One solvent: molar mass [kg/mol], liquid density [kg/m³], lower flammable limit [share by volume], flash [K]."""

    cas: str
    name: str
    molar_mass_kg_mol: float
    density_kg_m3: float
    lfl_share: float
    flash_k: float
    source: str


_LISTS = "IEC 60079-20-1:2010, NFPA 497:2008, NIOSH Pocket Guide: the lowest"
_MEMORY = "handbook values, from memory"


def _row(cas: str, name: str, *numbers: float, source: str = _LISTS) -> Solvent:
    molar_mass_g_mol, density_kg_l, lfl_percent, flash_c = numbers
    return Solvent(
        cas=cas,
        name=name,
        molar_mass_kg_mol=molar_mass_g_mol / 1000.0,
        density_kg_m3=density_kg_l * 1000.0,
        lfl_share=lfl_percent / 100.0,
        flash_k=flash_c + 273.15,
        source=source,
    )


SOLVENTS: dict[str, Solvent] = {
    row.cas: row
    for row in (
        _row("100-41-4", "ethylbenzene", 106.17, 0.867, 0.8, 12.8),
        _row("106-42-3", "p-xylene", 106.17, 0.861, 0.9, 25.0),
        _row("108-10-1", "methyl isobutyl ketone", 100.16, 0.801, 1.2, 14.0, source=_MEMORY),
        _row("108-38-3", "m-xylene", 106.17, 0.864, 1.0, 25.0),
        _row("108-88-3", "toluene", 92.14, 0.867, 1.0, 4.0),
        _row("123-86-4", "n-butyl acetate", 116.16, 0.882, 1.2, 22.0),
        _row("1330-20-7", "xylene, mixed", 106.17, 0.870, 0.9, 25.0),
        _row("141-78-6", "ethyl acetate", 88.11, 0.900, 2.0, -4.4),
        _row("67-64-1", "acetone", 58.08, 0.791, 2.5, -20.0, source=_MEMORY),
        _row("71-36-3", "n-butanol", 74.12, 0.810, 1.4, 28.9),
        _row("78-83-1", "isobutanol", 74.12, 0.802, 1.2, 27.8),
        _row("78-93-3", "methyl ethyl ketone", 72.11, 0.805, 1.4, -10.0),
        _row("8052-41-3", "mineral spirits", 140.0, 0.770, 0.8, 38.0, source=_MEMORY),
        _row("95-47-6", "o-xylene", 106.17, 0.880, 0.9, 30.0),
    )
}
