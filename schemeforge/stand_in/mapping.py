"""Which zone of a project each part of a model wears.

Every part stands for something (a slot). A zone's name, where its area comes from, what its
surface is like and where it faces say which slot suits it best; zones are given their slots in
one fixed order, best match first, so that the same project always comes out the same. Where a
project has more zones than slots, the zones left over take single parts of the slot that suits
them; where it has fewer, parts without a zone wear that of the slot most like theirs.
"""

import re
from typing import Final

from schemeforge.scheme import AreaBasis, Facing, Project, Surfacing, Zone
from schemeforge.stand_in.part import Part, Slot

# Words in a zone's name or id that speak for a slot.
_WORDS: Final = {
    Slot.HIDE: (
        "hide",
        "skin",
        "flesh",
        "fur",
        "feather",
        "scale",
        "face",
        "head",
        "beast",
        "body",
        "hair",
        "mane",
        "limb",
        "wing",
        "hand",
        "leg",
    ),
    Slot.PLATES: (
        "plate",
        "armour",
        "armor",
        "metal",
        "steel",
        "iron",
        "shell",
        "lacquer",
        "carapace",
        "mail",
        "helm",
        "weapon",
        "blade",
        "staff",
        "wood",
        "leather",
        "shield",
        "lame",
    ),
    Slot.CLOAK: (
        "cloak",
        "cape",
        "cloth",
        "robe",
        "fabric",
        "tabard",
        "reed",
        "straw",
        "banner",
        "coat",
        "tunic",
        "linen",
    ),
    Slot.LANTERN: (
        "lantern",
        "lamp",
        "light",
        "horn",
        "glass",
        "gem",
        "glow",
        "flame",
        "eye",
        "lens",
        "crystal",
        "orb",
        "fire",
    ),
    Slot.BASE: (
        "base",
        "ground",
        "mud",
        "earth",
        "soil",
        "sand",
        "terrain",
        "scenery",
        "rock",
        "stone",
    ),
    Slot.RIM: ("rim", "edge"),
}
_LIKE: Final = {
    Slot.HIDE: (Slot.CLOAK, Slot.PLATES),
    Slot.PLATES: (Slot.HIDE, Slot.CLOAK),
    Slot.CLOAK: (Slot.HIDE, Slot.PLATES),
    Slot.LANTERN: (Slot.PLATES, Slot.HIDE, Slot.CLOAK),
    Slot.BASE: (Slot.RIM, Slot.HIDE, Slot.CLOAK, Slot.PLATES),
    Slot.RIM: (Slot.BASE, Slot.PLATES, Slot.CLOAK, Slot.HIDE),
}
# Surfacing, facing and share of the body that a slot has, for zones whose names say nothing.
_KIND: Final = {
    Slot.HIDE: (Surfacing.TEXTURED, Facing.UP, 0.34),
    Slot.PLATES: (Surfacing.FLAT, Facing.UP, 0.24),
    Slot.CLOAK: (Surfacing.FOLDED, Facing.SIDE, 0.34),
    Slot.LANTERN: (Surfacing.FLAT, Facing.SIDE, 0.06),
    Slot.BASE: (Surfacing.TEXTURED, Facing.UP, 0.3),
    Slot.RIM: (Surfacing.FLAT, Facing.SIDE, 0.15),
}
_NEVER: Final = -50.0

Wearing = tuple[int, ...]


def zones_worn(project: Project, parts: tuple[Part, ...]) -> Wearing:
    """Index of the zone that each part wears, -1 where the project has no zone."""
    if not project.zones:
        return (-1,) * len(parts)
    slots = sorted({part.slot for part in parts}, key=list(Slot).index)
    owner, left = _owners(project, slots)
    worn = [owner.get(part.slot, -1) for part in parts]
    free = [n for n, part in enumerate(parts) if part.slot in owner]
    for zone in left:  # more zones than slots: single parts, never the last of a zone
        options = [n for n in free if worn.count(worn[n]) > 1]
        if not options:
            break
        best = max(options, key=lambda n: (_part_fit(project, zone, parts[n]), -n))
        worn[best] = zone
        free.remove(best)
    return tuple(
        n if n >= 0 else _like(part.slot, owner) for n, part in zip(worn, parts, strict=True)
    )


def fit(project: Project, zone: Zone, slot: Slot) -> float:
    """How well a zone suits a slot: higher is better."""
    words = max((len(word) for word in _WORDS[slot] if _is_named(zone, word)), default=0)
    surfacing, facing, share = _KIND[slot]
    ground = {AreaBasis.BASE_TOP: Slot.BASE, AreaBasis.RIM: Slot.RIM}.get(zone.area_basis)
    if ground is not None:
        return 100.0 if slot is ground else -100.0
    area = zone.area_on(project.size) / project.size.body_cm2
    score = 4.0 + 0.1 * words if words else 0.0
    score += 1.0 if zone.surfacing is surfacing else 0.0
    score += 0.5 if zone.facing is facing else 0.0
    score -= min(abs(area - share), 1.0)
    return score - (2.5 if slot in {Slot.BASE, Slot.RIM} and not words else 0.0)


def _part_fit(project: Project, zone_index: int, part: Part) -> float:
    zone = project.zones[zone_index]
    own = any(_is_named(zone, word.rstrip("s")) for word in part.name.split())
    return fit(project, zone, part.slot) + (6.0 if own else 0.0)


def _is_named(zone: Zone, word: str) -> bool:
    """Whether a word of the zone's id or name begins so."""
    words = re.split(r"[^\w]+|_", f"{zone.id} {zone.name}".casefold())
    return any(text.startswith(word) for text in words)


def _owners(project: Project, slots: list[Slot]) -> tuple[dict[Slot, int], list[int]]:
    """The zone that owns each slot, and zones left without one, in the project's order."""
    pairs = sorted(
        (-fit(project, zone, slot), z, s)
        for z, zone in enumerate(project.zones)
        for s, slot in enumerate(slots)
    )
    owner: dict[Slot, int] = {}
    placed: set[int] = set()
    for _, z, s in pairs:
        suits = fit(project, project.zones[z], slots[s]) > _NEVER
        if suits and z not in placed and slots[s] not in owner:
            owner[slots[s]] = z
            placed.add(z)
    return owner, [z for z in range(len(project.zones)) if z not in placed]


def _like(slot: Slot, owner: dict[Slot, int]) -> int:
    for other in _LIKE[slot]:
        if other in owner:
            return owner[other]
    return next(iter(owner.values()), 0)  # a project of grounds only, on a model without ground
