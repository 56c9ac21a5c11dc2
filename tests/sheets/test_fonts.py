"""What can be printed, in which font."""

from __future__ import annotations

from cutonce.sheets import fonts


def test_common_accents_need_no_embedding() -> None:
    for name in ("Zoë Müller", "Françoise", "Åsa Sjöström", "Niño", "Žofie Šimková", "½ – “fold”", "€"):
        assert fonts.face(name) == "Helvetica", name


def test_other_alphabets_are_printed() -> None:
    for name in ("Łucja Wójcik-Ząb", "Dvořáková", "Erdős Ilona", "Δήμητρα", "Екатерина", "Nguyễn", "ığdır"):
        assert fonts.face(name) == "Noto Sans", name
        assert fonts.unprintable(name) == (), name
        assert fonts.printable(name) == name


def test_what_no_font_has_is_substituted_and_named() -> None:
    assert fonts.printable("裁縫 Ana") == f"{fonts.SUBSTITUTE}{fonts.SUBSTITUTE} Ana"
    assert fonts.unprintable("裁縫裁 Ana") == ("裁", "縫")


def test_control_characters_become_spaces() -> None:
    assert fonts.printable("a\tb\nc\x00d") == "a b c d"


def test_width_of_known_letters() -> None:
    # Helvetica's advance widths, per 1000 of the font size: H 722, a 556, i 222 (Adobe Font Metrics).
    assert abs(fonts.width("Hai", 10.0) - (722 + 556 + 222) / 100) < 1e-9
    assert abs(fonts.width("H", 10.0, bold=True) - 7.22) < 1e-9


def test_wrapping_keeps_every_word_and_the_room() -> None:
    words = "Lay each cut edge on the line of the page beside it so that the diamonds meet"
    lines = fonts.wrapped(words, 50.0, 4.0)
    assert " ".join(lines) == words
    assert all(fonts.width(line, 4.0) <= 50.0 for line in lines) and len(lines) > 1


def test_shortening_fits_and_shows_that_it_did() -> None:
    assert fonts.shortened("Hem", 50.0, 4.0) == "Hem"
    short = fonts.shortened("Concert dress for a cellist", 20.0, 4.0)
    assert short.endswith("…") and fonts.width(short, 4.0) <= 20.0
