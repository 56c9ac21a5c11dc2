"""What cloth to lay on and how: as typed, and with its files read."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cutonce.cloth.cloth import Cloth
    from cutonce.lay.asked import Asked
    from cutonce.studio.lay_file import LayFile
    from cutonce.studio.prove import Proven


@dataclass(frozen=True, slots=True)
class OnCloth:
    """What cloth to lay on, and how: as typed. `seconds` is how long where no `time` is given."""

    cloth: Path
    name: str = ""
    time: str = ""
    seconds: float = 10.0
    keep: Path | None = None
    wishes: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Ready:
    """The same, its files read: the cloths to choose from, the time, and the lay that is kept."""

    typed: OnCloth
    cloths: tuple[Cloth, ...]
    seconds: float
    kept: LayFile | None = None

    def asked(self, proven: Proven) -> Asked:
        """What she asks of a lay of these pieces."""
        from cutonce.studio.keep import with_held
        from cutonce.studio.wishes import Wishes, asked_for

        typed = self.typed
        asked = asked_for(Wishes(**typed.wishes), [p.key for p in proven.finished.pieces])
        if self.kept is None:
            return asked
        way = typed.wishes.get("way", "")
        return with_held(asked, self.kept, way, proven.finished, self.cloths[0], str(typed.keep))


def ready(typed: OnCloth) -> Ready:
    """The files read, before any work. Raises BadInput, one line each."""
    from cutonce.studio.inputs import read_cloth
    from cutonce.studio.keep import cloth_of, read_kept
    from cutonce.studio.lay import named
    from cutonce.units import seconds

    time = seconds(typed.time, "--time") if typed.time else typed.seconds
    cloths = read_cloth(typed.cloth)
    if typed.keep is None:
        return Ready(typed, named(cloths, typed.name, str(typed.cloth)), time)
    kept = read_kept(typed.keep)
    return Ready(typed, cloth_of(kept, cloths, typed.name, str(typed.cloth)), time, kept)
