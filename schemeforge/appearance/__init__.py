"""From (project, scheme, viewing) to the colours of every stage at any (tone, relief, along)."""

from schemeforge.appearance.lattice import zone_lattice
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import PotSpectra, pot_spectra
from schemeforge.appearance.ramps import SchemeRamps, ZoneRamp, scheme_ramps
from schemeforge.appearance.remarks import Remark, Severity, zone_remarks
from schemeforge.appearance.stages import (
    BARE_PLASTIC,
    Points,
    Stage,
    final_xyz,
    ramp_tones,
    zone_stages,
    zone_tile,
)
from schemeforge.appearance.tolerance import Tolerance, zone_tolerance
from schemeforge.appearance.undercoat import Grounds, zone_grounds

__all__ = [
    "BARE_PLASTIC",
    "Grounds",
    "Look",
    "Points",
    "PotSpectra",
    "Remark",
    "SchemeRamps",
    "Severity",
    "Stage",
    "Tolerance",
    "ZoneRamp",
    "final_xyz",
    "look_of",
    "pot_spectra",
    "ramp_tones",
    "scheme_ramps",
    "zone_grounds",
    "zone_lattice",
    "zone_remarks",
    "zone_stages",
    "zone_tile",
    "zone_tolerance",
]
