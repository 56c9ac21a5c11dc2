"""Reading the files she keeps. Only the studio touches the disk."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from cutonce.body import Body, People, estimate, read_body, read_people
from cutonce.cloth.cloth import Cloth
from cutonce.cloth.file import read_cloth as cloths_in
from cutonce.errors import BadInput
from cutonce.recipe.file import read_recipe
from cutonce.recipe.recipe import Recipe

_LARGEST_BYTES = 20_000_000
"""Far above any of these files; a larger one is a mistake and would only use up memory."""


def text_of(path: str | Path) -> str:
    """A file's text. Raises BadInput where it is missing, not text, a folder or far too large."""
    file = Path(path)
    try:
        if file.stat().st_size > _LARGEST_BYTES:
            raise BadInput("too-large", str(path), "the file is larger than 20 MB")
        return file.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadInput("no-file", str(path), "there is no such file") from None
    except IsADirectoryError:
        raise BadInput("no-file", str(path), "this is a folder, not a file") from None
    except PermissionError:
        raise BadInput("no-file", str(path), "the file may not be read") from None
    except UnicodeDecodeError:
        raise BadInput("not-text", str(path), "the file is not UTF-8 text") from None
    except (OSError, ValueError) as problem:
        raise BadInput("no-file", str(path), f"the file cannot be read: {problem}") from None


def read_design(path: str | Path) -> Recipe:
    """The recipe in a design file; a typed block's outline is read from beside it."""
    return read_recipe(text_of(path), str(path), _beside(path))


def _beside(path: str | Path) -> Callable[[str], str]:
    """Reads a file that the design names, which must lie in the design's own folder."""
    folder = Path(path).parent

    def read(name: str) -> str:
        if Path(name).name != name:
            raise BadInput("outline-elsewhere", str(path), f"'{name}' must lie beside the design file")
        return text_of(folder / name)

    return read


def read_one_body(path: str | Path, estimated: bool = False) -> Body:
    """The body in a file, with what is missing estimated where that is asked for."""
    body = read_body(text_of(path), str(path))
    return estimate(body, everything=True) if estimated else body


def read_cloth(path: str | Path) -> tuple[Cloth, ...]:
    """The cloths in a file, in its order; at least one."""
    return cloths_in(text_of(path), str(path))


def read_many(path: str | Path) -> People:
    """The people in a CSV file."""
    return read_people(text_of(path), str(path))
