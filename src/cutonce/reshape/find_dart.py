"""The dart that a step names, or one clear line why there is none."""

from __future__ import annotations

from collections.abc import Sequence

from cutonce.draft.draft import Draft
from cutonce.draft.piece import Dart, DoubleDart, Piece
from cutonce.draft.span import Gone, Label, Origin, Wearer, sided
from cutonce.errors import CannotApply
from cutonce.reshape.places import pieces_named

AnyDart = Dart | DoubleDart


def find_dart(draft: Draft, piece: str, dart: str, wearer: Wearer | None = None) -> tuple[Piece, AnyDart]:
    """The one dart of that name on the pieces of that name, and its piece.

    Raises CannotApply, told apart: it never was (no-dart, with the choices), a step took it away (cut-away),
    more than one fits (ambiguous).
    """
    pieces = pieces_named(draft, piece, wearer)
    found = [(p, d) for p in pieces for d in darts_of(p) if dart in (d.name, _key(d)) and _on(p, d, wearer)]
    if len(found) == 1:
        return found[0]
    where = ", ".join(p.key for p in pieces)
    if found:
        names = "; ".join(f"{p.key}, {_key(d)}" for p, d in found)
        raise CannotApply(
            "ambiguous", where, f"'{dart}' fits {len(found)} darts: {names}", "name the wearer's side"
        )
    raise _never_or_gone(draft, pieces, dart, where)


def on_an_edge(draft: Draft, piece: str, dart: str, wearer: Wearer | None, doing: str) -> tuple[Piece, Dart]:
    """As `find_dart`, for a step that needs a dart that opens on an edge; `doing` completes "cannot be"."""
    home, found = find_dart(draft, piece, dart, wearer)
    if isinstance(found, DoubleDart):
        raise CannotApply(
            "double-dart",
            home.key,
            f"the {dart} is pointed at both ends and cannot be {doing}",
            "take it out at the side, or release it",
        )
    return home, found


def double_dart_gone(piece: Piece, dart: DoubleDart, step: str, reason: str) -> Gone:
    """The tombstone of a dart inside a piece: it has no spans, so only its name stands on it."""
    label = Label(dart.name, "dart leg", dart.wearer)
    return Gone(piece.key, label, Origin(step, dart.name, dart.wearer), 0.0, 0.0, step, reason)


def darts_of(piece: Piece) -> tuple[AnyDart, ...]:
    """All darts of a piece: those that open on an edge, then those pointed at both ends."""
    return piece.darts + piece.double_darts


def _key(dart: AnyDart) -> str:
    return sided(dart.name, dart.wearer)


def _on(piece: Piece, dart: AnyDart, wearer: Wearer | None) -> bool:
    return wearer is None or (dart.wearer or piece.wearer or wearer) == wearer


def _never_or_gone(draft: Draft, pieces: Sequence[Piece], dart: str, where: str) -> CannotApply:
    names = {n for p in pieces for n in (p.key, p.name)}
    for g in reversed(draft.gone):
        if g.label.role == "dart leg" and dart in (g.label.name, g.label.key) and g.piece in names:
            return CannotApply("cut-away", where, f"the {dart} is no more: step {g.step} {g.reason}")
    have = [_key(d) for p in pieces for d in darts_of(p)]
    return CannotApply("no-dart", where, f"no dart '{dart}'; it has: {', '.join(have) or 'none'}")
