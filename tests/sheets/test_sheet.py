"""Files for every paper, read back."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from cutonce.errors import BadInput
from cutonce.finishing.finished import Finished, FinishedPiece
from cutonce.sheets.sheet import PAPERS, write_paper


@pytest.fixture
def dress(front: FinishedPiece) -> Finished:
    return Finished("Concert dress", "Ida", "3 May 2026", (front, front))


def test_every_paper_is_written_and_says_what_it_is(tmp_path: Path, dress: Finished) -> None:
    sheets = write_paper(dress, tmp_path, PAPERS, notes=("2 findings of severity stop: see checks.json",))
    names = ["pattern.svg", *(f"pattern-{p}.pdf" for p in PAPERS)]
    assert [f.name for f in sheets.files] == names
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(names)
    for name in names[1:]:
        with pdfplumber.open(tmp_path / name) as pdf:
            pages = ["".join(c["text"] for c in page.chars) for page in pdf.pages]
            first, everything = pages[0], " ".join(pages)
            assert pdf.metadata["Title"] == "Concert dress"
        assert "for Ida" in first and "3 May 2026" in first and "2 pattern pieces" in first
        assert "severity stop" in first and "irons burn" in first
        assert everything.count("cut 1 on the fold") >= 2
        assert ("NOT FULL SIZE" in everything) == ("half" in name)


def test_half_scale_takes_fewer_pages(tmp_path: Path, dress: Finished) -> None:
    printed = write_paper(dress, tmp_path, ("a4", "a4-half")).printed
    assert len(printed["pattern-a4-half.pdf"].pages) < len(printed["pattern-a4.pdf"].pages)


def test_same_pieces_give_the_same_bytes(tmp_path: Path, dress: Finished) -> None:
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
        write_paper(dress, tmp_path / folder)
    for one in sorted((tmp_path / "one").iterdir()):
        assert one.read_bytes() == (tmp_path / "two" / one.name).read_bytes()


def test_unknown_paper_or_no_pieces_writes_nothing(tmp_path: Path, dress: Finished) -> None:
    with pytest.raises(BadInput, match=r"no paper 'b4'"):
        write_paper(dress, tmp_path, ("a4", "b4"))
    with pytest.raises(BadInput, match="no pieces"):
        write_paper(Finished("Nothing", "Ida", "", ()), tmp_path)
    assert list(tmp_path.iterdir()) == []
