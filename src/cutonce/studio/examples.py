"""The shipped examples: a folder each, with design.toml, body.toml and cloth.toml."""

from __future__ import annotations

from pathlib import Path

from cutonce.errors import BadInput, closest, quoted

FOLDER = Path(__file__).resolve().parent.parent / "examples"


def example_names() -> tuple[str, ...]:
    return tuple(sorted(p.name for p in FOLDER.iterdir() if (p / "design.toml").is_file()))


def example_files(name: str) -> tuple[Path, Path]:
    """The design and the body of an example. Raises BadInput for a name there is none of."""
    names = example_names()
    if name not in names:
        message = f"no example {quoted(name)}{closest(name, names)}"
        raise BadInput("unknown-example", "demo", message, f"there are: {', '.join(names)}")
    return FOLDER / name / "design.toml", FOLDER / name / "body.toml"


def example_cloth(name: str) -> Path:
    """The cloth of an example."""
    return example_files(name)[0].with_name("cloth.toml")
