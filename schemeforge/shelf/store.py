"""The painter's shelf on disk: one SQLite file that two windows may have open.

A store remembers the paints that it last gave or took. Saving works out what changed since then
and applies that alone, inside one transaction, so that a paint added or changed by another window
stays; where both added one under the same id, the other window's goes under a new id. An order that
changed is written as this window has it; paints that it does not know of go behind the paint that
they stood behind.
"""

import contextlib
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import count
from pathlib import Path
from typing import TypeVar

from schemeforge import checks, codec, json_text
from schemeforge.errors import (
    DamagedFileError,
    FileError,
    MissingFileError,
    NewerVersionError,
    SchemeForgeError,
)
from schemeforge.paint import Paint
from schemeforge.shelf.limits import MOST_BYTES, MOST_PAINTS

VERSION = 1
APPLICATION_ID = 0x53464C46  # "SFLF", so that no other program's database is taken for a shelf
BUSY_SECONDS = 5.0


_OTHER = "choose another file"
_RESTORE = "restore an earlier copy of it, or move it away to begin anew"
_CREATE = """\
CREATE TABLE paint (
    id TEXT PRIMARY KEY NOT NULL,
    place INTEGER NOT NULL,
    body TEXT NOT NULL
) WITHOUT ROWID"""

Rows = dict[str, str]
Merge = Callable[[tuple[Paint, ...]], tuple[Paint, ...]]
T = TypeVar("T")


class ShelfStore:
    """The shelf's file; each call opens it, does one transaction and closes it.

    Args:
        path: The file; it and its folder are made when first written to.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._known: Rows | None = None
        self._refusal: SchemeForgeError | None = None

    def load(self) -> tuple[Paint, ...]:
        """The paints in shelf order, none where there is no file yet.

        Raises:
            DamagedFileError: For a file that is no shelf or is damaged, which stays as it is.
            NewerVersionError: For a shelf of a later version of the program.
            FileError: Where it cannot be opened or stays locked.
        """
        if not self.path.exists():
            return self._taken({})
        return self._taken(self._within(_read, write=False))

    def save(self, paints: Iterable[Paint]) -> None:
        """Puts what changed since this store last loaded or saved into the file, or nothing.

        The first save of a store that never loaded adds and replaces, but removes nothing.

        Raises:
            InputError: For two paints of one id.
            FileError: As ``load``; what was on the shelf is then untouched. A shelf that this
                store could not read is never written over.
        """
        if self._refusal is not None:
            raise self._refusal
        new = rows_of(paints)
        before = self._known

        def merge(shelf: sqlite3.Connection) -> None:
            held = _read(shelf)
            apart = held if before is None else self._apart(before, new, held)
            merged = merged_rows({} if before is None else before, new, apart)
            if list(merged.items()) != list(held.items()):
                _write(shelf, merged)

        self._within(merge, write=True)
        self._known = new

    def load_or_begin(self, starter: Iterable[Paint]) -> tuple[Paint, ...]:
        """The paints on the shelf; where there is no shelf yet, one begun with the starter's.

        A shelf that the painter emptied stays empty.
        """
        rows = rows_of(starter)

        def begin(shelf: sqlite3.Connection) -> Rows:
            if _version(shelf) == 0:
                _read(shelf)
                _write(shelf, rows)
            return _read(shelf)

        if self.path.exists() and self._within(_version, write=False) > 0:
            return self.load()
        return self._taken(self._within(begin, write=True))

    def news(self) -> Merge | None:
        """What other windows changed since this store last loaded or saved, None for nothing.

        The answer puts it into any shelf that this window had; what differs there from the shelf
        last loaded or saved stays as it is.

        Raises:
            FileError: As ``load``.
        """
        before = self._known
        if before is None or not self.path.exists():
            return None
        held = self._within(_read, write=False)
        if list(held.items()) == list(before.items()):
            return None
        known = {paint.id: paint for paint in self._taken(held)}

        def merge(shelf: tuple[Paint, ...]) -> tuple[Paint, ...]:
            new = rows_of(shelf)
            own = {paint.id: paint for paint in shelf}
            return tuple(
                own[paint_id] if new.get(paint_id) == body else known[paint_id]
                for paint_id, body in merged_rows(before, new, held).items()
            )

        return merge

    def _apart(self, before: Rows, new: Rows, held: Rows) -> Rows:
        """What the file holds, with new ids for paints that came there under an id added here."""
        apart: Rows = {}
        for paint_id, body in held.items():
            if paint_id in before or new.get(paint_id, body) == body:
                apart[paint_id] = body
                continue
            taken = {*held, *new, *apart}
            free = next(key for n in count(2) if (key := f"{paint_id}-{n}") not in taken)
            apart[free] = _text(replace(self._paint(paint_id, body), id=free))
        return apart

    def _taken(self, rows: Rows) -> tuple[Paint, ...]:
        """The paints of rows that were read, which are from now on what this window knows."""
        self._refusal = None
        try:
            paints = tuple(self._paint(paint_id, body) for paint_id, body in rows.items())
        except SchemeForgeError as error:
            self._refusal = error
            raise
        self._known = rows
        return paints

    def _paint(self, paint_id: str, body: str) -> Paint:
        try:
            paint = codec.decode(Paint, json_text.parse(body))
        except SchemeForgeError as error:
            raise DamagedFileError(error.what, where=self._place(error), remedy=_RESTORE) from None
        if paint.id != paint_id:
            raise DamagedFileError(
                "A paint stands under an id that is not its own",
                where=str(self.path),
                remedy=_RESTORE,
            )
        return paint

    def _place(self, error: SchemeForgeError) -> str:
        return f"{self.path}: {error.where}" if error.where else str(self.path)

    def _within(self, work: Callable[[sqlite3.Connection], T], *, write: bool) -> T:
        """The result of the work, inside one transaction that is kept whole or not at all."""
        try:
            if write:
                self.path.parent.mkdir(parents=True, exist_ok=True)
            self._check_size()
            with _opened(self.path, write=write) as shelf:
                shelf.execute("BEGIN IMMEDIATE" if write else "BEGIN")
                try:
                    result = work(shelf)
                    shelf.execute("COMMIT")
                except BaseException:
                    if shelf.in_transaction:
                        shelf.execute("ROLLBACK")
                    raise
                return result
        except FileError as error:
            raise error if error.where else error.at(str(self.path)) from None
        except sqlite3.OperationalError as error:
            raise self._unusable(error) from None
        except (sqlite3.DatabaseError, UnicodeDecodeError):
            raise DamagedFileError(
                "This is not a shelf, or it is damaged", where=str(self.path), remedy=_RESTORE
            ) from None
        except OSError as error:
            raise self._unusable(error) from None

    def _check_size(self) -> None:
        if self.path.exists() and self.path.stat().st_size > MOST_BYTES:
            raise DamagedFileError(
                f"The file is larger than the {MOST_BYTES // 1024**2} MB that a shelf may have",
                where=str(self.path),
                remedy=_RESTORE,
            )

    def _unusable(self, error: Exception) -> FileError:
        if isinstance(error, sqlite3.Error):
            code = getattr(error, "sqlite_errorcode", 0) & 0xFF
            if code in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}:
                return FileError(
                    "The shelf is in use by another window",
                    where=str(self.path),
                    remedy="wait a moment and try again",
                )
        return MissingFileError(
            f"The shelf cannot be opened or written ({error})",
            where=str(self.path),
            remedy="check its folder and the room on the disk",
        )


def rows_of(paints: Iterable[Paint]) -> Rows:
    """Each paint's JSON text under its id, in order; raises InputError for an id that is twice."""
    listed = tuple(paints)
    checks.unique((paint.id for paint in listed), "Paint on the shelf")
    return {paint.id: _text(paint) for paint in listed}


@lru_cache(maxsize=MOST_PAINTS)
def _text(paint: Paint) -> str:
    """The paint's JSON text; kept, since saving a shelf after an edit changes one paint of many."""
    return json_text.layout(codec.encode(paint))


def merged_rows(before: Rows, new: Rows, held: Rows) -> Rows:
    """What the shelf holds after one window's changes are applied to what another may have left.

    Args:
        before: What this window last saw.
        new: What this window has now.
        held: What the file holds. A paint that was removed here stays where it was changed there.
    """
    if held in (before, new):
        return new
    bodies = {
        paint_id: body
        for paint_id, body in held.items()
        if paint_id in new or before.get(paint_id) != body
    }
    bodies |= {paint_id: body for paint_id, body in new.items() if before.get(paint_id) != body}
    order = [paint_id for paint_id in new if paint_id in bodies]
    previous = None
    for paint_id in held:
        if paint_id in bodies and paint_id not in new:
            place = order.index(previous) + 1 if previous is not None else 0
            order.insert(place, paint_id)
        if paint_id in order:
            previous = paint_id
    return {paint_id: bodies[paint_id] for paint_id in order}


@contextlib.contextmanager
def _opened(path: Path, *, write: bool) -> Iterator[sqlite3.Connection]:
    # Without "c" in the mode a file that went away meanwhile is not made anew by reading.
    mode = "rwc" if write else "rw"
    shelf = sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}",
        uri=True,
        timeout=BUSY_SECONDS,
        isolation_level=None,
    )
    try:
        # The rollback journal leaves one plain file behind, which a painter can copy; every
        # commit is flushed, so that a power cut loses nothing that was shown as done.
        shelf.execute("PRAGMA synchronous = FULL")
        shelf.execute("PRAGMA trusted_schema = OFF")
        yield shelf
    finally:
        shelf.close()


def _version(shelf: sqlite3.Connection) -> int:
    """The shelf's version, 0 for an empty new file; refuses what is not ours or is newer."""
    ours = shelf.execute("PRAGMA application_id").fetchone()[0]
    version = int(shelf.execute("PRAGMA user_version").fetchone()[0])
    tables = shelf.execute("SELECT sql FROM sqlite_master").fetchmany(2)
    if ours == 0 and version == 0 and not tables:
        return 0
    if ours != APPLICATION_ID or version < 1:
        raise DamagedFileError("This is not a shelf of SchemeForge", remedy=_OTHER)
    if version > VERSION:
        raise NewerVersionError(
            f"The shelf is of version {version}, this program reads up to version {VERSION}",
            remedy="update SchemeForge",
        )
    if tables != [(_CREATE,)]:  # a view or a trigger in its place would run when it is read
        raise DamagedFileError("This is not a shelf, or it is damaged", remedy=_RESTORE)
    return version


def _read(shelf: sqlite3.Connection) -> Rows:
    if _version(shelf) == 0:
        return {}
    rows = shelf.execute("SELECT id, body FROM paint ORDER BY place, id").fetchmany(MOST_PAINTS + 1)
    if len(rows) > MOST_PAINTS:
        raise DamagedFileError(f"The shelf holds more than {MOST_PAINTS} paints", remedy=_RESTORE)
    if not all(isinstance(item, str) for row in rows for item in row):
        raise DamagedFileError("This is not a shelf, or it is damaged", remedy=_RESTORE)
    return dict(rows)


def _write(shelf: sqlite3.Connection, rows: Rows) -> None:
    """Writes the rows that differ and drops the ones that are gone."""
    if _version(shelf) == 0:
        shelf.execute(_CREATE)
        shelf.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        shelf.execute(f"PRAGMA user_version = {VERSION}")
    gone = [(paint_id,) for (paint_id,) in shelf.execute("SELECT id FROM paint")]
    shelf.executemany("DELETE FROM paint WHERE id = ?", [g for g in gone if g[0] not in rows])
    shelf.executemany(
        "INSERT INTO paint (id, place, body) VALUES (?, ?, ?) ON CONFLICT (id) DO UPDATE"
        " SET place = excluded.place, body = excluded.body"
        " WHERE place <> excluded.place OR body <> excluded.body",
        [(paint_id, place, body) for place, (paint_id, body) in enumerate(rows.items())],
    )
