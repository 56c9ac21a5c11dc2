"""Changes of a design that make it smaller or easier to lay: each a recipe, what it says, what it costs her.

Only changes that can be drawn on this body and bring no new stop are kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from cutonce.body import Body
from cutonce.draft.piece import Piece
from cutonce.draft.span import Label, Span
from cutonce.errors import BadInput, Problem
from cutonce.expressions import evaluate
from cutonce.geometry.curve import Line
from cutonce.geometry.meet import meetings
from cutonce.recipe.free import settled
from cutonce.recipe.recipe import Recipe, StepEntry
from cutonce.studio.prove import Proven, prove
from cutonce.units import show

LESS_FULLNESS = (0.9, 0.8)
"""To what the openings of slashes are reduced."""

NARROW_HEM_MM = 20.0
"""A hem that still hangs well on most cloth (common practice); a deeper one may be cut down to it."""

_LARGE_PIECES = 2
"""How many of the largest pieces are offered in two parts."""

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7)
"""Where along the hem a lengthwise seam may begin; the first that can be drawn is taken."""

_ACROSS = ("waist", "hip")
"""Landmark lines at which a piece may be cut across."""

_FAR_MM = 1e4
"""Further than any piece reaches."""


@dataclass(frozen=True, slots=True)
class Change:
    """What is done, as a sentence; what it costs in work; the changed design on the body."""

    what: str
    work: str
    design: Proven


def recipe_changes(recipe: Recipe, body: Body, proven: Proven) -> tuple[Change, ...]:
    """Every change that applies: bind instead of face, a narrower hem, less fullness, a seam not joined, a
    large piece in two.

    `proven` is the recipe on the body. Free amounts stand at their least, and stay free.
    """
    found: dict[str, Change] = {}
    for what, work, changed in _asked(recipe, body, proven):
        if what not in found and (made := _made(changed, body, proven)) is not None:
            found[what] = Change(what, work, made)
    return tuple(found.values())


_Asked = tuple[str, str, Recipe]


def _asked(recipe: Recipe, body: Body, proven: Proven) -> Iterator[_Asked]:
    yield from _bound(recipe)
    yield from _narrower_hems(recipe, body, proven)
    yield from _less_full(recipe, body)
    yield from _not_joined(recipe)
    yield from _centre_seams(recipe, proven)
    yield from _panels(recipe, proven)


def _made(recipe: Recipe, body: Body, before: Proven) -> Proven | None:
    """The changed design on the body; None where it cannot be drawn or would not be fit to cut."""
    try:
        made = prove(recipe, body, old=before)
    except Problem:
        return None
    known = {(f.code, f.where) for f in before.stops}
    return None if any((f.code, f.where) not in known for f in made.stops) else made


def _with(recipe: Recipe, changed: Mapping[str, Mapping[str, Any]]) -> Recipe:
    """The recipe with other parameters for the steps named."""
    steps = (replace(s, params=changed[s.id]) if s.id in changed else s for s in recipe.steps)
    return replace(recipe, steps=tuple(steps))


def _added(recipe: Recipe, do: str, params: Mapping[str, Any]) -> Recipe:
    """The recipe with one more step at its end, under an id of its own."""
    ids = {s.id for s in recipe.steps}
    name = do.replace("_", "-")
    free = next(n for n in (name, *(f"{name}-{k}" for k in range(2, len(ids) + 3))) if n not in ids)
    return replace(recipe, steps=(*recipe.steps, StepEntry(free, do, params)))


def _bound(recipe: Recipe) -> Iterator[_Asked]:
    """Faced edges bound: the facings need no cloth of their own, the binding comes from what is left over."""
    kept = ("role", "edges")
    for entry in recipe.steps:
        if entry.do != "set_finish" or entry.off or entry.params.get("finish") != "faced":
            continue
        params = {**{k: v for k, v in entry.params.items() if k in kept}, "finish": "bound"}
        yield (
            f"Bind {_edges(entry.params)} instead of facing it",
            "a bias binding to cut, join and sew; the edge is softer than a faced one",
            _with(recipe, {entry.id: params}),
        )


def _edges(params: Mapping[str, Any]) -> str:
    if role := params.get("role"):
        return f"the {role}"
    return " and ".join(f"the {e['piece']}'s {e['edge']}" for e in params.get("edges", ()))


def _narrower_hems(recipe: Recipe, body: Body, proven: Proven) -> Iterator[_Asked]:
    deep = {
        e.id: {**e.params, "allowance": "2 cm"}
        for e in recipe.steps
        if e.do == "set_finish"
        and not e.off
        and e.params.get("finish") == "hem"
        and _mm(e.params.get("allowance", "4 cm"), body) > NARROW_HEM_MM
    }
    work = "nothing more to sew; the hem hangs lighter and cannot be let down later"
    if deep:
        yield f"Turn the hem up {show(NARROW_HEM_MM)} only", work, _with(recipe, deep)
        return
    said = any(e.do == "set_finish" and not e.off and _names_hems(e.params) for e in recipe.steps)
    edges = [e for p in proven.finished.pieces for e in p.edges]
    if not said and any(e.kind == "hem" and e.allowance > NARROW_HEM_MM for e in edges):
        params = {"role": "hem", "finish": "hem", "allowance": "2 cm"}
        yield f"Turn the hem up {show(NARROW_HEM_MM)} only", work, _added(recipe, "set_finish", params)


def _names_hems(params: Mapping[str, Any]) -> bool:
    return params.get("role") == "hem" or any("hem" in str(e.get("edge")) for e in params.get("edges", ()))


def _less_full(recipe: Recipe, body: Body) -> Iterator[_Asked]:
    """Every opening that is given as an amount reduced; those to a length are not, a partner needs them."""
    plain = settled(recipe, body.names, 0.0)
    for part in LESS_FULLNESS:
        changed = {
            e.id: params
            for e in plain.steps
            if e.do == "spread" and not e.off and (params := _scaled(e.params, part, body)) != e.params
        }
        if changed:
            yield (
                f"Spread {part:.0%} as far as now ({', '.join(changed)})",
                "nothing more to sew; less fullness",
                _with(recipe, changed),
            )


def _scaled(params: Mapping[str, Any], part: float, body: Body) -> dict[str, Any]:
    def amount(key: str, value: Any) -> Any:
        if key in ("each", "total") or (key in ("opens", "end_opens") and isinstance(value, str)):
            return f"{part * _mm(value, body):.0f} mm"
        if key == "ratio" and isinstance(value, int | float):
            return 1 + part * (value - 1)
        return scaled(value)

    def scaled(value: Any) -> Any:
        if isinstance(value, Mapping):
            return {k: amount(k, v) for k, v in value.items()}
        return [scaled(v) for v in value] if isinstance(value, list | tuple) else value

    sets = [scaled(one) if isinstance(one, Mapping) else one for one in params.get("sets", ())]
    return {**params, "sets": sets} if sets else dict(params)


def _mm(value: object, body: Body) -> float:
    """An amount in mm; nothing where it is none (the replay says what is wrong with it)."""
    try:
        return evaluate(value, body.names) if isinstance(value, str) else 0.0
    except BadInput:
        return 0.0


def _not_joined(recipe: Recipe) -> Iterator[_Asked]:
    for entry in recipe.steps:
        if entry.do == "join_pieces" and not entry.off:
            steps = tuple(replace(s, off=True) if s.id == entry.id else s for s in recipe.steps)
            yield (
                f"Keep the seam that step '{entry.id}' joins: cut the piece in two",
                "one more seam to sew and press",
                replace(recipe, steps=steps),
            )


def _centre_seams(recipe: Recipe, proven: Proven) -> Iterator[_Asked]:
    """A piece that is whole over its centre cut as a left and a right one with a seam down the centre."""
    work = "a seam down the centre to sew and press"
    unfolds = [e for e in recipe.steps if e.do == "unfold" and not e.off]
    if unfolds:
        entry = unfolds[0]
        apart = list(entry.params.get("apart", ()))
        before = next((d.before for d in proven.replayed.steps if d.id == entry.id), None)
        names = [p.name for p in before.pieces if p.cut == "fold"] if before else []
        for name in names:
            if name not in apart:
                params = {**entry.params, "apart": [*apart, name]}
                yield f"Cut the {name} with a seam down its centre", work, _with(recipe, {entry.id: params})
        return
    for piece in proven.replayed.draft.pieces:
        if piece.cut == "fold":
            params = {"apart": [piece.name]}
            yield f"Cut the {piece.key} with a seam down its centre", work, _added(recipe, "unfold", params)


def _panels(recipe: Recipe, proven: Proven) -> Iterator[_Asked]:
    """The largest pieces in two panels, by a seam along the grain or one across at a landmark line."""
    work = "one more seam to sew and press"
    pieces = sorted(proven.replayed.draft.pieces, key=lambda p: -p.area)
    for piece in pieces[:_LARGE_PIECES]:
        if piece.cut != "fold":
            parts = {"centre": piece.name, "side": f"side {piece.name}"}
            for share in _SHARES:
                if (line := _along_grain(piece, share)) is not None:
                    params = {**line, "parts": parts, "seam": "panel seam"}
                    what = f"Cut the {piece.key} in two panels, with a seam along the grain"
                    yield what, work, _added(recipe, "split_piece", params)
        for name in dict.fromkeys(x.name for x in piece.lines if x.name in _ACROSS):
            parts = {"above": f"upper {piece.name}", "below": piece.name}
            guide = {"piece": piece.key, "line": name}
            params = {"guide": guide, "parts": parts, "seam": f"{name} seam"}
            what = f"Cut the {piece.key} in two, with a seam across at the {name}"
            yield what, work, _added(recipe, "split_piece", params)


def _along_grain(piece: Piece, share: float) -> dict[str, Any] | None:
    """Where a line along the grain, from a share of the hem up, ends, as places in a design file."""
    hems = [x for x in piece.labels if x.role == "hem"]
    if not hems:
        return None
    hem = max(hems, key=piece.edge_length)
    spans = piece.edge(hem)
    left = share * piece.edge_length(hem)
    for span in spans:
        if left <= span.length:
            break
        left -= span.length
    foot = span.curve.at(span.curve.at_length(min(left, span.length)))
    up = piece.grain.along if piece.grain.along.imag >= 0 else -piece.grain.along
    bore = Line(foot + up, foot + _FAR_MM * up)
    hits = [
        (bore.length_to(t), other, other.curve.length_to(u))
        for other in piece.outline
        for t, u in meetings(bore, other.curve)
    ]
    if not hits:
        return None
    _, top, arc = min(hits, key=lambda h: h[0])
    if top.label.role in ("dart leg", "hem"):
        return None
    return {"start": _place(piece, top, arc), "end": _share(piece, hem, share)}


def _place(piece: Piece, at: Span, arc: float) -> dict[str, Any]:
    spans = piece.edge(at.label)
    before = sum(s.length for s in spans[: spans.index(at)])
    return _share(piece, at.label, round((before + arc) / piece.edge_length(at.label), 3))


def _share(piece: Piece, label: Label, share: float) -> dict[str, Any]:
    """A share of the way along an edge from its first end, which is named after the edge before it."""
    before = piece.labels[piece.labels.index(label) - 1]
    return {"piece": piece.key, "edge": label.key, "from": before.key, "share": share}
