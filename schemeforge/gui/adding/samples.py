"""Readings of one or several instrument files, and which of them is likely what. No Qt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile
from pathlib import Path

from schemeforge.calibration import Read
from schemeforge.errors import InputError, SchemeForgeError
from schemeforge.measurement import Geometry, Scale, SpectraFile, Spectrum, on_bands, read_spectra

OVER_DARK, OVER_LIGHT, DARK, LIGHT = ROLES = ("over dark", "over light", "dark", "light")
_DARK = ("black", "dark", "schwarz", "noir")
_LIGHT = ("white", "light", "weiss", "weiß", "blanc")
_PLACES = frozenset({"over", "on", "white", "light", "film", "card", "ground", "black", "dark"})
_MARKS = " _,;:()-."
_BARE = ("bare", "ground", "card", "blank", "uncoated", "substrate", "unpainted", "paper")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """One reading.

    Args:
        label: Tells it from every other, also of other files.
        file: Place of its file among those loaded.
        spectrum: As the file has it.
    """

    label: str
    file: int
    spectrum: Spectrum


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """Files read, and every sample in them."""

    names: tuple[str, ...] = ()
    files: tuple[SpectraFile, ...] = ()
    samples: tuple[Sample, ...] = ()

    @property
    def geometry(self) -> Geometry | None:
        """As the files tell it, where they agree."""
        told = {file.geometry for file in self.files if file.geometry is not None}
        return told.pop() if len(told) == 1 else None

    def sample(self, label: str) -> Sample:
        """The sample of that label."""
        return next(sample for sample in self.samples if sample.label == label)

    def largest(self, file: int) -> float:
        """The largest number of a file, by which its scale is judged."""
        return max(max(s.spectrum.values) for s in self.samples if s.file == file)


def loaded(paths: Sequence[Path]) -> Loaded:
    """The samples of files, each under a label of its own; errors as ``read_spectra``."""
    files = tuple(read_spectra(path) for path in paths)
    samples: list[Sample] = []
    taken: set[str] = set()
    for place, (path, file) in enumerate(zip(paths, files, strict=True)):
        for spectrum in file.spectra:
            label = spectrum.name
            if label in taken:
                label = f"{spectrum.name} ({path.name})"
            if label in taken:
                raise InputError(
                    f'Two samples have the name "{label}"',
                    where=str(path),
                    remedy="choose each file once, and give each sample a name of its own",
                )
            taken.add(label)
            samples.append(Sample(label=label, file=place, spectrum=spectrum))
    names = tuple(path.name for path in paths)
    return Loaded(names=names, files=files, samples=tuple(samples))


def faults_of(found: Loaded) -> tuple[str, ...]:
    """Why samples cannot be used, each reason with the samples that it is true of.

    Where the scale of a file is in doubt, it is judged by the one that forgives more.
    """
    by_reason: dict[str, list[str]] = {}
    for sample in found.samples:
        file = found.files[sample.file]
        try:
            on_bands(sample.spectrum, file.scale if file.is_scale_sure else Scale.PER_CENT)
        except SchemeForgeError as error:
            reason = f"{error.what}; {error.remedy}." if error.remedy else f"{error.what}."
            by_reason.setdefault(reason, []).append(f'"{sample.label}"')
    return tuple(f"{', '.join(labels)}: {reason}" for reason, labels in by_reason.items())


def common_name(one: str, other: str) -> str:
    """What two names have in common, of two letters or more, else ""."""
    theirs = {word.casefold().strip(_MARKS) for word in other.split()}
    shared = [word for word in one.split() if word.casefold().strip(_MARKS) in theirs]
    plain = [word for word in shared if word.casefold().strip(_MARKS) not in _PLACES]
    for some in (plain, shared):
        name = " ".join(some).strip(_MARKS)
        if _is_name(name):
            return name
    pairs = takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False))
    head = "".join(char for char, _ in pairs)
    if any(name[len(head) :][:1].isalpha() for name in (one, other)):
        head = head.rstrip("".join(c for c in head if c.isalpha()))  # not half a word
    head = head.strip(_MARKS)
    return head if _is_name(head) else ""


def _is_name(text: str) -> bool:
    return sum(char.isalpha() for char in text) > 1


def likely_roles(found: Loaded) -> dict[str, str]:
    """Which sample is likely what, from their names; only what is told apart clearly."""
    by_role: dict[str, list[str]] = {role: [] for role in ROLES}
    for sample in found.samples:
        words = sample.label.casefold()
        dark, light = (any(w in words for w in some) for some in (_DARK, _LIGHT))
        bare = any(w in words for w in _BARE)
        if dark != light:
            role = (DARK if dark else LIGHT) if bare else (OVER_DARK if dark else OVER_LIGHT)
            by_role[role].append(sample.label)
    return {role: labels[0] for role, labels in by_role.items() if len(labels) == 1}


def reads_of(
    found: Loaded, roles: Mapping[str, str], scales: Sequence[Scale]
) -> tuple[Read, Read, Read, Read]:
    """The four readings on the program's bands.

    Raises:
        InputError: Where one sample stands for two things.
        ReadingError: For a gap, a range too short or an impossible value; names file and sample.
    """
    if len(set(roles.values())) < len(ROLES):
        raise InputError(
            "One sample is given for two things", remedy="choose another one for each of the four"
        )
    reads = []
    for role in ROLES:
        sample = found.sample(roles[role])
        try:
            on = on_bands(sample.spectrum, scales[sample.file])
        except SchemeForgeError as error:
            raise error.at(found.names[sample.file]) from None
        reads.append(Read(reflectance=on.values, unsure_nm=on.unsure_nm))
    return reads[0], reads[1], reads[2], reads[3]
