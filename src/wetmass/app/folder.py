"""The one folder whose files may be opened and written; nothing outside, links included."""

from __future__ import annotations

import os
import re
from pathlib import Path

from wetmass.record.refusal import Complaint, Refusal

ENDINGS = (".yaml", ".yml")
MOST_LISTED = 200


class Folder:
    """A folder of concept files.

    root  the folder; what lies outside of it is refused
    """

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()

    def files(self) -> list[str]:
        """Names of the concept files in it, sorted."""
        try:
            entries = [
                entry.name
                for entry in os.scandir(self.root)
                if entry.name.endswith(ENDINGS)
                and not entry.name.startswith(".")
                and self._inside(entry.path)
            ]
        except OSError:
            return []
        return sorted(entries)[:MOST_LISTED]

    def free_name(self, called: str) -> str:
        """A name for a file that is not there yet, without its ending, after what its vehicle is called."""
        name = re.sub(r"[^\w]+", "-", called.casefold()).strip("-_")[:60] or "concept"
        numbered = (name, *(f"{name}-{number}" for number in range(2, 1000)))
        return next(
            one for one in numbered if not any((self.root / f"{one}{end}").exists() for end in ENDINGS)
        )

    def path(self, name: object) -> Path:
        """Where a file of this folder is.  Raises Refusal for a name that leads out of it, or is no concept's."""
        plain = isinstance(name, str) and 0 < len(name) <= 100 and name.isprintable()
        plain = plain and not name.startswith(".") and not any(sign in name for sign in '/\\:*?"<>|')
        if not plain or not name.endswith(ENDINGS):
            shown = f'"{name[:60]}"' if isinstance(name, str) else "no name"
            raise _refused(
                shown,
                "the name of a concept file in this folder, such as dunlin.yaml",
                "leave folders out of it",
            )
        path = self.root / name
        if not self._inside(path):
            raise _refused(f'"{name}", a link that leads out of the folder', "files in it", "copy it there")
        if path.exists() and not path.is_file():
            raise _refused(f'"{name}", which is no plain file', "a concept file", "choose another name")
        return path

    def _inside(self, path: str | Path) -> bool:
        """Whether a path is in the folder once links are followed."""
        try:
            return Path(path).resolve().parent == self.root
        except (OSError, RuntimeError):
            return False


def _refused(got: str, accepted: str, remedy: str) -> Refusal:
    return Refusal(Complaint("file", got, accepted, remedy))
