"""Slashes, gapes and darts that ask for what cannot be done."""

from __future__ import annotations

from typing import Final

from cli.bad_input import Case, at, do, step


def _spread(*slashes: dict[str, object], **opens: object) -> str:
    return do("spread", piece="front", sets=[{"slashes": list(slashes), "opens": opens}])


def _slash(share: float, end: dict[str, object]) -> dict[str, object]:
    return {"start": at("front hem", from_="side", share=share), "end": end}


_SHOULDER = at("front shoulder", from_="neck", share=0.1)


def _armhole(share: float) -> dict[str, object]:
    return at("front armhole", from_="side", share=share)


_SPREADS = (
    step(
        "slash-misses",
        _spread(
            {"start": at("front hem", at="side"), "end": at("front hem", at="centre front")}, each="1 cm"
        ),
        "slash 1 runs along the outline",
        "end it on another edge",
    ),
    step(
        "slash-to-another-piece",
        _spread(_slash(0.5, at("back shoulder", at="neck")), each="1 cm"),
        "the back's shoulder at the neck is not on the piece that is slashed",
    ),
    step(
        "slash-from-inside",
        _spread({"start": at("front: bust point"), "end": _SHOULDER}, each="1 cm"),
        "a slash starts and ends on an edge",
    ),
    step(
        "slash-through-a-dart",
        _spread(_slash(0.1, _SHOULDER), each="1 cm"),
        "slash 1 crosses the bust dart",
        "end it in the dart",
    ),
    step(
        "slashes-cross",
        _spread(_slash(0.1, _armhole(0.4)), _slash(0.3, _armhole(0.2)), each="1 cm"),
        "slash 2 crosses slash 1",
    ),
    step("slash-too-wide", _spread(_slash(0.1, _armhole(0.3)), each="9 m"), "slash 1"),
    step(
        "spread-crosses-itself",
        _spread(*(_slash(0.05 * k, _armhole(0.1 * k)) for k in (1, 2, 3, 4)), each="1.5 m"),
        "the piece would lie over itself near its armhole",
        "open it less",
    ),
    step("spread-to-less", _spread(_slash(0.1, _armhole(0.3)), to="2 cm"), "the hem is 2", "only lengthens"),
    step(
        "spread-by-two-rules",
        _spread(_slash(0.1, _armhole(0.3)), each="1 cm", total="2 cm"),
        "set 1, opens: say how far the slashes open by one of: each, total, ratio, to",
    ),
)

_WEDGE = at("front neck", from_="shoulder", share=0.5)


def _gape(amount: str = "6 mm", **more: object) -> str:
    return do("close_gape", at=_WEDGE, amount=amount, **more)


_DARTS = (
    step(
        "gape-no-outlet",
        _gape(),
        "must open elsewhere",
        "say 'into' a dart",
        "the piece's darts: 'bust dart'",
        "'to' a place",
    ),
    step("gape-two-outlets", _gape(into="bust dart", to=at("front hem", at="side")), "'into' or 'to'"),
    step("gape-no-such-dart", _gape(into="neck dart"), "no dart 'neck dart'; it has: bust dart, waist dart"),
    step(
        "gape-pivot-off-the-piece",
        _gape(pivot=at("front: bust point", out="60 cm"), to=at("front hem", at="side")),
        "bust point, 600 mm outward lies outside the piece",
    ),
    step(
        "gape-pivot-elsewhere",
        _gape(pivot=at("back: bust point"), into="bust dart"),
        "no point 'bust point'; it has: none",
    ),
    step(
        "gape-too-wide",
        _gape("60 cm", into="bust dart"),
        "a wedge there may be",
        "mm at the edge (close less",
    ),
    step("gape-below-nothing", _gape("-6 mm", into="bust dart"), "amount: '-6 mm' must be more than 0"),
    step(
        "gape-inside",
        do("close_gape", at=at("front: bust point"), amount="6 mm", into="bust dart"),
        "at: a gape is closed on an edge",
    ),
    step(
        "gape-into-itself",
        _gape(to=at("front neck", from_="shoulder", share=0.2)),
        "the angle cannot open on the edge that it closes",
    ),
    step(
        "dart-past-the-end",
        do("move_dart", piece="front", dart="bust dart", to=at("front shoulder", from_="neck", by="40 cm")),
        "400.0 mm is past the end; the edge is 1",
    ),
    step(
        "dart-nowhere",
        do("move_dart", piece="front", dart="bust dart"),
        "say where the dart opens: either 'to' or 'into'",
    ),
    step(
        "dart-to-another-piece",
        do("move_dart", piece="front", dart="bust dart", to=at("back shoulder", at="neck")),
        "back",
    ),
    step("dart-too-short", do("shorten_dart", piece="front", dart="bust dart", short="60 cm"), "bust dart"),
    step(
        "dart-as-it-is",
        do("shorten_dart", piece="front", dart="bust dart"),
        "the bust dart stays as it is",
        "'short' or 'folds'",
    ),
    step(
        "dart-taken-out-nowhere",
        do("take_out_dart", piece="back", dart="hip dart"),
        "no dart 'hip dart'; it has: shoulder dart",
    ),
    step(
        "dart-as-frills",
        do("release_dart", piece="front", dart="bust dart", as_="frills"),
        "'as' is 'frills'",
        "'gathers', 'ease', 'tucks', 'flare'",
    ),
    step(
        "dart-without-a-name", do("move_dart", piece="front", to=at("front shoulder", at="neck")), "no 'dart'"
    ),
)

DART_CASES: Final[tuple[Case, ...]] = (*_SPREADS, *_DARTS)
