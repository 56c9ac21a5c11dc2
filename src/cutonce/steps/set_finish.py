"""Set how edges are finished: allowance, hem, binding, facing, casing, or left raw."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, Self

from pydantic import Field, model_validator

from cutonce.draft.draft import Draft, EdgeRef
from cutonce.draft.seam import Finish
from cutonce.draft.span import EdgeRole
from cutonce.errors import BadInput, CannotApply, Finding
from cutonce.quantities import Length, PositiveLength
from cutonce.steps.parameters import EdgeParams, Params
from cutonce.steps.step import Example, Result, Step
from cutonce.units import show

_ALLOWANCE_MM = {"seam": 10.0, "hem": 40.0, "bound": 0.0, "faced": 6.0, "casing": 10.0, "raw": 0.0}
"""Common practice: 3/8 in seams, 1/4 in where an edge is enclosed (fashion-incubator.com, the rules on seam
allowances), dress hems 1.5 to 2 in (American Sewing Guild)."""

_STRIP_MM = {"bound": 8.0, "faced": 50.0, "casing": 20.0}
"""Finished width of a binding, width of a facing, inside width of a channel (common practice)."""

_MOST_MM = 500.0
"""A wider hem or strip than half a metre is a slip of the unit."""


class SetFinish(Params):
    """Which edges, and what is done with them."""

    edges: tuple[EdgeParams, ...] = Field((), description="the edges")
    role: EdgeRole | None = Field(None, description="or every edge of this role")
    finish: Literal["seam", "hem", "bound", "faced", "casing", "raw"] = Field(
        description="sewn to its partner, turned up, bound with a strip, faced, made a channel, left as cut"
    )
    allowance: Length | None = Field(None, description="outside the sewing line; left out: by custom")
    width: PositiveLength | None = Field(
        None, description="finished width of a binding, width of a facing, inside width of a channel"
    )
    shows: Literal["right side", "wrong side", "both"] | None = Field(
        None,
        description="the face on which the strip is seen; left out: both for a binding, else the wrong side",
    )
    layers: Literal["single", "double"] = Field("single", description="of a binding")

    @model_validator(mode="after")
    def _can_be_sewn(self) -> Self:
        for name, value in (("allowance", self.allowance), ("width", self.width)):
            if value is not None and value < 0:
                raise BadInput("out-of-range", name, f"{show(value)} lies inside the piece", "0 or more")
            if value is not None and value > _MOST_MM:
                message = f"{show(value)} is more than {show(_MOST_MM)}"
                raise BadInput("out-of-range", name, message, "check the unit")
        if self.finish == "bound" and self.allowance:
            raise BadInput(
                "finish-allowance", "allowance", "a bound edge has no allowance", "leave 'allowance' out"
            )
        if self.width is not None and self.finish not in _STRIP_MM:
            message = f"'width' means nothing where the finish is '{self.finish}'"
            raise BadInput("finish-width", "width", message, f"it is for: {', '.join(_STRIP_MM)}")
        return self


def apply(draft: Draft, params: SetFinish, step: str) -> Result:
    refs = _refs(draft, params)
    finish = _finish(params)
    if finish.kind in ("bound", "hem", "faced") and (sewn := _sewn(draft, refs)):
        raise CannotApply(
            "edge-is-sewn",
            sewn[0],
            f"the {sewn[1].key} is sewn to another edge and cannot be {_words(finish.kind)}",
        )
    kept = tuple((ref, f) for ref, f in draft.finishes if ref not in refs)
    draft = replace(draft, finishes=kept + tuple((ref, finish) for ref in refs))
    total = sum(draft.piece(key).edge_length(label) for key, label in refs)
    where = ", ".join(f"{key}, {label.key}" for key, label in refs)
    return Result(
        draft, (Finding("note", "finish-set", where, f"{total:.1f} mm {_words(finish.kind)}", step),)
    )


def _refs(draft: Draft, params: SetFinish) -> tuple[EdgeRef, ...]:
    if bool(params.edges) == (params.role is not None):
        raise CannotApply("finish-edges", "", "name the edges: either 'edges' or 'role'")
    if params.role is not None:
        found = tuple((p.key, e) for p in draft.pieces for e in p.labels if e.role == params.role)
        if not found:
            roles = ", ".join(dict.fromkeys(e.role for p in draft.pieces for e in p.labels))
            raise CannotApply("no-edge", "", f"no edge has the role '{params.role}'; there are: {roles}")
        return found
    return tuple(dict.fromkeys(ref for edge in params.edges for ref in edge.refs(draft)))


def _finish(params: SetFinish) -> Finish:
    kind = params.finish
    allowance = _ALLOWANCE_MM[kind] if params.allowance is None else params.allowance
    shows = params.shows or ("both" if kind == "bound" else "wrong side")
    return Finish(kind, allowance, params.width or _STRIP_MM.get(kind, 0.0), shows, params.layers)


def _sewn(draft: Draft, refs: tuple[EdgeRef, ...]) -> EdgeRef | None:
    return next((ref for ref in refs if draft.seams_of(*ref)), None)


def _words(kind: str) -> str:
    return {"seam": "sewn", "hem": "turned up", "raw": "left as cut", "casing": "made a channel"}.get(
        kind, kind
    )


def sentence(params: SetFinish) -> str:
    what = f"every {params.role} edge" if params.role else " and ".join(e.words() for e in params.edges)
    how = {
        "seam": "Leave a seam allowance on",
        "hem": "Turn up",
        "bound": "Bind",
        "faced": "Face",
        "casing": "Make a channel along",
        "raw": "Leave raw",
    }[params.finish]
    finish = _finish(params)
    more = [f"{finish.strip_mm:.4g} mm wide"] if finish.strip_mm else []
    more += [f"{finish.allowance:.4g} mm allowed"] if finish.allowance else []
    return f"{how} {what}{': ' if more else ''}{', '.join(more)}."


STEP = Step(
    name="set_finish",
    title="Set a finish",
    purpose=(
        "Say how edges are finished: a seam allowance, a hem turned up, a binding, a facing, a channel for "
        "cord or elastic, or left as cut. Edges that no step names are finished by custom."
    ),
    holds="No edge changes; cutting lines, strips and labels follow.",
    params=SetFinish,
    apply=apply,
    sentence=sentence,
    examples=(
        Example(
            title="Bind both armholes, 8 mm wide",
            params={"role": "armhole", "finish": "bound", "width": "8 mm"},
            because="A finish lies outside the sewing line.",
        ),
        Example(
            title="A deep hem on the skirt front",
            block="skirt",
            params={
                "edges": [{"piece": "skirt front", "edge": "hem"}],
                "finish": "hem",
                "allowance": "2 in",
            },
            because="A finish lies outside the sewing line.",
        ),
    ),
)
